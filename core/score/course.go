// Package score says what the landing place of a drive is worth: strokes to
// finish the hole by a published baseline over a described hole, or a plain
// aim (carry, fairways, a height window), and which limits must hold.
//
// Everything is right-handed equivalent: New mirrors a left-hander's hole.
// Main types in reading order: Baseline, Hole, Course.
//
// Begin with New and its example.
package score

import (
	"cmp"
	"strconv"

	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Defaults of a hole that the player did not describe. They are invented,
// round figures, not averages of real holes.
const (
	defaultFairway = 32 * units.Yard  // [m] width
	defaultLength  = 400 * units.Yard // [m]
	defaultTrouble = 25 * units.Yard  // [m] from the middle
	defaultTrees   = 24 * units.Yard  // [m] from the edge of the fairway to the trees
	carryShare     = 0.5              // [1] of drives that must reach a needed carry, unless said
)

// Limits are what must hold at least with a stated chance. They are never
// mixed into the score: a setting meets them or it does not.
type Limits struct {
	TroubleMax float64    // [1] at most this share beyond Line on Side, 0 = no limit
	Side       frame.Side // right-handed equivalent, empty = either side
	CarryMin   float64    // [m] 0 = no limit
	CarryShare float64    // [1] at least this share reaches CarryMin
	ApexLow    float64    // [m] 0 = none
	ApexHigh   float64    // [m] 0 = none
	ApexShare  float64    // [1] at least this share in the window, 0 = shown, not demanded
}

// Course is what a drive is judged by: one or more holes and a goal.
type Course struct {
	Goal     shot.Goal
	Holes    []Hole  // right-handed equivalent
	Line     float64 // [m] beyond which a ball counts as lost to a side
	Limits   Limits
	Baseline Baseline
	Reaim    float64 // [1] share of the best aim that the player takes up: 0 aims at the middle
	strokes  *table2
	fairway  *table2
	lost     *table2
	soft     soft
}

// New builds the course of an aim. Zero fields of the aim take the defaults
// above; handicap nil leaves the tour's baseline unscaled. The error says
// which field was read as what.
func New(aim shot.Aim, handicap *float64, hand frame.Hand) (*Course, error) {
	c := &Course{Goal: aim.Goal, Reaim: aim.Share(), Baseline: Baseline{Scale: scaleFor(handicap)}}
	if handicap != nil && !(*handicap >= -10 && *handicap <= 54) {
		return nil, message.Outside("club.handicap", *handicap, -10, 54, "")
	}
	switch c.Goal {
	case "":
		c.Goal = shot.GoalStrokes
	case shot.GoalStrokes, shot.GoalCarry, shot.GoalFairways, shot.GoalHeight:
	default:
		return nil, oneOf("club.goal", string(aim.Goal), `"strokes", "carry", "fairways", "height"`)
	}
	if err := c.limits(aim, hand); err != nil {
		return nil, err
	}
	described, err := holeOf(aim)
	if err != nil {
		return nil, err
	}
	holes := []Hole{described}
	if len(aim.Holes) > 0 {
		holes = holes[:0]
		for _, h := range aim.Holes {
			one, err := holeOf(shot.Aim{Trouble: h.Trouble, TroubleAt: h.TroubleAt, TroubleKind: h.TroubleKind,
				FairwayWidth: h.FairwayWidth, HoleLength: h.Length})
			if err != nil {
				return nil, err
			}
			one.Name, one.Weight, one.Bend, one.BendAt = h.Name, h.Weight, h.Bend, h.BendAt
			holes = append(holes, one)
		}
	}
	for i := range holes {
		holes[i] = holes[i].mirror(hand)
	}
	return c, c.SetHoles(holes)
}

// oneOf is the error that a word of the aim is none of those that are known.
func oneOf(key, read, known string) error {
	return message.New("problem.named", message.Key(key), message.Of("problem.one-of", strconv.Quote(read), known))
}

// SetHoles replaces the holes (right-handed equivalent) and rebuilds the
// ground's tables. The strokes are the mean over holes by their weights. The
// error is a hole's that Check refuses, or that there is none.
func (c *Course) SetHoles(holes []Hole) error {
	if len(holes) == 0 {
		return message.New("problem.no-hole")
	}
	for i := range holes {
		if err := holes[i].check(); err != nil {
			return err
		}
	}
	c.Holes = holes
	c.Baseline.Scale = cmp.Or(c.Baseline.Scale, 1)
	c.strokes, c.fairway, c.lost = buildTables(holes, c.Baseline)
	c.soft = soft{}
	return nil
}

func holeOf(aim shot.Aim) (Hole, error) {
	for _, f := range []struct {
		key string
		v   float64
	}{{"club.trouble-at", aim.TroubleAt}, {"club.fairway", aim.FairwayWidth}, {"club.hole", aim.HoleLength}} {
		if !(f.v >= 0) {
			return Hole{}, message.New("problem.named", message.Key(f.key), message.Of("problem.read", f.v, message.Of("problem.positive")))
		}
	}
	h := Hole{Length: cmp.Or(aim.HoleLength, defaultLength), FairwayHalf: cmp.Or(aim.FairwayWidth, defaultFairway) / 2}
	trees := Trouble{Kind: Trees, At: h.FairwayHalf + defaultTrees}
	kind := cmp.Or(Kind(aim.TroubleKind), Penalty)
	costly := []Trouble{{Kind: kind, At: cmp.Or(aim.TroubleAt, defaultTrouble)}}
	h.Right, h.Left = []Trouble{trees}, []Trouble{trees}
	switch aim.Trouble {
	case "":
	case frame.SideRight:
		h.Right = costly
	case frame.SideLeft:
		h.Left = costly
	default:
		return h, oneOf("club.miss", string(aim.Trouble), `"right", "left"`)
	}
	return h, h.check()
}

func (c *Course) limits(aim shot.Aim, hand frame.Hand) error {
	c.Line = cmp.Or(aim.TroubleAt, defaultTrouble)
	share := func(key string, v float64) error {
		if !(v >= 0 && v < 1) {
			return message.Outside(key, v, 0, 1, "")
		}
		return nil
	}
	err := cmp.Or(share("club.trouble-p", aim.TroublePMax), share("limit.carry", aim.CarryPMin), share("word.window.is", aim.ApexPMin))
	if err != nil {
		return err
	}
	l := &c.Limits
	l.TroubleMax, l.Side = aim.TroublePMax, hand.MirrorSide(aim.Trouble)
	if aim.CarryMin != nil {
		l.CarryMin, l.CarryShare = *aim.CarryMin, aim.CarryPMin
		l.CarryShare = cmp.Or(l.CarryShare, carryShare)
	}
	if aim.ApexLow != nil {
		l.ApexLow = *aim.ApexLow
	}
	if aim.ApexHigh != nil {
		l.ApexHigh = *aim.ApexHigh
	}
	l.ApexShare = aim.ApexPMin
	if !(l.CarryMin >= 0) || !(l.ApexLow >= 0) || !(l.ApexHigh >= 0) || l.ApexHigh > 0 && l.ApexLow > l.ApexHigh {
		return message.New("problem.window")
	}
	if c.Goal == shot.GoalHeight && l.ApexLow == 0 && l.ApexHigh == 0 {
		return message.New("problem.no-window")
	}
	return nil
}

// InWindow reports whether a ball's apex [m] is in the height window.
func (l Limits) InWindow(apex float64) bool {
	return apex >= l.ApexLow && (l.ApexHigh == 0 || apex <= l.ApexHigh)
}

// Any reports whether there is a limit at all.
func (l Limits) Any() bool { return l.TroubleMax > 0 || l.CarryMin > 0 || l.ApexShare > 0 }

// Strokes returns the mean strokes to finish, over the holes, of a ball that
// rests at (x, z) [m]. It reads a table whose error against Exact is tested;
// edges are softened over about a metre.
func (c *Course) Strokes(x, z float64) float64 {
	if v, ok := c.strokes.at(x, z); ok {
		return v
	}
	return c.Exact(x, z)
}

// Fairway returns the share of holes on which the ball lies on the fairway.
func (c *Course) Fairway(x, z float64) float64 {
	if v, ok := c.fairway.at(x, z); ok {
		return v
	}
	return 0
}

// InTrouble returns the share of holes on which the ball lies beyond a line of
// trouble, whichever side.
func (c *Course) InTrouble(x, z float64) float64 {
	if v, ok := c.lost.at(x, z); ok {
		return v
	}
	var sum, total float64
	for i := range c.Holes {
		w := c.Holes[i].weight()
		if p, _, _ := c.Holes[i].find(x, z); p.lost() {
			sum += w
		}
		total += w
	}
	return sum / total
}

// Exact is Strokes without the table.
func (c *Course) Exact(x, z float64) float64 {
	var sum, total float64
	for i := range c.Holes {
		w := c.Holes[i].weight()
		sum += w * c.Holes[i].strokes(c.Baseline, x, z)
		total += w
	}
	return sum / total
}

func (h *Hole) weight() float64 {
	if h.Weight == 0 {
		return 1
	}
	return h.Weight
}

// table2 is a function of the ground on a regular grid, read bilinearly.
type table2 struct{ v []float32 }

// The grid's extent. Strokes bend slowly along the hole and sharply across it.
const (
	gridX0, gridDX, gridNX = -20.0, 4.0, 101
	gridZ0, gridDZ, gridNZ = -150.0, 1.0, 301
)

func (t *table2) at(x, z float64) (float64, bool) {
	fx, fz := (x-gridX0)/gridDX, (z-gridZ0)/gridDZ
	if !(fx >= 0 && fz >= 0 && fx < gridNX-1 && fz < gridNZ-1) {
		return 0, false
	}
	i, j := int(fx), int(fz)
	u, w := float32(fx-float64(i)), float32(fz-float64(j))
	k := i*gridNZ + j
	r := t.v[k : k+gridNZ+2]
	a := r[0] + w*(r[1]-r[0])
	b := r[gridNZ] + w*(r[gridNZ+1]-r[gridNZ])
	return float64(a + u*(b-a)), true
}

// buildTables fills the tables of strokes, fairway and trouble; a cell whose ground changes across it is
// averaged over sixteen places, so that an edge stands where it is.
func buildTables(holes []Hole, b Baseline) (strokes, fairway, lost *table2) {
	empty := func() *table2 { return &table2{make([]float32, gridNX*gridNZ)} }
	strokes, fairway, lost = empty(), empty(), empty()
	var total float64
	for i := range holes {
		total += holes[i].weight()
	}
	for hi := range holes {
		h := &holes[hi]
		share := h.weight() / total
		for i := range gridNX {
			x := gridX0 + gridDX*float64(i)
			before, _, _ := h.find(x, gridZ0-gridDZ/2)
			for j := range gridNZ {
				z := gridZ0 + gridDZ*float64(j)
				after, _, _ := h.find(x, z+gridDZ/2)
				k := i*gridNZ + j
				s, f, l := h.cell(b, x, z, same(before, after))
				strokes.v[k] += float32(share * s)
				fairway.v[k] += float32(share * f)
				lost.v[k] += float32(share * l)
				before = after
			}
		}
	}
	return strokes, fairway, lost
}

func same(a, b Place) bool {
	return a.Lie == b.Lie && a.Penalty == b.Penalty && a.Trees == b.Trees
}

func (h *Hole) cell(b Baseline, x, z float64, plain bool) (strokes, fairway, lost float64) {
	if plain {
		p := h.Find(x, z)
		if p.Lie == Fairway {
			fairway = 1
		}
		if p.lost() {
			lost = 1
		}
		return h.from(b, p), fairway, lost
	}
	const n = 16
	for k := range n {
		p := h.Find(x, z+gridDZ*((float64(k)+0.5)/n-0.5))
		strokes += h.from(b, p) / n
		if p.Lie == Fairway {
			fairway += 1.0 / n
		}
		if p.lost() {
			lost += 1.0 / n
		}
	}
	return strokes, fairway, lost
}
