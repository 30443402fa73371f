package pipeline

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"ferrule/core/air"
	"ferrule/core/flight"
	"ferrule/core/message"
	"ferrule/core/predict"
	"ferrule/core/report"
	"ferrule/core/response"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What is believed of a wind before the balls are seen, our own choice, no
// source: a range is out of most of the wind, a person tells a wind's strength
// to a third and its direction to an eighth of a turn.
const (
	untoldWind  = 3.0                // [m/s] standard deviation of head and cross that nobody told
	toldAtBest  = 1.0                // [m/s] of a wind that was told, and
	toldShare   = .3                 // [1] of its speed
	gustShare   = .15                // [1] a ball's own wind about its block's, of the wind's speed, and
	gustLeast   = .4                 // [m/s]
	zeroStart   = .05 * units.Degree // how far a device's zero of direction may be off, and
	zeroAxis    = .1 * units.Degree  // its zero of the axis
	lawWind     = 1.5                // [m/s] how much head wind a ball of another law of flight looks like in still air (ferrule simulate -bench rough)
	mistoldFrom = 1.5                // [1] standard deviations of what was typed, from which it is not believed
	saidFrom    = 1.5                // [m/s] a wind less than this from what was typed is not worth saying
	allowedFor  = .5                 // [1] of a drift that the player allows for where he plays
	sides       = 16                 // directions that the home course's wind comes from
)

// block is a stretch of balls that have one air.
type block struct {
	number      int // shot.Shot.Air
	first, last int // places in Session.Shots
	air         air.Air
	prior       flight.WindPrior
	wind        flight.BlockWind
	mistold     bool // the balls contradict what was typed: it was not used
}

// flown is the air of the block with the wind that is believed now.
func (b *block) flown() air.Air { return b.wind.Wind.In(b.air) }

// airs lists the blocks and what is typed of each: balls with one air on one
// part of the day. Indoors there is no wind.
func (a *analysis) airs() error {
	at := map[[2]string]int{}
	for i, x := range a.s.Shots {
		k := [2]string{fmt.Sprint(x.Air), x.Session}
		n, known := at[k]
		if !known {
			typed := a.s.AirNumber(x.Air)
			if a.s.Conditions.Indoors {
				typed.Wind = 0
			}
			b := block{number: x.Air, first: i}
			var err error
			if b.air, err = air.From(typed.Temperature, typed.Pressure, typed.Humidity, typed.Altitude, typed.Wind, typed.WindFrom); err != nil {
				return message.New("problem.air", err)
			}
			b.prior = windBelief(typed)
			if a.s.Conditions.Indoors {
				b.prior = flight.WindPrior{}
			}
			b.wind = flight.BlockWind{Wind: b.prior.Wind, HeadSD: b.prior.HeadSD, CrossSD: b.prior.CrossSD}
			n = len(a.blocks)
			at[k] = n
			a.blocks = append(a.blocks, b)
		}
		a.blocks[n].last = i
		a.blockOf = append(a.blockOf, n)
	}
	return nil
}

// windBelief is what a typed wind is worth.
func windBelief(typed shot.Air) flight.WindPrior {
	p := flight.WindPrior{HeadSD: untoldWind, CrossSD: untoldWind, Gust: gustLeast + gustShare*typed.Wind}
	if typed.Wind > 0 {
		p.Head, p.Cross = typed.Parts()
		p.HeadSD = toldAtBest + toldShare*typed.Wind
		p.CrossSD = p.HeadSD
	}
	return p
}

