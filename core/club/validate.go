package club

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/message"
	"ferrule/core/units"
)

// FieldError is one thing wrong with a description, at the field where it
// stands: "sleeve.rings[0].tilt_deg", in the names of CLUB.json.
type FieldError struct {
	Field   string
	Message message.Message // what was read and what is expected
}

// FieldErrors lists everything wrong with a description, all at once.
type FieldErrors []FieldError

// Error joins the messages, one a line.
func (e FieldErrors) Error() string {
	lines := make([]string, len(e))
	for i, f := range e {
		lines[i] = f.Field + ": " + f.Message.String()
	}
	return strings.Join(lines, "\n")
}

// Message is the same in no language yet.
func (e FieldErrors) Message() (all message.Message) {
	for i, f := range e {
		one := message.Of("problem.named", strconv.Quote(f.Field), f.Message)
		if all = message.Of("problem.both", all, one); i == 0 {
			all = one
		}
	}
	return all
}

// Limits of what is taken for a club. Sizes are the rules' (head at most 5 in
// heel to toe [RandA-Guide, chapter 7]) with room for odd clubs; the rest is
// common practice, no source.
const (
	minLoft, maxLoft   = 3.0, 50.0   // [deg]
	minLie, maxLie     = 45.0, 75.0  // [deg]
	maxFace            = 10.0        // [deg]
	minMass, maxMass   = 100.0, 400. // [g]
	maxTilt            = 5.0         // [deg] of one ring
	maxPositions       = 72
	maxTableAngle      = 8.0   // [deg] of one printed change
	maxToe             = 70.0  // [mm] from the middle
	maxBack            = 130.0 // [mm]
	maxWeight          = 100.0 // [g]
	maxSettings        = 6000  // an analysis of so many takes seconds, and nobody compares more
	maxWeights         = 4
	maxStops           = 60       // of one weight
	minLength, maxLen  = 0.6, 1.4 // [m]
	maxShaft, maxGrip  = 200., 200.
	minTotal, maxTotal = 150., 700. // [g]
)

// checker gathers errors.
type checker struct{ errs FieldErrors }

func (c *checker) add(field, key string, places ...any) {
	c.errs = append(c.errs, FieldError{field, message.Of(key, places...)})
}

// within checks one number given in the unit of the field's name.
func (c *checker) within(field string, v, lo, hi float64, unit any) {
	if math.IsNaN(v) || math.IsInf(v, 0) || v < lo-1e-9 || v > hi+1e-9 {
		c.add(field, "problem.range", fmt.Sprintf("%.4g", v), unit, lo, hi, unit)
	}
}

// Validate checks a description and returns nil or FieldErrors with
// everything that is wrong in it, by field.
func (h Head) Validate() error {
	c := &checker{}
	switch h.Kind {
	case "", Driver, Fairway, Hybrid:
	default:
		c.add("kind", "problem.one-of", strconv.Quote(h.Kind), quoted([]string{Driver, Fairway, Hybrid}))
	}
	switch h.Hold {
	case "", HoldSoled, HoldSquare, HoldBetween:
	default:
		c.add("hold", "problem.one-of", strconv.Quote(h.Hold), quoted([]string{HoldSoled, HoldSquare, HoldBetween}))
	}
	c.within("loft_deg", h.Loft/units.Degree, minLoft, maxLoft, "°")
	if h.MeasuredLoft != nil {
		c.within("measured_loft_deg", *h.MeasuredLoft/units.Degree, minLoft, maxLoft, "°")
	}
	c.within("lie_deg", h.Lie/units.Degree, minLie, maxLie, "°")
	c.within("face_deg", h.Face/units.Degree, -maxFace, maxFace, "°")
	c.within("head_mass_g", h.Mass/units.Gram, minMass, maxMass, "g")
	c.sleeve(h.Sleeve)
	c.weights(h)
	c.shaft(h.Shaft)
	if len(c.errs) == 0 { // the rest needs a geometry that works
		c.combinations(h)
	}
	if len(c.errs) > 0 {
		return c.errs
	}
	return nil
}

func (c *checker) sleeve(s Sleeve) {
	if len(s.Rings) > 0 && len(s.Table) > 0 {
		c.add("sleeve", "problem.sleeve-both")
	}
	if len(s.Rings) > 2 {
		c.add("sleeve.rings", "problem.rings", len(s.Rings))
	}
	count := 1
	for i, r := range s.Rings {
		field := fmt.Sprintf("sleeve.rings[%d].", i)
		if len(s.Rings) == 1 {
			field = "sleeve."
		}
		c.within(field+"tilt_deg", r.Tilt/units.Degree, 0, maxTilt, "°")
		if !(r.Tilt > 0) && r.Tilt == 0 {
			c.add(field+"tilt_deg", "problem.tilt")
		}
		if r.Positions < 1 || r.Positions > maxPositions {
			c.add(field+"positions", "problem.positions", r.Positions, maxPositions)
		}
		c.within(field+"offset_deg", r.Offset/units.Degree, -360, 360, "°")
		count *= max(r.Positions, 0)
	}
	if n := len(s.Labels); n > 0 && len(s.Rings) > 0 && n != count {
		c.add("sleeve.labels", "problem.labels", n, count)
	}
	if len(s.Labels) > 0 && len(s.Rings) == 0 && len(s.Table) == 0 {
		c.add("sleeve.labels", "problem.labels-alone")
	}
	if len(s.Table) > maxPositions {
		c.add("sleeve.table", "problem.at-most", len(s.Table), maxPositions)
		return
	}
	c.unique("sleeve.labels", s.Labels)
	var labels []string
	for i, p := range s.Table {
		field := fmt.Sprintf("sleeve.table[%d].", i)
		c.within(field+"loft_deg", p.Loft/units.Degree, -maxTableAngle, maxTableAngle, "°")
		c.within(field+"lie_deg", p.Lie/units.Degree, -maxTableAngle, maxTableAngle, "°")
		c.within(field+"face_deg", p.Face/units.Degree, -maxTableAngle, maxTableAngle, "°")
		labels = append(labels, p.Label)
	}
	c.unique("sleeve.table", labels)
}

