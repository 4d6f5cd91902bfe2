//go:build js && wasm

// Command phonecore is the core of the app on the phone: the books that are
// open, behind one function. JSON goes in and JSON comes out; lines of the log
// go in beside it, as they are, because a book has thousands and JSON in JSON
// is slow. It keeps no time, draws no chance and touches no storage.
package main

import (
	"syscall/js"
)

func main() {
	books := newShelf()
	js.Global().Set("plumblineCall", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 3 {
			return `{"bug":"plumblineCall takes a function name, a JSON text, and lines of the log"}`
		}
		return books.call(args[0].String(), args[1].String(), args[2].String())
	}))
	if ready := js.Global().Get("plumblineReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}
