//go:build js && wasm

// Command phonecore is the core of the app on the phone: the books that are
// open, behind one function. JSON goes in and JSON comes out; lines of the log
// go in beside it, as they are, because a book has thousands and JSON in JSON
// is slow, and so does a file that is read piece by piece. It keeps no time,
// draws no chance and touches no storage.
package main

import (
	"io"
	"syscall/js"

	"plumbline/internal/archive"
)

func main() {
	books := newShelf()
	js.Global().Set("plumblineCall", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 4 {
			return `{"bug":"plumblineCall takes a function name, a JSON text, lines of the log, and a file or null"}`
		}
		return books.call(args[0].String(), args[1].String(), beside{args[2].String(), fileOf(args[3])})
	}))
	if ready := js.Global().Get("plumblineReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}

// picked is a file as the worker hands it in: its size, and how to read a
// stretch of it.
type picked struct{ js.Value }

func fileOf(v js.Value) archive.File {
	if v.IsNull() {
		return nil
	}
	return picked{v}
}

// Size is how many bytes the file has.
func (p picked) Size() int64 { return int64(p.Get("size").Int()) }

// ReadAt reads a stretch, as io.ReaderAt wants it.
func (p picked) ReadAt(to []byte, from int64) (int, error) {
	n := js.CopyBytesToGo(to, p.Call("read", from, from+int64(len(to))))
	if n < len(to) {
		return n, io.EOF
	}
	return n, nil
}
