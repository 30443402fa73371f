package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/flight"
	cases "ferrule/testdata/flight"
)

// aeroPoint is a published coefficient of a ball; NaN = not published.
type aeroPoint struct {
	source       string
	r, s, cd, cl float64 // [1] Reynolds number / 1e5, spin parameter, drag, lift
}

func aeroPoints() (out []aeroPoint, err error) {
	rows, err := csv.NewReader(bytes.NewReader(cases.Points)).ReadAll()
	if err != nil {
		return nil, err
	}
	regression, _ := flight.ByKey("ITR98")
	for i, row := range rows[1:] {
		p := aeroPoint{source: row[0]}
		for k, to := range []*float64{&p.r, &p.s, &p.cd, &p.cl} {
			*to = math.NaN()
			if row[k+1] == "" {
				continue
			}
			if *to, err = strconv.ParseFloat(row[k+1], 64); err != nil {
				return nil, fmt.Errorf("points.csv:%d: %w", i+2, err)
			}
		}
		if math.IsNaN(p.cd) && math.IsNaN(p.cl) {
			p.cd, p.cl = regression.Coefficients(p.r, p.s)
		}
		out = append(out, p)
	}
	return out, nil
}

// fitted is the least squares of the default's form to points: drag A, D, B of
// A + D R + B S and lift A, B, C of A + B S + C S^2 - .0122/R^2, with the root
// mean squares that are left.
func fitted(ps []aeroPoint) (drag, lift [3]float64, dragRMS, liftRMS float64, err error) {
	solve := func(value func(aeroPoint) float64, row func(aeroPoint) [3]float64) (x [3]float64, rms float64, err error) {
		var a, b []float64
		for _, p := range ps {
			if v := value(p); !math.IsNaN(v) {
				r := row(p)
				a, b = append(a, r[:]...), append(b, v)
			}
		}
		var c mat.VecDense
		m := mat.NewDense(len(b), 3, a)
		if err = c.SolveVec(m, mat.NewVecDense(len(b), b)); err != nil {
			return x, 0, err
		}
		for i, v := range b {
			for k := range x {
				x[k] = c.AtVec(k)
				v -= m.At(i, k) * x[k]
			}
			rms += v * v / float64(len(b))
		}
		return x, math.Sqrt(rms), nil
	}
	if drag, dragRMS, err = solve(func(p aeroPoint) float64 { return p.cd }, func(p aeroPoint) [3]float64 { return [3]float64{1, p.r, p.s} }); err != nil {
		return
	}
	lift, liftRMS, err = solve(func(p aeroPoint) float64 { return p.cl + .0122/(p.r*p.r) }, func(p aeroPoint) [3]float64 { return [3]float64{1, p.s, p.s * p.s} })
	return
}

// flyFit prints the published points that are at hand, how far the default is
// from each, and what least squares of its form would make of them. The default
// was fitted to 27 points, of which these are the ones whose numbers can be
// read here; it is not replaced by this fit (DEVELOPERS.md says why).
func flyFit(w io.Writer) error {
	ps, err := aeroPoints()
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "%-50s %6s %6s %8s %8s %8s %8s\n", "point", "Re/1e5", "S", "CD", "default", "CL", "default")
	var sum, n [2]float64
	text := func(v float64) string {
		if math.IsNaN(v) {
			return "-"
		}
		return fmt.Sprintf("%.3f", v)
	}
	for _, p := range ps {
		cd, cl := flight.Compromise{}.Coefficients(p.r, p.s)
		for i, d := range []float64{cd - p.cd, cl - p.cl} {
			if !math.IsNaN(d) {
				sum[i], n[i] = sum[i]+d*d, n[i]+1
			}
		}
		fmt.Fprintf(w, "%-50s %6.2f %6.3f %8s %8.3f %8s %8.3f\n", p.source, p.r, p.s, text(p.cd), cd, text(p.cl), cl)
	}
	drag, lift, dragRMS, liftRMS, err := fitted(ps)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "default        CD = .1029 + .0274 R + .7397 S, CL = .0677 + 1.0208 S - .5991 S^2 - .0122/R^2; rms %.3f and %.3f at these points\n", math.Sqrt(sum[0]/n[0]), math.Sqrt(sum[1]/n[1]))
	fmt.Fprintf(w, "least squares  CD = %.4f %+.4f R %+.4f S, CL = %.4f %+.4f S %+.4f S^2 - .0122/R^2; rms %.3f and %.3f\n",
		drag[0], drag[1], drag[2], lift[0], lift[1], lift[2], dragRMS, liftRMS)
	return nil
}
