package shotfile

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// column is one column as understood so far.
type column struct {
	header   string
	at       int
	quantity shot.Quantity
	kind     shot.Kind
	role     string
	unit     units.Unit
	unitFrom string // "header", "unit row", "cells", "values", "correction"
	mark     typed.Mark
	language string // of single letters in its cells
	flipped  bool
	evidence string
}

// headerMeaning says what a header can mean and which unit it states:
// "Ball Speed (mph)", "ball_speed_mph", "Carry(yd)", "Apex Height [ft]".
func headerMeaning(cell string) (ms []meaning, unit units.Unit, hasUnit bool) {
	text := typed.Fold(cell)
	if text == "" || len(text) > 120 {
		return nil, unit, false
	}
	if open := strings.LastIndexAny(text, "([{"); open >= 0 {
		inside := strings.TrimRight(strings.TrimSpace(text[open+1:]), ")]}")
		if u, ok := typed.Unit(strings.ToLower(strings.TrimSpace(inside))); ok {
			if ms, _, _ = headerMeaning(text[:open]); len(ms) > 0 {
				return fitting(ms, u), u, true
			}
		}
	}
	if ms = headers[squeeze(text)]; len(ms) > 0 {
		return ms, unit, false
	}
	if i := strings.LastIndexAny(strings.TrimSpace(text), " _,;/"); i > 0 {
		if u, ok := typed.Unit(strings.ToLower(strings.TrimSpace(text[i+1:]))); ok {
			if ms = headers[squeeze(text[:i])]; len(ms) > 0 {
				return fitting(ms, u), u, true
			}
		}
	}
	if open := strings.LastIndexAny(text, "([{"); open > 0 { // a bracket that is no unit: "Face Angle (open +)"
		if ms = headers[squeeze(text[:open])]; len(ms) > 0 {
			return ms, unit, false
		}
	}
	return nil, unit, false
}

// fitting puts the meanings of the unit's dimension first: "Side [deg]" is an
// angle, "Ball (mph)" a speed.
func fitting(ms []meaning, u units.Unit) []meaning {
	out := append([]meaning(nil), ms...)
	sort.SliceStable(out, func(i, j int) bool { return fits(out[i], u) && !fits(out[j], u) })
	if len(out) > 0 && !fits(out[0], u) {
		switch first := out[0]; {
		case u.Dim == units.Angle && first.quantity == shot.Offline:
			out = append([]meaning{{quantity: shot.OfflineAngle}}, out...)
		case u.Dim == units.Spin && first.quantity == shot.Offline:
			out = append([]meaning{{quantity: shot.Sidespin}}, out...)
		case speedish(u) && first.role == roleBall:
			out = append([]meaning{{quantity: shot.BallSpeed}}, out...)
		case speedish(u) && first.role == roleClub:
			out = append([]meaning{{quantity: shot.ClubSpeed}}, out...)
		case u.Dim == units.Time && first.role == roleTime:
			out = append([]meaning{{quantity: shot.FlightTime}}, out...)
		}
	}
	return out
}

func fits(m meaning, u units.Unit) bool {
	k, ok := shot.KindOf(m.quantity)
	return ok && typed.SameDim(k.Dim, u.Dim)
}

