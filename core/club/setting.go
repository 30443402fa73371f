package club

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// BestLoft is the measured loft where it is known, else the stated one. [rad]
// Stated lofts are poor (17 heads: measured minus listed +1.0, sd 1.0 degrees
// [GearAppendix]); differences between settings of one head are far better.
func (h Head) BestLoft() float64 {
	if h.MeasuredLoft != nil {
		return *h.MeasuredLoft
	}
	return h.Loft
}

// Settings lists every way to set the club, Current first, then sleeve by
// sleeve in the order of the labels. Combinations that Exclude forbids are
// left out; combinations that are physically one (equal aligned rings, two
// equal weights that change places) stand once, under the labels of Current
// if it is one of them, else under the first. See Duplicates for what was
// merged. The head must be valid; for a head that is not, the result is only
// Current.
func (h Head) Settings() []Setting {
	current, ok := h.start()
	if !ok {
		return []Setting{h.Current}
	}
	out := []Setting{current}
	seen := map[string]bool{h.sameKey(current): true}
	h.each(func(s Setting) {
		if h.excluded(s) {
			return
		}
		if k := h.sameKey(s); !seen[k] {
			seen[k] = true
			out = append(out, s)
		}
	})
	return out
}

// Merged says that Setting does the same as Kept and is listed under it.
type Merged struct{ Setting, Kept Setting }

// Duplicates lists the combinations that Settings leaves out because another
// listed one is physically the same.
func (h Head) Duplicates() []Merged {
	current, ok := h.start()
	if !ok {
		return nil
	}
	kept := map[string]Setting{h.sameKey(current): current}
	var out []Merged
	h.each(func(s Setting) {
		if h.excluded(s) || s.Equal(current) {
			return
		}
		k := h.sameKey(s)
		if first, twice := kept[k]; twice {
			out = append(out, Merged{s, first})
			return
		}
		kept[k] = s
	})
	return out
}

// Canonical returns the listed setting that is physically the same as s.
func (h Head) Canonical(s Setting) Setting {
	current, ok := h.start()
	if !ok {
		return s
	}
	k := h.sameKey(s)
	if h.sameKey(current) == k {
		return current
	}
	found := s
	done := false
	h.each(func(t Setting) {
		if !done && !h.excluded(t) && h.sameKey(t) == k {
			found, done = t, true
		}
	})
	return found
}

// start completes Current: a label left empty means the first position or
// stop. ok is false when Current names something that is not there.
func (h Head) start() (Setting, bool) {
	s := Setting{Sleeve: h.Current.Sleeve, Weights: make([]string, len(h.Weights))}
	labels := h.sleeveLabels(h.Sleeve.tilts(h))
	if s.Sleeve == "" {
		s.Sleeve = labels[0]
	}
	if !slices.Contains(labels, s.Sleeve) {
		return s, false
	}
	for i, w := range h.Weights {
		if i < len(h.Current.Weights) {
			s.Weights[i] = h.Current.Weights[i]
		}
		if s.Weights[i] == "" && len(w.Stops) > 0 {
			s.Weights[i] = w.Stops[0].Label
		}
		if _, ok := w.stop(s.Weights[i]); !ok {
			return s, false
		}
	}
	return s, true
}

// each calls f for every combination, sleeve by sleeve; the last weight moves
// fastest. The Weights of each setting are its own.
func (h Head) each(f func(Setting)) {
	for _, label := range h.sleeveLabels(h.Sleeve.tilts(h)) {
		at := make([]int, len(h.Weights))
		for more := true; more; {
			s := Setting{Sleeve: label, Weights: make([]string, len(h.Weights))}
			for i, w := range h.Weights {
				if len(w.Stops) == 0 {
					return
				}
				s.Weights[i] = w.Stops[at[i]].Label
			}
			f(s)
			more = false
			for i := len(at) - 1; i >= 0; i-- {
				at[i]++
				if at[i] < len(h.Weights[i].Stops) {
					more = true
					break
				}
				at[i] = 0
			}
		}
	}
}

