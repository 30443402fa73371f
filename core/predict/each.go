package predict

import (
	"cmp"
	"math"
	"slices"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/response"
	"ferrule/core/seed"
	"ferrule/core/units"
)

// Config says how finely to predict.
type Config struct {
	PerDraw int       // balls a draw, 0 = 7
	Seed    seed.Seed // of the flight model's doubt and of deviations never seen
	// Doubt is how far the ball's traits may be off: row by row the changes [1]
	// that go with one standard deviation of an independent cause. Zero means
	// those of a ball that was never seen to fly, flight.Balls.
	Doubt [flight.NumTraits]flight.Traits
	// Progress is told after each setting, may be nil.
	Progress func(done, all int)
}

// Each predicts every setting in turn and hands it to visit; the Outcome's
// slices are used again for the next setting, so visit must not keep them.
// Draw d and ball i use the same random numbers in every setting.
//
// Each ball of each draw is flown once at the reference setting, with its
// slopes; a setting then moves it by the change of its draw's mean launch, to
// second order. The error of that against flying every ball is a few tenths of
// a metre for changes that a club can make (TestLocalAgreesWithFlights); a
// change beyond reach is flown.
func Each(r *response.Response, s *flight.Surface, settings []club.Setting, cfg Config, visit func(i int, o *Outcome)) {
	cfg.PerDraw = cmp.Or(cfg.PerDraw, 7)
	if cfg.Doubt == ([flight.NumTraits]flight.Traits{}) {
		cfg.Doubt = flight.Balls().Doubt()
	}
	e := newEach(r, s, cfg)
	draws := len(r.Draws)
	o := &Outcome{Draws: draws, PerDraw: cfg.PerDraw, Balls: make([]Ball, draws*cfg.PerDraw), Launch: make([]float64, draws*response.K),
		Ground: ground(draws, cfg)}
	names := make([]string, len(settings))
	for i := range settings {
		names[i] = settings[i].Key()
	}
	e.level = e.session()
	e.checks(names, o)
	for i := range settings {
		o.Check = e.checked[i]
		e.widened(i, e.plain(i, names[i], o), o)
		visit(i, o)
		if cfg.Progress != nil {
			cfg.Progress(i+1, len(settings))
		}
	}
}

// low is the launch angle [rad] below which a ball is flown in every setting:
// one that is nearly topped has a step ahead of it and no slope.
const low = 2 * units.Degree

// each is what all settings share.
type each struct {
	r      *response.Response
	s      *flight.Surface
	cfg    Config
	noise  [][response.K]float64
	scales []flight.Traits       // of each draw, how far along each cause of doubt [sd]
	base   [][response.K]float64 // mean launch of each draw at the reference
	balls  []local
	curve  curvature
	sens   effects // at the reference
	level  *offsets

	widening []widening // of each setting
	checked  []*Check   // of each setting, nil = never hit
}

// plain fills o for setting i as the model says it, and returns the normal
// numbers of its landing.
func (e *each) plain(i int, name string, o *Outcome) []float64 {
	z := own(e.cfg.Seed, name, o.Draws)
	e.setting(i, e.r.Deviations(e.cfg.Seed, name), z, o)
	return z
}

func newEach(r *response.Response, s *flight.Surface, cfg Config) *each {
	draws := len(r.Draws)
	noise, from := r.Noise(cfg.PerDraw, cfg.Seed)
	e := &each{r: r, s: s, cfg: cfg, noise: noise, scales: doubts(draws, cfg),
		base: make([][response.K]float64, draws), balls: make([]local, draws*cfg.PerDraw)}
	ref := r.Input().Reference
	z := make([]float64, draws*response.K) // a reference never hit has its deviation in its own prediction
	var mean [response.K]float64
	for d := range draws {
		e.base[d] = r.Mean(d, ref, z)
		for k := range mean {
			mean[k] += e.base[d][k] / float64(draws)
		}
	}
	e.curve = curve(s, mean)
	e.sens = sensitivity(response.Launch(mean), s.Env(), cfg.Doubt)
	e.expand(from)
	return e
}

// expand finds the flight of every ball at the reference. The balls that stem
// from one ball of the session start much alike: those close to their middle
// are taken from its expansion instead of being flown.
func (e *each) expand(from []int) {
	type middle struct {
		launch [response.K]float64
		n      float64
		flight *local
	}
	middles := make([]middle, slices.Max(from)+2)
	launch := make([][response.K]float64, len(from))
	for at, i := range from {
		launch[at] = launchOf(&e.base[at/e.cfg.PerDraw], &e.noise[at])
		m := &middles[i+1]
		m.n++
		for k, v := range launch[at] {
			m.launch[k] += (v - m.launch[k]) / m.n
		}
	}
	hessian := e.curve.hessian()
	for at, i := range from {
		m := &middles[i+1]
		var off [response.K]float64
		near := i >= 0 && m.launch[1] > low && launch[at][1] > low
		for k := range off {
			off[k] = (launch[at][k] - m.launch[k]) / response.Scale[k]
			near = near && math.Abs(off[k]) < alike
		}
		if !near {
			e.balls[at] = expand(e.s, launch[at], &e.curve)
			continue
		}
		if m.flight == nil {
			l := expand(e.s, m.launch, &e.curve)
			m.flight = &l
		}
		e.balls[at] = m.flight.moved(&off, hessian)
	}
}

