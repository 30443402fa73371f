package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/flight"
	"ferrule/core/seed"
	"ferrule/core/units"
	"ferrule/testdata/aero"
)

// coefficient is one published number: a drag or a lift of a ball.
type coefficient struct {
	source, ball string
	lift         bool
	r, s         float64 // [1] Reynolds number / 1e5, spin parameter
	value, sd    float64 // [1]
}

// published is a source of points and how well its numbers are known.
type published struct {
	source     string  // as in testdata/aero/points.csv
	drag, lift float64 // [1] standard deviation of a number, as stated or as read off, 0 = not used
	balls      float64 // of today that a row speaks for: 13 for a mean of 13; a quarter for a ball of another age, a model, a regression: it may differ twice as much
	same       string  // the ball, where rows of several sources are of one; "" = the row says
	lab        string  // whose apparatus
	r          float64 // [1] taken where no Reynolds number is stated
	rpm        float64 // taken where no spin is stated
	leastS     float64 // [1] rows of less spin are not used
	why        string
}

var sources = []published{
	{"LKS2020 fig 3", .02, .01, 1, "", "still air", 0, 0, 0, "as stated"},
	{"LKS2020 fig 4", 0, .01, 1, "", "still air", 0, 0, 0, "as stated"},
	{"LKS2020 fig 5", 0, .01, 1, "", "still air", 0, 0, 0, "as stated"},
	{"LKST2018 fig 3a", .01, 0, 13, "mean of 13", "still air", 0, 0, 0, "raster .01; without spin, so from Re 1e5 on"},
	{"LKST2018 fig 3b", .02, 0, 1, "one of 13", "still air", 0, 2000, 0, "raster .01; 1500 to 2500 rpm"},
	{"LKST2018 fig 4a", 0, .018, 13, "mean of 13", "still air", 1.5, 0, 0, "CL .015 and S .01; Re not given a point"},
	{"US6186002", .004, .005, .25, "ball of 1998", "indoor range", 0, 0, 0, "scatter of shots at one condition"},
	{"US7238121", .007, .01, 1, "", "launcher", 0, 0, 0, "S good to .01 at the low speed"},
	{"BH1976 via thesis 2010", .008, .008, .25, "round 1976", "tunnel 1976", 0, 0, .04, "as stated"},
	{"BH1976 via arXiv:1806.00378", .008, .008, .25, "round 1976", "tunnel 1976", 1.6, 0, .04, "as the other reading"},
	{"AMO2010 via arXiv:1806.00378", .01, 0, .25, "328 arcs 2010", "tunnel 2010", 0, 0, 0, "as the other reading; without spin, so from Re 1e5 on"},
	{"governing bodies 2006 regression", .03, .03, .25, "urethane 2006", "outdoors", 0, 0, .1, "a regression over irons, no measurements"},
}

func sourceOf(name string) *published {
	if k := slices.IndexFunc(sources, func(p published) bool { return p.source == name }); k >= 0 {
		return &sources[k]
	}
	return nil
}

// The range of a drive, and what a Reynolds number is of a ball in air of 20 degC.
const (
	leastRe, mostSpin = .5, .36
	fromRPM           = math.Pi / 30 * flight.BallRadius   // [m/s] at the surface, of one rpm
	speedOfRe         = 1.5e-5 / flight.BallDiameter * 1e5 // [m/s] of Re 1e5
)

// coefficients are the published numbers in a driver's range.
func coefficients() (out []coefficient, err error) {
	rows, err := csv.NewReader(bytes.NewReader(aero.Points)).ReadAll()
	if err != nil {
		return nil, err
	}
	for i, row := range rows[1:] {
		p := sourceOf(row[0])
		if p == nil {
			continue
		}
		var v [4]float64 // Re, S, CL, CD
		for j := range v {
			v[j] = math.NaN()
			if row[j+1] != "" {
				if v[j], err = strconv.ParseFloat(row[j+1], 64); err != nil {
					return nil, fmt.Errorf("points.csv:%d: %w", i+2, err)
				}
			}
		}
		out = append(out, p.numbers(v, row[5])...)
	}
	shareShape(out)
	return out, nil
}

// numbers are the drag and the lift of a row, if they are in a driver's range.
func (p *published) numbers(v [4]float64, ball string) (out []coefficient) {
	r, s := v[0]/1e5, v[1]
	if math.IsNaN(r) && p.r > 0 {
		r = p.r
	}
	if math.IsNaN(s) && p.rpm > 0 {
		s = p.rpm * fromRPM / (r * speedOfRe)
	}
	if !(r >= leastRe && s <= mostSpin && s >= p.leastS) || s == 0 && r < 1 {
		return nil
	}
	if p.same != "" {
		ball = p.same
	}
	ball, _, _ = strings.Cut(ball, " (")
	if p.drag > 0 && !math.IsNaN(v[3]) {
		out = append(out, coefficient{p.source, ball, false, r, s, v[3], p.drag})
	}
	if p.lift > 0 && !math.IsNaN(v[2]) {
		out = append(out, coefficient{p.source, ball, true, r, s, v[2], p.lift})
	}
	return out
}

// What 13 production balls carried apart at one launch [LKS18], and the range of 13
// normal numbers in standard deviations (Tippett's constant d2, control chart tables).
const (
	apart13 = 18.   // [m]
	rangeOf = 3.336 // [1]
)

