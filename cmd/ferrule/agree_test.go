package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"html"
	"math"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/chart"
	"ferrule/core/frame"
	"ferrule/core/pipeline"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/share"
	"ferrule/core/sheet"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

// -agree 200 reads two hundred sessions, as published; without it a taste.
var agreeing = flag.Int("agree", 12, "how many invented sessions are read for contradictions")

// agreeSession is an invented session: the example's balls, some of them, moved
// a little, for every goal, aim, limit and hand.
func agreeSession(t *testing.T, i int) shot.Session {
	t.Helper()
	s, err := pipeline.Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	rng := seed.Seed(i + 1).Stream("agree")
	settings, each := 2+rng.IntN(4), 2+rng.IntN(6)
	whole := i%3 == 1 // of few balls the advice is mostly to keep: every third session has them all
	left := i%5 == 4
	count := map[string]int{}
	var kept []shot.Shot
	for _, b := range s.Shots {
		key := b.Setting.Key()
		if _, known := count[key]; !whole && (!known && len(count) == settings || count[key] == each) {
			continue
		}
		count[key]++
		v := shot.Values{}
		for _, k := range shot.Kinds {
			if x, ok := b.Values[k.Quantity]; ok {
				if v[k.Quantity] = x * (1 + .06*(rng.Float64()-.5)); left && k.Compass {
					v[k.Quantity] *= -1
				}
			}
		}
		b.Values = v
		kept = append(kept, b)
	}
	s.Shots = kept
	a := &s.Aim
	a.Goal = []shot.Goal{shot.GoalStrokes, shot.GoalCarry, shot.GoalFairways, shot.GoalHeight}[i%4]
	share := []float64{0, .5, 1}[i%3]
	a.Reaim, a.BallsPerRound = &share, float64(10+i%9)
	low, high, carry := 20.+4*rng.Float64(), 28.+4*rng.Float64(), 150+60*rng.Float64()
	a.ApexLow, a.ApexHigh, a.CarryMin, a.TroublePMax, a.ApexPMin = &low, &high, nil, 0, 0
	switch i % 7 {
	case 1:
		a.TroublePMax = .05 + .3*rng.Float64()
	case 2:
		a.CarryMin, a.CarryPMin = &carry, .3+.5*rng.Float64()
	case 3:
		a.ApexPMin = .3 + .5*rng.Float64()
	case 4: // distance, window and side together
		a.TroublePMax, a.CarryMin, a.CarryPMin, a.ApexPMin = .3, &carry, .4, .3
	case 5:
		a.Least = .5
	}
	if left {
		s.Player.Hand = frame.Left
		a.Trouble = frame.Left.MirrorSide(a.Trouble)
	}
	return s
}

