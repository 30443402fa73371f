package share

import (
	"math"

	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Range is an estimate with the range that holds 8 times in 10.
type Range struct {
	Mean float64 // [SI]
	Lo   float64 // [SI]
	Hi   float64 // [SI]
}

// Side is what one setting does, for the two that a summary speaks of.
type Side struct {
	Label   string  // the user's labels, joined
	Carry   float64 // [m]
	Offline float64 // [m] right +
	Fairway float64 // [1]
	Right   float64 // [1] chance of a ball too far right
	Left    float64 // [1]
}

// Summary is the answer in a few numbers: what a link shows before anything
// is computed. A small script of the site reads it too (pwa/peek.js); one test
// pins both.
type Summary struct {
	Hand     frame.Hand
	Head     string // the user's name of the club
	Verdict  report.Verdict
	Keep     bool // the answer is: leave the club as it is
	Choice   Side
	Before   Side
	Loft     float64 // [rad] of the choice with the face square, against the untilted sleeve
	Lie      float64 // [rad] upright +
	Face     float64 // [rad] soled, open +
	Known    bool    // Loft, Lie and Face were described
	Gain     Range   // [strokes] a drive, positive = better
	Carry    Range   // [m] against before
	Sure     float64 // [1] chance that the choice beats the setting before
	Balls    int     // counted
	Tested   int     // settings hit
	Settings int     // settings possible
	Seed     uint64  // of the analysis; the same seed gives the same report
}

var verdicts = []report.Verdict{report.CannotTell, report.Leaning, report.Likely, report.Clear}

// Summarise takes the summary out of a report. A report without settings or
// choice gives an error.
func Summarise(r report.Report) (Summary, error) {
	c, ref := r.Choice.Setting, r.Reference
	if c < 0 || c >= len(r.Settings) || ref < 0 || ref >= len(r.Settings) {
		return Summary{}, errNoChoice
	}
	chosen := r.Settings[c]
	s := Summary{Hand: r.Hand, Head: r.Head, Verdict: r.Choice.Verdict, Keep: r.Choice.Keep,
		Choice: side(chosen), Before: side(r.Settings[ref]),
		Loft: chosen.Change.LoftSquare, Lie: chosen.Change.Upright, Face: chosen.Change.FaceSoled, Known: !chosen.Change.Unknown,
		Gain:  Range{r.Choice.Gain.Mean, r.Choice.Gain.Lo80, r.Choice.Gain.Hi80},
		Carry: Range{r.Choice.Yards.Mean, r.Choice.Yards.Lo80, r.Choice.Yards.Hi80},
		Sure:  r.Choice.Sure, Balls: r.Balls, Settings: len(r.Settings), Seed: r.Seed}
	for _, x := range r.Settings {
		if x.Tested {
			s.Tested++
		}
	}
	return s, nil
}

func side(s report.Setting) Side {
	out := Side{Label: s.Setting.Key(), Fairway: s.PFairway, Right: s.PRight, Left: s.PLeft}
	if a, ok := s.Of(shot.Carry); ok {
		out.Carry = a.Value.Mean
	}
	if a, ok := s.Of(shot.Offline); ok {
		out.Offline = a.Value.Mean
	}
	return out
}

// Steps of the summary's numbers.
const (
	stepAngle   = 0.1 * units.Degree // [rad]
	stepStrokes = 0.002              // [strokes] a drive
	stepCarry   = 0.25               // [m]
)

func (s Summary) write(w out) error {
	w.bool(s.Hand == frame.Left)
	v := 0
	for i, x := range verdicts {
		if x == s.Verdict {
			v = i
		}
	}
	w.put(uint64(v), 2)
	w.bool(s.Keep)
	w.bool(s.Known)
	w.text(s.Head)
	same := s.Choice.Label == s.Before.Label
	w.bool(same)
	sides := []Side{s.Before, s.Choice}
	if same {
		sides = sides[:1]
	}
	for _, x := range sides {
		w.text(x.Label)
		for _, p := range []float64{x.Fairway, x.Right, x.Left} {
			w.put(percent(p), 7)
		}
		if err := first(w.fixed(x.Carry, stepCarry, 9), w.fixed(x.Offline, stepCarry, 5)); err != nil {
			return err
		}
	}
	if s.Known {
		if err := first(w.fixed(s.Loft, stepAngle, 4), w.fixed(s.Lie, stepAngle, 4), w.fixed(s.Face, stepAngle, 4)); err != nil {
			return err
		}
	}
	if !same {
		for _, x := range []float64{s.Gain.Mean, s.Gain.Lo, s.Gain.Hi} {
			if err := w.fixed(x, stepStrokes, 5); err != nil {
				return err
			}
		}
		for _, x := range []float64{s.Carry.Mean, s.Carry.Lo, s.Carry.Hi} {
			if err := w.fixed(x, stepCarry, 4); err != nil {
				return err
			}
		}
	}
	w.put(percent(s.Sure), 7)
	for _, n := range []int{s.Balls, s.Tested, s.Settings} {
		w.golomb(uint64(max(n, 0)), 4)
	}
	w.golomb(s.Seed>>44, 0) // most seeds are small: the high part costs one bit
	w.golomb(s.Seed&(1<<44-1), 4)
	return nil
}

func readSummary(r in) *Summary {
	s := &Summary{Hand: frame.Right}
	if r.bool() {
		s.Hand = frame.Left
	}
	s.Verdict = verdicts[r.get(2)]
	s.Keep, s.Known = r.bool(), r.bool()
	s.Head = r.text()
	same := r.bool()
	read := func() (x Side) {
		x.Label = r.text()
		for _, p := range []*float64{&x.Fairway, &x.Right, &x.Left} {
			*p = r.percent()
		}
		x.Carry, x.Offline = r.fixed(stepCarry, 9), r.fixed(stepCarry, 5)
		return x
	}
	s.Before = read()
	s.Choice = s.Before
	if !same {
		s.Choice = read()
	}
	if s.Known {
		s.Loft, s.Lie, s.Face = r.fixed(stepAngle, 4), r.fixed(stepAngle, 4), r.fixed(stepAngle, 4)
	}
	if !same {
		s.Gain = Range{r.fixed(stepStrokes, 5), r.fixed(stepStrokes, 5), r.fixed(stepStrokes, 5)}
		s.Carry = Range{r.fixed(stepCarry, 4), r.fixed(stepCarry, 4), r.fixed(stepCarry, 4)}
	}
	s.Sure = r.percent()
	s.Balls, s.Tested, s.Settings = int(r.golomb(4)), int(r.golomb(4)), int(r.golomb(4))
	high := r.golomb(0)
	s.Seed = high<<44 | r.golomb(4)
	return s
}

// percent is a chance in hundredths; the ends are kept for what is certain.
func percent(p float64) uint64 {
	n := math.Round(100 * math.Max(0, math.Min(1, p)))
	if math.IsNaN(p) {
		return 0
	}
	if n == 100 && p < 1 {
		n = 99
	}
	if n == 0 && p > 0 {
		n = 1
	}
	return uint64(n)
}

func (r in) percent() float64 {
	n := r.get(7)
	if n > 100 {
		r.fail("a chance of %d %%", n)
	}
	return float64(n) / 100
}

func first(errs ...error) error {
	for _, e := range errs {
		if e != nil {
			return e
		}
	}
	return nil
}