// isUnitRow reports whether most filled cells are units: "[mph]", "deg", "yds".
func isUnitRow(cells []string) bool {
	filled, is := 0, 0
	for _, c := range cells {
		if c = strings.Trim(typed.Fold(c), "[]() "); c == "" || c == "-" {
			continue
		}
		filled++
		if _, ok := typed.Unit(strings.ToLower(c)); ok {
			is++
		}
	}
	return is > 0 && is*2 >= filled && filled > 0 && numbersIn(cells) == 0
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

func (r *reader) cell(l line, c *column) string {
	if c.at < len(l.cells) {
		return strings.TrimSpace(l.cells[c.at])
	}
	return ""
}

// understand decides for each column what it is, in which unit and notation.
func (r *reader) understand(headers, above, unitRow []string) {
	taken := map[shot.Quantity]bool{}
	group := ""
	for i, h := range headers {
		c := column{header: strings.TrimSpace(typed.Fold(h)), at: i}
		if i < len(above) && strings.TrimSpace(above[i]) != "" {
			group = strings.TrimSpace(above[i])
		}
		ms, unit, hasUnit := headerMeaning(h)
		if len(above) > 0 && (len(ms) == 0 || ms[0].weak || ms[0].quantity == "") && group != "" {
			for _, joined := range []string{group + " " + h, h + " " + group} { // "Ball" over "Speed"
				if more, u, has := headerMeaning(joined); len(more) > 0 && more[0].quantity != "" {
					ms, unit, hasUnit = more, u, has
					break
				}
			}
		}
		if i < len(unitRow) {
			if u, ok := typed.Unit(strings.ToLower(strings.Trim(typed.Fold(unitRow[i]), "[]() "))); ok {
				unit, hasUnit, c.unitFrom = u, true, "unit row"
				ms = fitting(ms, u)
			}
		}
		if hasUnit && c.unitFrom == "" {
			c.unitFrom = "header"
		}
		c.unit = unit
		r.choose(&c, ms, hasUnit, taken)
		r.cols = append(r.cols, c)
	}
	for i := range r.cols {
		r.correct(&r.cols[i])
	}
	for i := range r.cols {
		if r.cols[i].quantity != "" {
			r.notation(&r.cols[i])
		}
	}
	r.findSetting()
}

// choose takes the first meaning that fits the values and is still free.
func (r *reader) choose(c *column, ms []meaning, hasUnit bool, taken map[shot.Quantity]bool) {
	numbers, filled := 0, 0
	for i, l := range r.rows {
		if i == 400 {
			break
		}
		if t := r.cell(l, c); t != "" {
			filled++
			if _, ok := typed.Split(t); ok {
				numbers++
			}
		}
	}
	for _, m := range ms {
		if m.quantity == "" {
			if m.role != "" && !hasUnit || m.role == roleTime {
				c.role = m.role
				c.evidence = fmt.Sprintf("the header %q names the %s", c.header, m.role)
				return
			}
			continue
		}
		k, _ := shot.KindOf(m.quantity)
		if taken[m.quantity] || hasUnit && !typed.SameDim(k.Dim, c.unit.Dim) || filled > 0 && numbers*2 < filled && numbers < 2 {
			continue
		}
		c.quantity, c.kind = m.quantity, k
		taken[m.quantity] = true
		c.evidence = fmt.Sprintf("the header %q", c.header)
		return
	}
	if len(ms) > 0 {
		c.evidence = fmt.Sprintf("the header %q is known, but its values or unit fit no free quantity", c.header)
	} else if c.header != "" {
		c.evidence = fmt.Sprintf("the header %q is not known", c.header)
	}
}

// correct applies what the person said of a column.
func (r *reader) correct(c *column) {
	for _, fix := range r.opt.Columns {
		if fix.Header != c.header {
			continue
		}
		c.role, c.quantity, c.evidence = fix.Role, fix.Quantity, "as you said"
		if k, ok := shot.KindOf(fix.Quantity); ok {
			c.kind = k
		}
		if u, ok := typed.Unit(strings.ToLower(fix.Unit)); ok {
			c.unit, c.unitFrom = u, "correction"
		}
		c.flipped = fix.Flipped
		if fix.Flipped {
			c.unitFrom = "correction"
		}
	}
}

// notation decides decimal mark, unit and the language of side letters.
func (r *reader) notation(c *column) {
	var comma, point, grouped, dots int
	seen := map[typed.Direction]int{}
	inCells := map[string]int{}
	for _, l := range r.rows {
		p, ok := typed.Split(r.cell(l, c))
		if !ok {
			continue
		}
		n := strings.TrimLeft(p.Number, "-")
		ci, pi := strings.LastIndexByte(n, ','), strings.LastIndexByte(n, '.')
		switch {
		case ci >= 0 && pi > ci:
			point += 3
		case pi >= 0 && ci > pi:
			comma += 3
		case ci >= 0 && typed.Grouped(n) && !strings.HasPrefix(n, "0"):
			grouped++
		case ci >= 0:
			comma++
		case pi >= 0 && !typed.Grouped(n):
			point++
		case pi >= 0:
			dots++
		}
		for _, w := range p.Words {
			if d := typed.Meaning(w); d != 0 {
				seen[d]++
			} else if u, ok := typed.Unit(w); ok && typed.SameDim(u.Dim, c.kind.Dim) {
				inCells[w]++
			}
		}
	}
	c.language = typed.LetterLanguage(seen)
	c.mark = typed.Point
	switch {
	case c.kind.Dim == units.Spin && dots > 0 && point == 0: // "2.600" of a spin is thousands
		c.mark = typed.Comma
	case comma > point:
		c.mark = typed.Comma
	case comma == 0 && point == 0 && grouped > 0 && c.kind.Dim != units.Spin && c.kind.Dim != units.Length:
		c.mark = typed.Comma // "12,345" of an angle cannot be thousands
	}
	if c.unitFrom == "" {
		for w := range inCells {
			c.unit, _ = typed.Unit(w)
			c.unitFrom = "cells"
		}
	}
	if c.unitFrom == "" {
		r.inferUnit(c)
	}
	if c.kind.Dim == units.None {
		c.unit, c.unitFrom = units.UnitOne, ""
	}
	if c.unitFrom != "" {
		c.evidence += fmt.Sprintf(", %s from the %s", c.unit.Symbol, c.unitFrom)
	}
}

// candidates are the units in which devices write a dimension, likeliest first.
func candidates(d units.Dimension) []units.Unit {
	switch d {
	case units.Speed:
		return []units.Unit{units.UnitMPH, units.UnitMPS, units.UnitKMH, units.UnitFPS}
	case units.Length:
		return []units.Unit{units.UnitYd, units.UnitM, units.UnitFt}
	case units.Height:
		return []units.Unit{units.UnitFt, units.UnitM, units.UnitYd}
	case units.Small:
		return []units.Unit{units.UnitMm, units.UnitIn, typed.UnitCm}
	case units.Angle:
		return []units.Unit{units.UnitDeg, units.UnitRad}
	case units.Spin:
		return []units.Unit{units.UnitRPM, units.UnitRadS}
	case units.Time:
		return []units.Unit{units.UnitSec}
	}
	return []units.Unit{units.UnitOne}
}

// inferUnit takes the unit under which the median looks most like a drive.
func (r *reader) inferUnit(c *column) {
	var vs []float64
	for _, l := range r.rows {
		if p, ok := typed.Split(r.cell(l, c)); ok {
			if v, err := typed.Value(p.Number, c.mark); err == nil && v != 0 {
				vs = append(vs, math.Abs(v))
			}
		}
	}
	list := candidates(c.kind.Dim)
	c.unit, c.unitFrom = list[0], "trade's habit"
	if len(vs) == 0 {
		return
	}
	sort.Float64s(vs)
	med := vs[len(vs)/2]
	lo, hi := typed.Typical(c.quantity)
	if lo < 0 {
		lo = .003 * hi
	}
	best := math.Inf(1)
	for i, u := range list {
		si := u.SI(med)
		off := math.Max(0, math.Max(math.Log(lo/si), math.Log(si/hi))) + .001*float64(i)
		if off < best {
			best, c.unit, c.unitFrom = off, u, "values"
		}
	}
}

// findSetting makes a column of few different texts the setting, when the file
// names none.
func (r *reader) findSetting() {
	for _, c := range r.cols {
		if c.role == roleSetting || c.role == roleSleeve || c.role == roleWeight {
			return
		}
	}
	rank := func(c *column) int {
		switch c.role {
		case "":
			if c.quantity == "" {
				return 5
			}
		case roleTag, roleNote:
			return 4
		case roleBall:
			return 2
		}
		return 0
	}
	best, bestRank := -1, 0
	for i := range r.cols {
		c := &r.cols[i]
		texts, filled := map[string]bool{}, 0
		for _, l := range r.rows {
			t := r.cell(l, c)
			if _, isNumber := typed.Split(t); t != "" && !isNumber {
				texts[t] = true
				filled++
			}
		}
		if k := rank(c); k > bestRank && len(texts) >= 2 && len(texts) <= 12 && filled*10 >= len(r.rows)*8 && filled >= 2*len(texts) {
			best, bestRank = i, k
		}
	}
	if best >= 0 {
		c := &r.cols[best]
		c.role = roleSetting
		c.evidence = fmt.Sprintf("no column names a setting; %q holds a few repeated texts and is taken for it", c.header)
		r.note("the column %q is taken as the setting", c.header)
	}
}
