// Command weigh says what a WebAssembly program weighs: its bytes, its brotli
// bytes, and its code by package.
//
// Code bytes by package need the names of the functions, which -ldflags=-s
// takes out: build the program once more without it. What is not code is Go's
// tables (types, lines, strings), which grow with it.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	top := flag.Int("top", 30, "how many packages to list")
	brotli := flag.Int("brotli", 9, "brotli's quality, 0 to leave it out; 11 is what a release serves (minutes)")
	against := flag.String("against", "", "a program whose brotli bytes the others are told apart from")
	flag.Parse()
	base := 0
	if *against != "" {
		data, err := os.ReadFile(*against)
		if err == nil {
			base, err = brotliBytes(data, *brotli)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, "weigh:", err)
			os.Exit(1)
		}
	}
	for _, name := range flag.Args() {
		if err := weigh(name, *top, *brotli, base); err != nil {
			fmt.Fprintln(os.Stderr, "weigh:", err)
			os.Exit(1)
		}
	}
}

// weigh prints the weight of one program, and how far it is from base [brotli
// bytes] unless that is 0.
func weigh(name string, top, quality, base int) error {
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	fmt.Printf("%s: %d bytes", name, len(data))
	if quality > 0 {
		n, err := brotliBytes(data, quality)
		if err != nil {
			return err
		}
		fmt.Printf(", %d brotli (quality %d)", n, quality)
		if base > 0 {
			fmt.Printf(", %+d", n-base)
		}
	}
	fmt.Println()
	if top == 0 {
		return nil
	}
	m, err := read(data)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	fmt.Printf("  code %d, data %d, names and the rest %d\n", m.code, m.data, len(data)-m.code-m.data)
	for i, p := range m.packages() {
		if i == top {
			break
		}
		fmt.Printf("  %8d  %5.1f %%  %s\n", p.bytes, 100*float64(p.bytes)/float64(m.code), p.name)
	}
	return nil
}
