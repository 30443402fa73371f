package main

import (
	"fmt"
	"math"
)

// few is up to how many cases of a subject each get a line of their own.
const few = 16

// crossed prints, for each reference and its cases, how far our numbers are
// from those that another program just computed in dir, a copy of the code.
func crossed(dir string) error {
	all := append([]reference{flights853}, references...)
	by, err := compared(dir, all)
	fmt.Printf("%-86s %7s  %-10s %-10s %s\n", "subject, its cases", "values", "largest", "allowed", "reference, or the case")
	for _, r := range all {
		g := by[r.test]
		far, _ := farthest(g.rows)
		fmt.Printf("%-86s %7d  %s %s\n", r.subject, len(g.rows), far, r.source)
		var names []string
		cases := map[string][]row{}
		for _, x := range g.rows {
			if cases[x.what] == nil {
				names = append(names, x.what)
			}
			cases[x.what] = append(cases[x.what], x)
		}
		if len(names) > few { // a table by its worst line
			_, w := farthest(g.rows)
			names = []string{w.what}
		}
		for _, n := range names {
			far, w := farthest(cases[n])
			fmt.Printf("  %-84s %7d  %s %s\n", n, len(cases[n]), far, map[bool]string{true: "relative", false: "absolute"}[w.kind == "rel"])
		}
	}
	return err
}

// farthest is the row that is farthest off for its tolerance, however far
// inside, with its difference and tolerance in words.
func farthest(rows []row) (words string, w row) {
	if len(rows) == 0 {
		return fmt.Sprintf("%-10s %-10s", "none", ""), w
	}
	w = rows[0]
	for _, x := range rows {
		if x.off() > w.off() {
			w = x
		}
	}
	d := math.Abs(w.got - w.want)
	if w.kind == "rel" {
		d = w.relative()
	}
	return fmt.Sprintf("%-10.2g %-10.2g", d, w.tol), w
}
