package main

import "fmt"

// crossed prints, for each reference, how far our numbers are from those that
// another program just computed in dir, a copy of the code.
func crossed(dir string) error {
	by, err := compared(dir)
	fmt.Printf("%-60s %7s  %-10s %-10s %s\n", "subject", "values", "largest", "allowed", "where")
	for _, r := range references {
		g := by[r.test]
		if len(g.rows) == 0 {
			fmt.Printf("%-60s %7d\n", r.subject, 0)
			continue
		}
		w := g.rows[0] // the farthest off for its tolerance, however far inside
		for _, x := range g.rows {
			if x.off() > w.off() {
				w = x
			}
		}
		d := w.got - w.want
		if d < 0 {
			d = -d
		}
		unit := "absolute"
		if w.kind == "rel" {
			d, unit = w.relative(), "relative"
		}
		fmt.Printf("%-60s %7d  %-10.2g %-10.2g %s, %s (%s)\n", r.subject, len(g.rows), d, w.tol, w.what, unit, r.source)
	}
	return err
}
