package rough

import "ferrule/cmd/internal/invent"

// Earlier is the golfer on an earlier day, number v from 1: another level of
// everything, another wind, another zero and noise of the device, other form. One
// visit in five was with another swing: means twice as far off, and a reaction to
// each setting that shares half of today's. Invented.
func (g *Golfer) Earlier(v int) *Golfer {
	r := invent.NewRand(g.Seed, 100+uint64(v))
	e := *g
	e.Seed = g.Seed + uint64(v)<<40 // other tested settings, swings and errors
	far := 1.
	if e.Changed = r.Uniform() < .2; e.Changed {
		far = 2
	}
	for j := range e.mean {
		e.mean[j] += far * .5 * g.sd[j] * r.Normal()
	}
	var gain effect
	for j := range gain {
		gain[j] = 1 + .1*r.Normal()
		if e.Changed {
			gain[j] = .5 + .6*r.Normal()
		}
	}
	for i := range e.at {
		for j := range gain {
			own := r.Normal()
			if i == 0 && g.Anchored {
				own = 0
			}
			e.at[i][j] = gain[j] * g.at[i][j]
			if e.Changed {
				e.at[i][j] += .8 * g.Deviation * g.sd[j] * own
			}
		}
	}
	e.form = newForm(r, g.Wander)
	e.device = newDevice(r, g.Device)
	e.weather(r)
	return &e
}
