package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"ferrule/core/air"
	"ferrule/core/flight"
	"ferrule/core/units"
)

// drive is a measured flight: a row of a file like testdata/measured/drives.csv.
type drive struct {
	class    string
	at       int // among those of its class
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

func readCSV(name string) ([][]string, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return rows, nil
}

func readDrives(name string) (ds []drive, err error) {
	rows, err := readCSV(name)
	if err != nil {
		return nil, err
	}
	if len(rows) < 2 || !slices.Equal(rows[0], measuredColumns) {
		return nil, fmt.Errorf("%s:1: expected the columns %v and at least one row", name, measuredColumns)
	}
	count := map[string]int{}
	for i, r := range rows[1:] {
		v := make([]float64, len(r))
		for k := 1; k < len(r); k++ {
			if v[k], err = strconv.ParseFloat(r[k], 64); err != nil || math.IsNaN(v[k]) || math.IsInf(v[k], 0) {
				return nil, fmt.Errorf("%s:%d: %s: read %q, expected a number", name, i+2, measuredColumns[k], r[k])
			}
		}
		d := drive{class: r[0], at: count[r[0]], launch: trade(v[1], v[2], v[4])}
		count[d.class]++
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

func misses(ds []drive, in session) (out [quantities]miss, err error) {
	for q, how := range flightErrors {
		sizes := make([]float64, len(ds))
		m := &out[q]
		for i, d := range ds {
			g, err := in.fly(d)
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
	descent, time := d.measured[3]*units.Degree, d.measured[4]
	return flight.Observation{Launch: d.launch, Block: d.at, Carry: &carry, Offline: &offline, Apex: &apex, Descent: &descent, Time: &time}
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

// flyMeasured prints how far the model's flights are from measured ones, class by
// class of ball: untuned, beside what a flexible regression of the same columns
// reaches (floors.csv beside the file, if it is there); what the residuals go with;
// slow swings; and what calibrating to a part of a class does to the rest.
func flyMeasured(w io.Writer, name string, model flight.Model) error {
	ds, err := readDrives(name)
	if err != nil {
		return err
	}
	floors, err := readFloors(filepath.Join(filepath.Dir(name), "floors.csv"))
	if err != nil {
		return err
	}
	names, of := byClass(ds)
	e := flight.Env{Model: model}
	fmt.Fprintf(w, "computed less measured: bias, median miss, rms; the air taken as standard; model %s untuned\n%-26s %4s", model.Aero.Facts().Key, "class", "n")
	for _, q := range flightErrors {
		fmt.Fprintf(w, "  %-18s", q.name+" ["+q.unit+"]")
	}
	fmt.Fprintln(w)
	for _, c := range names {
		m, err := misses(of[c], session{env: e})
		if err != nil {
			return err
		}
		missLine(w, c, len(of[c]), m)
		if f, ok := floors[c]; ok {
			fmt.Fprintf(w, "%-26s %4s", "  by regression alone", "")
			for _, rms := range f {
				fmt.Fprintf(w, "  %18.2f", rms)
			}
			fmt.Fprintln(w, "  (five folds, testdata/measured/floors.py)")
		}
		if len(names) > 1 {
			if err := flyDevice(w, c, names, of, e); err != nil {
				return err
			}
		}
	}
	if err := flyResiduals(w, names, of, e); err != nil {
		return err
	}
	if err := flySlow(w, names, of); err != nil {
		return err
	}
	for _, part := range []struct {
		learn int
		say   string
	}{{1, "after calibrating to a fifth of a class (every fifth ball, five turns), the other four fifths:"},
		{4, "after calibrating to four fifths of a class (five folds), the fifth left out:"}} {
		fmt.Fprintln(w, "\n"+part.say)
		for _, c := range names {
			if err := calibrated(w, c, of[c], e, part.learn); err != nil {
				return err
			}
		}
	}
	return nil
}

// flyDevice prints a class flown by the mean ball with what the other classes say of
// the device: the mean of their zeros of launch and of their lift to a side. None of
// the class' own flights is used.
func flyDevice(w io.Writer, class string, names []string, of map[string][]drive, e flight.Env) error {
	in, n := session{env: e}, float64(len(names)-1)
	var side flight.Traits
	for _, other := range names {
		if other == class {
			continue
		}
		var seen []flight.Observation
		for _, d := range of[other] {
			seen = append(seen, d.observed())
		}
		fit, err := flight.Calibrate(seen, e, unknownDay(len(of[other])))
		if err != nil {
			return err
		}
		in.launch += fit.LaunchZero / n
		side[flight.TraitCurve] += fit.Traits[flight.TraitCurve] / n
	}
	in.env.Model = e.Model.With(side)
	m, err := misses(of[class], in)
	if err != nil {
		return err
	}
	missLine(w, "  device of other classes", len(of[class]), m)
	fmt.Fprintf(w, "    launch printed %.2f deg too low, lift to a side times %.2f\n", -in.launch/units.Degree, in.env.Model.Curve)
	return nil
}

func missLine(w io.Writer, what string, n int, m [quantities]miss) {
	fmt.Fprintf(w, "%-26s %4d", what, n)
	for q := range m {
		fmt.Fprintf(w, "  %+6.2f %5.2f %5.2f", m[q].bias, m[q].median, m[q].rms)
	}
	fmt.Fprintln(w)
}

// readFloors reads what floors.py wrote; no file is no floors.
func readFloors(name string) (map[string][4]float64, error) {
	rows, err := readCSV(name)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	out := map[string][4]float64{}
	for i, r := range rows[1:] {
		var v [4]float64
		for q := range v {
			if v[q], err = strconv.ParseFloat(r[2+2*q], 64); err != nil {
				return nil, fmt.Errorf("%s:%d: %w", name, i+2, err)
			}
		}
		out[r[0]] = v
	}
	return out, nil
}

// calibrated prints what calibrating to some fifths of a class does to the rest:
// the first turn, its ball, and all turns together.
func calibrated(w io.Writer, class string, ds []drive, e flight.Env, fifthsLearnt int) error {
	var all [2][quantities]miss
	for turn := range fifths {
		learn, rest := fifth(ds, turn)
		if fifthsLearnt > 1 {
			learn, rest = rest, learn
		}
		var seen []flight.Observation
		for _, d := range learn {
			seen = append(seen, d.observed())
		}
		fit, err := flight.Calibrate(seen, e, unknownDay(len(ds)))
		if err != nil {
			return err
		}
		for k, session := range []session{{env: e}, sessionOf(fit)} {
			x, err := misses(rest, session)
			if err != nil {
				return err
			}
			for q := range x {
				t := &all[k][q]
				share := float64(len(rest)) / float64(len(ds)) / float64(max(1, fifths-fifthsLearnt))
				t.bias, t.median, t.rms = t.bias+share*x[q].bias, t.median+share*x[q].median, t.rms+share*x[q].rms*x[q].rms
			}
		}
		if turn == 0 {
			sayCalibration(w, class, fit, len(learn))
		}
	}
	for k, x := range all {
		for q := range x {
			x[q].rms = math.Sqrt(x[q].rms)
		}
		missLine(w, class+[2]string{" mean ball", " adjusted"}[k]+", all turns", len(ds), x)
	}
	return nil
}

// session is what a class of drives was hit in: the air, the ball, the device's zeros.
type session struct {
	env                     flight.Env
	winds                   []flight.BlockWind // of each drive of the class; none: the air of env
	direction, axis, launch float64            // [rad] what the device prints too far right, too high
}

func (s session) fly(d drive) (flight.Landing, error) {
	l, e := d.launch, s.env
	l.Direction -= s.direction
	l.Axis -= s.axis
	l.Angle -= s.launch
	if len(s.winds) > 0 {
		e.Air = s.winds[d.at].In(e.Air)
	}
	return flight.Fly(l, e)
}

// unknownDay is what is believed of the day and the device of a class of n drives:
// nothing is stated, so a light wind from anywhere (a gentle breeze has 3.4 to 5.4
// m/s at 10 m on Beaufort's scale), gusts of a third of it about it, and zeros as a
// careful set-up leaves them (our own choice). Nobody says that a class was hit on one
// day: a file is in the order of its balls, and the wind goes on from a drive to the
// one below it, half of it for 34 drives (our own choice; from 20 to 70 the folds of
// testdata/measured differ by .2 yd at most).
func unknownDay(n int) flight.Prior {
	p := flight.Prior{Drift: .98, DirectionSD: .5 * units.Degree, AxisSD: 1 * units.Degree, LaunchSD: .5 * units.Degree}
	for range n {
		p.Blocks = append(p.Blocks, flight.WindPrior{HeadSD: 2.5, CrossSD: 2.5, Gust: 1})
	}
	return p
}

func sessionOf(c flight.Calibration) session {
	return session{flight.Env{Model: c.Model, Air: air.Standard()}, c.Blocks, c.DirectionZero, c.AxisZero, c.LaunchZero}
}

func sayCalibration(w io.Writer, class string, c flight.Calibration, balls int) {
	sd := func(i int) float64 { return math.Sqrt(c.Cov[i][i]) }
	t := c.Traits
	fmt.Fprintf(w, "%s, first turn, from %d balls, %.1f taken:", class, balls, c.Taken)
	for i, name := range traitNames {
		fmt.Fprintf(w, " %s %+.3f ± %.3f", name, t[i], sd(i))
	}
	fmt.Fprintln(w)
	n := float64(len(c.Blocks))
	var least, most flight.Wind
	var doubt, ball [2]float64
	for i, b := range c.Blocks {
		if i == 0 {
			least, most = b.Wind, b.Wind
		}
		least = flight.Wind{Head: min(least.Head, b.Head), Cross: min(least.Cross, b.Cross)}
		most = flight.Wind{Head: max(most.Head, b.Head), Cross: max(most.Cross, b.Cross)}
		doubt[0], doubt[1] = doubt[0]+b.HeadSD/n, doubt[1]+b.CrossSD/n
		ball[0], ball[1] = ball[0]+100*b.Ball[0]/n, ball[1]+100*b.Ball[1]/n
	}
	fmt.Fprintf(w, "    wind: head %+.1f to %+.1f ± %.1f m/s (%.0f %% of its doubt is the ball's), cross %+.1f to %+.1f ± %.1f m/s (%.0f %%); the device's zeros: direction %+.2f ± %.2f, axis %+.1f ± %.1f, launch %+.2f ± %.2f deg\n",
		least.Head, most.Head, doubt[0], ball[0], least.Cross, most.Cross, doubt[1], ball[1], c.DirectionZero/units.Degree, c.DirectionSD/units.Degree, c.AxisZero/units.Degree, c.AxisSD/units.Degree, c.LaunchZero/units.Degree, c.LaunchSD/units.Degree)
	fmt.Fprintf(w, "    errors: carry %.1f yd, offline %.1f yd, apex %.1f ft, descent %.1f deg, time %.2f s\n",
		c.Errors[0]/units.Yard, c.Errors[1]/units.Yard, c.Errors[2]/units.Foot, c.Errors[3]/units.Degree, c.Errors[4])
}

var traitNames = [flight.NumTraits]string{"drag", "lift", "curve", "drag by spin", "lift by spin", "loss at low speed", "decay"}
