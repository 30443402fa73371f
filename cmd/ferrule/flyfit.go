package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/flight"
)

// A hierarchy is a population of balls fitted to published points: a mean ball,
// how balls differ from it, and how far each laboratory is off. Normal balls, t
// errors of the points, by expectation and maximization.
type hierarchy struct {
	points []coefficient
	balls  []string
	speaks []float64 // for how many balls of today each does
	labs   map[string]int
	mean   [shapes]float64
	se     [shapes]float64
	differ [][differences]float64
	cov    [differences][differences]float64
	left   []float64 // of each point, what ball and laboratory leave
	weight []float64
}

// What is believed of the spread before the points: levels within .012 and .010
// and slopes as 13 balls spread (drag within .05 and lift within .02 to .03 from
// least to most), the loss within .7 of itself. It counts for priorBalls balls. A
// laboratory may be off by labSD in drag and in lift (our own choice).
var priorSpread = [differences]float64{.012, .15, .010, .2, .7}

const (
	priorBalls = 4.
	labSD      = .008
	tailOfFit  = 4.  // degrees of freedom of a point's error
	fitRounds  = 200 // more move no printed digit
)

func newHierarchy(points []coefficient) *hierarchy {
	h := &hierarchy{points: points, labs: map[string]int{}, left: make([]float64, len(points)), weight: make([]float64, len(points))}
	for i, c := range points {
		h.weight[i] = 1
		p := sourceOf(c.source)
		if h.ball(c) < 0 {
			h.balls, h.speaks = append(h.balls, c.ball), append(h.speaks, p.balls)
		}
		if _, ok := h.labs[p.lab]; !ok {
			h.labs[p.lab] = len(h.labs)
		}
	}
	h.differ = make([][differences]float64, len(h.balls))
	for i, sd := range priorSpread {
		h.cov[i][i] = sd * sd
	}
	h.mean[atLoss] = .004
	return h
}

func (h *hierarchy) ball(c coefficient) int {
	return slices.Index(h.balls, c.ball)
}

// row is the design of a point: where its columns are that are not 0, and they.
func (h *hierarchy) row(c coefficient) (at []int, v []float64) {
	add := func(from int, x []float64) {
		for k, y := range x {
			if y != 0 {
				at, v = append(at, from+k), append(v, y)
			}
		}
	}
	x, z := c.shape(), c.own(h.mean[atLoss])
	add(0, x[:])
	add(shapes+h.ball(c)*differences, z[:])
	lab := shapes + len(h.balls)*differences + 2*h.labs[sourceOf(c.source).lab]
	if c.lift {
		lab++
	}
	add(lab, []float64{1})
	return at, v
}

// equations are Henderson's for the mean ball, all differences and laboratories.
func (h *hierarchy) equations() (*mat.SymDense, *mat.VecDense, error) {
	first := shapes + len(h.balls)*differences
	size := first + 2*len(h.labs)
	a, v := mat.NewSymDense(size, nil), mat.NewVecDense(size, nil)
	for i := range shapes {
		a.SetSym(i, i, 1e-9)
	}
	g := mat.NewSymDense(differences, nil)
	for i := range differences {
		for j := i; j < differences; j++ {
			g.SetSym(i, j, h.cov[i][j])
		}
	}
	var c mat.Cholesky
	var inv mat.SymDense
	if !c.Factorize(g) || c.InverseTo(&inv) != nil {
		return nil, nil, errors.New("the spread between balls is no covariance")
	}
	for b, n := range h.speaks {
		for i := range differences {
			for j := i; j < differences; j++ {
				a.SetSym(shapes+b*differences+i, shapes+b*differences+j, n*inv.At(i, j))
			}
		}
	}
	for l := first; l < size; l++ {
		a.SetSym(l, l, 1/(labSD*labSD))
	}
	for i, c := range h.points {
		at, x := h.row(c)
		w := h.weight[i] / (c.sd * c.sd)
		for p := range at {
			v.SetVec(at[p], v.AtVec(at[p])+w*x[p]*c.value)
			for q := p; q < len(at); q++ {
				a.SetSym(at[p], at[q], a.At(at[p], at[q])+w*x[p]*x[q])
			}
		}
	}
	return a, v, nil
}