// launchOf is a ball's launch: the draw's mean and what the swing did.
func launchOf(mean, noise *[response.K]float64) (y [response.K]float64) {
	for k := range y {
		y[k] = mean[k] + noise[k]
	}
	y[0] = math.Min(y[0], mean[0]*1.06) // no lucky ball is 6 % faster than the swing gives
	return y
}

// setting fills o for setting i.
func (e *each) setting(i int, deviations, own []float64, o *Outcome) {
	draws := o.Draws
	var mean [response.K]float64
	for d := range draws {
		y := e.r.Mean(d, i, deviations)
		copy(o.Launch[d*response.K:], y[:])
		for k := range y {
			mean[k] += y[k] / float64(draws)
		}
	}
	sens := sensitivity(response.Launch(mean), e.s.Env(), e.cfg.Doubt)
	for d := range draws {
		by := e.ball(d, &sens)
		long, right, up := e.level.shift(0, d, i, own), e.level.shift(1, d, i, own), e.level.shift(2, d, i, own)
		var change, y [response.K]float64
		near := true
		for k := range change {
			y[k] = o.Launch[d*response.K+k]
			change[k] = (y[k] - e.base[d][k]) / response.Scale[k]
			near = near && math.Abs(change[k]) <= reach
		}
		bend, lean := e.curve.bend(&change), e.curve.alongAxis(&change)
		tilt := tilting(e.base[d][3], y[3])
		least := math.Min(y[1], e.base[d][1])
		run := by.far - 1
		for b := range o.PerDraw {
			at := d*o.PerDraw + b
			var g landing
			if near && least+e.noise[at][1] > low {
				sway := (tilt - 1) * e.noise[at][4] / response.Scale[4]
				e.balls[at].changed(&g, &bend, &lean, &change, sway)
			} else {
				noise := e.noise[at]
				noise[4] *= tilt
				g = landed(e.s.At(response.Launch(launchOf(&y, &noise))))
			}
			to := &o.Balls[at]
			apex := g[2]*by.high + up
			if apex < 0 {
				apex = 0
			}
			bent := by.aside*(y[4]+tilt*e.noise[at][4]) + right
			to.Carry, to.Offline, to.Apex, to.Descent = g[0]*by.far+long, g[1]*by.far+bent, apex, g[3]
			to.RestX, to.RestZ = g[4]+run*g[0]+long, g[5]+run*g[1]+bent
		}
	}
}

// ballOf is what a draw's ball does to a flight: factors of carry and apex, and
// metres to the right for each radian of axis.
type ballOf struct{ far, high, aside float64 }

func (e *each) ball(d int, sens *effects) ballOf {
	b := ballOf{1, 1, 0}
	for m := range sens {
		b.far += e.scales[d][m] * sens[m][0]
		b.high += e.scales[d][m] * sens[m][1]
		b.aside += e.scales[d][m] * sens[m][2]
	}
	b.far, b.high = math.Max(b.far, .5), math.Max(b.high, .3)
	return b
}

// tilting is by how much a ball's tilt beyond the mean shrinks when a setting
// raises the mean spin from one value to another [rad/s]. What a swing does to
// the ball sideways, face against path or a strike off the middle, is a
// sidespin; the axis tilts by sidespin over backspin, so the same swing tilts a
// ball of more backspin less (TestTiltingFollowsTheStrike against impact.Strike).
func tilting(from, to float64) float64 {
	if from <= 0 || to <= 0 {
		return 1
	}
	return math.Max(.6, math.Min(1.6, from/to))
}

// doubts draws the ball's traits, one set a draw, the same for every setting;
// antithetic pairs, so that they average to nothing.
func doubts(draws int, cfg Config) []flight.Traits {
	rng := cfg.Seed.Stream("predict.doubt")
	out := make([]flight.Traits, draws)
	for d := range out {
		for m := range out[d] {
			if d%2 == 1 {
				out[d][m] = -out[d-1][m]
			} else {
				out[d][m] = rng.NormFloat64()
			}
		}
	}
	return out
}

// ground draws how much farther than computed the balls run, one ground a draw:
// the normal's quantiles in random order, flight.RunDoubt their 80 % interval. It
// stands beside the balls: a hole is played on one ground whatever the setting,
// so scoring by it would only blur the comparison.
func ground(draws int, cfg Config) []float64 {
	const q80 = 1.2815515655446004 // the normal's 90 % quantile
	out := make([]float64, draws)
	for d, rank := range cfg.Seed.Stream("predict.ground").Perm(draws) {
		out[d] = flight.RunDoubt / q80 * math.Sqrt2 * math.Erfinv((2*float64(rank)+1)/float64(draws)-1)
	}
	return out
}

// tilted is the axis at which sensitivity looks at the curve.
const tilted = 8 * units.Degree

// effects of one standard deviation of each cause of doubt.
type effects [flight.NumTraits][3]float64

// sensitivity is what one standard deviation of each cause of doubt does: the
// relative change of carry and apex, and how much farther right a ball lands for
// each unit of its axis [m/rad], by a flight each.
func sensitivity(l flight.Launch, e flight.Env, doubt [flight.NumTraits]flight.Traits) (out effects) {
	l.Axis = tilted
	base, err := flight.Fly(l, e)
	if err != nil || base.Carry <= 1 || base.Apex <= .1 {
		return out
	}
	for m, by := range doubt {
		f := e
		f.Model = e.Model.With(by)
		if g, err := flight.Fly(l, f); err == nil {
			far := g.Carry / base.Carry
			out[m] = [3]float64{far - 1, g.Apex/base.Apex - 1, (g.Offline - far*base.Offline) / tilted}
		}
	}
	return out
}
