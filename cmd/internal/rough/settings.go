package rough

import (
	"math"

	"ferrule/cmd/internal/invent"
)

// What a degree of lean, a degree upright and a millimetre of the centre of
// mass towards the toe do to a typical golfer: for the plane to the delivery,
// for the statistical player to the launch. Worked out by hand from a lie of
// 58 degrees, a face turned back by six tenths and gains below one.
var (
	onDelivery = [3]effect{{0, .89 * deg, -.18 * deg, 0, 0}, {0, 0, -.19 * deg, 0, 0}, {0, 0, .1 * deg, 0, 6.5}}
	onLaunch   = [3]effect{{-.25, .76 * deg, -.15 * deg, 15, -3.1}, {0, 0, -.16 * deg, 0, -3.2}, {0, 0, .09 * deg, 0, 8.2}}
)

// settings draws what each of the 80 settings does to this golfer, with head's
// own part in what a world draws where head is not 0.
func (g *Golfer) settings(r *invent.Rand, head uint64) {
	of := r
	if head != 0 {
		of = invent.NewRand(head, 13)
	}
	typical := onLaunch
	if g.Impact == "plane" {
		typical = onDelivery
	}
	var size effect // the largest that any adjustment does, for worlds that mix
	for _, t := range typical {
		for j, v := range t {
			size[j] = math.Max(size[j], math.Abs(v))
		}
	}
	var by [3]effect
	one, axis := of.Int(3), of.Int(5)
	for k := range by {
		gain := 1 + .25*r.Normal()
		for j, v := range typical[k] {
			own, sign, drawn := 1+.25*r.Normal(), of.Normal(), of.Normal()
			switch g.World {
			case "expected", "interacting", "one axis":
				by[k][j] = v*gain*own + .04*size[j]*drawn
			case "weak":
				by[k][j] = .3 * v * gain * own
			case "reversed":
				by[k][j] = -.5 * v * gain * own
			case "strange":
				by[k][j] = math.Copysign(1, sign) * .6 * size[j] * drawn
			}
			if g.World == "one axis" {
				// An adjustment alone, or one of height or side alone.
				if axis < 3 && k != one || axis == 3 && (j == 2 || j == 4) || axis == 4 && (j == 1 || j == 3) {
					by[k][j] = 0
				}
			}
		}
	}
	var cross effect // of a degree of lean with a millimetre of weight
	for j := range cross {
		v := of.Normal()
		if g.World == "interacting" {
			cross[j] = .8 * size[j] * v
		}
	}
	for i, s := range invent.Settings80() {
		lean, up, toe := s.Lean/deg, s.Upright/deg, s.CGToe/1e-3
		for j := range responses {
			own := r.Normal()
			if i == 0 && g.Anchored {
				own = 0
			}
			g.odd[i][j] = g.Deviation * g.sd[j] * own
			g.at[i][j] = by[0][j]*lean + by[1][j]*up + by[2][j]*toe + cross[j]*lean*toe + g.odd[i][j]
		}
	}
}

// Known is this golfer as seen by one who has all that a record could ever tell, and
// more: what the head's adjustments do to him, his swing, his ball. What a setting has
// beyond its features is known to him only from balls with each of the tested settings,
// as a normal mean with a normal prior, both of known spread.
func (g *Golfer) Known(tested []int, balls int) *Golfer {
	k := *g
	for i := range k.at {
		for j := range responses {
			k.at[i][j] -= g.odd[i][j]
		}
	}
	r := invent.NewRand(g.Seed, 24)
	prior, noise := g.Deviation*g.Deviation, 1/float64(balls)
	for _, i := range tested {
		for j := range responses {
			seen := g.odd[i][j] + g.sd[j]*math.Sqrt(noise)*r.Normal()
			k.at[i][j] += prior / (prior + noise) * seen
		}
	}
	return &k
}
