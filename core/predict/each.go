package predict

import (
	"math"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/response"
	"ferrule/core/seed"
)

// Config says how finely to predict.
type Config struct {
	PerDraw int       // balls a draw, 0 = 16
	Seed    seed.Seed // of the flight model's doubt and of deviations never seen
	// Doubt is the standard deviation of the ball model's three scales, drag,
	// lift and spin-drag. [1] Zero means .04, .04, .3: the spread of published
	// models about one another.
	Doubt [3]float64
	// Progress is told after each setting, may be nil.
	Progress func(done, all int)
}

// Each predicts every setting in turn and hands it to visit; the Outcome's
// slices are used again for the next setting, so visit must not keep them.
// Draw d and ball i use the same random numbers in every setting.
func Each(r *response.Response, s *flight.Surface, settings []club.Setting, changes []club.Change, cfg Config, visit func(i int, o *Outcome)) {
	if cfg.PerDraw == 0 {
		cfg.PerDraw = 16
	}
	if cfg.Doubt == ([3]float64{}) {
		cfg.Doubt = [3]float64{.04, .04, .3}
	}
	noise := r.Noise(cfg.PerDraw, cfg.Seed)
	draws := len(r.Draws)
	scales := doubts(draws, cfg)
	o := &Outcome{Draws: draws, PerDraw: cfg.PerDraw, Balls: make([]Ball, draws*cfg.PerDraw), Launch: make([]float64, draws*response.K)}
	for i := range settings {
		o.Setting, o.Change = settings[i], changes[i]
		z := r.Deviations(cfg.Seed, settings[i].Key())
		var mean [response.K]float64
		for d := range draws {
			y := r.Mean(d, i, z)
			for k := range y {
				o.Launch[d*response.K+k] = y[k]
				mean[k] += y[k] / float64(draws)
			}
		}
		sens := sensitivity(response.Launch(mean), s.Env(), cfg.Doubt)
		for d := range draws {
			far, high := 1.0, 1.0
			for m := range sens {
				far += scales[d][m] * sens[m][0]
				high += scales[d][m] * sens[m][1]
			}
			far, high = math.Max(far, .5), math.Max(high, .3)
			for b := range cfg.PerDraw {
				at := d*cfg.PerDraw + b
				var y [response.K]float64
				for k := range y {
					y[k] = o.Launch[d*response.K+k] + noise[at][k]
				}
				y[0] = math.Min(y[0], o.Launch[d*response.K]*1.06) // no lucky ball is 6 % faster than the swing gives
				g := s.At(response.Launch(y))
				run := far - 1
				o.Balls[at] = Ball{Carry: g.Carry * far, Offline: g.Offline * far, Apex: g.Apex * high, Descent: g.Descent,
					RestX: g.RestX + run*g.Carry, RestZ: g.RestZ + run*g.Offline}
			}
		}
		visit(i, o)
		if cfg.Progress != nil {
			cfg.Progress(i+1, len(settings))
		}
	}
}

// doubts draws the ball model's scales, one set a draw, the same for every
// setting; antithetic pairs, so that they average to nothing.
func doubts(draws int, cfg Config) [][3]float64 {
	rng := cfg.Seed.Stream("predict.doubt")
	out := make([][3]float64, draws)
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

// sensitivity is the relative change of carry and apex for one standard
// deviation of each scale, by three flights.
func sensitivity(l flight.Launch, e flight.Env, sd [3]float64) (out [3][2]float64) {
	base, err := flight.Fly(l, e)
	if err != nil || base.Carry <= 1 || base.Apex <= .1 {
		return out
	}
	if e.Model == (flight.Model{}) {
		e.Model = flight.Default()
	}
	for m := range sd {
		f := e
		switch m {
		case 0:
			f.Model.KD *= 1 + sd[0]
		case 1:
			f.Model.KL *= 1 + sd[1]
		case 2:
			f.Model.KS *= 1 + sd[2]
		}
		if g, err := flight.Fly(l, f); err == nil {
			out[m] = [2]float64{g.Carry/base.Carry - 1, g.Apex/base.Apex - 1}
		}
	}
	return out
}

// All keeps every outcome, for few settings.
func All(r *response.Response, s *flight.Surface, settings []club.Setting, changes []club.Change, cfg Config) []Outcome {
	var out []Outcome
	Each(r, s, settings, changes, cfg, func(_ int, o *Outcome) {
		c := *o
		c.Balls, c.Launch = append([]Ball(nil), o.Balls...), append([]float64(nil), o.Launch...)
		out = append(out, c)
	})
	return out
}