// windsOf infers ball and winds. A typed wind from which the balls are far off is
// not believed: the same balls are then asked as if none had been typed, so that
// a slip of the pen moves nothing.
func windsOf(blocks []block, env flight.Env, seen []flight.Observation) (flight.Calibration, error) {
	for {
		p := flight.Prior{DirectionSD: zeroStart, AxisSD: zeroAxis, LawSD: lawWind}
		for _, b := range blocks {
			if b.mistold {
				b.prior = windBelief(shot.Air{})
			}
			p.Blocks = append(p.Blocks, b.prior)
		}
		fit, err := flight.Calibrate(seen, env, p)
		if err != nil {
			return fit, err
		}
		again := false
		for i := range blocks {
			b := &blocks[i]
			if w := fit.Blocks[i]; b.air.Wind > 0 && !b.mistold && math.Abs(w.Cross-b.prior.Cross) > mistoldFrom*b.prior.CrossSD {
				b.mistold, again = true, true
			}
		}
		if !again {
			return fit, nil
		}
	}
}

// learnWinds takes over what the flights say of each block's wind.
func learnWinds(blocks []block, fit flight.Calibration) {
	for i := range blocks {
		if i < len(fit.Blocks) && fit.Blocks[i].Balls > 0 {
			blocks[i].wind = fit.Blocks[i]
		}
	}
}

// noWind says that the flights are the device's own computation, in which no
// wind blows.
func noWind(blocks []block) {
	for i := range blocks {
		blocks[i].wind = flight.BlockWind{}
	}
}

// level brings every ball from the air of its block into the one that the
// answer is for; what was measured is kept in a.seen.
func (a *analysis) level() {
	a.seen = make([]shot.Values, len(a.s.Shots))
	a.drift = make([]float64, len(a.s.Shots))
	shots := append([]shot.Shot(nil), a.s.Shots...)
	for i := range shots {
		a.seen[i] = shots[i].Values
		from := a.env
		from.Air = a.blocks[a.blockOf[i]].flown()
		shots[i].Values = carriedTo(shots[i].Values, from, a.env)
		still := from
		still.Air.Wind = 0
		if l, ok := likelyLaunch(shots[i].Values); ok && from.Air.Wind > 0 {
			x, err1 := flight.Fly(l, from)
			y, err2 := flight.Fly(l, still)
			if err1 == nil && err2 == nil {
				a.drift[i] = x.Offline - y.Offline
			}
		}
	}
	a.s.Shots = shots
}

// likelyLaunch is the launch of a ball with what was not measured filled in by a
// drive's usual numbers: only differences between two airs follow from it. The
// ball speed behind a carry is common practice, no source.
func likelyLaunch(v shot.Values) (l flight.Launch, ok bool) {
	l, has := launchOf(v)
	if !has[0] {
		c := ptr(v, shot.Carry)
		if c == nil || *c < 40 {
			return l, false
		}
		l.Speed = (*c + 57) / 4.05
	}
	if !has[1] {
		l.Angle = 13 * units.Degree
	}
	if !has[3] {
		l.Spin = 2700 * units.RPM
	}
	if !has[2] {
		if o, c := offlineOf(v), ptr(v, shot.Carry); o != nil && c != nil && *c > 20 {
			l.Direction = math.Asin(math.Max(-.5, math.Min(.5, *o / *c)))
		}
	}
	return l, l.Validate() == nil
}

// carriedTo is a ball as measured in one air, brought to another: carry, total
// and height by the ratio of the model's two flights, sides and angles by their
// difference.
func carriedTo(v shot.Values, from, to flight.Env) shot.Values {
	if from.Air == to.Air || !(v[shot.Carry] > 0 || v[shot.Total] > 0 || v[shot.Apex] > 0) {
		return v
	}
	l, ok := likelyLaunch(v)
	if !ok {
		return v
	}
	was, err1 := flight.Fly(l, from)
	is, err2 := flight.Fly(l, to)
	if err1 != nil || err2 != nil || was.Distance() < 1 || was.Apex < .1 {
		return v // a topped ball knows no air
	}
	out := maps.Clone(v)
	side := is.Offline - was.Offline
	for q, by := range map[shot.Quantity]float64{shot.Carry: is.Distance() / was.Distance(), shot.Total: is.Distance() / was.Distance(), shot.Apex: is.Apex / was.Apex} {
		if x, ok := v[q]; ok {
			out[q] = x * by
		}
	}
	for q, by := range map[shot.Quantity]float64{shot.Offline: side, shot.OfflineTotal: side, shot.Curve: side, shot.Descent: is.Descent - was.Descent, shot.FlightTime: is.Time - was.Time} {
		if x, ok := v[q]; ok {
			out[q] = x + by
		}
	}
	if x, ok := v[shot.OfflineAngle]; ok && out[shot.Carry] > 0 {
		out[shot.OfflineAngle] = math.Asin(math.Max(-1, math.Min(1, (v[shot.Carry]*math.Sin(x)+side)/out[shot.Carry])))
	}
	return out
}