func (h *hierarchy) fit() error {
	for range fitRounds {
		a, v, err := h.equations()
		if err != nil {
			return err
		}
		var all mat.Cholesky
		var x mat.VecDense
		var cov mat.SymDense
		if !all.Factorize(a) || all.SolveVecTo(&x, v) != nil || all.InverseTo(&cov) != nil {
			return errors.New("the points do not determine a population")
		}
		for i, c := range h.points { // by the loss that the equations were set up with
			h.left[i] = c.value
			at, y := h.row(c)
			for p := range at {
				h.left[i] -= y[p] * x.AtVec(at[p])
			}
			h.weight[i] = (tailOfFit + 1) / (tailOfFit + h.left[i]*h.left[i]/(c.sd*c.sd))
		}
		for k := range h.mean {
			h.mean[k], h.se[k] = x.AtVec(k), math.Sqrt(cov.At(k, k))
		}
		h.spread(&x, &cov)
	}
	return nil
}

// spread is the covariance of balls by their expected squares.
func (h *hierarchy) spread(x *mat.VecDense, cov *mat.SymDense) {
	n := priorBalls + float64(len(h.balls))
	h.cov = [differences][differences]float64{}
	for i, sd := range priorSpread {
		h.cov[i][i] = priorBalls * sd * sd / n
	}
	for b, speaks := range h.speaks {
		at := shapes + b*differences
		for i := range differences {
			h.differ[b][i] = x.AtVec(at + i)
			for j := range differences {
				h.cov[i][j] += speaks * (x.AtVec(at+i)*x.AtVec(at+j) + cov.At(at+i, at+j)) / n
			}
		}
	}
}

// population is what the hierarchy says of the traits of package flight, about its
// default: the mean ball's differences from it, and the covariance of balls, brought
// to the spread of carry that was measured (narrowed), with the square of those
// differences, because either may be the mean of today's balls.
func (h *hierarchy) population() (mean flight.Traits, cov [flight.NumTraits][flight.NumTraits]float64) {
	var at [2]float64 // the mean ball in the middle of a drive
	for i := range at {
		for k, x := range (coefficient{lift: i == 1, r: flight.MiddleR, s: flight.MiddleS}).shape() {
			at[i] += x * h.mean[k]
		}
	}
	f := flight.Compromise{}.Fitted()
	cd, cl := f.Coefficients(flight.MiddleR, flight.MiddleS)
	slope := f.LiftS + 2*f.LiftSS*flight.MiddleS
	which := [differences]int{flight.TraitDrag, flight.TraitSpinDrag, flight.TraitLift, flight.TraitSpinLift, flight.TraitLow}
	unit := [differences]float64{cd, f.DragS, cl, slope, flight.LowLift / h.mean[atLoss]}
	mean[flight.TraitDrag], mean[flight.TraitLift] = math.Log(at[0]/cd), math.Log(at[1]/cl)
	mean[flight.TraitSpinDrag], mean[flight.TraitSpinLift] = h.mean[2]/f.DragS-1, h.mean[6]/slope-1
	mean[flight.TraitLow] = h.mean[atLoss] / flight.LowLift
	for i, p := range which {
		for j, q := range which {
			cov[p][q] = h.cov[i][j] / (unit[i] * unit[j])
		}
	}
	narrowed(&cov, mean)
	for i := range mean {
		for j := range mean {
			cov[i][j] += mean[i] * mean[j]
		}
	}
	return mean, cov
}

// flyFit prints the population of balls that the published points make and how
// near its mean ball and the default are to the published cases, and, with a file
// of measured drives by which nothing was chosen, to those.
func flyFit(w io.Writer, name string) error {
	points, err := coefficients()
	if err != nil {
		return err
	}
	h := newHierarchy(points)
	if err := h.fit(); err != nil {
		return err
	}
	fmt.Fprintf(w, "%d published drags and lifts of %d balls in a driver's range, S - .12 = u:\nCD = A + D (R - 1.4) + B u + C u^2 + E/R^4,  CL = a + b u + c u^2 + e/R^2 - F/R^8\n\nthe mean ball\n", len(points), len(h.balls))
	for k, n := range shapeNames {
		fmt.Fprintf(w, "  %s %8.4f ± %.4f\n", n, h.mean[k], h.se[k])
	}
	h.printSpread(w)
	if err := h.flySpread(w); err != nil {
		return err
	}
	h.printSources(w)
	return h.printFlights(w, name)
}

