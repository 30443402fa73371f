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

// A criterion says what a fit of the default's form to the points makes small.
type criterion struct {
	name     string
	weigh    func(points, balls float64) float64 // of a point of a source with so many points and balls
	absolute bool                                // the sum of sizes, not of squares
}

var criteria = []criterion{
	{"least squares", func(_, _ float64) float64 { return 1 }, false},
	{"least squares, every source alike", func(points, _ float64) float64 { return 1 / points }, false},
	{"least squares, every ball alike", func(points, balls float64) float64 { return balls / points }, false},
	{"least sizes", func(_, _ float64) float64 { return 1 }, true},
	{"least sizes, every source alike", func(points, _ float64) float64 { return 1 / points }, true},
	{"least sizes, every ball alike", func(points, balls float64) float64 { return balls / points }, true},
}

// ballsOf is how many balls a source measured, by the beginning of its name.
func ballsOf(source string) float64 {
	switch {
	case strings.Contains(source, "13 balls"):
		return 13
	case strings.Contains(source, "7238121"):
		return 2
	}
	return 1
}

// fitted fits the default's form to points, the lift's share of Re held at the
// default's: CD = A + R Re + S s and CL = A + S s + SS s^2 + RR/Re^2. Sizes are
// made small by squares weighed anew (iteratively reweighted least squares).
func fitted(ps []aeroPoint, how criterion) (f flight.Form, err error) {
	f.LiftRR = flight.Compromise{}.Fitted().LiftRR
	points := map[string]float64{}
	family := func(p aeroPoint) string { return p.source[:min(len(p.source), 10)] }
	for _, p := range ps {
		points[family(p)]++
	}
	solve := func(value func(aeroPoint) float64, row func(aeroPoint) [3]float64) (x [3]float64, err error) {
		var rows [][3]float64
		var v, w []float64
		for _, p := range ps {
			if y := value(p); !math.IsNaN(y) {
				rows, v, w = append(rows, row(p)), append(v, y), append(w, how.weigh(points[family(p)], ballsOf(p.source)))
			}
		}
		at := slices.Clone(w)
		rounds := 1
		if how.absolute {
			rounds = 400
		}
		for range rounds {
			a, b := mat.NewDense(len(v), 3, nil), mat.NewVecDense(len(v), nil)
			for i := range v {
				root := math.Sqrt(at[i])
				for k := range x {
					a.Set(i, k, root*rows[i][k])
				}
				b.SetVec(i, root*v[i])
			}
			var c mat.VecDense
			if err = c.SolveVec(a, b); err != nil {
				return x, err
			}
			for k := range x {
				x[k] = c.AtVec(k)
			}
			for i := range at {
				off := v[i]
				for k := range x {
					off -= x[k] * rows[i][k]
				}
				if how.absolute {
					at[i] = w[i] / math.Max(math.Abs(off), 1e-6)
				}
			}
		}
		return x, nil
	}
	drag, err := solve(func(p aeroPoint) float64 { return p.cd }, func(p aeroPoint) [3]float64 { return [3]float64{1, p.r, p.s} })
	if err != nil {
		return f, err
	}
	lift, err := solve(func(p aeroPoint) float64 { return p.cl - f.LiftRR/(p.r*p.r) }, func(p aeroPoint) [3]float64 { return [3]float64{1, p.s, p.s * p.s} })
	f.DragA, f.DragR, f.DragS = drag[0], drag[1], drag[2]
	f.LiftA, f.LiftS, f.LiftSS = lift[0], lift[1], lift[2]
	return f, err
}

// scaled multiplies a form's drag and lift.
func scaled(f flight.Form, drag, lift float64) flight.Form {
	return flight.Form{DragA: drag * f.DragA, DragR: drag * f.DragR, DragS: drag * f.DragS,
		LiftA: lift * f.LiftA, LiftS: lift * f.LiftS, LiftSS: lift * f.LiftSS, LiftRR: lift * f.LiftRR}
}

// onPractice finds the scales of drag and lift that bring a form nearest to the
// practice cases P1-P4: least squares in tolerances, the logarithms of both
// scales a priori within .05 of nothing (the balls of the points differ by as
// much), by Gauss and Newton.
func onPractice(f flight.Form, list []flightCase) (drag, lift float64, err error) {
	const prior, h = .05, 1e-3
	misses := func(x [2]float64) (out []float64) {
		got := computed(scaled(f, math.Exp(x[0]), math.Exp(x[1])))
		for _, c := range list {
			if c.kind == "practice" {
				out = append(out, (got[c.name]-c.expected)/c.tolerance)
			}
		}
		return append(out, x[0]/prior, x[1]/prior)
	}
	var x [2]float64
	for range 6 {
		at := misses(x)
		j, b := mat.NewDense(len(at), 2, nil), mat.NewVecDense(len(at), nil)
		for k := range x {
			y := x
			y[k] += h
			for i, v := range misses(y) {
				j.Set(i, k, (v-at[i])/h)
			}
		}
		for i, v := range at {
			b.SetVec(i, -v)
		}
		var d mat.VecDense
		if err = d.SolveVec(j, b); err != nil {
			return 0, 0, err
		}
		x[0], x[1] = x[0]+d.AtVec(0), x[1]+d.AtVec(1)
	}
	return math.Exp(x[0]), math.Exp(x[1]), nil
}

