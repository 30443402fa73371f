package club

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ferrule/core/message"
	"ferrule/core/units"
)

// Printed is a maker's table of positions as it was pasted or typed.
type Printed struct {
	Rows   []Position // as changes against the head as stated
	Both   bool       // the lofts may be lofts or changes of loft: ask, and read again
	Absent []string   // columns that the table does not print: "lie", "face"
}

// Lofts says how the lofts of a printed table are meant.
type Lofts string

// The readings of a column of lofts.
const (
	LoftsGuess   Lofts = ""
	LoftsWhole   Lofts = "whole"   // lofts of the club
	LoftsChanges Lofts = "changes" // changes against the loft as stated
)

// farthest is how far a sleeve moves a loft or a lie at the most, and the least
// loft that a wood has: between the two a number may be either. [deg]
const (
	farthest  = 5.0
	leastLoft = 3.0
)

// ReadPrinted reads a table as it is printed: a line a position, its label and
// then loft, lie and face in degrees, as many of them as are printed. A first
// line that names its columns (loft, lie, face, in any order) is heeded. Lofts
// and lies are changes, or those of the club as a whole; faces are changes.
// Nothing is read when one line cannot be.
func ReadPrinted(text string, h Head, how Lofts) (Printed, error) {
	type line struct {
		label string
		v     []float64
	}
	var lines []line
	order := []string{"loft", "lie", "face"}
	for n, raw := range strings.Split(text, "\n") {
		wrong := func(key string, places ...any) (Printed, error) {
			return Printed{}, message.New("problem.line", n+1, message.Of(key, places...))
		}
		label, v := printedLine(raw)
		if label == "" && len(v) == 0 {
			continue
		}
		if len(v) == 0 {
			if named := namedColumns(label); len(lines) == 0 && len(named) > 0 {
				order = named
				continue
			}
			return wrong("problem.read", strconv.Quote(strings.TrimSpace(raw)), message.Of("problem.want-angles"))
		}
		if len(v) > len(order) {
			return wrong("problem.angles-most", len(v), len(order))
		}
		label = cmp.Or(label, fmt.Sprint(len(lines)+1))
		if len(lines) > 0 && len(v) != len(lines[0].v) {
			return wrong("problem.angles-above", len(v), len(lines[0].v))
		}
		for i, l := range lines {
			if l.label == label {
				return wrong("problem.same-label", strconv.Quote(label), i+1)
			}
		}
		lines = append(lines, line{label, v})
	}
	if len(lines) < 2 {
		return Printed{}, message.New("problem.two-lines", len(lines))
	}
	out := Printed{Rows: make([]Position, len(lines))}
	for i, l := range lines {
		out.Rows[i].Label = l.label
	}
	for k, name := range order {
		if k >= len(lines[0].v) {
			out.Absent = append(out.Absent, name)
			continue
		}
		column := make([]float64, len(lines))
		for i, l := range lines {
			column[i] = l.v[k]
		}
		base, both, err := against(name, column, h, how)
		if err != nil {
			return Printed{}, err
		}
		out.Both = out.Both || both
		for i := range lines {
			v := (column[i] - base) * units.Degree
			switch name {
			case "loft":
				out.Rows[i].Loft = v
			case "lie":
				out.Rows[i].Lie = v
			case "face":
				out.Rows[i].Face = v
			}
		}
	}
	return out, nil
}

// against is what the numbers of a column are to be taken against [deg]: zero
// when they are changes, the head's own when they are of the club as a whole.
func against(name string, column []float64, h Head, how Lofts) (base float64, both bool, err error) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range column {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	changes := lo >= -farthest && hi <= farthest
	own := map[string]float64{"loft": h.Loft / units.Degree, "lie": h.Lie / units.Degree, "face": math.Inf(1)}[name]
	whole := lo >= math.Max(own-farthest, leastLoft) && hi <= own+farthest
	switch {
	case name == "loft" && changes && whole && how == LoftsGuess:
		return 0, true, nil
	case name == "loft" && whole && how == LoftsWhole, whole && !changes:
		return own, false, nil
	case changes:
		return 0, false, nil
	}
	if name == "face" {
		return 0, false, message.New("problem.named", name, message.Of("problem.changes", lo, hi, farthest))
	}
	return 0, false, message.New("problem.named", name, message.Of("problem.changes-or", lo, hi, farthest, farthest, own))
}

// printedLine takes a line apart: the numbers at its end, and the words before.
func printedLine(raw string) (label string, v []float64) {
	raw = strings.NewReplacer("\t", " ", ";", " ", "|", " ", "°", " ", "\u00a0", " ").Replace(raw)
	fields := strings.Fields(raw)
	if len(fields) == 1 && strings.Contains(raw, ",") {
		fields = strings.FieldsFunc(raw, func(r rune) bool { return r == ',' || r == ' ' || r == '\r' })
	}
	for len(fields) > 0 && len(v) < 3 {
		n, err := units.ParseNumber(strings.TrimSuffix(fields[len(fields)-1], ","))
		if err != nil {
			break
		}
		v = append([]float64{n}, v...)
		fields = fields[:len(fields)-1]
	}
	return strings.Trim(strings.Join(fields, " "), " ,:"), v
}

// namedColumns are the columns that a heading names, in its order.
func namedColumns(heading string) (names []string) {
	for _, word := range strings.FieldsFunc(strings.ToLower(heading), func(r rune) bool { return strings.ContainsRune(" ,/()", r) }) {
		switch word {
		case "loft", "ロフト", "ロフト角", "로프트", "로프트각":
			names = append(names, "loft")
		case "lie", "ライ", "ライ角", "라이", "라이각":
			names = append(names, "lie")
		case "face", "cara", "schlagfläche", "fläche", "フェース", "フェース角", "페이스", "페이스각":
			names = append(names, "face")
		}
	}
	return names
}