func (h *hierarchy) printSpread(w io.Writer) {
	fmt.Fprint(w, "\nballs about it: standard deviation and correlations\n")
	for i, n := range []string{"drag, u = 0", "drag by u", "lift, u = 0", "lift by u", "F, share"} {
		fmt.Fprintf(w, "  %-12s %.4f ", n, math.Sqrt(h.cov[i][i]))
		for j := range h.cov {
			fmt.Fprintf(w, " %+.2f", h.cov[i][j]/math.Sqrt(h.cov[i][i]*h.cov[j][j]))
		}
		fmt.Fprintln(w)
	}
	mean, cov := h.population()
	fmt.Fprint(w, "\nas traits about the default (flight.Balls): mean ball less default, standard deviation about the default, correlations\n")
	for i, n := range traitNames {
		if cov[i][i] == 0 {
			continue // no published points
		}
		fmt.Fprintf(w, "  %-18s %+.3f %.3f ", n, mean[i], math.Sqrt(cov[i][i]))
		for j := range cov {
			if cov[j][j] > 0 {
				fmt.Fprintf(w, " %+.2f", cov[i][j]/math.Sqrt(cov[i][i]*cov[j][j]))
			}
		}
		fmt.Fprintln(w)
	}
	fmt.Fprint(w, "\neach ball's differences, and for how many balls of today it speaks\n")
	for b, n := range h.balls {
		fmt.Fprintf(w, "  %-26s %5.2f  %+.3f\n", n, h.speaks[b], h.differ[b])
	}
}

func (h *hierarchy) printSources(w io.Writer) {
	fmt.Fprintf(w, "\nresiduals by source: what the population's mean ball, the ball itself and the default leave\n  %-34s %-4s %3s %7s %17s %17s %17s\n", "source", "", "n", "stated", "mean ball rms", "own ball bias rms", "default rms")
	for _, p := range sources {
		for _, lift := range []bool{false, true} {
			var n, bias, own, mean, def float64
			for i, c := range h.points {
				if c.source != p.source || c.lift != lift {
					continue
				}
				off := c.value
				for k, x := range c.shape() {
					off -= x * h.mean[k]
				}
				cd, cl := flight.Compromise{}.Coefficients(c.r, c.s)
				if lift {
					cd = cl
				}
				n, bias, own, mean, def = n+1, bias+h.left[i], own+h.left[i]*h.left[i], mean+off*off, def+(c.value-cd)*(c.value-cd)
			}
			if n > 0 {
				what, sd := "drag", p.drag
				if lift {
					what, sd = "lift", p.lift
				}
				fmt.Fprintf(w, "  %-34s %-4s %3.0f %7.3f %17.4f %+8.4f %8.4f %17.4f   %s\n", p.source, what, n, sd, math.Sqrt(mean/n), bias/n, math.Sqrt(own/n), math.Sqrt(def/n), p.why)
			}
		}
	}
}

// printFlights compares the two mean balls in the air.
func (h *hierarchy) printFlights(w io.Writer, name string) error {
	list, err := flightCases()
	if err != nil {
		return err
	}
	var ds []drive
	if name != "" {
		if ds, err = readDrives(name); err != nil {
			return err
		}
	}
	fmt.Fprintf(w, "\nin the air: cases inside of %d, carry for 500 rpm more\n", len(list))
	for _, a := range []flight.Aero{flight.Compromise{}, flight.PointsBall{}} {
		got, inside := computed(a), 0
		for _, c := range list {
			if math.Abs(got[c.name]-c.expected) <= c.tolerance {
				inside++
			}
		}
		fmt.Fprintf(w, "  %-6s %2d inside, %+.1f yd\n", a.Facts().Key, inside, got[spinSweep])
		names, of := byClass(ds)
		for _, c := range names {
			m, err := misses(of[c], session{env: flight.Env{Model: flight.Of(a)}})
			if err != nil {
				return err
			}
			fmt.Fprintf(w, "    drives %s:", c)
			for q, how := range flightErrors[:quantities-1] {
				fmt.Fprintf(w, "  %s %+.2f %.2f %.2f %s", how.name, m[q].bias, m[q].median, m[q].rms, how.unit)
			}
			fmt.Fprintln(w)
		}
	}
	fmt.Fprint(w, "The default stays COMP: the points' mean ball has no more cases inside and carries measured drives of a tour-type ball too far (testdata/measured).\n")
	return nil
}
