package club

import (
	"cmp"
	"math"
	"sort"
	"strconv"

	"ferrule/core/message"
	"ferrule/core/units"
)

// Two settings are alike when no part of what they do differs by more: angles
// [rad], places [m] and mass [kg].
const (
	alikeAngle = .06 * units.Degree
	alikePlace = .15 * units.Millimetre
	alikeMass  = .15 * units.Gram
)

// Unlike says in what o is another head than h, as something is learned of heads:
// by kind, stated loft, and what each setting does. Labels, shaft, what is set
// today and names in other spelling are no difference; no key = the same head.
func (h Head) Unlike(o Head) message.Message {
	name := func(h Head) any {
		if h.Name == "" {
			return message.Of("problem.no-name")
		}
		return strconv.Quote(h.Name)
	}
	kind := func(h Head) message.Arg {
		h.Kind = cmp.Or(h.Kind, Driver)
		return message.Key("kind." + h.Kind)
	}
	sized := func(v float64) string { return units.Format(v, 1, '.') }
	switch {
	case kind(h).Text != kind(o).Text:
		return message.Of("problem.unlike-kind", kind(h), kind(o))
	case math.Abs(h.Loft-o.Loft) > .2*units.Degree:
		return message.Of("problem.unlike-loft", sized(h.Loft/units.Degree), sized(o.Loft/units.Degree))
	case h.Name != "" && o.Name != "" && Plain(h.Name) != Plain(o.Name):
		return message.Of("problem.unlike-name", name(h), name(o))
	}
	a, err1 := h.made()
	b, err2 := o.made()
	switch {
	case err1 != nil:
		return message.From(err1)
	case err2 != nil:
		return message.From(err2)
	case len(a) != len(b):
		return message.Of("problem.unlike-ways", len(a), len(b))
	}
	for i := range a {
		if !sameChange(a[i], b[i]) {
			return message.Of("problem.unlike-setting",
				sized(a[i].Lean/units.Degree), sized(a[i].Upright/units.Degree), sized(a[i].CGToe*1e3), sized(b[i].Lean/units.Degree), sized(b[i].Upright/units.Degree), sized(b[i].CGToe*1e3))
		}
	}
	return message.Message{}
}

// made lists what the settings do, in an order that no label and no current
// setting moves.
func (h Head) made() ([]Change, error) {
	list, err := h.Changes(h.Settings())
	if err != nil {
		return nil, err
	}
	key := func(c Change) [5]int64 {
		r := func(v, step float64) int64 { return int64(math.Round(v / step)) }
		return [5]int64{r(c.Lean, alikeAngle), r(c.Upright, alikeAngle), r(c.CGToe, alikePlace), r(c.CGBack, alikePlace), r(c.Mass, alikeMass)}
	}
	sort.SliceStable(list, func(i, j int) bool {
		a, b := key(list[i]), key(list[j])
		for k := range a {
			if a[k] != b[k] {
				return a[k] < b[k]
			}
		}
		return false
	})
	return list, nil
}

func sameChange(a, b Change) bool {
	near := func(x, y, step float64) bool { return math.Abs(x-y) <= step }
	return a.Unknown == b.Unknown && near(a.Lean, b.Lean, alikeAngle) && near(a.Upright, b.Upright, alikeAngle) &&
		near(a.CGToe, b.CGToe, alikePlace) && near(a.CGBack, b.CGBack, alikePlace) && near(a.Mass, b.Mass, alikeMass)
}

// Translate returns, for settings of a head that is not Unlike h, how h calls
// them; a setting that h has not, or that nobody described, keeps its name.
func (h Head) Translate(from Head, list []Setting) ([]Setting, error) {
	own := h.Settings()
	changes, err := h.Changes(own)
	if err != nil {
		return nil, err
	}
	out := append([]Setting(nil), list...)
	for i, s := range list {
		c, err := from.Change(s)
		if err != nil {
			continue
		}
		if o, err := h.Change(s); err == nil && sameChange(c, o) {
			continue
		}
		for j := range own {
			if sameChange(c, changes[j]) && !c.Unknown {
				out[i] = own[j]
				break
			}
		}
	}
	return out, nil
}