// offsets are how far the balls of each block may be off together, because
// their wind is not known: the typical ball in a wind of one standard deviation.
func (a *analysis) offsets() []response.Offset {
	out := make([]response.Offset, len(a.blocks))
	l := a.base.Launch
	for i := range a.blocks {
		b := &a.blocks[i]
		e := a.env
		e.Air = b.flown()
		was, err := flight.Fly(l, e)
		if err != nil || b.wind.HeadSD+b.wind.CrossSD == 0 {
			continue
		}
		head, cross := b.wind.Wind, b.wind.Wind
		head.Head += b.wind.HeadSD
		cross.Cross += b.wind.CrossSD
		e.Air = head.In(b.air)
		h, err1 := flight.Fly(l, e)
		e.Air = cross.In(b.air)
		c, err2 := flight.Fly(l, e)
		if err1 != nil || err2 != nil {
			continue
		}
		out[i] = response.Offset{Carry: math.Hypot(h.Carry-was.Carry, c.Carry-was.Carry), Offline: math.Hypot(h.Offline-was.Offline, c.Offline-was.Offline),
			Apex: math.Hypot(h.Apex-was.Apex, c.Apex-was.Apex)}
	}
	return out
}

// blown moves the balls of an outcome by the home course's wind, ball by ball
// from another side. The player allows for half of the drift.
func (a *analysis) blown(o *predict.Outcome, typical flight.Launch) {
	home := a.s.Aim.Home
	if home == nil || home.Wind == 0 || a.tried {
		return
	}
	still, err := flight.Fly(typical, a.env)
	if err != nil {
		return
	}
	var by [sides]predict.Ball
	for k := range by {
		e := a.env
		e.Air.Wind, e.Air.WindFrom = home.Wind, 2*math.Pi*float64(k)/sides
		if g, err := flight.Fly(typical, e); err == nil {
			by[k] = predict.Ball{Carry: g.Carry - still.Carry, Offline: (1 - allowedFor) * (g.Offline - still.Offline), Apex: g.Apex - still.Apex, Descent: g.Descent - still.Descent}
		}
	}
	for i := range o.Balls {
		b, d := &o.Balls[i], by[(i*7+i/o.PerDraw)%sides]
		b.Carry, b.Offline, b.Apex, b.Descent = b.Carry+d.Carry, b.Offline+d.Offline, b.Apex+d.Apex, b.Descent+d.Descent
		b.RestX, b.RestZ = b.RestX+d.Carry, b.RestZ+d.Offline
	}
}

// statedAir is the air that the answer is for.
func statedAir(env flight.Env, s shot.Session) *report.Air {
	e := env.Air
	out := &report.Air{Temperature: e.Temperature, Altitude: air.AltitudeOf(e.Pressure)}
	t, h := report.Number(e.Temperature, units.Temperature, 0), report.Number(math.Round(out.Altitude), units.Height, 0)
	out.For = report.Say("air.still", t, h)
	if home := s.Aim.Home; home != nil {
		out.Home, out.Wind = true, home.Wind
		out.For = report.Say("air.home", t, h, report.Number(home.Wind, units.Speed, -1))
	}
	return out
}

