// Command slimdeps writes lighter forms of what the programs of the browser are
// built on, each without what none of ours uses, into one folder:
//
//   - go-app for the page (goapp.go). It is one package for servers and
//     browsers; some of its files bring net/http (and with it TLS), AES and
//     regular expressions into every page, others JSON, UUIDs and a storage of
//     states. The folder's go.mod puts a copy with the stubs of the folder stub
//     in the module's place. (go build's -overlay refuses files of the module
//     cache.) The copy also makes what it draws in one call to the browser (mount.go).
//   - Go's library (std.go): archive/zip for the analysis, which reads and need not
//     write, and net/url for the page, which meets no address in brackets. The
//     folder's overlay.json puts them in the place of Go's.
//
// Use, as the Makefile does:
//
//	go run ./cmd/slimdeps
//	GOOS=js GOARCH=wasm go build -modfile build/slim/go.mod -overlay build/slim/overlay.json ./cmd/page
//	GOOS=js GOARCH=wasm go build -overlay build/slim/overlay.json ./cmd/worker
//
// Both also build without it and are only bigger; the committed go.mod never
// names the copy. The stubs are written against one version of go-app: slimdeps
// stops at any other. go.sum vouches for the content of that version.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	out := flag.String("out", "build/slim", "folder to write")
	flag.Parse()
	err := writeGoApp(*out)
	if err == nil {
		err = writeStd(*out)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "slimdeps:", err)
		os.Exit(1)
	}
}