// TestNothingContradicts reads the report, the sheet, the link and the command
// line of invented sessions in five languages and compares each number and
// claim with every other of the same meaning.
func TestNothingContradicts(t *testing.T) {
	keeps := 0
	defer func() { t.Logf("%d of %d sessions keep what is set", keeps, *agreeing) }()
	for i := range *agreeing {
		s := agreeSession(t, i)
		r, err := pipeline.Analyse(s, uint64(i), nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Choice.Keep {
			keeps++
		}
		a := &agreement{T: t, i: i, s: s, r: r}
		if r.Answer.Other < 0 {
			a.ruledOut()
			continue
		}
		a.oneChance()
		a.oneUnit()
		a.counts()
		a.oneList()
		a.verdict()
		a.bothWays()
		a.drawn()
		a.rows()
		for _, l := range text.Languages {
			a.said(text.Reader{Language: l})
			a.said(text.Reader{Language: l, System: units.Metric})
			a.pictured(text.Reader{Language: l})
		}
		a.link()
		a.contract()
		if i < *agreeing/6 {
			a.varied()
		}
	}
}

type agreement struct {
	*testing.T
	i int
	s shot.Session
	r report.Report
}

func (a *agreement) other() report.Setting { return a.r.Settings[a.r.Answer.Other] }

// ruledOut: no other setting is named only where the limits leave none.
func (a *agreement) ruledOut() {
	for k, s := range a.r.Settings {
		if k != a.r.Reference && s.Feasible || !a.r.Choice.Keep {
			a.Errorf("session %d, keep %v: no other setting is named, %s is feasible: %v", a.i, a.r.Choice.Keep, s.Setting.Key(), s.Feasible)
		}
	}
}

// oneChance: the chance of the answer, of the row and of the choice are one,
// where keeping is told by what is left of it.
func (a *agreement) oneChance() {
	p := a.other().PBetter
	sure := a.r.Choice.Sure
	if a.r.Choice.Keep {
		sure = 1 - sure
	}
	if math.Abs(a.r.Answer.Chance-p) > 1e-9 || math.Abs(sure-p) > 1e-9 || a.r.Answer.Marks != int(math.Round(report.Drives*p)) || p < .01 || p > .99 {
		a.Errorf("session %d: better by %.4f, in the row %.4f, in the choice %.4f, %d marks", a.i, a.r.Answer.Chance, p, sure, a.r.Answer.Marks)
	}
	if key := a.r.Answer.Setting; key != a.r.Choice.Setting || a.r.Choice.Keep != (key == a.r.Reference) {
		a.Errorf("session %d: answer %d, choice %d, keep %v", a.i, key, a.r.Choice.Setting, a.r.Choice.Keep)
	}
}

// oneUnit: a gain is in the aim's own unit and what the counts, shares and
// carries of the two settings differ by.
func (a *agreement) oneUnit() {
	now, then, g := a.r.Settings[a.r.Reference], a.other(), a.r.Answer.Gain
	want, unit := -then.Difference.Mean*a.s.Aim.Drives(), report.UnitStrokes
	switch a.r.Goal {
	case shot.GoalCarry:
		c, _ := then.Of(shot.Carry)
		want, unit = c.Difference.Mean, report.UnitCarry
	case shot.GoalFairways:
		want, unit = report.Drives*(then.PFairway-now.PFairway), report.UnitFairways
	case shot.GoalHeight:
		want, unit = report.Drives*(then.PApex-now.PApex), report.UnitWindow
	}
	if g.Unit != unit || math.Abs(g.Value.Mean-want) > .0501 {
		a.Errorf("session %d, %s: gains %.4f %s, the settings differ by %.4f", a.i, a.r.Goal, g.Value.Mean, g.Unit, want)
	}
	if math.Abs(then.Gain.Value.Mean-g.Value.Mean) > 1e-9 {
		a.Errorf("session %d: the row gains %.4f, the answer %.4f", a.i, then.Gain.Value.Mean, g.Value.Mean)
	}
	for _, s := range a.r.Settings {
		if s.Gain.Unit != unit || s.Moved.Unit != unit || s.Still.Unit != unit {
			a.Errorf("session %d: %s is told in %s", a.i, s.Setting.Key(), s.Gain.Unit)
		}
	}
}

// counts of twenty drives add up and are those of the shares; the marks of a cell
// are those of its chance.
func (a *agreement) counts() {
	for _, s := range a.r.Settings {
		full, rest, _ := strings.Cut(chart.Pips(report.Marks(s.PBetter), report.Drives), "/><path")
		if n := strings.Count(full, "h0"); n != int(math.Round(report.Drives*s.PBetter)) || n+strings.Count(rest, "h0") != report.Drives {
			a.Errorf("session %d, %s: %d marks of a chance of %.4f", a.i, s.Setting.Key(), n, s.PBetter)
		}
		c := s.Counts
		if c.Fairway+c.Rough+c.Trouble != report.Drives || min(c.Fairway, c.Rough, c.Trouble) < 0 {
			a.Errorf("session %d: %+v do not add up", a.i, c)
		}
		if math.Abs(float64(c.Fairway)-report.Drives*s.PFairway) > 1 || c.Window >= 0 && math.Abs(float64(c.Window)-report.Drives*s.PApex) > .5001 ||
			c.Short >= 0 && math.Abs(float64(c.Short)-report.Drives*(1-s.PCarry)) > .5001 {
			a.Errorf("session %d: %+v against shares %.3f %.3f %.3f", a.i, c, s.PFairway, s.PApex, s.PCarry)
		}
	}
	if a.r.Answer.Today.Counts != a.r.Settings[a.r.Reference].Counts || a.r.Answer.Then.Counts != a.other().Counts {
		a.Errorf("session %d: the answer counts otherwise than the rows", a.i)
	}
}

// oneList: what to hit next, the plan and the word of stopping say one thing.
func (a *agreement) oneList() {
	r := a.r
	var left []report.Visit
	for _, v := range r.Plan {
		if v.Done < v.Balls {
			v.Balls -= v.Done
			left = append(left, v)
		}
	}
	list := r.Todo.Visits
	same := len(left) == len(list)
	for k := 0; same && k < len(list); k++ {
		same = left[k].Setting == list[k].Setting && left[k].Balls == list[k].Balls
	}
	if !same || r.Stop.Stop != (r.Todo.State != report.GoOn) || (r.Todo.State == report.Enough) != (len(list) == 0) {
		a.Errorf("session %d: %s with %d visits, the plan has %d, stop %v", a.i, r.Todo.State, len(list), len(left), r.Stop.Stop)
	}
	if (len(r.Next) == 0) != (len(list) == 0) || len(list) > 0 && (r.Next[0].Setting != list[0].Setting || r.Next[0].Balls != list[0].Balls) {
		a.Errorf("session %d: next %+v, list %+v", a.i, r.Next, list)
	}
}

// verdict: the word is that of the chance, and no more than a lean where what
// was asked is likely not met.
func (a *agreement) verdict() {
	rank := map[report.Verdict]int{report.CannotTell: 0, report.Leaning: 1, report.Likely: 2, report.Clear: 3}
	sure := a.r.Answer.Chance
	if a.r.Choice.Keep {
		sure = 1 - sure
	}
	most := 0
	for k, above := range []float64{.65, .85, .95} {
		if sure > above {
			most = k + 1
		}
	}
	if got := rank[a.r.Choice.Verdict]; got > most || got > 1 && !a.r.Choice.Keep && a.r.Answer.Meets < .5 {
		a.Errorf("session %d: %q at a chance of %.2f and of meeting the limits %.2f", a.i, a.r.Choice.Verdict, sure, a.r.Answer.Meets)
	}
}

// bothWays: the gain as the player aims is that with the aim moved for one who
// moves it all the way, that without for one who does not move it.
func (a *agreement) bothWays() {
	x := a.r.Answer
	if x.Reaim == 1 && x.Gain != x.Moved || x.Reaim == 0 && x.Gain != x.Still {
		a.Errorf("session %d: share %g gains %+v, moved %+v, still %+v", a.i, x.Reaim, x.Gain.Value.Mean, x.Moved.Value.Mean, x.Still.Value.Mean)
	}
}

// drawn: a flight ends where the balls are said to come down and peaks as high.
func (a *agreement) drawn() {
	for _, s := range a.r.Settings {
		if n := len(s.Path); n > 0 {
			carry, _ := s.Of(shot.Carry)
			side, _ := s.Of(shot.Offline)
			if end := s.Path[n-1]; math.Abs(end.X-carry.Value.Mean) > .2 || math.Abs(end.Z-side.Value.Mean) > .2 {
				a.Errorf("session %d: %s is drawn to %.1f, %.1f m and said to carry %.1f, %.1f m", a.i, s.Setting.Key(), end.X, end.Z, carry.Value.Mean, side.Value.Mean)
			}
		}
	}
	t, n := a.r.Answer.Today, a.r.Settings[a.r.Reference]
	if c, _ := n.Of(shot.Carry); math.Abs(c.Value.Mean-t.Carry) > 1e-9 {
		a.Errorf("session %d: today carries %.2f and %.2f m", a.i, c.Value.Mean, t.Carry)
	}
}

// said compares the sentences, the sheet and the command line.
func (a *agreement) said(to text.Reader) {
	r := a.r
	var b bytes.Buffer
	printReport(&b, r, to)
	fit, paper, head := b.String(), sheet.Plain(a.s, r, to, sheet.Options{}), to.Say(r.Choice.Headline)
	has := func(where, text, want string) {
		if !strings.Contains(text, want) {
			a.Errorf("session %d, %s: %s lacks %q:\n%s", a.i, to.Language, where, want, text)
		}
	}
	chance, gain := to.Percent(r.Answer.Chance), to.Gain(r.Answer.Gain.Value.Mean, r.Answer.Gain.Unit)
	has("the command line", fit, chance)
	has("the command line", fit, to.GainRange(r.Answer.Gain))
	if r.Choice.Headline.Key != "choice.thin" && r.Choice.Headline.Key != "choice.keep.only" {
		has("the headline", head, chance)
	}
	limit := strings.HasPrefix(r.Choice.Headline.Key, "choice.limit")
	if !r.Choice.Keep {
		if r.Answer.Gain.Unit != report.UnitCarry { // the sheet's own line writes carry as a difference, see pictured
			has("the sheet", paper, gain)
		}
		if r.Choice.Headline.Key != "choice.toss" && !limit {
			has("the headline", head, gain)
		}
		a.loft(to, paper)
	}
	c := r.Settings[r.Choice.Setting].Counts
	has("the sheet", paper, to.Fill("paper.expect.trouble", strconv.Itoa(c.Trouble), strconv.Itoa(r.Answer.Today.Counts.Trouble)))
	for _, n := range r.Next {
		has("the command line", fit, to.Say(n.Why))
	}
}

// loft: the reason for a setting names the change of loft that its line names.
func (a *agreement) loft(to text.Reader, paper string) {
	then, now := a.other().Change, a.r.Settings[a.r.Reference].Change
	d := then.LoftSquare - now.LoftSquare
	for _, m := range a.r.Choice.Why {
		if (m.Key == "why.lean.more" && d > 0 || m.Key == "why.lean.less" && d < 0) && math.Abs(m.Args[0].Value-math.Abs(d)) > 1e-9 {
			a.Errorf("session %d: loft changes by %.2f and by %.2f degrees", a.i, m.Args[0].Value/units.Degree, d/units.Degree)
		}
	}
}

// rows: what the answer says of the two settings is what their rows say, and what
// a row's own balls did is set against that row's estimate.
func (a *agreement) rows() {
	x, now, then := a.r.Answer, a.r.Settings[a.r.Reference], a.other()
	for what, pair := range map[string][2]report.Worth{"moved": {x.Moved, then.Moved}, "still": {x.Still, then.Still}} {
		if math.Abs(pair[0].Value.Mean-pair[1].Value.Mean) > 1e-9 {
			a.Errorf("session %d, aim %s: the answer gains %.4f, the row %.4f", a.i, what, pair[0].Value.Mean, pair[1].Value.Mean)
		}
	}
	for what, p := range map[string]struct {
		place report.Place
		row   report.Setting
	}{"today": {x.Today, now}, "then": {x.Then, then}} {
		for q, v := range map[shot.Quantity]float64{shot.Carry: p.place.Carry, shot.Offline: p.place.Side, shot.Apex: p.place.Height} {
			if is, ok := p.row.Of(q); ok && math.Abs(is.Value.Mean-v) > 1e-9 {
				a.Errorf("session %d, %s: %s is %.3f in the answer and %.3f in the row", a.i, what, q, v, is.Value.Mean)
			}
		}
	}
	for _, s := range a.r.Settings {
		for _, q := range s.Quantities {
			if base, ok := now.Of(q.Quantity); ok && s.Setting.Key() != now.Setting.Key() && math.Abs(q.Value.Mean-base.Value.Mean-q.Difference.Mean) > 1e-6*(1+math.Abs(q.Value.Mean)) {
				a.Errorf("session %d, %s: %s differs by %.5f from today's, their means by %.5f", a.i, s.Setting.Key(), q.Quantity, q.Difference.Mean, q.Value.Mean-base.Value.Mean)
			}
		}
		for _, d := range s.Differs {
			if is, ok := s.Of(d.Quantity); ok && math.Abs(is.Value.Mean-d.Expected) > 1e-9 {
				a.Errorf("session %d, %s: %s is expected at %.3f and at %.3f", a.i, s.Setting.Key(), d.Quantity, d.Expected, is.Value.Mean)
			}
		}
	}
}

// pictured compares the drawings and the paper with the numbers that stand
// beside them: marks and balls are counted, tables read, the sheet's lines looked
// for on paper.
func (a *agreement) pictured(to text.Reader) {
	x, st := a.r.Answer, chart.Style{ID: "x", Reader: to, Theme: &chart.Light}
	full := func(svg, class string) int { return strings.Count(svg, `class="`+class+`"`) }
	marks := chart.Marks(x.Marks, report.Drives, st)
	if got := report.Drives - strings.Count(marks, `fill="`+chart.Light.Paper+`"`); full(marks, "mark") != report.Drives || got != x.Marks {
		a.Errorf("session %d: %d marks of %d are full, the answer has %d", a.i, got, full(marks, "mark"), x.Marks)
	}
	for _, k := range []report.Counts{x.Today.Counts, x.Then.Counts} {
		if d := chart.Drives(k, st); full(d, "drive-fairway") != k.Fairway || full(d, "drive-rough") != k.Rough || full(d, "drive-trouble") != k.Trouble {
			a.Errorf("session %d: %+v are drawn otherwise", a.i, k)
		}
	}
	gains := chart.Gains(a.r, st)
	for i, s := range a.r.Settings {
		want, seen := to.Gain(s.Gain.Value.Mean, s.Gain.Unit), false
		for _, row := range gains.Table.Rows {
			seen = seen || strings.Contains(row[0], s.Setting.Key()) && row[1] == want
		}
		if !seen && i != a.r.Reference {
			a.Errorf("session %d, %s: no line of the gains has %s with %q: %q", a.i, to.Language, s.Setting.Key(), want, gains.Table.Rows)
		}
	}
	c := sheet.Make(a.s, a.r, to, sheet.Options{})
	paper := html.UnescapeString(sheet.HTML(a.s, a.r, to, sheet.Options{}))
	lines := append([]string{c.Answer}, c.Expect...)
	if !a.r.Choice.Keep {
		lines = append(lines, c.Headline, c.Gain)
		want := to.Gain(x.Gain.Value.Mean, x.Gain.Unit)
		if carry, ok := a.other().Of(shot.Carry); ok && x.Gain.Unit == report.UnitCarry {
			want = to.Difference(carry.Difference.Mean, units.Length, 0)
		}
		if !strings.Contains(c.Gain, want) {
			a.Errorf("session %d, %s: the sheet's line of the gain lacks %q: %q", a.i, to.Language, want, c.Gain)
		}
	}
	for _, line := range lines {
		if line != "" && !strings.Contains(paper, line) {
			a.Errorf("session %d, %s: on paper there is no %q", a.i, to.Language, line)
		}
	}
	if k := c.Setting; k != x.Setting || c.Answer != a.r.Settings[x.Setting].Setting.Key() {
		a.Errorf("session %d: the sheet is of setting %d, %q, the answer of %d", a.i, k, c.Answer, x.Setting)
	}
}

// link: what a link tells before anything is computed, and once it was sent.
func (a *agreement) link() {
	g, err := share.GiveOf(a.r)
	if err != nil {
		a.Fatal(err)
	}
	x, now := a.r.Answer, a.r.Settings[a.r.Reference]
	c, _ := now.Of(shot.Carry)
	if g.Keep != a.r.Choice.Keep || g.Verdict != a.r.Choice.Verdict || g.State != a.r.Todo.State || g.Answer.Chance != x.Chance ||
		g.Answer.Gain.Value.Mean != x.Gain.Value.Mean || g.Answer.Today.Counts != x.Today.Counts || c.Value.Mean != x.Today.Carry {
		a.Errorf("session %d: the link says %+v", a.i, g)
	}
	text, err := share.Encode(a.s, &g, share.Options{})
	if err != nil {
		a.Fatal(err)
	}
	l, err := share.Decode(text)
	if err != nil || l.Given == nil {
		a.Fatalf("session %d: the link is not read: %v", a.i, err)
	}
	y := l.Given.Answer
	if y.Marks != x.Marks || y.Today.Counts != x.Today.Counts || y.Then.Counts != x.Then.Counts || y.Seen != x.Seen ||
		l.Given.Verdict != g.Verdict || l.Given.Keep != g.Keep || l.Given.State != g.State {
		a.Errorf("session %d: read from its link the answer is %+v, was %+v", a.i, y, x)
	}
}

// contract: the documented JSON.
func (a *agreement) contract() {
	raw, err := json.Marshal(contract(a.r, text.Reader{}))
	if err != nil {
		a.Fatal(err)
	}
	var j jsonReport
	if err := json.Unmarshal(raw, &j); err != nil {
		a.Fatal(err)
	}
	if j.Choice.Sure != a.r.Choice.Sure || j.Answer.Chance != a.r.Answer.Chance || j.Answer.Gain.Value.Mean != a.r.Answer.Gain.Value.Mean ||
		(j.Next == nil) != (len(a.r.Todo.Visits) == 0) || j.Answer.State != string(a.r.Todo.State) {
		a.Errorf("session %d: the JSON says %+v", a.i, j.Answer)
	}
}

// varied: a row that is said to be the same names the same setting, any other
// another, so that what is said of all rows is true of what they name.
func (a *agreement) varied() {
	rows, err := pipeline.Vary(a.s, pipeline.Memory{}, uint64(a.i), nil)
	if err != nil {
		a.Fatal(err)
	}
	for _, v := range rows {
		if v.Same != v.Setting.Equal(rows[0].Setting) {
			a.Errorf("session %d: %s names %s, the session %s, same %v", a.i, v.Text.Key, v.Setting.Key(), rows[0].Setting.Key(), v.Same)
		}
	}
}
