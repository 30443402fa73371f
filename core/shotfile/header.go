package shotfile

import (
	"slices"
	"strings"
	"sync"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// suffixUnits are spellings that may end a header without a space: "CarryYds".
var suffixUnits = []string{"kmh", "kph", "mph", "mps", "rpm", "radps", "degrees", "deg", "rad", "yards", "yds", "yd", "meters", "meter", "metres", "feet", "ft", "mm", "cm", "inches", "sec"}

// lexicon remembers what the cells of one file mean as headers: each is looked
// up for every delimiter that is tried.
type lexicon map[string]understood

type understood struct {
	ms   []meaning
	unit units.Unit
	has  bool
}

// maxLexicon bounds it; more different texts are no headers.
const maxLexicon = 4096

func (lx lexicon) meaning(text string) (ms []meaning, unit units.Unit, hasUnit bool) {
	if text == "" || len(text) > 120 || text[0] >= '0' && text[0] <= '9' || len(text) > 1 && text[0] == '-' && text[1] >= '0' && text[1] <= '9' {
		return nil, unit, false
	}
	u, ok := lx[text]
	if !ok {
		u.ms, u.unit, u.has = headerMeaning(text)
		if len(lx) < maxLexicon {
			lx[text] = u
		}
	}
	return u.ms, u.unit, u.has
}

// headerMeaning says what a header names: its meanings (the strongest first)
// and the unit written in it: "Ball Speed (mph)", "ball_speed_mph",
// "Carry(yd)", "Apex Height [ft]", "CarryYds", "Curve.1".
func headerMeaning(text string) (ms []meaning, unit units.Unit, hasUnit bool) {
	f := typed.Fold(text)
	if f == "" || len(f) > 120 || f[0] >= '0' && f[0] <= '9' {
		return nil, unit, false
	}
	if i := strings.LastIndexByte(f, '.'); i > 0 && i+2 == len(f) && f[i+1] >= '1' && f[i+1] <= '9' {
		f = f[:i] // a repeated header as data frames write it
	}
	key := squeeze(f)
	if key == "" {
		return nil, unit, false
	}
	bare, inside := cutBrackets(f)
	if last := strings.TrimRight(bare, "°'\""); last != "" && last != bare { // marks that squeeze drops
		inside, bare = append(inside, bare[len(last):]), strings.TrimSpace(last)
	}
	signed := false
	for _, s := range inside {
		signed = signed || s == "°" || s == "'" || s == "\""
	}
	if ms = headers[key]; len(ms) > 0 && !signed {
		return ms, unit, false
	}
	hint := ""
	for _, s := range inside {
		if u, ok := typed.Unit(s); ok && !hasUnit {
			unit, hasUnit = u, true
		} else {
			hint += " " + s
		}
	}
	if len(inside) > 0 {
		for _, name := range []string{bare + hint, bare} { // "打ち出し角(左右)" before "Face Angle (open +)"
			if ms = headers[squeeze(name)]; len(ms) > 0 {
				if hasUnit {
					ms = fitting(ms, unit)
				}
				return ms, unit, hasUnit
			}
		}
	}
	if !hasUnit {
		if ms, unit, ok := trailingUnit(bare); ok {
			return ms, unit, true
		}
	}
	if ms = headers[key]; len(ms) > 0 {
		return ms, unit, false
	}
	if ms = inOtherWords(bare); len(ms) > 0 {
		if hasUnit {
			ms = fitting(ms, unit)
		}
		return ms, unit, hasUnit
	}
	if w := dropFillers(bare); w != bare {
		if more, u, has := headerMeaning(w); len(more) > 0 {
			if !hasUnit {
				return more, u, has
			}
			return fitting(more, unit), unit, true
		}
	}
	return nil, units.Unit{}, false
}

// shortened are the words that headers shorten, and those that mean the same there.
var shortened = map[string]string{"ang": "angle", "vel": "speed", "velocity": "speed", "spd": "speed", "dist": "distance", "ht": "height", "dir": "direction",
	"dev": "deviation", "dyn": "dynamic", "horiz": "horizontal", "vert": "vertical", "max": "maximum", "desc": "descent", "att": "attack", "lat": "lateral"}

// sorted is a header's words without their order, shortened ones in full: "Loft Dyn"
// is "dynamic loft". One word alone has no order.
func sorted(f string) string {
	words := strings.FieldsFunc(strings.ToLower(f), func(r rune) bool { return r == ' ' || r == '_' || r == '.' || r == '-' || r == '/' })
	if len(words) < 2 {
		return ""
	}
	for i, w := range words {
		if full, ok := shortened[w]; ok {
			words[i] = full
		}
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

// byWords are the headers' meanings by their sorted words.
var byWords = sync.OnceValue(func() map[string][]meaning {
	m := map[string][]meaning{}
	for _, e := range headerTable {
		if e.quantity == "" {
			continue
		}
		for _, w := range strings.Split(e.words[0], "|") {
			w = strings.TrimPrefix(w, "?")
			if key := sorted(w); key != "" {
				m[key] = headers[squeeze(w)]
			}
		}
	}
	return m
})

// inOtherWords is what an English header means whose words stand in another order or
// are shortened.
func inOtherWords(f string) []meaning {
	if key := sorted(f); key != "" {
		return byWords()[key]
	}
	return nil
}

// fitting puts the meanings of the unit's dimension first: "Side [deg]" is an
// angle, "Ball (mph)" a speed.
func fitting(ms []meaning, u units.Unit) []meaning {
	var fit, rest []meaning
	for _, m := range ms {
		k, isQ := shot.KindOf(m.quantity)
		switch {
		case isQ && typed.SameDim(k.Dim, u.Dim):
			fit = append(fit, m)
			continue
		case m.role == roleBall && u.Dim == units.Speed:
			fit = append(fit, meaning{quantity: shot.BallSpeed, lang: m.lang})
		case m.role == roleClub && u.Dim == units.Speed:
			fit = append(fit, meaning{quantity: shot.ClubSpeed, lang: m.lang})
		case m.role == roleTime && u.Dim == units.Time, m.quantity == shot.Carry && u.Dim == units.Time:
			fit = append(fit, meaning{quantity: shot.FlightTime, lang: m.lang})
		case m.quantity == shot.Offline && u.Dim == units.Angle:
			fit = append(fit, meaning{quantity: shot.OfflineAngle, lang: m.lang}, meaning{quantity: shot.LaunchDirection, lang: m.lang})
		case (m.quantity == shot.Offline || m.quantity == shot.Curve) && u.Dim == units.Spin:
			fit = append(fit, meaning{quantity: shot.Sidespin, lang: m.lang})
		case m.quantity == shot.Total && u.Dim == units.Spin:
			fit = append(fit, meaning{quantity: shot.Spin, lang: m.lang})
		case m.quantity == shot.Spin && u.Dim == units.Angle:
			fit = append(fit, meaning{quantity: shot.SpinAxis, lang: m.lang, weak: true})
		}
		rest = append(rest, m)
	}
	return append(fit, rest...)
}

// cutBrackets returns the text without its bracketed parts, and those.
func cutBrackets(f string) (bare string, inside []string) {
	if !strings.ContainsAny(f, "([{<（【") {
		return f, nil
	}
	var b, in strings.Builder
	depth := 0
	for _, r := range f {
		switch r {
		case '(', '[', '{', '<', '（', '【':
			if depth++; depth == 1 {
				continue
			}
		case ')', ']', '}', '>', '）', '】':
			if depth > 0 {
				if depth--; depth == 0 {
					if s := strings.TrimSpace(in.String()); s != "" {
						inside = append(inside, s)
					}
					in.Reset()
					b.WriteByte(' ')
					continue
				}
			}
		}
		if depth > 0 {
			in.WriteRune(r)
		} else {
			b.WriteRune(r)
		}
	}
	if depth > 0 {
		return f, nil
	}
	return strings.TrimSpace(b.String()), inside
}

// trailingUnit splits "Ball Speed mph", "ball_speed_km_h", "CarryYds".
func trailingUnit(f string) (ms []meaning, unit units.Unit, ok bool) {
	var words []string
	if strings.ContainsAny(f, " _,-/;") {
		words = strings.FieldsFunc(f, func(r rune) bool { return r == ' ' || r == '_' || r == ',' || r == '-' || r == '/' || r == ';' })
	}
	for take := 1; take <= 2 && take < len(words); take++ {
		u, is := typed.Unit(strings.Join(words[len(words)-take:], "/"))
		if !is {
			continue
		}
		if ms = headers[squeeze(strings.Join(words[:len(words)-take], " "))]; len(ms) > 0 {
			return fitting(ms, u), u, true
		}
	}
	key := squeeze(f)
	for _, s := range suffixUnits {
		head, is := strings.CutSuffix(key, s)
		if !is || head == "" {
			continue
		}
		u, _ := typed.Unit(s)
		if ms = headers[head]; len(ms) > 0 {
			ms = fitting(ms, u)
			if k, isQ := shot.KindOf(ms[0].quantity); isQ && typed.SameDim(k.Dim, u.Dim) {
				return ms, u, true
			}
		}
	}
	return nil, unit, false
}

// dropFillers removes words that change nothing about what a column is.
func dropFillers(f string) string {
	for _, w := range workedOutWhole {
		if bare := strings.TrimSpace(strings.Replace(f, w, "", 1)); bare != "" && len(bare) < len(f) {
			return strings.TrimLeft(bare, "値의 ")
		}
	}
	words := strings.Fields(strings.ReplaceAll(f, "_", " "))
	if len(words) < 2 {
		return f
	}
	kept := words[:0:0]
	for _, w := range words {
		switch squeeze(w) {
		case "measured", "raw", "the", "of", "at", "actual", "data", "value", "rate":
		default:
			if !saysWorkedOut(w) {
				kept = append(kept, w)
			}
		}
	}
	if len(kept) == 0 || len(kept) == len(words) {
		return f
	}
	return strings.Join(kept, " ")
}

// statedSide reads a sign habit written in a header: "Side (R+)", "Offline
// (left +)". +1: right is positive, -1: left is, 0: not said.
func statedSide(header string) float64 {
	_, inside := cutBrackets(typed.Fold(header))
	for _, s := range inside {
		s = strings.ToLower(s)
		for _, w := range []string{"positive", "positiv", "positivo", "positif", "="} {
			s = strings.ReplaceAll(s, w, map[bool]string{true: "", false: "+"}[w == "="])
		}
		s = strings.ReplaceAll(strings.ReplaceAll(s, " ", ""), "is", "")
		for _, part := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' || r == '/' || r == '-' }) {
			word := strings.Trim(part, "+")
			if word == part {
				continue
			}
			if d := typed.Meaning(word); d.IsSide() {
				k, _ := shot.KindOf(shot.Offline)
				sign, _ := d.Sign(k, frame.Right, "")
				return sign
			}
		}
	}
	return 0
}

// texty reports whether a line could be a header: texts, hardly any numbers.
func texty(l line) bool {
	full, numeric := 0, 0
	for _, c := range l.cells {
		if c = strings.TrimSpace(c); c == "" {
			continue
		}
		full++
		if _, ok := typed.Split(c); ok && isNumeric(c) {
			numeric++
		}
	}
	return full > 0 && numeric*5 <= full
}

// isNumeric reports whether a cell begins like a number.
func isNumeric(c string) bool {
	f := typed.Fold(c)
	for i := 0; i < len(f); i++ {
		switch b := f[i]; {
		case b >= '0' && b <= '9':
			return true
		case b == '-' || b == '+' || b == '.' || b == ',' || b == '\'' || b == ' ':
		default:
			return false
		}
	}
	return false
}

// countKnown weighs the known names of a line: two for each different
// quantity, and up to two for settings and the like.
func (lx lexicon) countKnown(names []string) int {
	seen := map[shot.Quantity]bool{}
	extra := 0
	for _, n := range names {
		ms, _, _ := lx.meaning(n)
		if len(ms) == 0 {
			continue
		}
		if ms[0].quantity != "" {
			seen[ms[0].quantity] = true
		} else if ms[0].role != roleSkip {
			extra++
		}
	}
	if len(seen) == 0 {
		return 0
	}
	return 2*len(seen) + min(extra, 2)
}

// head is a header as found: its names and the lines it takes.
type head struct {
	names []string
	units []string // the unit row, nil = none
	from  int      // index of its first line
	next  int      // index of the first line after it
	known int
}

// findHeader looks for a header that begins at line i and spans one line or
// two (groups over names, names over their second half), with a unit row
// above or below. ok is false when line i begins none.
func (lx lexicon) findHeader(ls []line, i int) (head, bool) {
	best := head{names: ls[i].cells, from: i, next: i + 1, known: lx.countKnown(ls[i].cells)}
	if j := i + 1; j < len(ls) && texty(ls[j]) && !isUnitRow(ls[j].cells) && !isSummary(ls[j].cells, nil, nil) && len(ls[j].cells) > 1 {
		alone := lx.countKnown(ls[j].cells)
		group := fillRight(ls[i].cells)
		for _, names := range [][]string{lx.join(ls[i].cells, ls[j].cells), lx.join(group, ls[j].cells)} {
			if k := lx.countKnown(names); k > best.known && k > alone || k == best.known && k > alone && len(ls[j].cells) >= len(ls[i].cells)/2 && filled(ls[j].cells) > 1 {
				best = head{names: names, from: i, next: j + 1, known: k}
			}
		}
		if best.next == i+1 && alone > best.known {
			return head{}, false // the next line is the header; this one is a title
		}
	}
	if best.next < len(ls) && isUnitRow(ls[best.next].cells) && (filled(ls[best.next].cells) > 1 || filled(best.names) < 3) { // a title may be called "second"
		best.units = ls[best.next].cells
		best.next++
	}
	names := filled(best.names)
	return best, best.known >= 4 || best.known >= 2 && names <= 5
}

func filled(cells []string) int {
	n := 0
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			n++
		}
	}
	return n
}

