package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/flight"
	"ferrule/testdata/aero"
)

// coefficient is one published number: a drag or a lift of a ball.
type coefficient struct {
	source, ball string
	lift         bool
	r, s         float64 // [1] Reynolds number / 1e5, spin parameter
	value, sd    float64 // [1]
}

// A published source: which ball its rows are of, how well each number is known,
// and what stands for a Reynolds number or a spin parameter that is not stated.
type published struct {
	source     string  // as in testdata/aero/points.csv
	drag, lift float64 // [1] standard deviation of a number, as stated or as read off, 0 = not used
	of         float64 // balls that a row is the mean of
	same       string  // the ball, where rows of several sources are of one; "" = the row says
	lab        string  // whose apparatus
	r          float64 // [1] taken where none is stated
	rpm        float64 // taken where no spin is stated
	leastS     float64 // [1] rows of less spin are not used
	why        string
}

var sources = []published{
	{"LKS2020 fig 3", .02, .01, 1, "", "still air", 0, 0, 0, "sd as stated"},
	{"LKS2020 fig 4", 0, .01, 1, "", "still air", 0, 0, 0, "sd as stated"},
	{"LKS2020 fig 5", 0, .01, 1, "", "still air", 0, 0, 0, "sd as stated"},
	{"COMP", .021, .016, 11, "mean of COMP", "many", 0, 0, 0, "11 of the 27 points"},
	{"LKST2018 fig 3a", .01, 0, 13, "mean of 13", "still air", 0, 0, 0, "raster .01; without spin, so only above the drag crisis, Re 1e5"},
	{"AMO2010 via arXiv:1806.00378", .01, 0, .25, "328 arcs 2010", "tunnel 2010", 0, 0, 0, "as the other reading of that paper; without spin, so only above Re 1e5"},
	{"LKST2018 fig 3b", .02, 0, 1, "one of 13", "still air", 0, 2000, 0, "raster .01, spin 1500 to 2500 rpm"},
	{"LKST2018 fig 4a", 0, .018, 13, "mean of 13", "still air", 1.5, 0, 0, "CL .015 and S .01; Re not given a point"},
	{"US6186002", .004, .005, .25, "ball of 1998", "indoor range", 0, 0, 0, "scatter of its shots at one condition"},
	{"US7238121", .007, .01, 1, "", "launcher", 0, 0, 0, "S good to .01 at the low speed"},
	{"BH1976 via thesis 2010", .008, .008, .25, "round 1976", "tunnel 1976", 0, 0, .04, "as stated"},
	{"BH1976 via arXiv:1806.00378", .008, .008, .25, "round 1976", "tunnel 1976", 1.6, 0, .04, "as the other reading of that paper"},
	{"governing bodies 2006 regression", .03, .03, .25, "urethane 2006", "outdoors", 0, 0, .1, "a regression over irons: values, not measurements"},
}

var unread = [][2]float64{{2, .07}, {1.8, .09}, {1.5, .12}, {1.2, .15}, {1, .17}, {.9, .2}, {.8, .22}, {1.5, .05}, {1.5, .2}, {1.5, .3}, {1, .1}}

// The range of a drive.
const (
	leastRe, mostSpin = .5, .36
	rpmToRadius       = math.Pi / 30 * flight.BallRadius   // [m/s] surface speed of one rpm
	reSpeed           = 1.5e-5 / flight.BallDiameter * 1e5 // [m/s] of Re 1e5
)

