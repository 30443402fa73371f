package shotfile

import (
	"strings"

	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// suffixUnits are spellings that may end a header without a space: "CarryYds".
var suffixUnits = []string{"kmh", "kph", "mph", "mps", "rpm", "radps", "degrees", "deg", "rad", "yards", "yds", "yd", "meters", "meter", "metres", "feet", "ft", "mm", "cm", "inches", "sec"}

// headerMeaning says what a header names: its meanings (the strongest first),
// the unit written in it (nil = none) and what else stood in brackets.
func headerMeaning(text string) (ms []meaning, unit *units.Unit, hint string) {
	f := typed.Fold(text)
	if f == "" || len(f) > 120 || f[0] >= '0' && f[0] <= '9' && !strings.HasPrefix(f, "0-") {
		return nil, nil, ""
	}
	if i := strings.LastIndexByte(f, '.'); i > 0 && i+2 >= len(f) && i+1 < len(f) && f[i+1] >= '1' && f[i+1] <= '9' {
		f = f[:i] // "Curve.1": a repeated header as data frames write it
	}
	if m, ok := lookUp(f, nil); ok {
		return m, nil, ""
	}
	bare, inside := cutBrackets(f)
	for _, s := range inside {
		if u, ok := typed.Unit(s); ok && unit == nil {
			unit = &u
		} else if hint == "" {
			hint = s
		} else {
			hint += " " + s
		}
	}
	if len(inside) > 0 {
		if m, ok := lookUp(bare, unit); ok {
			return m, unit, hint
		}
		if hint != "" { // "打ち出し角(左右)", "Launch Angle (V) [deg]"
			if m, ok := lookUp(bare+" "+hint, unit); ok {
				return m, unit, ""
			}
		}
	}
	if unit == nil {
		if m, u, ok := trailingUnit(bare); ok {
			return m, u, hint
		}
	}
	if w := dropFillers(bare); w != bare {
		if m, u, h := headerMeaning(w); len(m) > 0 {
			if unit == nil {
				unit = u
			}
			return m, unit, strings.TrimSpace(hint + " " + h)
		}
	}
	return nil, nil, ""
}

// lookUp finds a header's meanings, those that the unit allows first.
func lookUp(f string, u *units.Unit) ([]meaning, bool) {
	ms := headers[squeeze(f)]
	if len(ms) == 0 {
		return nil, false
	}
	if u == nil {
		return ms, true
	}
	var fit, rest []meaning
	for _, m := range ms {
		k, isQ := shot.KindOf(m.quantity)
		switch {
		case isQ && typed.SameDim(k.Dim, u.Dim):
			fit = append(fit, m)
		case m.role == roleBall && speedish(*u):
			fit = append(fit, meaning{quantity: shot.BallSpeed, lang: m.lang})
		case m.role == roleClub && speedish(*u):
			fit = append(fit, meaning{quantity: shot.ClubSpeed, lang: m.lang})
		case m.role == roleTime && u.Dim == units.Time:
			fit = append(fit, meaning{quantity: shot.FlightTime, lang: m.lang})
		case m.quantity == shot.Offline && m.weak && u.Dim == units.Angle:
			q := shot.LaunchDirection
			if strings.HasPrefix(squeeze(f), "dev") || strings.HasPrefix(squeeze(f), "abw") {
				q = shot.OfflineAngle
			}
			fit = append(fit, meaning{quantity: q, lang: m.lang})
		case (m.quantity == shot.Offline || m.quantity == shot.Curve) && u.Dim == units.Spin:
			fit = append(fit, meaning{quantity: shot.Sidespin, lang: m.lang})
		case m.quantity == shot.Total && u.Dim == units.Spin:
			fit = append(fit, meaning{quantity: shot.Spin, lang: m.lang})
		case m.quantity == shot.Curve && u.Dim == units.Angle, m.quantity == shot.Spin && u.Dim == units.Angle:
			fit = append(fit, meaning{quantity: shot.SpinAxis, lang: m.lang, weak: true})
		case m.quantity == shot.Carry && u.Dim == units.Time:
			fit = append(fit, meaning{quantity: shot.FlightTime, lang: m.lang})
		default:
			rest = append(rest, m)
		}
	}
	return append(fit, rest...), true
}

// cutBrackets returns the text without its bracketed parts, and those.
func cutBrackets(f string) (bare string, inside []string) {
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
func trailingUnit(f string) ([]meaning, *units.Unit, bool) {
	words := strings.FieldsFunc(f, func(r rune) bool { return r == ' ' || r == '_' || r == ',' || r == '-' })
	for take := 1; take <= 2 && take < len(words); take++ {
		tail := strings.Join(words[len(words)-take:], "/")
		if u, ok := typed.Unit(tail); ok {
			if m, ok := lookUp(strings.Join(words[:len(words)-take], " "), &u); ok {
				return m, &u, true
			}
		}
	}
	key := squeeze(f)
	for _, s := range suffixUnits {
		if head, ok := strings.CutSuffix(key, s); ok && head != "" {
			u, _ := typed.Unit(s)
			if m, ok := lookUp(head, &u); ok {
				if k, isQ := shot.KindOf(m[0].quantity); isQ && typed.SameDim(k.Dim, u.Dim) {
					return m, &u, true
				}
			}
		}
	}
	return nil, nil, false
}

// dropFillers removes words that change nothing about what a column is.
func dropFillers(f string) string {
	words := strings.Fields(strings.ReplaceAll(f, "_", " "))
	if len(words) < 2 {
		return f
	}
	kept := words[:0:0]
	for _, w := range words {
		switch squeeze(w) {
		case "est", "estimated", "measured", "calc", "calculated", "normalized", "normalised", "raw", "the", "of", "at", "impact", "actual", "data", "value", "rate":
		default:
			kept = append(kept, w)
		}
	}
	if len(kept) == 0 || len(kept) == len(words) {
		return f
	}
	return strings.Join(kept, " ")
}

// column is one column of the file, over all its blocks.
type column struct {
	header   string
	quantity shot.Quantity
	role     string
	lang     string
	weak     bool
	hint     string
	stated   []*units.Unit // by block: written in header or unit row
	fixed    bool          // the user said what it is
	units    []units.Unit  // by part: as taken
	flipped  []bool        // by part
	userFlip bool
	evidence []string
	cellUnit *units.Unit // written in the cells
	assumed  bool        // the header says estimated
	words    int         // cells whose side was written in letters
}

func (c *column) say(s string) {
	for _, e := range c.evidence {
		if e == s {
			return
		}
	}
	c.evidence = append(c.evidence, s)
}

// block is a run of lines under one header.
type block struct {
	at    []int // for each cell position the column, -1 = none
	pos   []int // for each column the cell position, -1 = none; filled at the end
	label string
	head  int // line of the header
}

// isNumeric reports whether a cell begins like a number or is a missing mark.
func isNumeric(c string) bool {
	for i := 0; i < len(c); i++ {
		switch b := c[i]; {
		case b >= '0' && b <= '9':
			return true
		case b == '-' || b == '+' || b == '.' || b == ',' || b == '\'' || b == ' ':
		case b >= 0x80:
			f := typed.Fold(c)
			return f != "" && f != c && isASCII(f) && isNumeric(f)
		default:
			return false
		}
	}
	return false
}

// headerRow is a candidate for a header: one line, or a group line above it.
type headerRow struct {
	names []string
	known int // quantities, plus settings at half weight
	upTo  int // index of the last line used
}

// texty reports whether a line could be a header: texts, hardly any numbers.
func texty(l line) bool {
	full, numeric := 0, 0
	for _, c := range l.cells {
		if c == "" {
			continue
		}
		full++
		if isNumeric(c) {
			numeric++
		}
	}
	return full > 0 && numeric*5 <= full
}

func countKnown(names []string) int {
	seen := map[shot.Quantity]bool{}
	extra := 0
	for _, n := range names {
		ms, _, _ := headerMeaning(n)
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

// findHeader looks for a header that begins at line i and may span up to three
// lines (groups, names, second names). ok is false when line i begins none.
func findHeader(ls []line, i int) (headerRow, bool) {
	best := headerRow{names: ls[i].cells, known: countKnown(ls[i].cells), upTo: i}
	group := fillRight(ls[i].cells)
	for j := i + 1; j < len(ls) && j <= i+2 && texty(ls[j]); j++ {
		if len(unitsOf(ls[j].cells)) > 0 {
			break
		}
		if alone := countKnown(ls[j].cells); alone > best.known && j == i+1 && countKnown(ls[i].cells) == 0 {
			// The line below is a header by itself; this one may only name groups.
			if k := countKnown(join(group, ls[j].cells)); k <= alone {
				return headerRow{}, false
			}
		}
		for _, names := range [][]string{join(group, ls[j].cells), join(ls[i].cells, ls[j].cells)} {
			if k := countKnown(names); k > best.known {
				best = headerRow{names, k, j}
			}
		}
	}
	full := 0
	for _, n := range best.names {
		if n != "" {
			full++
		}
	}
	ok := best.known >= 4 || best.known >= 2 && full <= 4
	return best, ok
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

func join(a, b []string) []string {
	out := make([]string, max(len(a), len(b)))
	for i := range out {
		var x, y string
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		switch {
		case y == "":
			out[i] = x
		case x == "":
			out[i] = y
		default:
			if m, _, _ := headerMeaning(x + " " + y); len(m) == 0 {
				if m, _, _ := headerMeaning(y); len(m) > 0 {
					out[i] = y
					continue
				}
			}
			out[i] = x + " " + y
		}
	}
	return out
}

// unitsOf reads a unit row: position to unit. It is empty unless most filled
// cells are units.
func unitsOf(cells []string) map[int]units.Unit {
	out := map[int]units.Unit{}
	full := 0
	for i, c := range cells {
		if c == "" || c == "-" || c == "[]" || c == "[-]" || c == "()" || c == "#" {
			continue
		}
		full++
		if u, ok := typed.Unit(c); ok {
			out[i] = u
		}
	}
	if full == 0 || len(out)*3 < full*2 {
		return nil
	}
	return out
}
