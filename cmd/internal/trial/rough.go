package trial

import (
	"iter"
	"math"

	"ferrule/cmd/internal/invent"
	"ferrule/cmd/internal/rough"
)

// Said is what the engine under trial answers to a rough session, in the world
// of a right-hander.
type Said struct {
	Choice     int // index into invent.Settings80
	Top        int // its own first by expected strokes
	Rival      int // the runner-up, -1 = none
	Keep       bool
	Verdict    string
	Sure, Gain float64  // [1] [strokes]
	Next       [][2]int // setting and balls, best first
	// Intervals of the 80 settings: Quantities of differences to today's, and
	// "carry at", "side at", "height at" of the values themselves.
	Of map[string][80]Interval
}

// Quantities are those whose intervals are looked at.
var Quantities = []string{"strokes", "carry", "side", "height", "carry at", "side at", "height at"}

// Ask is the engine under trial.
type Ask func(g *rough.Golfer, seen []rough.Seen) (Said, error)

// Hits counts intervals that held the truth, and sums the errors in standard
// deviations (of the 80 % interval) and their squares.
type Hits struct {
	In [3]int  `json:"in_50_80_95"`
	N  int     `json:"n"`
	Z  float64 `json:"z"`
	Z2 float64 `json:"z2"`
}

func (h *Hits) add(v Interval, truth float64) {
	h.N++
	for k, in := range [3]bool{v.Lo50 <= truth && truth <= v.Hi50, v.Lo80 <= truth && truth <= v.Hi80, v.Lo95 <= truth && truth <= v.Hi95} {
		if in {
			h.In[k]++
		}
	}
	if sd := deviation(v); sd > 0 {
		z := math.Max(-20, math.Min(20, (v.Mean-truth)/sd))
		h.Z += z
		h.Z2 += z * z
	}
}

func deviation(v Interval) float64 { return (v.Hi80 - v.Lo80) / (2 * 1.2815515655446004) }

// Record is one session, judged. Tables are made of records alone, so that a
// long run can be made in parts.
type Record struct {
	Seed   uint64 `json:"seed"`
	Balls  int    `json:"balls_per_setting"`
	Tested int    `json:"settings_hit"`
	rough.Traits
	Failed  string             `json:"failed,omitempty"`
	Regret  map[string]float64 `json:"regret_strokes"`
	Promise map[string]float64 `json:"promise_less_true"`
	Moved   bool               `json:"moved"`
	Verdict string             `json:"verdict"`
	Sure    float64            `json:"sure"`
	Gain    float64            `json:"gain_true"` // of what was advised
	True    float64            `json:"true"`      // 1 = what the verdict says is so, half where the two settings are alike
	// Cover[quantity] of settings hit and not hit; of the engine and, as
	// "reference ...", of the hierarchical model.
	Cover map[string][2]Hits `json:"cover"`
	// Against the reference posterior, over the settings hit: mean distance of
	// means in its standard deviations, ratio of standard deviations, and what it
	// expects the engine's choice to cost more than its own.
	Apart, Ratio, Costs float64
}

// Rivals in the order of printing. The last two know the truth.
var Rivals = []string{"keep", "averages", "ridge hit", "least squares", "ridge all", "reference", "engine", "engine top", "oracle hit", "oracle"}

// RoughConfig is one run over golfers Seed, Seed+1, ...
type RoughConfig struct {
	Seed    uint64
	Golfers int
	Tested  int   // 0 = 6
	Balls   []int // with each
	Fixed   rough.Fixed
	Swings  int // of the truth, 0 = 512
}

func (c RoughConfig) filled() RoughConfig {
	if c.Tested == 0 {
		c.Tested = 6
	}
	if c.Swings == 0 {
		c.Swings = 512
	}
	return c
}

// golfers are the golfers of the run, each with what is true of him.
func (c RoughConfig) golfers() iter.Seq2[*rough.Golfer, rough.Truth] {
	return func(yield func(*rough.Golfer, rough.Truth) bool) {
		swings := invent.Swings(c.Swings)
		for i := range c.Golfers {
			if g := rough.New(c.Seed+uint64(i), c.Fixed); !yield(g, g.Truth(swings)) {
				return
			}
		}
	}
}

// Rough runs every golfer with every number of balls and hands over each
// record as soon as it is there. ask may be nil: rivals alone.
func Rough(cfg RoughConfig, ask Ask, told func(Record)) {
	cfg = cfg.filled()
	for g, truth := range cfg.golfers() {
		tested := g.Tested(cfg.Tested)
		for _, n := range cfg.Balls {
			rec := weighed(g, truth, tested, g.Session(tested, n), ask)
			rec.Balls, rec.Tested = n, cfg.Tested
			told(rec)
		}
	}
}

