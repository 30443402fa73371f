package shotfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// TestOddCells: the same drives in cells as spreadsheets and devices wrap them, and in
// units that few write.
func TestOddCells(t *testing.T) {
	cols := []shot.Quantity{shot.BallSpeed, shot.Launch, shot.Spin, shot.Backspin, shot.Sidespin, shot.Carry, shot.Offline}
	drives := noSets(bedDrives(8))
	for i := range drives {
		drives[i].v[shot.Backspin], drives[i].v[shot.Sidespin] = drives[i].v[shot.Spin]*math.Cos(drives[i].v[shot.SpinAxis]), drives[i].v[shot.Spin]*math.Sin(drives[i].v[shot.SpinAxis])
	}
	heads := map[shot.Quantity]string{shot.Backspin: "Backspin", shot.Sidespin: "Sidespin"}
	head, rows := laid(drives, cols, pen{heads: heads, unit: map[shot.Quantity]units.Unit{shot.Backspin: units.UnitRPM, shot.Sidespin: units.UnitRPM}})
	plain, err := Read("f.csv", []byte(csvText(head, rows, ",")), Options{})
	if err != nil || len(plain.Shots) != 24 {
		t.Fatal(err)
	}
	spin := func(q int) bool { return cols[q] == shot.Spin || cols[q] == shot.Backspin || cols[q] == shot.Sidespin }
	wrap := func(f func(c string) string) func(int, int, string) string {
		return func(i, _ int, c string) string {
			if i == 0 {
				return c
			}
			return f(c)
		}
	}
	scaled := func(which func(q int) bool, unit string, by float64) func(int, int, string) string {
		return func(i, q int, c string) string {
			switch {
			case !which(q):
			case i == 0:
				return strings.TrimSpace(c[:strings.IndexByte(c, '(')] + unit)
			default:
				var v float64
				fmt.Sscan(c, &v)
				return fmt.Sprintf("%.4f", v*by)
			}
			return c
		}
	}
	for name, f := range map[string]func(i, q int, c string) string{
		"an apostrophe before a number": wrap(func(c string) string { return "'" + c }),
		"a formula of a text":           wrap(func(c string) string { return `="` + c + `"` }),
		"an equals sign":                wrap(func(c string) string { return "=" + c }),
		"turns a second":                scaled(spin, "(rps)", 1./60),
		"turns a second, unsaid":        scaled(spin, "", 1./60),
		"radians a second, unsaid":      scaled(spin, "", units.RPM),
		"knots":                         scaled(func(q int) bool { return cols[q] == shot.BallSpeed }, "(kn)", units.MPH*3600/1852),
		"a mark from right to left":     wrap(func(c string) string { return "\u200f" + c + "\u200e" }),
	} {
		t.Run(name, func(t *testing.T) {
			out := ""
			for i, l := range append([][]string{head}, rows...) {
				cells := make([]string, len(l))
				for q, c := range l {
					cells[q] = f(i, q, c)
				}
				out += csvLine(cells, ",")
			}
			tab, err := Read("f.csv", []byte(out), Options{})
			if err != nil || len(tab.Shots) != 24 || len(tab.Ask) > 0 || len(tab.Errors) > 0 {
				t.Errorf("%v, %d balls, asks %q, errors %v", err, len(tab.Shots), tab.Ask, first(tab.Errors))
				return
			}
			for i, s := range tab.Shots {
				for _, q := range cols {
					if v, w := s.Values[q], plain.Shots[i].Values[q]; math.Abs(v-w) > 1e-3*math.Max(1, math.Abs(w)) {
						t.Errorf("ball %d: %s = %v, want %v", i+1, q, v, w)
						break
					}
				}
			}
		})
	}
}
