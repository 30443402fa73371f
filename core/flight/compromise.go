package flight

// Compromise is the ball that is taken unless another is asked for: with
// S = r w/v (spin parameter, by the spin normal to the motion) and R = Re/1e5,
//
//	CD = .1029 + .0274 R + .7397 S
//	CL = .0677 + 1.0208 S - .5991 S^2 - .0122/R^2
//
// a least-squares compromise over 27 published points of many balls [COMP], rms
// .021 in CD and .016 in CL. Outside the points R is held to .7..2.2 and S to at
// most .35; towards no spin CL goes to zero, because no ball lifts without.
// Each edge is rounded over a small width, so that a flight is a smooth
// function of its launch and an integrator keeps its order.
type Compromise struct{}

// The fit [COMP] and where it may be used.
const (
	dragA, dragS, dragR          = .1029, .7397, .0274
	liftA, liftS, liftSS, liftRR = .0677, 1.0208, -.5991, -.0122
	minR, maxR                   = .7, 2.2
	minS, maxS                   = .045, .35
	roundR, roundS               = .1, .0225 // half widths of the rounding
)

// Form is the shape of the default with coefficients of its own, for fits of
// other points or by other criteria: the edges are the default's.
type Form struct {
	DragA, DragR, DragS          float64 // [1] CD = A + R Re/1e5 + S
	LiftA, LiftS, LiftSS, LiftRR float64 // [1] CL = A + S + S^2 + RR / (Re/1e5)^2
}

// Fitted are the default's own.
func (Compromise) Fitted() Form { return Form{dragA, dragR, dragS, liftA, liftS, liftSS, liftRR} }

// Coefficients of the form.
func (f Form) Coefficients(r, s float64) (cd, cl float64) {
	r = rounded(r, minR, maxR, roundR)
	s, taper := tapered(s)
	return f.DragA + f.DragR*r + f.DragS*s, (f.LiftA + f.LiftRR/(r*r) + s*(f.LiftS+f.LiftSS*s)) * taper
}

// Facts of the form.
func (Form) Facts() Facts {
	return Facts{"FORM", "the form of the default, other coefficients", Range{minR, maxR, minS, maxS}}
}

// Coefficients of the compromise.
func (c Compromise) Coefficients(r, s float64) (cd, cl float64) { return c.Fitted().Coefficients(r, s) }

// Facts of the compromise.
func (Compromise) Facts() Facts {
	return Facts{"COMP", "least squares over 27 published points of many balls", Range{minR, maxR, minS, maxS}}
}

// rounded is x held to lo..hi, each corner replaced by a parabola over ±w.
func rounded(x, lo, hi, w float64) float64 {
	switch {
	case x >= lo+w && x <= hi-w:
		return x
	case x <= lo-w:
		return lo
	case x < lo+w:
		d := x - lo + w
		return lo + d*d/(4*w)
	case x < hi+w:
		d := hi + w - x
		return hi - d*d/(4*w)
	}
	return hi
}

// tapered is the spin parameter held to at most maxS, and the share of the lift
// that is left below minS: S/minS, rounded into 1.
func tapered(s float64) (held, taper float64) {
	switch {
	case s < minS-roundS:
		return s, s / minS
	case s < minS+roundS:
		d := (minS + roundS - s) / minS
		return s, 1 - d*d*minS/(4*roundS)
	case s > maxS-roundS:
		return rounded(s, 0, maxS, roundS), 1
	}
	return s, 1
}
