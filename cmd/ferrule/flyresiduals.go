package main

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/flight"
	"ferrule/core/robust"
	"ferrule/core/units"
)

// regression is a least squares with weights that let wild drives count little
// (Cauchy's, at 2.5 robust standard deviations): coefficients and their errors.
func regression(y []float64, columns [][]float64) (b, se []float64, err error) {
	n, k := len(y), len(columns)
	weight := make([]float64, n)
	for i := range weight {
		weight[i] = 1
	}
	sizes := make([]float64, n)
	for range 20 {
		a, v := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
		for i := range y {
			for p := range columns {
				v.SetVec(p, v.AtVec(p)+weight[i]*columns[p][i]*y[i])
				for q := p; q < k; q++ {
					a.SetSym(p, q, a.At(p, q)+weight[i]*columns[p][i]*columns[q][i])
				}
			}
		}
		var c mat.Cholesky
		var x mat.VecDense
		var cov mat.SymDense
		if !c.Factorize(a) || c.SolveVecTo(&x, v) != nil || c.InverseTo(&cov) != nil {
			return nil, nil, fmt.Errorf("%d drives do not determine %d columns", n, k)
		}
		b, se = make([]float64, k), make([]float64, k)
		for p := range b {
			b[p] = x.AtVec(p)
		}
		rest := make([]float64, n)
		for i := range y {
			rest[i] = y[i]
			for p := range b {
				rest[i] -= b[p] * columns[p][i]
			}
			sizes[i] = math.Abs(rest[i])
		}
		sd := math.Max(1.4826*robust.Median(sizes), 1e-9)
		for p := range b {
			se[p] = sd * math.Sqrt(cov.At(p, p))
		}
		for i := range weight {
			u := rest[i] / (2.5 * sd)
			weight[i] = 1 / (1 + u*u)
		}
	}
	return b, se, nil
}

// flyResiduals prints what measured less computed goes with.
func flyResiduals(w io.Writer, names []string, of map[string][]drive, e flight.Env) error {
	heads := []string{"constant", "speed /10 mph", "launch /deg", "spin /1000 rpm", "axis /deg", "side /deg"}
	fmt.Fprint(w, "\nmeasured less computed goes with (robust regression at 130 mph, 11 deg, 3000 rpm, straight; side is the launch direction):\n")
	for _, c := range names {
		ds := of[c]
		columns := make([][]float64, len(heads))
		curve := make([]float64, len(ds))
		y := make([][]float64, quantities)
		for i, d := range ds {
			g, err := flight.Fly(d.launch, e)
			if err != nil {
				return err
			}
			l := d.launch
			for k, x := range []float64{1, (l.Speed/units.MPH - 130) / 10, l.Angle/units.Degree - 11, (l.Spin/units.RPM - 3000) / 1000, l.Axis / units.Degree, l.Direction / units.Degree} {
				columns[k] = append(columns[k], x)
			}
			curve[i] = g.Curve / units.Yard
			for q, how := range flightErrors {
				y[q] = append(y[q], d.measured[q]-how.of(g))
			}
		}
		for q, how := range flightErrors {
			b, se, err := regression(y[q], columns)
			if err != nil {
				fmt.Fprintf(w, "  %s: %v\n", c, err)
				break
			}
			fmt.Fprintf(w, "  %s %-13s", c, how.name+" ["+how.unit+"]")
			for k, h := range heads {
				fmt.Fprintf(w, "  %s %+.2f ± %.2f", h, b[k], se[k])
			}
			fmt.Fprintln(w)
		}
		b, se, err := regression(y[1], [][]float64{columns[0], curve, columns[4]})
		if err == nil {
			fmt.Fprintf(w, "  %s offline by what the model says of its curve: times %.2f ± %.2f; %+.2f ± %.2f yd a degree of axis beside it, %+.1f ± %.1f yd for all\n", c, 1+b[1], se[1], b[2], se[2], b[0], se[0])
		}
	}
	return nil
}

// slowest swings: below these ball speeds.
const slowBelow = 120.

// flySlow prints what low Reynolds numbers do to slow swings: by the default, by the
// default with the lift that published balls lose there, and by the points' mean ball;
// and how each is from measured slow drives.
func flySlow(w io.Writer, names []string, of map[string][]drive) error {
	balls := []struct {
		name string
		ball flight.Model
	}{{"default", flight.Default()}, {"with the published loss", flight.Default().With(flight.Traits{flight.TraitLow: 1})}, {"points' mean ball", flight.Of(flight.PointsBall{})}}
	fmt.Fprint(w, "\nslow swings, launch 14 deg, 3200 rpm: carry [yd], apex [ft], descent [deg]\n")
	for _, mph := range []float64{90, 100, 110, 120} {
		fmt.Fprintf(w, "  %3.0f mph", mph)
		for _, b := range balls {
			g, err := flight.Fly(trade(mph, 14, 3200), flight.Env{Model: b.ball})
			if err != nil {
				return err
			}
			fmt.Fprintf(w, "  %s %.1f %.1f %.1f", b.name, g.Distance()/units.Yard, g.Apex/units.Foot, g.Descent/units.Degree)
		}
		fmt.Fprintln(w)
	}
	for _, c := range names {
		var slow []drive
		for _, d := range of[c] {
			if d.launch.Speed < slowBelow*units.MPH {
				slow = append(slow, d)
			}
		}
		if len(slow) < 3 {
			continue
		}
		for _, b := range balls {
			m, err := misses(slow, session{env: flight.Env{Model: b.ball}})
			if err != nil {
				return err
			}
			missLine(w, c+" < 120 mph, "+b.name[:min(len(b.name), 12)], len(slow), m)
		}
	}
	return nil
}
