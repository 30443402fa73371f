package share

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/units"
)

// oldDrives is how many drives a round has in the gain of versions 1 to 4,
// which is of one drive.
const oldDrives = 14

// readOld reads the answer of versions 1 to 4: two settings with their chances.
// What they did not say stays unknown.
func readOld(r in) *Given {
	g := &Given{Left: r.bool()}
	g.Verdict = report.Verdict(verdictWords[r.get(2)])
	g.Keep = r.bool()
	known := r.bool()
	g.Head = r.text()
	g.Alone = r.bool()
	side := func(s *Side, p *report.Place) {
		s.Label = r.text()
		fairway, right, left := r.percent(), r.percent(), r.percent()
		p.Carry, p.Side = r.fixed(.25, 9), r.fixed(.25, 5)
		s.Stats[0], s.Stats[1] = Stat{Known: true, Value: Range{p.Carry, p.Carry, p.Carry}}, Stat{Known: true, Value: Range{p.Side, p.Side, p.Side}}
		trouble := min(math.Round(report.Drives*(right+left)), report.Drives)
		p.Counts = report.Counts{Fairway: int(min(math.Round(report.Drives*fairway), report.Drives-trouble)), Trouble: int(trouble), Window: -1, Short: -1}
		p.Counts.Rough = report.Drives - p.Counts.Fairway - p.Counts.Trouble
	}
	side(&g.Today, &g.Answer.Today)
	chosen := &g.Today
	if !g.Alone {
		side(&g.Other, &g.Answer.Then)
		chosen, g.Answer.Setting, g.Answer.Other = &g.Other, 1, 1
	}
	if known {
		chosen.Known = true
		chosen.Loft, chosen.Lie, chosen.Face = r.fixed(.1*units.Degree, 4), r.fixed(.1*units.Degree, 4), r.fixed(.1*units.Degree, 4)
	}
	g.Answer.Round, g.Unit = oldDrives, string(report.UnitStrokes)
	if !g.Alone {
		const step = .002 * oldDrives
		g.Answer.Gain = report.Worth{Unit: report.UnitStrokes, Value: Range{r.fixed(step, 5), r.fixed(step, 5), r.fixed(step, 5)}.interval()}
		g.Carry = Range{r.fixed(.25, 4), r.fixed(.25, 4), r.fixed(.25, 4)}
	}
	g.Answer.Chance = r.percent()
	g.Balls, g.Tested, g.Settings = r.golomb(4), r.golomb(4), r.golomb(4)
	high := r.golomb(0)
	g.Seed = high<<44 | r.golomb(4)
	return g
}