// coefficients are the published numbers in a driver's range.
func coefficients() (out []coefficient, err error) {
	rows, err := csv.NewReader(bytes.NewReader(aero.Points)).ReadAll()
	if err != nil {
		return nil, err
	}
	for i, row := range rows[1:] {
		k := slices.IndexFunc(sources, func(p published) bool { return p.source == row[0] })
		if k < 0 {
			continue
		}
		p := sources[k]
		var v [4]float64 // Re, S, CL, CD
		for j := range v {
			v[j] = math.NaN()
			if row[j+1] != "" {
				if v[j], err = strconv.ParseFloat(row[j+1], 64); err != nil {
					return nil, fmt.Errorf("points.csv:%d: %w", i+2, err)
				}
			}
		}
		r, s := v[0]/1e5, v[1]
		if math.IsNaN(r) && p.r > 0 {
			r = p.r
		}
		if math.IsNaN(s) && p.rpm > 0 {
			s = p.rpm * rpmToRadius / (r * reSpeed)
		}
		if !(r >= leastRe && s <= mostSpin && s >= p.leastS) || s == 0 && r < 1 {
			continue
		}
		c := coefficient{source: p.source, ball: row[5], r: r, s: s}
		if p.same != "" {
			c.ball = p.same
		}
		c.ball, _, _ = strings.Cut(c.ball, " (")
		if p.drag > 0 && !math.IsNaN(v[3]) {
			c.value, c.sd = v[3], p.drag
			out = append(out, c)
		}
		if p.lift > 0 && !math.IsNaN(v[2]) {
			c.lift, c.value, c.sd = true, v[2], p.lift
			out = append(out, c)
		}
	}
	for _, at := range unread {
		cd, cl := flight.Compromise{}.Coefficients(at[0], at[1])
		out = append(out, coefficient{source: "COMP", ball: "mean of COMP", r: at[0], s: at[1], value: cd, sd: .021})
		out = append(out, coefficient{source: "COMP", ball: "mean of COMP", lift: true, r: at[0], s: at[1], value: cl, sd: .016})
	}
	// Numbers of one ball at one condition share what the shape cannot follow of it.
	alike := func(a, b coefficient) bool {
		return a.ball == b.ball && a.lift == b.lift && math.Abs(a.r-b.r) < .05 && math.Abs(a.s-b.s) < .015
	}
	share := make([]float64, len(out))
	for i, a := range out {
		for _, b := range out {
			if alike(a, b) {
				share[i]++
			}
		}
	}
	for i := range out {
		out[i].sd = math.Sqrt(out[i].sd*out[i].sd + share[i]*shapeSD*shapeSD)
	}
	return out, nil
}

var shapeSD = .01

// The shape of the mean ball, R and S as everywhere, u = S - middleS:
//
//	CD = A + D (R - 1.4) + B u + C u^2 + E/R^4
//	CL = a + b u + c u^2 + e/R^2 - F/R^8
//
// and how a ball differs: levels of drag and lift, slopes of both with spin, and
// one loss at low speed that raises E and F alike.
const (
	fixedDrag, fixedLift = 5, 5
	fixedAll             = fixedDrag + fixedLift
	ballTraits           = 5
	middleS, middleR     = .12, 1.4
)

var powD, powL = 4., 8.

func lowR(r float64) float64 { return math.Max(r, .62) }

func (c coefficient) fixed() (x [fixedAll]float64) {
	u := c.s - middleS
	if c.lift {
		copy(x[fixedDrag:], []float64{1, u, u * u, 1 / (lowR(c.r) * lowR(c.r)), -math.Pow(lowR(c.r), -powL)})
	} else {
		copy(x[:], []float64{1, c.r - middleR, u, u * u, math.Pow(lowR(c.r), -powD)})
	}
	return x
}

// own are the columns of a ball's differences: drag, its slope, lift, its slope
// [1], the loss at low speed [share].
func (c coefficient) own(b [fixedAll]float64) (z [ballTraits]float64) {
	x := c.fixed()
	if c.lift {
		z[2], z[3], z[4] = 1, c.s-middleS, x[9]*b[9]
	} else {
		z[0], z[1] = 1, c.s-middleS
	}
	return z
}

// hierarchy is a fitted population.
type hierarchy struct {
	names  []string // balls
	of     []float64
	beta   [fixedAll]float64
	se     [fixedAll]float64
	ball   [][ballTraits]float64
	g      [ballTraits][ballTraits]float64
	left   []float64
	weight []float64
	lab    float64
}

// What is believed of the spread before the points: levels within .015 and .012
// (13 balls: drag within .05 and lift within .02 to .03 from least to most), slopes
// within a quarter, the loss within itself; it counts for priorBalls balls.
var priorSpread = [ballTraits]float64{.012, .15, .010, .2, .7}

const priorBalls = 4.

var labSlope = .2

const labSD = .008 // [1] by which a laboratory's drag and lift may be off as a whole

