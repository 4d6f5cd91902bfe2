//go:build js && wasm

// Command phonecore is the core of the app on the phone: the books that are
// open, behind one function. JSON goes in and JSON comes out; it keeps no
// time, draws no chance and touches no storage.
package main

import (
	"syscall/js"
)

func main() {
	books := newShelf()
	js.Global().Set("plumblineCall", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 2 {
			return `{"bug":"plumblineCall takes a function name and a JSON text"}`
		}
		return books.call(args[0].String(), args[1].String())
	}))
	if ready := js.Global().Get("plumblineReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}