// excluded reports whether s matches one of Exclude, where an empty label
// stands for any.
func (h Head) excluded(s Setting) bool {
	for _, x := range h.Exclude {
		match := x.Sleeve == "" || x.Sleeve == s.Sleeve
		for i, w := range x.Weights {
			match = match && (w == "" || i < len(s.Weights) && w == s.Weights[i])
		}
		if match {
			return true
		}
	}
	return false
}

// sameKey is equal for settings that are physically one: the same tilt, and
// the same masses in the same places. (The same centre of mass is not enough:
// two weights spread apart resist twisting more than both in the middle.)
func (h Head) sameKey(s Setting) string {
	t, err := h.tilt(s.Sleeve)
	if err != nil || h.unknown(s.Sleeve) {
		return s.Key()
	}
	parts := make([]string, 0, len(h.Weights))
	for i, w := range h.Weights {
		st, ok := w.stop(s.weight(i))
		if !ok {
			return s.Key()
		}
		parts = append(parts, fmt.Sprintf("%d,%d,%d", micro(st.Toe), micro(st.Back), micro(w.massAt(st))))
	}
	sort.Strings(parts)
	return fmt.Sprintf("%d,%d;%s", int64(math.Round(t.Lean/sameTilt)), int64(math.Round(t.Upright/sameTilt)), strings.Join(parts, ";"))
}

// unknown reports whether nobody described what a position of the sleeve does.
func (h Head) unknown(label string) bool {
	for _, p := range h.Sleeve.Table {
		if p.Label == label {
			return p.Unknown
		}
	}
	return false
}

func micro(v float64) int64 { return int64(math.Round(v * 1e6)) }

func (s Setting) weight(i int) string {
	if i < len(s.Weights) {
		return s.Weights[i]
	}
	return ""
}

func (w Weight) stop(label string) (Stop, bool) {
	for _, s := range w.Stops {
		if s.Label == label {
			return s, true
		}
	}
	return Stop{}, false
}

// massAt is the mass that sits at a stop. [kg]
func (w Weight) massAt(s Stop) float64 {
	if s.Mass > 0 {
		return s.Mass
	}
	return w.Mass
}

func (h Head) tilt(label string) (Tilt, error) {
	tilts := h.Sleeve.tilts(h)
	labels := h.sleeveLabels(tilts)
	for i, l := range labels {
		if l == label {
			return tilts[i], nil
		}
	}
	return Tilt{}, fmt.Errorf("sleeve: read %q, expected one of %s", label, quoted(labels))
}

// Change returns what setting s does against the untilted sleeve and the
// weights in the middle. The centre of mass moves by
//
//	sum of (mass x place of each weight) / mass of the whole head
//
// with the head without its weights balanced about its middle, and the head's
// mass changes by the masses put in place of those of Current. A label that
// the head does not have is an error that lists the labels it has.
func (h Head) Change(s Setting) (Change, error) {
	t, err := h.tilt(s.Sleeve)
	if err != nil {
		return Change{}, err
	}
	if len(s.Weights) != len(h.Weights) {
		return Change{}, fmt.Errorf("weights: read %d labels, expected %d, one for each weight", len(s.Weights), len(h.Weights))
	}
	current, _ := h.start()
	c := hold(h.BestLoft(), h.Lie, h.Face, t)
	c.Unknown = h.unknown(s.Sleeve)
	var toe, back float64 // [kg m]
	for i, w := range h.Weights {
		st, ok := w.stop(s.Weights[i])
		if !ok {
			return Change{}, fmt.Errorf("weight %q: read %q, expected one of %s", w.Name, s.Weights[i], quoted(w.labels()))
		}
		m := w.massAt(st)
		toe += m * st.Toe
		back += m * st.Back
		if now, ok := w.stop(current.weight(i)); ok {
			c.Mass += m - w.massAt(now)
		}
	}
	if m := h.Mass + c.Mass; m > 0 {
		c.CGToe, c.CGBack = toe/m, back/m
	}
	return c, nil
}