func fitBalls(cs []coefficient) (*hierarchy, error) {
	h := &hierarchy{weight: make([]float64, len(cs)), left: make([]float64, len(cs))}
	index, labs := map[string]int{}, map[string]int{}
	labOf := map[string]string{}
	for _, p := range sources {
		labOf[p.source] = p.lab
		if _, ok := labs[p.lab]; !ok {
			labs[p.lab] = len(labs)
		}
	}
	for i, c := range cs {
		h.weight[i] = 1
		if _, ok := index[c.ball]; !ok {
			index[c.ball] = len(h.names)
			h.names = append(h.names, c.ball)
			n := 1.
			for _, p := range sources {
				if p.source == c.source {
					n = p.of
				}
			}
			h.of = append(h.of, n)
		}
	}
	nb := len(h.names)
	for i, sd := range priorSpread {
		h.g[i][i] = sd * sd
	}
	h.beta[4], h.beta[9] = .01, .004
	size := fixedAll + nb*ballTraits + 4*len(labs)
	h.ball = make([][ballTraits]float64, nb)
	for range 200 {
		a, v := mat.NewSymDense(size, nil), mat.NewVecDense(size, nil)
		for i := range size {
			a.SetSym(i, i, 1e-9)
		}
		g := mat.NewSymDense(ballTraits, nil)
		for i := range ballTraits {
			for j := i; j < ballTraits; j++ {
				g.SetSym(i, j, h.g[i][j])
			}
		}
		var chol mat.Cholesky
		if !chol.Factorize(g) {
			return nil, fmt.Errorf("the spread between balls is no covariance")
		}
		var inv mat.SymDense
		if err := chol.InverseTo(&inv); err != nil {
			return nil, err
		}
		for b := range nb {
			for i := range ballTraits {
				for j := i; j < ballTraits; j++ {
					at := fixedAll + b*ballTraits
					a.SetSym(at+i, at+j, a.At(at+i, at+j)+inv.At(i, j)*h.of[b])
				}
			}
		}
		for l := range 4 * len(labs) {
			at := fixedAll + nb*ballTraits + l
			sd := labSD
			if l%4 > 1 {
				sd = labSlope
			}
			a.SetSym(at, at, 1/(sd*sd))
		}
		rows := make([][]int, len(cs))
		vals := make([][]float64, len(cs))
		for i, c := range cs {
			x, z := c.fixed(), c.own(h.beta)
			var at []int
			var val []float64
			for k, y := range x {
				if y != 0 {
					at, val = append(at, k), append(val, y)
				}
			}
			for k, y := range z {
				if y != 0 {
					at, val = append(at, fixedAll+index[c.ball]*ballTraits+k), append(val, y)
				}
			}
			lab := fixedAll + nb*ballTraits + 4*labs[labOf[c.source]]
			if c.lift {
				lab++
			}
			at, val = append(at, lab, lab+2), append(val, 1, c.s-middleS)
			rows[i], vals[i] = at, val
			w := h.weight[i] / (c.sd * c.sd)
			for p := range at {
				v.SetVec(at[p], v.AtVec(at[p])+w*val[p]*c.value)
				for q := p; q < len(at); q++ {
					a.SetSym(at[p], at[q], a.At(at[p], at[q])+w*val[p]*val[q])
				}
			}
		}
		var all mat.Cholesky
		if !all.Factorize(a) {
			return nil, fmt.Errorf("the points do not determine a population")
		}
		var x mat.VecDense
		if err := all.SolveVecTo(&x, v); err != nil {
			return nil, err
		}
		var cov mat.SymDense
		if err := all.InverseTo(&cov); err != nil {
			return nil, err
		}
		for k := range h.beta {
			h.beta[k], h.se[k] = x.AtVec(k), math.Sqrt(cov.At(k, k))
		}
		sum, n := [ballTraits][ballTraits]float64{}, priorBalls
		for i, sd := range priorSpread {
			sum[i][i] = priorBalls * sd * sd
		}
		for b := range nb {
			at := fixedAll + b*ballTraits
			n++
			for i := range ballTraits {
				h.ball[b][i] = x.AtVec(at + i)
				for j := range ballTraits {
					sum[i][j] += h.of[b] * (x.AtVec(at+i)*x.AtVec(at+j) + cov.At(at+i, at+j))
				}
			}
		}
		for i := range sum {
			for j := range sum {
				h.g[i][j] = sum[i][j] / n
			}
		}
		for i, c := range cs {
			off := c.value
			for p, at := range rows[i] {
				off -= vals[i][p] * x.AtVec(at)
			}
			h.left[i] = off
			h.weight[i] = 5 / (4 + off*off/(c.sd*c.sd))
		}
	}
	return h, nil
}
