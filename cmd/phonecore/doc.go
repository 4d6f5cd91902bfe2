//go:build !(js && wasm)

package main

import "os"

// On any other machine the command only says what it is for; its bridge is
// tested there all the same.
func main() {
	_, _ = os.Stderr.WriteString("phonecore runs in a browser: build it with GOOS=js GOARCH=wasm\n")
	os.Exit(2)
}