func (w Weight) labels() []string {
	out := make([]string, len(w.Stops))
	for i, s := range w.Stops {
		out[i] = s.Label
	}
	return out
}

func quoted(labels []string) string {
	if len(labels) == 1 && labels[0] == "" {
		return "none (the club has no sleeve that turns)"
	}
	out := make([]string, len(labels))
	for i, l := range labels {
		out[i] = fmt.Sprintf("%q", l)
	}
	return strings.Join(out, ", ")
}

// Find reads a setting as a person or a file writes it: the labels in any
// order with "/" between them, in any case, with any spacing. A part that is
// not named is as in Current. The result is canonical: one of Settings.
// The error says what was read and which labels the club has.
func (h Head) Find(text string) (Setting, error) {
	current, ok := h.start()
	if !ok {
		return Setting{}, fmt.Errorf("setting now: read %q, which the club does not have", h.Current.Key())
	}
	want := plain(text)
	var exact *Setting
	if strings.Count(want, "/") > len(h.Weights) { // a label with a slash in it
		h.each(func(s Setting) {
			if exact == nil && plain(s.Key()) == want {
				exact = &s
			}
		})
		if exact != nil {
			return h.allowed(*exact, text)
		}
	}
	s := Setting{Sleeve: current.Sleeve, Weights: slices.Clone(current.Weights)}
	sleeveLabels := h.sleeveLabels(h.Sleeve.tilts(h))
	taken := make([]bool, len(h.Weights)+1)
	for _, part := range strings.Split(want, "/") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		if !h.assign(part, sleeveLabels, &s, taken) {
			return Setting{}, fmt.Errorf("setting: read %q in %q, expected labels of this club: %s", part, text, h.vocabulary(sleeveLabels))
		}
	}
	return h.allowed(s, text)
}

// allowed refuses an excluded setting and makes the others canonical.
func (h Head) allowed(s Setting, text string) (Setting, error) {
	if h.excluded(s) {
		return Setting{}, fmt.Errorf("setting: read %q, which this club cannot be set to", text)
	}
	return h.Canonical(s), nil
}

// assign puts one label where it belongs: the sleeve or the first weight that
// has it and has not been named yet.
func (h Head) assign(part string, sleeve []string, s *Setting, taken []bool) bool {
	if !taken[0] {
		for _, l := range sleeve {
			if l != "" && plain(l) == part {
				s.Sleeve, taken[0] = l, true
				return true
			}
		}
	}
	for i, w := range h.Weights {
		if taken[i+1] {
			continue
		}
		for _, st := range w.Stops {
			if l := plain(st.Label); l == part || plain(w.Name)+" "+l == part || plain(w.Name)+": "+l == part {
				s.Weights[i], taken[i+1] = st.Label, true
				return true
			}
		}
	}
	return false
}

func (h Head) vocabulary(sleeve []string) string {
	var all []string
	for _, l := range sleeve {
		if l != "" {
			all = append(all, l)
		}
	}
	for _, w := range h.Weights {
		all = append(all, w.labels()...)
	}
	if len(all) == 0 {
		return "none (nothing on it can be set)"
	}
	return quoted(all)
}

// plain is the form in which labels are compared: lower case, single spaces,
// one kind of minus, no degree signs, no space around a slash.
func plain(s string) string {
	s = strings.NewReplacer("\u2212", "-", "\u2013", "-", "\u2012", "-", "°", "", "º", "", "\u00a0", " ", "\u202f", " ", "\u2009", " ").Replace(s)
	s = strings.Join(strings.Fields(strings.ToLower(s)), " ")
	s = strings.ReplaceAll(strings.ReplaceAll(s, " /", "/"), "/ ", "/")
	return s
}