// writeAir says for which air the answer is and what the balls say of theirs.
// Findings come before all others: they may undo the rest.
func (a *analysis) writeAir(r *report.Report) {
	out := statedAir(a.env, a.s)
	var found []report.Finding
	for i := range a.blocks {
		b := a.blocks[i].said()
		if b.Text.Key != "" {
			found = append(found, report.Finding{Kind: "wind", Text: b.Text, Weight: 1})
		}
		out.Blocks = append(out.Blocks, b)
	}
	r.Findings = append(found, r.Findings...)
	for j, set := range r.Settings {
		if m := report.AirMean(r.Shots, j); set.Tested && m.Balls > 0 {
			out.Means = append(out.Means, m)
		}
	}
	r.Air = out
}

// anyMistold reports whether a wind was typed that the balls contradict.
func anyMistold(blocks []block) bool {
	return slices.ContainsFunc(blocks, func(b block) bool { return b.said().Against })
}

// said is what the balls of a block say of its wind.
func (b *block) said() report.AirBlock {
	typed := report.Wind{Speed: b.air.Wind, From: b.air.WindFrom}
	out := report.AirBlock{Number: b.number, First: b.first + 1, Last: b.last + 1, Typed: typed, Balls: b.wind.Balls,
		Said: report.Wind{Speed: b.flown().Wind, From: b.flown().WindFrom}, Head: normal(b.wind.Head, b.wind.HeadSD), Cross: normal(b.wind.Cross, b.wind.CrossSD)}
	if b.wind.Balls == 0 {
		return out
	}
	head, cross := b.wind.Head-b.prior.Head, b.wind.Cross-b.prior.Cross
	// A head wind and a ball of more drag look alike, so it takes more to say it.
	along := math.Abs(head) > math.Max(2*saidFrom, 1.96*b.wind.HeadSD)
	across := math.Abs(cross) > math.Max(saidFrom, 1.2816*b.wind.CrossSD)
	out.Differs = along || across
	out.Against = typed.Speed > 0 && (b.mistold || along && math.Abs(head) > mistoldFrom*b.prior.HeadSD)
	if out.Against = out.Against && out.Differs; !out.Differs {
		return out
	}
	lo, hi, from := out.Cross.Lo80, out.Cross.Hi80, -90
	if !across || along && math.Abs(head) > math.Abs(cross) {
		lo, hi, from = out.Head.Lo80, out.Head.Hi80, 0
	}
	if lo+hi < 0 {
		lo, hi = -hi, -lo
		from = map[int]int{-90: 90, 0: 180}[from]
	}
	args := []report.Arg{report.Count(out.First), report.Count(out.Last), report.Number(math.Max(0, lo), units.Speed, 0), report.Number(hi, units.Speed, 0), compass(from)}
	out.Text = report.Say("air.says-untyped", args...)
	if typed.Speed > 0 {
		out.Text = report.Say("air.says", append(args, report.Number(typed.Speed, units.Speed, -1), compass(shot.Eighth(typed.From)))...)
	}
	return out
}

const windKey = "wind." // and a direction in degrees

func compass(degrees int) report.Arg { return message.Key(fmt.Sprint(windKey, degrees)) }

// standing is a measured ball in standard still air; nil where its own air is
// that, or where nothing was measured of its flight.
func (a *analysis) standing(i int) *report.Level {
	standard := a.env
	standard.Air = air.Standard()
	from := a.env
	from.Air = a.blocks[a.blockOf[i]].flown()
	v := a.seen[i]
	if from.Air == standard.Air || a.s.Conditions.Indoors || ptr(v, shot.Carry) == nil {
		return nil
	}
	return levelOf(carriedTo(v, from, standard))
}

// levelOf is where a ball landed by its values.
func levelOf(v shot.Values) *report.Level {
	out := &report.Level{Carry: v[shot.Carry], Apex: v[shot.Apex], Descent: v[shot.Descent]}
	if o := offlineOf(v); o != nil {
		out.Offline = *o
	}
	return out
}
