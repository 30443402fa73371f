package flight

import "math"

// PointsBall is the mean ball of the published points of testdata/aero as
// `ferrule fly -fit` makes it (TestPointsBall in cmd/ferrule holds the numbers to
// that program), with u = S - .12:
//
//	CD = A + D (R - 1.4) + B u + C u^2 + E/R^4
//	CL = a + b u + c u^2 + e/R^2 - F/R^8
type PointsBall struct{}

// PointsShape are A, D, B, C, E and a, b, c, e, F [1].
var PointsShape = [10]float64{.2207, .0260, .4394, 1.2165, .0066, .1731, .8042, .3692, .0088, .0050}

// Facts of the mean ball.
func (PointsBall) Facts() Facts {
	return Facts{"MEAN", "mean ball of the published points, ferrule fly -fit", Range{LeastR, maxR, .04, .36}}
}

// Coefficients of the mean ball.
func (PointsBall) Coefficients(r, s float64) (cd, cl float64) {
	p, f := &PointsShape, fading(s, .04)
	r, u := held(r, LeastR, maxR), held(s, .04, .36)-MiddleS
	q := 1 / (r * r)
	return p[0] + p[1]*(r-MiddleR) + u*(p[2]+p[3]*u) + p[4]*q*q, (p[5] + u*(p[6]+p[7]*u) + p[8]*q - p[9]*math.Pow(q, 4)) * f
}