var apartAt = trade(159.9, 6, 3000)

// narrowed brings balls to the spread of carry that was measured. Points of few balls
// a laboratory let drag and lift vary each by itself, and carry with both, by twice as
// much. Of all normal populations with that spread of carry it is the one nearest to
// the points' (least relative entropy): only what goes with carry shrinks.
func narrowed(cov *[flight.NumTraits][flight.NumTraits]float64, mean flight.Traits) {
	carry := func(t flight.Traits) float64 {
		g, _ := flight.Fly(apartAt, flight.Env{Model: flight.Default().With(t)})
		return g.Distance()
	}
	var slope, with flight.Traits // of carry by trait, and its covariance with it
	for i := range slope {
		const step = .02
		more, less := mean, mean
		more[i], less[i] = mean[i]+step, mean[i]-step
		slope[i] = (carry(more) - carry(less)) / (2 * step)
	}
	was := 0.
	for i := range with {
		for j := range slope {
			with[i] += cov[i][j] * slope[j]
		}
		was += slope[i] * with[i]
	}
	is := apart13 / rangeOf * apart13 / rangeOf
	for i := range with {
		for j := range with {
			cov[i][j] -= with[i] * with[j] / was * (1 - is/was)
		}
	}
}

// drawnTimes is how often 13 balls are drawn from the population.
const drawnTimes = 200

// flySpread prints how far balls of the population carry apart, beside what 13
// production balls did, and what 500 rpm more do to each. Their spread about their
// own mean is asked for, so what the default may be off is not in it.
func (h *hierarchy) flySpread(w io.Writer) error {
	mean, cov := h.population()
	for i := range mean {
		for j := range mean {
			cov[i][j] -= mean[i] * mean[j]
		}
	}
	causes := flight.Population{Cov: cov}.Doubt()
	rng := seed.Seed(1).Stream("fly.spread")
	var span, more, square float64
	for range drawnTimes {
		least, most := math.Inf(1), math.Inf(-1)
		for range 13 {
			t := mean
			for _, cause := range causes {
				x := rng.NormFloat64()
				for i := range t {
					t[i] += x * cause[i]
				}
			}
			e := flight.Env{Model: flight.Default().With(t)}
			var carry [3]float64
			for k, l := range []flight.Launch{apartAt, trade(165, 12.5, 2500), trade(165, 12.5, 3000)} {
				g, err := flight.Fly(l, e)
				if err != nil {
					return err
				}
				carry[k] = g.Distance()
			}
			least, most = min(least, carry[0]), max(most, carry[0])
			by := (carry[2] - carry[1]) / units.Yard
			more, square = more+by/(13*drawnTimes), square+by*by/(13*drawnTimes)
		}
		span += (most - least) / drawnTimes
	}
	fmt.Fprintf(w, "\n13 balls of this population carry %.1f m apart at 159.9 mph, 6 deg, 3000 rpm (published of 13 production balls: 18 ± 6 m); 500 rpm more at 165 mph, 12.5 deg: %+.1f ± %.1f yd\n", span, more, math.Sqrt(square-more*more))
	return nil
}

// shapeSD [1] is by how much the shape below may miss a ball at any condition, our
// own choice. Numbers of one ball at one condition share it, so that six shots
// there weigh as little more than one as they say more.
const shapeSD = .01

func shareShape(cs []coefficient) {
	share := make([]float64, len(cs))
	for i, a := range cs {
		for _, b := range cs {
			if a.ball == b.ball && a.lift == b.lift && math.Abs(a.r-b.r) < .05 && math.Abs(a.s-b.s) < .015 {
				share[i]++
			}
		}
	}
	for i := range cs {
		cs[i].sd = math.Sqrt(cs[i].sd*cs[i].sd + share[i]*shapeSD*shapeSD)
	}
}

// The shape of the mean ball, with u = S - .12:
//
//	CD = A + D (R - 1.4) + B u + C u^2 + E/R^4
//	CL = a + b u + c u^2 + e/R^2 - F/R^8
//
// and how a ball differs: levels of drag and of lift, slopes of both with spin, and
// a share of F, the loss of lift at low speed.
const (
	shapeDrag, shapeLift = 5, 5
	shapes               = shapeDrag + shapeLift
	differences          = 5
	atLoss               = shapes - 1
)

var shapeNames = [shapes]string{"A", "D", "B", "C", "E", "a", "b", "c", "e", "F"}

func (c coefficient) shape() (x [shapes]float64) {
	u, r := c.s-flight.MiddleS, math.Max(c.r, flight.LeastR)
	if c.lift {
		copy(x[shapeDrag:], []float64{1, u, u * u, 1 / (r * r), -math.Pow(r, -8)})
	} else {
		copy(x[:], []float64{1, c.r - flight.MiddleR, u, u * u, math.Pow(r, -4)})
	}
	return x
}

// own are the columns of a ball's differences, given the mean ball's loss.
func (c coefficient) own(loss float64) (z [differences]float64) {
	if c.lift {
		z[2], z[3], z[4] = 1, c.s-flight.MiddleS, c.shape()[atLoss]*loss
	} else {
		z[0], z[1] = 1, c.s-flight.MiddleS
	}
	return z
}