// off is the root mean square of a form at the points, drag and lift.
func off(f flight.Aero, ps []aeroPoint) (drag, lift float64) {
	var sum, n [2]float64
	for _, p := range ps {
		cd, cl := f.Coefficients(p.r, p.s)
		for i, d := range []float64{cd - p.cd, cl - p.cl} {
			if !math.IsNaN(d) {
				sum[i], n[i] = sum[i]+d*d, n[i]+1
			}
		}
	}
	return math.Sqrt(sum[0] / n[0]), math.Sqrt(sum[1] / n[1])
}

// flyFit prints the published points that are at hand, how far the default is
// from each, and what fits of its form to them would be by six criteria, plain
// and scaled on the practice cases. The default was fitted to 27 points, of
// which these are the ones whose numbers can be read here, so none of the fits
// is the default; name, if any, is a file of measured drives on which all are
// then tried, none having been chosen by it.
func flyFit(w io.Writer, name string) error {
	ps, err := aeroPoints()
	if err != nil {
		return err
	}
	list, err := flightCases()
	if err != nil {
		return err
	}
	var drives []drive
	if name != "" {
		if drives, err = readDrives(name); err != nil {
			return err
		}
	}
	fmt.Fprintf(w, "%-50s %6s %6s %8s %8s %8s %8s\n", "point", "Re/1e5", "S", "CD", "default", "CL", "default")
	text := func(v float64) string {
		if math.IsNaN(v) {
			return "-"
		}
		return fmt.Sprintf("%.3f", v)
	}
	for _, p := range ps {
		cd, cl := flight.Compromise{}.Coefficients(p.r, p.s)
		fmt.Fprintf(w, "%-50s %6.2f %6.3f %8s %8.3f %8s %8.3f\n", p.source, p.r, p.s, text(p.cd), cd, text(p.cl), cl)
	}
	fmt.Fprintf(w, "\nCD = A + D R + B S, CL = a + b S + c S^2 - .0122/R^2 and what they give: rms at the points, cases inside of %d, carry for 500 rpm more\n%-46s %7s %7s %7s %8s %7s %8s %6s %6s %6s %6s\n",
		len(list), "fit", "A", "D", "B", "a", "b", "c", "CD", "CL", "cases", "yd")
	line := func(what string, f flight.Form) error {
		drag, lift := off(f, ps)
		got, inside := computed(f), 0
		for _, c := range list {
			if math.Abs(got[c.name]-c.expected) <= c.tolerance {
				inside++
			}
		}
		fmt.Fprintf(w, "%-46s %7.4f %7.4f %7.4f %8.4f %7.4f %8.4f %6.3f %6.3f %6d %+6.1f\n", what, f.DragA, f.DragR, f.DragS, f.LiftA, f.LiftS, f.LiftSS, drag, lift, inside, got[spinSweep])
		names, of := byClass(drives)
		for _, c := range names {
			m, err := misses(of[c], session{env: flight.Env{Model: flight.Of(f)}})
			if err != nil {
				return err
			}
			fmt.Fprintf(w, "    drives %s:", c)
			for q, how := range flightErrors[:quantities-1] {
				fmt.Fprintf(w, "  %s %+.2f %.2f %.2f %s", how.name, m[q].bias, m[q].median, m[q].rms, how.unit)
			}
			fmt.Fprintln(w)
		}
		return nil
	}
	both := func(what string, f flight.Form) error {
		if err := line(what, f); err != nil {
			return err
		}
		drag, lift, err := onPractice(f, list)
		if err != nil {
			return err
		}
		return line(fmt.Sprintf("  scaled on P1-P4: drag %.3f, lift %.3f", drag, lift), scaled(f, drag, lift))
	}
	if err := both("the default", flight.Compromise{}.Fitted()); err != nil {
		return err
	}
	for _, how := range criteria {
		f, err := fitted(ps, how)
		if err != nil {
			return err
		}
		if err := both(how.name, f); err != nil {
			return err
		}
	}
	return nil
}
