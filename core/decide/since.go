package decide

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Since compares today's balls with what was expected of their setting when it was
// taken up; nil = there is nothing to compare. What counts as moved is what calls
// for a new test between two visits, by the same steps.
func Since(d shot.Decision, r report.Report) *report.Since {
	at := find(r, report.Setting{Setting: d.Setting})
	if at < 0 || r.Settings[at].Balls < compareFrom {
		return nil
	}
	out := &report.Since{}
	compared := false
	for _, c := range []struct {
		q    shot.Quantity
		was  shot.Expected
		by   float64
		word string
	}{{shot.Offline, d.Side, missSide, "since.side"}, {shot.Carry, d.Carry, carryChange, "since.carry"}} {
		is, ok := report.AmountOf(r.Settings[at].Raw, c.q)
		if !ok || c.was == (shot.Expected{}) {
			continue
		}
		compared = true
		was := around(c.was.Mean, (c.was.Hi-c.was.Lo)/2/1.2816, [3]float64{.6745, 1.2816, 1.9600})
		moved := since(was, is.Value, 0)
		if math.Abs(moved.Mean) >= c.by && moved.Lo95*moved.Hi95 > 0 {
			m := changeText(c.word, label(d.Setting), report.FollowRow{Quantity: c.q, Change: moved})
			out.Said, out.Test = append(out.Said, m), true
		}
	}
	switch {
	case !compared:
		return nil
	case !out.Test:
		out.Said = []report.Message{report.Say("since.same", label(d.Setting), report.Count(r.Settings[at].Balls), report.Number(missSide, units.Length, -1))}
	}
	return out
}
