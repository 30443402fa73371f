package main

import (
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
)

// row is one comparison that a test made: a line of its log
// "proof<tab>kind<tab>what<tab>got<tab>want<tab>tolerance[<tab>note]".
type row struct {
	test, kind, what string
	got, want, tol   float64 // in the unit that what names
	rest             []string
}

// off is how far got is from want, in tolerances; 1 is the edge.
func (r row) off() float64 {
	d := math.Abs(r.got - r.want)
	if r.kind == "rel" {
		d /= math.Max(math.Abs(r.want), 1e-300)
	}
	switch {
	case d == 0:
		return 0
	case r.tol == 0:
		return math.Inf(1)
	}
	return d / r.tol
}

// relative is the difference over the wanted value, absolute where that is 0.
func (r row) relative() float64 {
	if r.want == 0 {
		return math.Abs(r.got)
	}
	return math.Abs(r.got/r.want - 1)
}

// collect runs the tests of one package in dir and returns their comparisons.
// A failing test is an error: a table of wrong figures is no proof.
func collect(dir, pkg, pattern string) ([]row, error) {
	cmd := exec.Command("go", "test", "-v", "-run", pattern, pkg)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	rows, bad := parse(string(out))
	if bad != nil {
		return nil, fmt.Errorf("%s: %w", pkg, bad)
	}
	if err != nil {
		return rows, fmt.Errorf("go test -v -run %s %s: %w\n%s", pattern, pkg, err, failures(string(out)))
	}
	return rows, nil
}

// parse reads the log of go test -v.
func parse(out string) (rows []row, err error) {
	test := ""
	for _, line := range strings.Split(out, "\n") {
		if name, ok := strings.CutPrefix(line, "=== RUN   "); ok {
			test = name
			continue
		}
		_, fields, ok := strings.Cut(line, ": proof\t")
		if !ok {
			continue
		}
		f := strings.Split(fields, "\t")
		if len(f) < 5 {
			return nil, fmt.Errorf("read %q, expected kind, what and three numbers", line)
		}
		r := row{test: test, kind: f[0], what: f[1], rest: f[2:]}
		if r.kind != "spread" {
			for i, to := range []*float64{&r.got, &r.want, &r.tol} {
				if *to, err = strconv.ParseFloat(f[2+i], 64); err != nil {
					return nil, fmt.Errorf("read %q: %w", line, err)
				}
			}
			r.rest = f[5:]
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// failures are the lines of a log that say what failed.
func failures(out string) string {
	var keep []string
	for _, line := range strings.Split(out, "\n") {
		if !strings.Contains(line, ": proof\t") && !strings.HasPrefix(line, "=== ") && !strings.Contains(line, "--- PASS") {
			keep = append(keep, line)
		}
	}
	if len(keep) > 20 {
		keep = keep[len(keep)-20:]
	}
	return strings.Join(keep, "\n")
}
