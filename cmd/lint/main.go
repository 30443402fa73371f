// Command lint finds what the compiler and staticcheck let pass: fields of the
// module's structs that no program sets, which are options that nobody uses, and
// fields that none reads. A program is what runs here or in the browser; a test
// is none. It also measures the house (-measure). Begin with fields.walk.
package main

import (
	"flag"
	"fmt"
	"go/token"
	"log"
	"os"
)

func main() {
	log.SetFlags(0)
	log.SetPrefix("lint: ")
	measured := flag.Bool("measure", false, "print lines, names, the largest receivers and the longest functions instead")
	flag.Parse()
	if *measured {
		if err := measure(os.Stdout, "."); err != nil {
			log.Fatal(err)
		}
		return
	}
	found, err := lint(".", targets)
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range found {
		fmt.Println(f)
	}
	if len(found) > 0 {
		os.Exit(1)
	}
}

// lint is what is wrong with the module of dir.
func lint(dir string, targets []target) ([]string, error) {
	fset := token.NewFileSet()
	fs := newFields(fset)
	for _, t := range targets {
		units, err := load(fset, dir, t)
		if err != nil {
			return nil, err
		}
		for _, u := range units {
			fs.declare(u)
			fs.walk(u)
		}
	}
	return fs.findings(), nil
}
