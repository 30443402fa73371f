package club

import (
	"fmt"
	"math"
	"strings"

	"ferrule/core/units"
)

// Tilt is how far the bore of a sleeve turns the shaft away from the neutral
// bore, as a rotation vector across the shaft.
type Tilt struct {
	Lean    float64 // [rad] shaft top towards the target +
	Upright float64 // [rad] shaft top towards upright +
}

// Place is one position of the sleeve: what it is called and what it does.
type Place struct {
	Label  string
	Tilt   Tilt
	Change Change // the sleeve's part; weights untouched
	SameAs string // label of an earlier position that does the same; empty when this one is kept
}

// sameTilt is the difference below which two positions are one. [rad]
// A ten-thousandth of a degree: far below any bore, far above rounding.
const sameTilt = 1e-4 * units.Degree

// tilts lists the tilt of every position in the order of Sleeve.Labels.
// The rings' tilts add as vectors,
//
//	tau = t1 (cos phi1, sin phi1) + t2 (cos phi2, sin phi2),  phi_k = offset + 2 pi k / N
//
// Composing the two bores as rotations instead differs by the third power of
// the tilt (below 0.001 degrees for two rings of one degree) and would need to
// know which ring carries which; a test holds that figure.
func (s Sleeve) tilts(h Head) []Tilt {
	switch {
	case len(s.Table) > 0:
		return h.tableTilts()
	case len(s.Rings) == 0:
		return []Tilt{{}}
	}
	out := []Tilt{{}}
	for _, r := range s.Rings {
		r.Positions = max(1, min(r.Positions, maxPositions)) // a half-typed description is drawn too
		next := make([]Tilt, 0, len(out)*r.Positions)
		for _, t := range out {
			for k := 0; k < r.Positions; k++ {
				u := r.at(k)
				next = append(next, Tilt{t.Lean + u.Lean, t.Upright + u.Upright})
			}
		}
		out = next
	}
	return out
}

// at is the tilt of position k. Quarter turns are taken exactly, so that a
// position "up" leaves no rounding in its lie.
func (r Ring) at(k int) Tilt {
	if r.Offset == 0 && (4*k)%r.Positions == 0 {
		c := [4]float64{1, 0, -1, 0}
		q := 4 * k / r.Positions % 4
		return Tilt{r.Tilt * c[q], r.Tilt * c[(q+3)%4]}
	}
	s, c := math.Sincos(r.Offset + 2*math.Pi*float64(k)/float64(r.Positions))
	return Tilt{r.Tilt * c, r.Tilt * s}
}

// bore is the unit vector of the shaft in the head's frame, from head to grip:
//
//	s = cos t h0 + sin t (cos phi e1 + sin phi e2)
//	h0 = (0, sin lie, -cos lie), e1 = (1, 0, 0), e2 = (0, cos lie, sin lie)
func bore(lie float64, t Tilt) vec {
	sl, cl := math.Sincos(lie)
	size := math.Hypot(t.Lean, t.Upright)
	if size == 0 {
		return vec{0, sl, -cl}
	}
	st, ct := math.Sincos(size)
	e, u := st*t.Lean/size, st*t.Upright/size
	return vec{e, ct*sl + u*cl, -ct*cl + u*sl}
}

// hold works out what a tilt does to loft and face in the three ways of
// holding the club, for a head of loft, lie and soled face angle. The player
// holds the shaft along the neutral bore h0, so the head turns by the least
// rotation R with R s = h0, and then by a turn about the shaft which is the
// player's choice: none, or until the face is back where it was, or until the
// sole's front-to-back line is level.
//
// All angles are exact; see REFERENCES "sleeve geometry" for the derivation.
func hold(loft, lie, face float64, t Tilt) Change {
	s, h0 := bore(lie, t), bore(lie, Tilt{})
	c := Change{
		Lean:    math.Asin(s[0]),
		Upright: math.Atan2(s[1], -s[2]) - lie,
	}
	if t == (Tilt{}) {
		c.Upright = 0 // atan2 of the sine and cosine of lie may miss lie by a bit
		return c
	}
	r := leastRotation(s, h0)
	n := r.times(normal(loft, face))
	l, f := angles(n)
	c.LoftHeld, c.FaceHeld = l-loft, f-face

	sf, cf := math.Sincos(face)
	c.LoftSquare = c.LoftHeld
	if psi, ok := turnToPlane(h0, n, vec{-sf, 0, cf}); ok {
		l, _ = angles(turn(h0, psi, n))
		c.LoftSquare = l - loft
	}
	c.LoftSoled, c.FaceSoled = c.LoftHeld, c.FaceHeld
	front := r.times(vec{1, 0, 0})
	if psi, ok := turnToPlane(h0, front, vec{0, 1, 0}); ok {
		l, f = angles(turn(h0, psi, n))
		c.LoftSoled, c.FaceSoled = l-loft, f-face
	}
	return c
}

