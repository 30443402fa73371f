package text

import (
	"strings"

	"ferrule/core/units"
)

// Plain writes an SI value in the reader's unit without the unit's symbol, as
// an input field shows it. digits < 0 takes up to two decimals and no zeros
// behind the last digit that counts.
func (r Reader) Plain(v float64, d units.Dimension, digits int) string {
	u := r.System.Unit(d)
	if digits >= 0 {
		return units.Format(u.From(v), digits, r.mark())
	}
	s := units.Format(u.From(v), 2, '.')
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return strings.Replace(s, ".", string(r.mark()), 1)
}

// Symbol is the unit in which the reader sees a dimension: "yd".
func (r Reader) Symbol(d units.Dimension) string { return r.System.Unit(d).Symbol }
