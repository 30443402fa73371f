//go:build !js

// Command worker runs in a browser's worker only; see main.go.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "worker: build it with GOOS=js GOARCH=wasm; it runs in a browser")
	os.Exit(2)
}
