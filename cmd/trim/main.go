// Command trim makes a WebAssembly program that Go built smaller to send. It
// changes nothing that the program does:
//
//   - Go's linker cuts the initial memory into a hundred thousand pieces, one
//     wherever eight bytes are zero. Whole, it compresses better by a fifth.
//   - Go's tables of files, lines and arguments, and the names of functions, are
//     for the reader of a stack. What the runtime itself needs of them stays, and so do
//     the names of our own functions, so that a fault can still be told.
//   - The tables of the stack, which it does need, are written so that functions
//     share more of them, and what is shared most is named by the smallest numbers.
//
// It rewrites the files that it is given:
//
//	go run ./cmd/trim build/page.wasm build/worker.wasm
//
// The tables are those of one release of Go. With another one they are left
// as they are, and trim says so.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	tables := flag.Bool("tables", true, "write the tables anew too, not the memory alone: false shows what they gain")
	flag.Parse()
	for _, name := range flag.Args() {
		if err := rewrite(name, *tables); err != nil {
			fmt.Fprintf(os.Stderr, "trim: %s: %v\n", name, err)
			os.Exit(1)
		}
	}
}

// rewrite trims one file in its place.
func rewrite(name string, tables bool) error {
	before, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	after, note, err := trim(before, tables)
	if err != nil {
		return err
	}
	if note != "" {
		fmt.Fprintf(os.Stderr, "trim: %s: %s\n", name, note)
	}
	return os.WriteFile(name, after, 0o755)
}