// unique finds empty labels and labels given twice.
func (c *checker) unique(field string, labels []string) {
	seen := map[string]int{}
	for i, l := range labels {
		k := Plain(l)
		if k == "" {
			c.add(fmt.Sprintf("%s[%d]", field, i), "problem.no-label")
			continue
		}
		if j, twice := seen[k]; twice {
			c.add(fmt.Sprintf("%s[%d]", field, i), "problem.same-label", strconv.Quote(l), j+1)
			continue
		}
		seen[k] = i
	}
}

func (c *checker) weights(h Head) {
	total := 0.0
	if len(h.Weights) > maxWeights {
		c.add("weights", "problem.weights", len(h.Weights), maxWeights)
	}
	for i, w := range h.Weights {
		field := fmt.Sprintf("weights[%d].", i)
		c.within(field+"mass_g", w.Mass/units.Gram, 0, maxWeight, "g")
		if len(w.Stops) == 0 {
			c.add(field+"stops", "problem.no-stop")
		}
		if len(w.Stops) > maxStops {
			c.add(field+"stops", "problem.stops", len(w.Stops), maxStops)
		}
		heaviest := 0.0
		for j, s := range w.Stops {
			at := fmt.Sprintf("%sstops[%d].", field, j)
			c.within(at+"toe_mm", s.Toe/units.Millimetre, -maxToe, maxToe, "mm")
			c.within(at+"back_mm", s.Back/units.Millimetre, -maxBack, maxBack, "mm")
			c.within(at+"mass_g", s.Mass/units.Gram, 0, maxWeight, "g")
			if s.Mass == 0 && w.Mass == 0 {
				c.add(at+"mass_g", "problem.no-mass")
			}
			heaviest = max(heaviest, w.massAt(s))
		}
		c.unique(field+"stops", w.labels())
		total += heaviest
	}
	if h.Mass > 0 && total >= 0.5*h.Mass {
		c.add("weights", "problem.heavy", fmt.Sprintf("%.4g", total/units.Gram), fmt.Sprintf("%.4g", h.Mass/units.Gram))
	}
}

func (c *checker) shaft(s Shaft) {
	if s.Length != 0 {
		c.within("shaft.length_in", s.Length/units.Inch, math.Ceil(minLength/units.Inch), math.Floor(maxLen/units.Inch), "in")
	}
	c.within("shaft.mass_g", s.Mass/units.Gram, 0, maxShaft, "g")
	c.within("shaft.grip_mass_g", s.GripMass/units.Gram, 0, maxGrip, "g")
	c.within("shaft.balance", s.Balance, 0, 1, message.Of("problem.of-length"))
	if s.TotalMass != 0 {
		c.within("shaft.total_mass_g", s.TotalMass/units.Gram, minTotal, maxTotal, "g")
	}
}

func (c *checker) combinations(h Head) {
	if h.combinations() > maxSettings { // counted before they are listed
		c.add("weights", "problem.combinations", maxSettings)
		return
	}
	l := h.listing()
	labels := l.labels
	known := func(field, label string, all []string) {
		if slices.Contains(all, label) {
			return
		}
		if label != "" {
			c.add(field, "problem.one-of", strconv.Quote(label), quoted(all))
		}
	}
	check := func(field string, s Setting) {
		known(field+"sleeve", s.Sleeve, labels)
		if len(s.Weights) > len(h.Weights) {
			c.add(field+"weights", "problem.labels-weights", len(s.Weights), len(h.Weights))
			return
		}
		for i, l := range s.Weights {
			known(fmt.Sprintf("%sweights[%d]", field, i), l, h.Weights[i].labels())
		}
	}
	check("current.", h.Current)
	for i, x := range h.Exclude {
		field := fmt.Sprintf("exclude[%d].", i)
		check(field, x)
		if strings.Join(append([]string{x.Sleeve}, x.Weights...), "") == "" {
			c.add(strings.TrimSuffix(field, "."), "problem.no-exclude")
		}
	}
	if len(c.errs) > 0 {
		return
	}
	if s, ok := l.start(); ok && h.excluded(s) {
		c.add("current", "problem.excluded", strconv.Quote(s.Key()))
	}
}
