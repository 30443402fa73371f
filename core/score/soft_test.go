package score

import (
	"math"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/testdata/near"
)

// TestSoftBeyond against the geometry: spots along a line of a known angle,
// each spread evenly over a width whose standard deviation is Soft.
func TestSoftBeyond(t *testing.T) {
	width := Soft * math.Sqrt(12)
	spot := func(u, v float64) []Spot { return []Spot{{U: u, V: v, Share: 1}} }
	for _, c := range []struct {
		what        string
		spots       []Spot
		line, off   float64
		right, left float64
	}{
		{"in the middle", spot(200, 0), 0, 20, 0, 0},
		{"far right", spot(200, 60), 0, 20, 1, 0},
		{"far left", spot(200, -60), 0, 20, 0, 1},
		{"on the right line", spot(200, 20), 0, 20, .5, 0},
		{"a quarter of its width beyond the left line", spot(200, -20-width/4), 0, 20, 0, .75},
		{"the line turned right", spot(200, 0), math.Asin(.1), 20, .5, 0},
		{"right of a line turned left", spot(200, 20/math.Cos(math.Asin(.1))), -math.Asin(.1), 20, 0, 0},
		{"shares", []Spot{{U: 200, V: 60, Share: .3}, {U: 200, V: -60, Share: .5}, {U: 200, Share: .2}}, 0, 20, .3, .5},
	} {
		right, left := SoftBeyond(c.spots, c.line, c.off)
		if math.Abs(right-c.right) > 1e-12 || math.Abs(left-c.left) > 1e-12 {
			t.Errorf("%s: %g right and %g left, want %g and %g", c.what, right, left, c.right, c.left)
		}
	}
}

// TestSoftStrokes against the exact ground, averaged over the normal of Soft
// by quadrature; mirrored, the other side costs it; on another line the ball
// lies elsewhere.
func TestSoftStrokes(t *testing.T) {
	c, err := New(shot.Aim{Trouble: frame.SideRight}, nil, frame.Right)
	if err != nil {
		t.Fatal(err)
	}
	average := func(f func(x, z float64) float64, x, z float64) float64 {
		sum, weight := 0.0, 0.0
		for k := -300; k <= 300; k++ {
			d := float64(k) / 100 * Soft
			w := math.Exp(-d * d / 2 / Soft / Soft)
			sum, weight = sum+w*f(x, z+d), weight+w
		}
		return sum / weight
	}
	fairway := func(x, z float64) float64 {
		if math.Abs(z) <= defaultFairway/2 {
			return 1
		}
		return 0
	}
	for _, z := range []float64{-30, -14.6, 0, 14.6, 22, 40} {
		spots := []Spot{{U: 200, V: z, Share: 1}}
		near.Abs(t, "soft strokes", c.SoftStrokes(spots, 0, 1), average(c.Exact, 200, z), .01)
		near.Abs(t, "soft strokes, a sixteenth farther", c.SoftStrokes(spots, 0, 1.0625), average(c.Exact, 212.5, 1.0625*z), .01)
		near.Abs(t, "mirrored", c.SoftMirrored(spots, 0, 1), average(c.Exact, 200, -z), .01)
		near.Abs(t, "soft fairway", c.SoftFairway(spots, 0, 1), average(fairway, 200, z), .02)
		sin, cos := math.Sincos(.05)
		near.Abs(t, "along a line turned right", c.SoftStrokes([]Spot{{U: 200*cos + z*sin, V: z*cos - 200*sin, Share: 1}}, .05, 1), c.SoftStrokes(spots, 0, 1), .003)
	}
	near.Abs(t, "shares", c.SoftStrokes([]Spot{{U: 200, V: 30, Share: .25}, {U: 210, V: -10, Share: .75}}, 0, 1),
		.25*c.SoftStrokes([]Spot{{U: 200, V: 30, Share: 1}}, 0, 1)+.75*c.SoftStrokes([]Spot{{U: 210, V: -10, Share: 1}}, 0, 1), 1e-9)
}

// TestDefaults: what an empty aim means, as the documentation of shot.Aim says.
func TestDefaults(t *testing.T) {
	carry := 200.0
	c, err := New(shot.Aim{CarryMin: &carry, Trouble: frame.SideRight}, nil, frame.Right)
	if err != nil {
		t.Fatal(err)
	}
	h := c.Holes[0]
	for what, v := range map[string][2]float64{
		"line": {c.Line, 25 * yd}, "trouble": {h.Right[0].At, 25 * yd}, "trees": {h.Left[0].At, (16 + 24) * yd}, "fairway": {2 * h.FairwayHalf, 32 * yd},
		"hole": {h.Length, 400 * yd}, "carry": {c.Limits.CarryMin, 200}, "share that must carry": {c.Limits.CarryShare, .5},
	} {
		if math.Abs(v[0]-v[1]) > 1e-12 {
			t.Errorf("%s is %g, want %g", what, v[0], v[1])
		}
	}
	if h.Right[0].Kind != Penalty || c.Goal != shot.GoalStrokes {
		t.Errorf("trouble %q, goal %q", h.Right[0].Kind, c.Goal)
	}
	c, err = New(shot.Aim{CarryMin: &carry, CarryPMin: .8, TroubleAt: 30}, nil, frame.Right)
	if err != nil || c.Limits.CarryShare != .8 || c.Line != 30 {
		t.Errorf("share %g, line %g (%v), want .8 and 30 as asked", c.Limits.CarryShare, c.Line, err)
	}
}

// TestBadHoles: each number of a hole that cannot be is refused by itself.
func TestBadHoles(t *testing.T) {
	for says, spoil := range map[string]func(*Hole){
		"100 to 700":         func(h *Hole) { h.Length = 701 * yd },
		"1 to 200":           func(h *Hole) { h.FairwayHalf = 0 },
		"bend":               func(h *Hole) { h.BendAt = -1 },
		"90 degrees":         func(h *Hole) { h.Bend = 2 },
		"weight":             func(h *Hole) { h.Weight = math.NaN() },
		`read "lava"`:        func(h *Hole) { h.Left[0].Kind = "lava" },
		"trouble at: read 0": func(h *Hole) { h.Right[0].At = 0 },
	} {
		h := hole()
		if err := h.check(); err != nil {
			t.Fatal(err)
		}
		spoil(&h)
		if err := h.check(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want an error that says %q", err, says)
		}
	}
	near.Abs(t, "the pin of a hole that bends at its end", func() float64 {
		h := Hole{Length: 300, Bend: 1, BendAt: 300}
		x, z := h.pin()
		return math.Hypot(x-300, z)
	}(), 0, 1e-9)
}

// TestAny: each limit by itself is a limit; a height window alone is shown and
// not demanded.
func TestAny(t *testing.T) {
	for want, ls := range map[bool][]Limits{true: {{TroubleMax: .1}, {CarryMin: 200}, {ApexShare: .5}}, false: {{}, {ApexLow: 20, ApexHigh: 30}, {Side: frame.SideLeft}}} {
		for _, l := range ls {
			if l.Any() != want {
				t.Errorf("%+v: %t", l, !want)
			}
		}
	}
}
