package charttest

import (
	"ferrule/core/report"
)

// gains fills what each setting gains and how its drives end, in the unit of
// the one result.
func gains(r *report.Report) {
	for i := range r.Settings {
		s := &r.Settings[i]
		d := s.Difference.Minus()
		for _, v := range []*float64{&d.Mean, &d.Lo50, &d.Hi50, &d.Lo80, &d.Hi80, &d.Lo95, &d.Hi95} {
			*v *= r.Answer.Round
		}
		s.Gain = report.Worth{Unit: r.Answer.Gain.Unit, Value: d}
		s.Moved, s.Still, s.Counts = s.Gain, s.Gain, place(*s).Counts
	}
}