// fillRight repeats a group's name over the empty cells right of it.
func fillRight(cells []string) []string {
	out := make([]string, len(cells))
	last := ""
	for i, c := range cells {
		if c != "" {
			last = c
		}
		out[i] = last
	}
	return out
}

// join puts two header lines into one: "Ball" over "Speed" is "Ball Speed".
// Where the lower name alone is known and the pair is not, the lower stands.
func (lx lexicon) join(upper, lower []string) []string {
	out := make([]string, max(len(upper), len(lower)))
	for i := range out {
		var x, y string
		if i < len(upper) {
			x = strings.TrimSpace(upper[i])
		}
		if i < len(lower) {
			y = strings.TrimSpace(lower[i])
		}
		switch {
		case y == "":
			out[i] = x
		case x == "":
			out[i] = y
		default:
			out[i] = x + " " + y
			if m, _, _ := lx.meaning(x + " " + y); len(m) == 0 {
				if m, _, _ := lx.meaning(y + " " + x); len(m) > 0 {
					out[i] = y + " " + x
				} else if m, _, _ := lx.meaning(y); len(m) > 0 {
					out[i] = y
				}
			}
		}
	}
	return out
}

// isUnitRow reports whether most filled cells are units: "[mph]", "deg", "yds".
func isUnitRow(cells []string) bool {
	full, is := 0, 0
	for _, c := range cells {
		if c = strings.Trim(typed.Fold(c), "[]() "); c == "" || c == "-" || c == "#" {
			continue
		}
		full++
		if _, ok := typed.Unit(c); ok {
			is++
		}
	}
	return is > 0 && is*2 >= full && numbersIn(cells) == 0
}

func numbersIn(cells []string) int {
	n := 0
	for _, c := range cells {
		if _, ok := typed.Split(c); ok {
			n++
		}
	}
	return n
}
