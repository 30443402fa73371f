package pipeline

import (
	"slices"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/response"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// writeMoves says what each adjustment does to this player's ball, where the
// shots contradict the textbook, and what they cannot tell apart.
func (a *analysis) writeMoves(r *report.Report) {
	untried := a.response.NotTried()
	of := map[int]int{} // feature -> its place in r.Moves
	for _, e := range append(a.response.FlightEffects(), a.response.Effects()...) {
		at, ok := of[e.Feature]
		if !ok {
			at = len(r.Moves)
			of[e.Feature] = at
			r.Moves = append(r.Moves, report.Move{Feature: response.FeatureKeys[e.Feature], Step: response.FeatureUnit(e.Feature),
				Tried: !slices.Contains(untried, e.Feature)})
		}
		r.Moves[at].Effects = append(r.Moves[at].Effects, report.Effect{Quantity: e.Quantity, Value: e.Value,
			Textbook: normal(e.Textbook, e.TextbookSD), Measured: e.Measured})
	}
	for i := range r.Moves {
		r.Moves[i].Text = moveText(r.Moves[i])
	}
	for _, f := range untried {
		r.Doubts = append(r.Doubts, report.Doubt{Setting: -1, Text: report.Message{Key: "response.not-tried",
			Args: []report.Arg{message.Key(response.FeatureKeys[f])}}})
	}
	r.Against = a.response.Contradictions()
	for _, c := range a.response.Confounded() {
		d := report.Doubt{Setting: -1}
		label := ""
		for _, i := range c.Resolve { // of those that would tell, the most promising one
			if d.Setting < 0 || r.Settings[i].Loss < r.Settings[d.Setting].Loss {
				d.Setting, d.Balls, label = i, response.ResolveBalls, a.settings[i].Key()
			}
		}
		d.Text = response.ConfoundText(c, label)
		r.Doubts = append(r.Doubts, d)
		r.Findings = append(r.Findings, report.Finding{Kind: "confounded", Text: d.Text, Weight: 1})
	}
}

// moveText says a move in a sentence: carry, side and height with their 80 %
// intervals, and what share of the three was measured.
func moveText(m report.Move) report.Message {
	out := report.Say("response.move", message.Key(m.Feature+".step"))
	measured, n := 0.0, 0.0
	for _, e := range m.Effects {
		a := report.Arg{Digits: -1}
		switch e.Quantity {
		case shot.Carry:
			a.Form, a.Dim = message.FormSigned, units.Length
		case shot.Offline:
			a.Form, a.Dim = message.FormSide, units.Length
		case shot.Apex:
			a.Form, a.Dim = message.FormSigned, units.Height
		default:
			continue
		}
		measured, n = measured+e.Measured, n+1
		for _, v := range []float64{e.Value.Mean, e.Value.Lo80, e.Value.Hi80} {
			a.Value = v
			out.Args = append(out.Args, a)
		}
	}
	if !m.Tried {
		out.Key = "response.move.physics"
		return out
	}
	out.Args = append(out.Args, report.Percent(measured/n))
	return out
}

// normal is the interval of a normal belief.
func normal(m, sd float64) report.Interval {
	return report.Interval{Mean: m, Lo50: m - .674*sd, Hi50: m + .674*sd, Lo80: m - 1.282*sd, Hi80: m + 1.282*sd, Lo95: m - 1.960*sd, Hi95: m + 1.960*sd}
}