// Held returns the change of loft and face [rad] for a player who turns back
// the share s of the face's turn at address: 0 = the shaft is not rolled,
// 1 = the face is put back to square; a club held as it soles has the share
// -tan(lie)^2, near -2.6. All ways of holding lie on one line: opening the
// face by a degree adds cot(lie) degrees of loft.
func (c Change) Held(s float64) (loft, face float64) {
	return c.LoftHeld + s*(c.LoftSquare-c.LoftHeld), c.FaceHeld * (1 - s)
}

// tableTilts turns the lines of a printed table into tilts. Loft (squared) and
// face (soled) of a real sleeve both come from the lean,
//
//	loft = lean / sin(lie),  face = -lean / cos(lie)
//
// so where the table prints both, the lean is their least-squares value
// (printed figures are rounded alike); a column that is zero throughout is
// taken as not printed. Newton's steps then make the exact geometry agree.
func (h Head) tableTilts() []Tilt {
	var hasLoft, hasFace bool
	for _, p := range h.Sleeve.Table {
		hasLoft = hasLoft || p.Loft != 0
		hasFace = hasFace || p.Face != 0
	}
	out := make([]Tilt, len(h.Sleeve.Table))
	for i, p := range h.Sleeve.Table {
		out[i] = h.printed(p, hasLoft, hasFace)
	}
	return out
}

// printed finds the tilt of one line by Gauss-Newton on the residuals of the
// printed columns. The line of zeros is the neutral bore itself.
func (h Head) printed(p Position, hasLoft, hasFace bool) Tilt {
	if p.Loft == 0 && p.Lie == 0 && p.Face == 0 {
		return Tilt{}
	}
	loft := h.BestLoft()
	residual := func(t Tilt) (rl, rf, ru float64) {
		c := hold(loft, h.Lie, h.Face, t)
		if hasLoft {
			rl = p.Loft - c.LoftSquare
		}
		if hasFace {
			rf = p.Face - c.FaceSoled
		}
		return rl, rf, p.Lie - c.Upright
	}
	var a, b float64 // slopes of loft and face by lean
	if hasLoft {
		a = 1 / math.Sin(h.Lie)
	}
	if hasFace {
		b = -1 / math.Cos(h.Lie)
	}
	t := Tilt{Upright: p.Lie}
	for range 12 {
		rl, rf, ru := residual(t)
		step := 0.0
		if a != 0 || b != 0 {
			step = (a*rl + b*rf) / (a*a + b*b)
		}
		t.Lean += step
		t.Upright += ru
		if math.Abs(step)+math.Abs(ru) < 1e-13 {
			break
		}
	}
	return t
}

// Places lists the positions of the sleeve as labelled, with what each does;
// a position that does the same as an earlier one says so in SameAs. A club
// without a sleeve has one place without a label.
func (h Head) Places() []Place {
	l := h.listing()
	out := make([]Place, len(l.tilts))
	for i, t := range l.tilts {
		out[i] = Place{Label: l.labels[i], Tilt: t, Change: hold(h.BestLoft(), h.Lie, h.Face, t)}
		out[i].Change.Unknown = h.unknownAt(i)
		if j := l.same[i]; j != i {
			out[i].SameAs = l.labels[j]
		}
	}
	return out
}

// sleeveLabels returns one label a position: the user's, or plain ones made
// from what each position does.
func (h Head) sleeveLabels(tilts []Tilt) []string {
	switch {
	case len(h.Sleeve.Table) > 0:
		out := make([]string, len(tilts))
		blank := false
		for i, p := range h.Sleeve.Table {
			out[i] = p.Label
			blank = blank || strings.TrimSpace(p.Label) == ""
		}
		if !blank {
			return out
		}
	case len(h.Sleeve.Rings) == 0:
		return []string{""}
	case len(h.Sleeve.Labels) == len(tilts):
		return h.Sleeve.Labels
	}
	return madeLabels(h, tilts)
}

// madeLabels writes "loft +1.4°, lie +1.1°", loft with the face squared, with
// as many decimals as keep the positions apart; positions that do the same
// get a number.
func madeLabels(h Head, tilts []Tilt) []string {
	out := make([]string, len(tilts))
	for decimals := 1; decimals <= 3; decimals++ {
		seen := map[string]Tilt{}
		clash := false
		for i, t := range tilts {
			c := hold(h.BestLoft(), h.Lie, h.Face, t)
			out[i] = fmt.Sprintf("loft %s, lie %s", degrees(c.LoftSquare, decimals), degrees(c.Upright, decimals))
			u, twice := seen[out[i]]
			clash = clash || twice && math.Hypot(t.Lean-u.Lean, t.Upright-u.Upright) >= sameTilt
			seen[out[i]] = t
		}
		if !clash {
			break
		}
	}
	count := map[string]int{}
	for i, l := range out {
		count[l]++
		if n := count[l]; n > 1 {
			out[i] = fmt.Sprintf("%s (%d)", l, n)
		}
	}
	return out
}

// degrees writes a signed angle in degrees, zero without a sign.
func degrees(a float64, decimals int) string {
	s := units.Format(a/units.Degree, decimals, '.')
	if a > 0 && strings.Trim(s, "0.") != "" {
		s = "+" + s
	}
	return s + "°"
}
