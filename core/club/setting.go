package club

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/message"
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

// listing is what the methods of a head look up again and again: worked out
// once a call, because a printed table is inverted for it.
type listing struct {
	h      Head
	tilts  []Tilt
	labels []string       // of the sleeve
	place  map[string]int // label to index of its position
	same   []int          // index of the first position that does the same
	stops  [][]byte       // by weight and stop: equal numbers are equal masses in equal places
}

func (h Head) listing() *listing {
	l := &listing{h: h, tilts: h.Sleeve.tilts(h), place: map[string]int{}}
	l.labels = h.sleeveLabels(l.tilts)
	l.same = make([]int, len(l.tilts))
	for i, t := range l.tilts {
		if _, twice := l.place[l.labels[i]]; !twice {
			l.place[l.labels[i]] = i
		}
		l.same[i] = i
		for j := 0; j < i && !h.unknownAt(i); j++ {
			if !h.unknownAt(j) && math.Hypot(t.Lean-l.tilts[j].Lean, t.Upright-l.tilts[j].Upright) < sameTilt {
				l.same[i] = j
				break
			}
		}
	}
	seen := map[[3]int64]byte{}
	for _, w := range h.Weights {
		row := make([]byte, len(w.Stops))
		for j, s := range w.Stops {
			k := [3]int64{micro(s.Toe), micro(s.Back), micro(w.massAt(s))}
			id, known := seen[k]
			if !known {
				id = byte(len(seen))
				seen[k] = id
			}
			row[j] = id
		}
		l.stops = append(l.stops, row)
	}
	return l
}

// unknownAt reports whether nobody described what position i does.
func (h Head) unknownAt(i int) bool {
	return i < len(h.Sleeve.Table) && h.Sleeve.Table[i].Unknown
}

// Settings lists every way to set the club, Current first, then sleeve by
// sleeve in the order of the labels. Combinations that Exclude forbids are
// left out; combinations that are physically one (equal aligned rings, two
// equal weights that change places) stand once, under the labels of Current
// if it is one of them, else under the first. See Duplicates for what was
// merged. The head must be valid; for a head that is not, or that makes more
// combinations than Validate allows, the result is only Current.
func (h Head) Settings() []Setting {
	if h.combinations() > maxSettings {
		return []Setting{h.Current}
	}
	l := h.listing()
	current, ok := l.start()
	if !ok {
		return []Setting{h.Current}
	}
	out := []Setting{current}
	seen := map[string]bool{l.key(current): true}
	l.each(func(s Setting) bool {
		if k := l.key(s); !h.excluded(s) && !seen[k] {
			seen[k] = true
			out = append(out, s)
		}
		return true
	})
	return out
}

// Duplicates lists the combinations that Settings leaves out because another
// listed one is physically the same.
func (h Head) Duplicates() []Setting {
	if h.combinations() > maxSettings {
		return nil
	}
	l := h.listing()
	current, ok := l.start()
	if !ok {
		return nil
	}
	kept := map[string]bool{l.key(current): true}
	var out []Setting
	l.each(func(s Setting) bool {
		if h.excluded(s) || s.Equal(current) {
			return true
		}
		k := l.key(s)
		if kept[k] {
			out = append(out, s)
			return true
		}
		kept[k] = true
		return true
	})
	return out
}

// Canonical returns the listed setting that is physically the same as s; a
// setting that the head does not have comes back as it is.
func (h Head) Canonical(s Setting) Setting {
	if h.combinations() > maxSettings {
		return s
	}
	return h.listing().canonical(s)
}

func (l *listing) canonical(s Setting) Setting {
	current, ok := l.start()
	if !ok {
		return s
	}
	k := l.key(s)
	if l.key(current) == k {
		return current
	}
	found := s
	l.each(func(t Setting) bool {
		if l.h.excluded(t) || l.key(t) != k {
			return true
		}
		found = t
		return false
	})
	return found
}

// start completes Current: a label left empty means the first position or
// stop. ok is false when Current names something that is not there.
func (l *listing) start() (Setting, bool) {
	now := l.h.Current
	s := Setting{Sleeve: now.Sleeve, Weights: make([]string, len(l.h.Weights))}
	if s.Sleeve == "" {
		s.Sleeve = l.labels[0]
	}
	if _, ok := l.place[s.Sleeve]; !ok {
		return s, false
	}
	for i, w := range l.h.Weights {
		s.Weights[i] = now.StopOf(i)
		if s.Weights[i] == "" && len(w.Stops) > 0 {
			s.Weights[i] = w.Stops[0].Label
		}
		if w.Index(s.Weights[i]) < 0 {
			return s, false
		}
	}
	return s, true
}

