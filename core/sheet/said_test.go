package sheet

import (
	"strings"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/report"
	"ferrule/core/text"
	"ferrule/core/units"
)

// A keeper is compared with the nearest rival, and the reader's units carry the
// aim: 200 of them away.
func TestWhatIsCompared(t *testing.T) {
	r := charttest.Report()
	rival := r.Choice.Setting
	r.Choice = report.Choice{Setting: r.Reference, Keep: true, RunnerUp: rival}
	head := Make(session(), r, text.Reader{}, Options{}).Compare.Head
	if len(head) != 5 || !strings.Contains(head[2], "nearest rival: "+r.Settings[rival].Setting.Key()) {
		t.Errorf("keep: %q, want the nearest rival %q", head, r.Settings[rival].Setting.Key())
	}
	r.Choice.RunnerUp = r.Reference // no other setting to compare with
	if head := Make(session(), r, text.Reader{}, Options{}).Compare.Head; len(head) != 3 {
		t.Errorf("nothing beside: %q", head)
	}
	r.Reference, r.Choice = rival, report.Choice{Setting: rival, Keep: true, RunnerUp: 0} // today's need not be the first
	if head := Make(session(), r, text.Reader{}, Options{}).Compare.Head; len(head) != 5 || !strings.Contains(head[2], r.Settings[0].Setting.Key()) {
		t.Errorf("keep the last: %q, want the first as rival", head)
	}
	untested := charttest.Report().Settings[1]
	untested.Tested, untested.Balls = false, 0
	m := maker{rd: text.Reader{}}
	if got := m.balls(untested); got != "not hit, predicted" {
		t.Errorf("a setting never hit: %q", got)
	}
	for system, want := range map[units.System]string{"": "at 200\u00a0yd", units.Metric: "at 200\u00a0m"} {
		s := charttest.Report()
		s.Answer.Then.Aim = -.02 * s.Answer.Then.Carry
		if got := strings.Join(Make(session(), s, text.Reader{System: system}, Options{}).Expect, "\n"); !strings.Contains(got, want) || !strings.Contains(got, "Aim 4") {
			t.Errorf("%s: %s, want %q and 4 of them aside", system, got, want)
		}
	}
}

// The spread from ball to ball of both settings, once where they are alike.
func TestSpreads(t *testing.T) {
	r := charttest.Report()
	cell := func() string {
		for _, row := range Make(session(), r, text.Reader{System: units.Metric}, Options{}).Compare.Rows {
			if strings.EqualFold(row[0], "carry") {
				return row[len(row)-1]
			}
		}
		return ""
	}
	set := func(before, after float64) {
		for i, v := range map[int]float64{r.Reference: before, r.Choice.Setting: after} {
			for k := range r.Settings[i].Quantities {
				r.Settings[i].Quantities[k].Spread = v
			}
		}
	}
	for _, c := range []struct {
		before, after float64
		want          string
	}{{9, 12, "±9\u00a0m → ±12\u00a0m"}, {9, 9.1, "±9\u00a0m"}, {9, 0, "±9\u00a0m"}, {0, 12, "–"}} {
		if set(c.before, c.after); cell() != c.want {
			t.Errorf("%g and %g: %q, want %q", c.before, c.after, cell(), c.want)
		}
	}
}

// A chance is never said to be none or certain unless it is.
func TestPercent(t *testing.T) {
	m := maker{rd: text.Reader{}}
	for p, want := range map[float64]string{0: "0", .001: "1", .5: "50", .999: "99", 1: "100", 1.2: "100"} {
		got := m.percent(p)
		if digits := got[:len(got)-len(strings.TrimLeft(got, "0123456789"))]; digits != want {
			t.Errorf("%g: %q, want %s", p, got, want)
		}
	}
}
