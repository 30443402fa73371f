// Command invent writes the demonstration session under testdata/demo. It is
// run from the root of the module.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"ferrule/cmd/internal/invent"
)

func main() {
	dir := flag.String("dir", filepath.Join("testdata", "demo"), "folder to write to")
	flag.Parse()
	for name, text := range invent.DemoFiles() {
		if err := os.WriteFile(filepath.Join(*dir, name), []byte(text), 0o644); err != nil {
			fmt.Fprintln(os.Stderr, "invent:", err)
			os.Exit(1)
		}
	}
}
