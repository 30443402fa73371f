package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"

	"ferrule/core/flight"
	"ferrule/core/units"
)

// drive is a measured flight: a row of a file like testdata/measured/drives.csv.
type drive struct {
	class    string
	launch   flight.Launch
	measured [quantities]float64 // in the units of flightErrors
}

// The quantities of a flight that are compared.
const quantities = 5

var flightErrors = [quantities]struct {
	name, unit string
	of         func(flight.Landing) float64
}{
	{"carry", "yd", func(g flight.Landing) float64 { return g.Distance() / units.Yard }},
	{"offline", "yd", func(g flight.Landing) float64 { return g.Offline / units.Yard }},
	{"apex", "ft", func(g flight.Landing) float64 { return g.Apex / units.Foot }},
	{"descent", "deg", func(g flight.Landing) float64 { return g.Descent / units.Degree }},
	{"time", "s", func(g flight.Landing) float64 { return g.Time }},
}

// measuredColumns are the header of such a file.
var measuredColumns = []string{"ball_class", "ball_speed_mph", "launch_deg", "launch_direction_deg", "spin_rpm", "spin_axis_deg", "carry_yd", "offline_yd", "apex_ft", "descent_deg", "time_s"}

func readDrives(name string) (ds []drive, err error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(rows) < 2 || !slices.Equal(rows[0], measuredColumns) {
		return nil, fmt.Errorf("%s:1: expected the columns %v and at least one row", name, measuredColumns)
	}
	for i, r := range rows[1:] {
		v := make([]float64, len(r))
		for k := 1; k < len(r); k++ {
			if v[k], err = strconv.ParseFloat(r[k], 64); err != nil || math.IsNaN(v[k]) || math.IsInf(v[k], 0) {
				return nil, fmt.Errorf("%s:%d: %s: read %q, expected a number", name, i+2, measuredColumns[k], r[k])
			}
		}
		d := drive{class: r[0], launch: trade(v[1], v[2], v[4])}
		d.launch.Direction, d.launch.Axis = v[3]*units.Degree, v[5]*units.Degree
		copy(d.measured[:], v[6:])
		if err := d.launch.Validate(); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, i+2, err)
		}
		ds = append(ds, d)
	}
	return ds, nil
}

// miss is bias, median of the sizes and root mean square of errors.
type miss struct{ bias, median, rms float64 }

func misses(ds []drive, e flight.Env) (out [quantities]miss, err error) {
	for q, how := range flightErrors {
		sizes := make([]float64, len(ds))
		m := &out[q]
		for i, d := range ds {
			g, err := flight.Fly(d.launch, e)
			if err != nil {
				return out, err
			}
			x := how.of(g) - d.measured[q]
			m.bias, m.rms = m.bias+x, m.rms+x*x
			sizes[i] = math.Abs(x)
		}
		slices.Sort(sizes)
		n := float64(len(ds))
		m.bias, m.rms, m.median = m.bias/n, math.Sqrt(m.rms/n), sizes[len(ds)/2]
	}
	return out, nil
}

// fifths is into how many parts a class is dealt: one is calibrated on, the
// others are the test, each part in turn.
const fifths = 5

// fifth splits drives as a session would: every fifth, beginning with turn, is
// calibrated on, the others are the test.
func fifth(ds []drive, turn int) (learn, rest []drive) {
	for i, d := range ds {
		if i%fifths == turn {
			learn = append(learn, d)
		} else {
			rest = append(rest, d)
		}
	}
	return learn, rest
}

func (d drive) observed() flight.Observation {
	carry, offline, apex := d.measured[0]*units.Yard, d.measured[1]*units.Yard, d.measured[2]*units.Foot
	return flight.Observation{Launch: d.launch, Carry: &carry, Offline: &offline, Apex: &apex}
}

func byClass(ds []drive) (names []string, of map[string][]drive) {
	of = map[string][]drive{}
	for _, d := range ds {
		if of[d.class] == nil {
			names = append(names, d.class)
		}
		of[d.class] = append(of[d.class], d)
	}
	slices.Sort(names)
	return names, of
}

// flyMeasured prints how far the model's flights are from measured ones: the
// untuned default for each class of ball, then, after calibrating to every
// fifth ball of a class, default and calibrated ball on the other four fifths.
func flyMeasured(w io.Writer, name string, model flight.Model) error {
	ds, err := readDrives(name)
	if err != nil {
		return err
	}
	names, of := byClass(ds)
	line := func(what string, n int, m [quantities]miss) {
		fmt.Fprintf(w, "%-26s %4d", what, n)
		for q := range m {
			fmt.Fprintf(w, "  %+6.2f %5.2f %5.2f", m[q].bias, m[q].median, m[q].rms)
		}
		fmt.Fprintln(w)
	}
	e := flight.Env{Model: model}
	fmt.Fprintf(w, "computed less measured: bias, median miss, rms; the air taken as standard; model %s untuned\n%-26s %4s", model.Aero.Facts().Key, "class", "n")
	for _, q := range flightErrors {
		fmt.Fprintf(w, "  %-18s", q.name+" ["+q.unit+"]")
	}
	fmt.Fprintln(w)
	for _, c := range names {
		m, err := misses(of[c], e)
		if err != nil {
			return err
		}
		line(c, len(of[c]), m)
	}
	fmt.Fprintln(w, "\nafter calibrating to a fifth of a class (every fifth ball, five turns), the other four fifths:")
	for _, c := range names {
		if err := calibrated(w, c, of[c], e, line); err != nil {
			return err
		}
	}
	return nil
}

// calibrated prints what calibrating to a fifth of a class does to the rest:
// the first turn, its ball, and all turns together.
func calibrated(w io.Writer, class string, ds []drive, e flight.Env, line func(string, int, [quantities]miss)) error {
	var all [2][quantities]miss
	for turn := range fifths {
		learn, rest := fifth(ds, turn)
		var seen []flight.Observation
		for _, d := range learn {
			seen = append(seen, d.observed())
		}
		m, fit, err := flight.Calibrate(seen, e)
		if err != nil {
			fmt.Fprintf(w, "%s, turn %d: %v\n", class, turn+1, err)
			m = e.Model
		}
		for k, ball := range []flight.Model{e.Model, m} {
			x, err := misses(rest, flight.Env{Model: ball})
			if err != nil {
				return err
			}
			if turn == 0 {
				line(class+[2]string{" published", " adjusted, first turn"}[k], len(rest), x)
			}
			for q := range x {
				t := &all[k][q]
				t.bias, t.median, t.rms = t.bias+x[q].bias/fifths, t.median+x[q].median/fifths, t.rms+x[q].rms*x[q].rms/fifths
			}
		}
		if turn == 0 {
			fmt.Fprintf(w, "    from %d balls: drag x %.3f ± %.3f, lift x %.3f ± %.3f, spin's share of drag x %.2f ± %.2f, curve x %.2f ± %.2f\n",
				len(learn), m.KD, fit.SD[0], m.KL, fit.SD[1], m.KS, fit.SD[2], m.Curve, fit.CurveSD)
		}
	}
	for k, x := range all {
		for q := range x {
			x[q].rms = math.Sqrt(x[q].rms)
		}
		line(class+[2]string{" published", " adjusted"}[k]+", all turns", len(ds), x)
	}
	return nil
}
