package main

import (
	"fmt"
	"math"
	"testing"

	"ferrule/testdata/near"
)

// recorder notes what a check logs and whether it failed.
type recorder struct {
	testing.TB
	log    string
	failed bool
}

func (r *recorder) Helper() {}
func (r *recorder) Logf(format string, args ...any) {
	r.log += "x_test.go:1: " + fmt.Sprintf(format, args...) + "\n"
}
func (r *recorder) Errorf(string, ...any) { r.failed = true }

// The tests' comparisons fail on what is off by more than the tolerance and on
// what is no number; what they log is read here as it was given.
func TestComparisonsFailAndAreRead(t *testing.T) {
	for _, c := range []struct {
		got, want, tolerance float64
		abs, rel             bool
	}{
		{10, 10, 0, true, true},
		{10.5, 10, .6, true, true},
		{10.5, 10, .1, false, true},
		{9.5, 10, .1, false, true},
		{10.5, 10, .04, false, false},
		{-10, 10, 1, false, false},
		{math.NaN(), 10, 1e9, false, false},
		{math.Inf(1), 10, 1e9, false, false},
	} {
		for name, f := range map[string]struct {
			check func(testing.TB, string, float64, float64, float64)
			ok    bool
		}{"abs": {near.Abs, c.abs}, "rel": {near.Rel, c.rel}} {
			r := &recorder{TB: t}
			f.check(r, "number", c.got, c.want, c.tolerance)
			if r.failed == f.ok {
				t.Errorf("%s of %v: failed %t", name, c, r.failed)
			}
			if !testing.Verbose() {
				continue
			}
			rows, err := parse(r.log)
			if err != nil || len(rows) != 1 || rows[0].kind != name || rows[0].what != "number" || rows[0].want != c.want || rows[0].tol != c.tolerance {
				t.Errorf("%q is read as %+v (%v)", r.log, rows, err)
			}
		}
	}
}
