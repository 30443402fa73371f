// Command proof prints what Ferrule claims beside what was published or
// measured: flights, impact and geometry, statistics against other programs,
// invented golfers, size and speed. Nothing in it is typed: the figures come
// from the tests (run here with -v), from result files that hold the command
// which made them, and from the built programs.
//
//	proof          prints the tables
//	proof -write   puts them between the marks of testdata/proof/README.md and into the app's page
//	proof -check   fails when what stands there is not what would be written
//	proof -growth      times an analysis as shots and settings grow a hundredfold
//	proof -machine FILE  keeps the times in FILE and the weight of build/site as testdata/proof/machine.json
//	proof -mutants     breaks ten lines of core, one at a time: tests must notice
//	proof -exercise    adds a column, a dialect and a language in a copy, first by half: tests must notice
//	proof -cross DIR   prints how far the tests in DIR are from their references
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
)

func main() {
	put := flag.Bool("write", false, "write the blocks of testdata/proof/README.md and the page's tables")
	check := flag.Bool("check", false, "fail when a shown figure is stale")
	cross := flag.String("cross", "", "folder of a copy of the code whose references were made anew")
	mutant := flag.Bool("mutants", false, "break ten lines of core, one at a time; the tests must notice")
	exercised := flag.Bool("exercise", false, "add a column, a dialect and a language in a copy of the code")
	place := flag.Bool("where", false, "print the date and the kind of machine")
	growth := flag.Bool("growth", false, "measure how time and memory grow, and draw it into testdata/proof/growth.svg")
	times := flag.String("machine", "", "file of times, as `make speed` leaves it, to keep with the weight of the programs in testdata/proof/machine.json")
	flag.Parse()
	var err error
	switch {
	case *place:
		fmt.Println(where())
	case *growth:
		err = grown("testdata/proof/growth.svg")
	case *times != "":
		err = keep(*times, "build/site", "testdata/proof/machine.json")
	case *mutant:
		err = broken()
	case *exercised:
		err = exercise()
	default:
		err = run(*put, *check, *cross)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "proof:", err)
		os.Exit(1)
	}
}

func run(put, check bool, cross string) error {
	if cross != "" {
		return crossed(cross)
	}
	tables, err := gather(".")
	if err != nil {
		return err
	}
	shown, err := show(tables)
	if err != nil {
		return err
	}
	switch {
	case put:
		for _, s := range shown {
			if err := os.WriteFile(s.path, s.text, 0o644); err != nil {
				return err
			}
		}
		return nil
	case check:
		return stale(shown)
	}
	for _, t := range tables {
		fmt.Println(t.markdown())
	}
	return nil
}

// stale compares the files with what would be written.
func stale(shown []file) error {
	var bad []error
	for _, s := range shown {
		there, err := os.ReadFile(s.path)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		if bytes.Equal(there, s.text) {
			continue
		}
		old, now := bytes.Split(there, []byte("\n")), bytes.Split(s.text, []byte("\n"))
		for i := range now {
			if i >= len(old) || !bytes.Equal(old[i], now[i]) {
				was := []byte("(nothing)")
				if i < len(old) {
					was = old[i]
				}
				bad = append(bad, fmt.Errorf("%s:%d shows\n  %s\nand the tests print\n  %s\n(`make proof-write` brings it up to date; read the difference)", s.path, i+1, was, now[i]))
				break
			}
		}
		if len(now) < len(old) {
			bad = append(bad, fmt.Errorf("%s has %d lines, expected %d (`make proof-write`)", s.path, len(old), len(now)))
		}
	}
	return errors.Join(bad...)
}
