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
// With a list of what a start calls (-start), these are marked for pwa/first.js to have
// compiled beforehand. `make start-list` writes the list anew.
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
	start := flag.String("start", "", "file with the names of the functions that a start calls, a line each")
	marked := flag.Bool("mark", false, "do nothing else than have the program note which functions it calls")
	calls := flag.String("called", "", "do nothing else than write the file of -start, from what a marked program noted in this one")
	flag.Parse()
	for _, name := range flag.Args() {
		if err := rewrite(name, *tables, *marked, *start, *calls); err != nil {
			fmt.Fprintf(os.Stderr, "trim: %s: %v\n", name, err)
			os.Exit(1)
		}
	}
}

// rewrite trims one file in its place, or does with it what the options say instead.
func rewrite(name string, tables, marked bool, start, calls string) error {
	program, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	switch {
	case marked:
		if program, err = mark(program); err != nil {
			return err
		}
		return os.WriteFile(name, program, 0o755)
	case calls != "":
		bits, err := os.ReadFile(calls)
		if err != nil {
			return err
		}
		list, err := called(program, bits)
		if err != nil {
			return err
		}
		return os.WriteFile(start, []byte(list), 0o644)
	case start != "":
		list, err := os.ReadFile(start)
		if err != nil {
			return err
		}
		if warmed, err := warm(program, string(list)); err == nil {
			program = warmed
		} else {
			fmt.Fprintf(os.Stderr, "trim: %s: nothing is compiled beforehand: %v\n", name, err)
		}
	}
	after, note, err := trim(program, tables)
	if err != nil {
		return err
	}
	if note != "" {
		fmt.Fprintf(os.Stderr, "trim: %s: %s\n", name, note)
	}
	return os.WriteFile(name, after, 0o755)
}