// weighed judges one session.
func weighed(g *rough.Golfer, truth rough.Truth, tested []int, seen []rough.Seen, ask Ask) Record {
	rec := Record{Seed: g.Seed, Traits: g.Traits, Regret: map[string]float64{}, Promise: map[string]float64{}, Cover: map[string][2]Hits{}}
	strokes := truth.Strokes[:]
	best, top := least(strokes, nil), least(strokes, tested)
	lowest := strokes[best]
	took := func(who string, c choice) {
		rec.Regret[who] = strokes[c.setting] - lowest
		rec.Promise[who] = c.gain - (strokes[0] - strokes[c.setting])
	}
	s := spotted(seen)
	p := priced(g, s)
	ref := referred(p, s, g.Seed)
	took("keep", choice{})
	took("averages", averages(p, s))
	took("ridge hit", ridgeHit(p, s))
	took("least squares", byPlane(p, s, 0, all))
	took("ridge all", byPlane(p, s, -1, all))
	took("reference", ref.choice())
	took("oracle hit", choice{top, strokes[0] - strokes[top]})
	took("oracle", choice{best, strokes[0] - lowest})
	hit := map[int]bool{}
	for _, t := range tested {
		hit[t] = true
	}
	ref.covers(&rec, truth, hit)
	if ask == nil {
		return rec
	}
	said, err := ask(g, seen)
	if err != nil {
		rec.Failed = err.Error()
		return rec
	}
	if said.Keep {
		took("engine", choice{})
	} else {
		took("engine", choice{said.Choice, said.Gain})
	}
	took("engine top", choice{said.Top, -said.Of["strokes"][said.Top].Mean})
	rec.judged(said, strokes)
	for _, q := range Quantities {
		of, value := truths(truth, q)
		for i := range 80 {
			if i > 0 || value {
				count(&rec, q, hit[i], said.Of[q][i], of(i))
			}
		}
	}
	ref.beside(&rec, said, tested)
	return rec
}

// truths is the truth of a quantity of Quantities for each setting, and whether
// it is a value and not a difference.
func truths(t rough.Truth, q string) (of func(int) float64, value bool) {
	v := map[string]*[80]float64{"strokes": &t.Strokes, "carry": &t.Carry, "side": &t.Side, "height": &t.Apex,
		"carry at": &t.Carry, "side at": &t.Side, "height at": &t.Apex}[q]
	if len(q) > 3 && q[len(q)-3:] == " at" {
		return func(i int) float64 { return v[i] }, true
	}
	return func(i int) float64 { return v[i] - v[0] }, false
}

func count(rec *Record, q string, hit bool, v Interval, truth float64) {
	h, k := rec.Cover[q], 1
	if hit {
		k = 0
	}
	h[k].add(v, truth)
	rec.Cover[q] = h
}

// judged says whether what the verdict says is so: a change gains, or nothing
// that was named instead beats today's by more than a twohundredth of a stroke. A
// change between two that are alike is half so, as a chance of one half says.
func (rec *Record) judged(said Said, strokes []float64) {
	rec.Moved, rec.Verdict, rec.Sure = !said.Keep && said.Choice != 0, said.Verdict, said.Sure
	if rec.Moved {
		rec.Gain = strokes[0] - strokes[said.Choice]
		switch {
		case rec.Gain > 0:
			rec.True = 1
		case rec.Gain == 0:
			rec.True = .5
		}
		return
	}
	rec.True = share(said.Rival < 0 || strokes[0]-strokes[said.Rival] <= .005)
}

// covers counts the reference's own intervals.
func (f *reference) covers(rec *Record, truth rough.Truth, hit map[int]bool) {
	of := map[string]*[draws][]float64{"strokes": &f.strokes, "carry": &f.x, "side": &f.z}
	if f.apex[0] != nil {
		of["height"] = &f.apex
	}
	for q, d := range of {
		true, _ := truths(truth, q)
		for i := 1; i < 80; i++ {
			v := interval(d, i)
			if q == "carry" || q == "side" { // back from the place of rest
				k := 1 / (1 + 17/math.Max(truth.Carry[0], 50))
				v = Interval{k * v.Mean, k * v.Lo50, k * v.Hi50, k * v.Lo80, k * v.Hi80, k * v.Lo95, k * v.Hi95}
			}
			count(rec, "reference "+q, hit[i], v, true(i))
		}
	}
}

// beside compares the engine's differences in strokes with the reference's.
func (f *reference) beside(rec *Record, said Said, tested []int) {
	n := 0.
	for _, i := range tested {
		if i == 0 {
			continue
		}
		r, e := interval(&f.strokes, i), said.Of["strokes"][i]
		sd := deviation(r)
		if sd < 1e-6 {
			continue
		}
		rec.Apart += math.Abs(e.Mean-r.Mean) / sd
		rec.Ratio += deviation(e) / sd
		n++
	}
	if n > 0 {
		rec.Apart /= n
		rec.Ratio /= n
	}
	chosen := said.Choice
	if said.Keep {
		chosen = 0
	}
	rec.Costs = f.expected[chosen] - f.expected[f.choice().setting]
}