// each calls f for every combination until f returns false, sleeve by sleeve;
// the last weight moves fastest. The Weights of each setting are its own.
func (l *listing) each(f func(Setting) bool) {
	ws := l.h.Weights
	for _, label := range l.labels {
		at := make([]int, len(ws))
		for more := true; more; {
			s := Setting{Sleeve: label, Weights: make([]string, len(ws))}
			for i, w := range ws {
				if len(w.Stops) == 0 {
					return
				}
				s.Weights[i] = w.Stops[at[i]].Label
			}
			if !f(s) {
				return
			}
			more = false
			for i := len(at) - 1; i >= 0; i-- {
				at[i]++
				if at[i] < len(ws[i].Stops) {
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

// key is equal for settings that are physically one: the same tilt, and the
// same masses in the same places. (The same centre of mass is not enough: two
// weights spread apart resist twisting more than both in the middle.)
func (l *listing) key(s Setting) string {
	p, ok := l.place[s.Sleeve]
	if !ok {
		return s.Key()
	}
	p = l.same[p]
	k := make([]byte, 2, 2+len(l.stops))
	for i, w := range l.h.Weights {
		j := w.Index(s.StopOf(i))
		if j < 0 {
			return s.Key()
		}
		stop, at := l.stops[i][j], len(k)
		k = append(k, stop)
		for ; at > 2 && k[at-1] > stop; at-- { // in order, whichever weight stands there
			k[at] = k[at-1]
		}
		k[at] = stop
	}
	k[0], k[1] = byte(p>>8), byte(p)
	return string(k)
}

func micro(v float64) int64 { return int64(math.Round(v * 1e6)) }

// StopOf is the label of the stop of weight i, "" where none is named.
func (s Setting) StopOf(i int) string {
	if i < len(s.Weights) {
		return s.Weights[i]
	}
	return ""
}

// Index is that of the stop with a label, -1 when there is none.
func (w Weight) Index(label string) int {
	return slices.IndexFunc(w.Stops, func(s Stop) bool { return s.Label == label })
}

// massAt is the mass that sits at a stop. [kg]
func (w Weight) massAt(s Stop) float64 {
	if s.Mass > 0 {
		return s.Mass
	}
	return w.Mass
}

// Change returns what setting s does against the untilted sleeve and the
// weights in the middle. The centre of mass moves by
//
//	sum of (mass x place of each weight) / mass of the whole head
//
// with the head without its weights balanced about its middle, and the head's
// mass changes by the masses put in place of those of Current. A label that
// the head does not have is an error that lists the labels it has.
func (h Head) Change(s Setting) (Change, error) { return h.listing().change(s) }

// Changes is Change for many settings at once; the error is the first one's.
func (h Head) Changes(settings []Setting) ([]Change, error) {
	l := h.listing()
	out := make([]Change, len(settings))
	for i, s := range settings {
		c, err := l.change(s)
		if err != nil {
			return nil, err
		}
		out[i] = c
	}
	return out, nil
}

func (l *listing) change(s Setting) (Change, error) {
	h := l.h
	p, ok := l.place[s.Sleeve]
	if !ok {
		return Change{}, message.New("problem.named", "sleeve", message.Of("problem.one-of", strconv.Quote(s.Sleeve), quoted(l.labels)))
	}
	if len(s.Weights) != len(h.Weights) {
		return Change{}, message.New("problem.labels-weights", len(s.Weights), len(h.Weights))
	}
	current, _ := l.start()
	c := hold(h.BestLoft(), h.Lie, h.Face, l.tilts[p])
	c.Unknown = h.unknownAt(p)
	var toe, back float64 // [kg m]
	for i, w := range h.Weights {
		j := w.Index(s.Weights[i])
		if j < 0 {
			return Change{}, message.New("problem.named", strconv.Quote(w.Name), message.Of("problem.one-of", strconv.Quote(s.Weights[i]), quoted(w.labels())))
		}
		m := w.massAt(w.Stops[j])
		toe += m * w.Stops[j].Toe
		back += m * w.Stops[j].Back
		if now := w.Index(current.StopOf(i)); now >= 0 {
			c.Mass += m - w.massAt(w.Stops[now])
		}
	}
	if m := h.Mass + c.Mass; m > 0 {
		c.CGToe, c.CGBack = toe/m, back/m
	}
	return c, nil
}

// Against is c as a change against another setting of the same head. Either
// one not described makes the difference not described.
func (c Change) Against(ref Change) Change {
	return Change{
		Lean: c.Lean - ref.Lean, Upright: c.Upright - ref.Upright,
		LoftSquare: c.LoftSquare - ref.LoftSquare,
		LoftHeld:   c.LoftHeld - ref.LoftHeld, FaceHeld: c.FaceHeld - ref.FaceHeld,
		LoftSoled: c.LoftSoled - ref.LoftSoled, FaceSoled: c.FaceSoled - ref.FaceSoled,
		CGToe: c.CGToe - ref.CGToe, CGBack: c.CGBack - ref.CGBack, Mass: c.Mass - ref.Mass,
		Unknown: c.Unknown || ref.Unknown,
	}
}

func (w Weight) labels() []string {
	out := make([]string, len(w.Stops))
	for i, s := range w.Stops {
		out[i] = s.Label
	}
	return out
}

func quoted(labels []string) any {
	if strings.Join(labels, "") == "" {
		return message.Of("problem.none-set")
	}
	out := make([]string, len(labels))
	for i, l := range labels {
		out[i] = strconv.Quote(l)
	}
	return strings.Join(out, ", ")
}

// Find reads a setting as a person or a file writes it: the labels in any
// order with "/" between them, in any case, with any spacing. A part that is
// not named is as in Current. The result is canonical: one of Settings.
// The error says what was read and which labels the club has.
func (h Head) Find(text string) (Setting, error) {
	if h.combinations() > maxSettings {
		return Setting{}, message.New("problem.combinations", maxSettings)
	}
	l := h.listing()
	current, ok := l.start()
	if !ok {
		return Setting{}, message.New("problem.cannot-set", strconv.Quote(h.Current.Key()))
	}
	want := Plain(text)
	if strings.Count(want, "/") > len(h.Weights) { // a label with a slash in it
		var exact *Setting
		l.each(func(s Setting) bool {
			if Plain(s.Key()) == want {
				exact = &s
			}
			return exact == nil
		})
		if exact != nil {
			return l.allowed(*exact, text)
		}
	}
	s := Setting{Sleeve: current.Sleeve, Weights: slices.Clone(current.Weights)}
	taken := make([]bool, len(h.Weights)+1)
	for _, part := range strings.Split(want, "/") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		if !h.assign(part, l.labels, &s, taken) {
			return Setting{}, message.New("problem.one-of", strconv.Quote(part), h.vocabulary(l.labels))
		}
	}
	return l.allowed(s, text)
}

// allowed refuses an excluded setting and makes the others canonical.
func (l *listing) allowed(s Setting, text string) (Setting, error) {
	if l.h.excluded(s) {
		return Setting{}, message.New("problem.cannot-set", strconv.Quote(text))
	}
	return l.canonical(s), nil
}

// assign puts one label where it belongs: the sleeve or the first weight that
// has it and has not been named yet.
func (h Head) assign(part string, sleeve []string, s *Setting, taken []bool) bool {
	if !taken[0] {
		for _, l := range sleeve {
			if l != "" && Plain(l) == part {
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
			if l := Plain(st.Label); l == part || Plain(w.Name)+" "+l == part || Plain(w.Name)+": "+l == part {
				s.Weights[i], taken[i+1] = st.Label, true
				return true
			}
		}
	}
	return false
}

func (h Head) vocabulary(sleeve []string) any {
	var all []string
	for _, l := range sleeve {
		if l != "" {
			all = append(all, l)
		}
	}
	for _, w := range h.Weights {
		all = append(all, w.labels()...)
	}
	return quoted(all)
}

// plainMarks are the minus signs, degree signs and spaces of printed tables.
var plainMarks = strings.NewReplacer("\u2212", "-", "\u2013", "-", "\u2012", "-", "°", "", "º", "", "\u00a0", " ", "\u202f", " ", "\u2009", " ")

// Plain is the form in which labels are compared: lower case, single spaces,
// one kind of minus, no degree signs, no space around a slash.
func Plain(s string) string {
	s = plainMarks.Replace(s)
	s = strings.Join(strings.Fields(strings.ToLower(s)), " ")
	s = strings.ReplaceAll(strings.ReplaceAll(s, " /", "/"), "/ ", "/")
	return s
}

// Labels are the labels of everything that can be set: of the sleeve's places,
// of the weights' and of whole settings.
func (h Head) Labels() []string {
	var out []string
	seen := map[string]bool{"": true}
	put := func(l string) {
		if !seen[Plain(l)] {
			seen[Plain(l)] = true
			out = append(out, l)
		}
	}
	for i, s := range h.Settings() {
		if i >= maxLabelled {
			break
		}
		put(s.Sleeve)
		for _, w := range s.Weights {
			put(w)
		}
	}
	return out
}

// maxLabelled bounds the settings that Labels looks at.
const maxLabelled = 20_000
