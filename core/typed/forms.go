package typed

import (
	"strconv"
	"strings"

	"ferrule/core/units"
)

// Plain writes the ways in which spreadsheets and people show a sign or a side
// as this package reads them: "(12.3)", "(12.3 yd)" and "12.3-" are negative, "← 12.3" is
// 12.3 left. Any other text comes back as it is.
func Plain(text string) string {
	t := strings.TrimSpace(text)
	if t == "" {
		return text
	}
	switch last := t[len(t)-1]; {
	case t[0] == '(':
		if inside, unit, closed := strings.Cut(t[1:], ")"); closed && measure(inside+" "+unit) {
			return "-" + strings.TrimSpace(inside+" "+unit)
		}
	case last == '-' && bareNumber(t[:len(t)-1]):
		return "-" + strings.TrimSpace(t[:len(t)-1])
	case last < '0' || last > '9' || t[0] >= 0x80:
		for _, a := range [...][2]string{{"←", "left"}, {"→", "right"}, {"⬅", "left"}, {"➡", "right"}, {"◀", "left"}, {"▶", "right"}, {"◄", "left"}, {"►", "right"}} {
			if rest := strings.Replace(t, a[0], "", 1); rest != t {
				return strings.TrimSpace(rest) + " " + a[1]
			}
		}
	}
	return text
}

// measure reports a number without a sign, alone or with its unit.
func measure(s string) bool {
	k := strings.LastIndexAny(s, "0123456789") + 1
	unit := strings.TrimSpace(s[k:])
	if unit == "" {
		return bareNumber(s[:k])
	}
	_, is := Unit(unit)
	return is && bareNumber(s[:k])
}

// bareNumber reports digits and their marks alone, without a sign.
func bareNumber(s string) bool {
	s = strings.TrimSpace(s)
	digits := 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case isDigit(c):
			digits++
		case c == '.' || c == ',' || c == ' ' || c == '\'':
		default:
			return false
		}
	}
	return digits > 0
}

// feetMarks are the ways feet and inches are written. It is built once: a file asks
// it for each cell.
var feetMarks = strings.NewReplacer("′", "'", "’", "'", "″", "\"", "”", "\"", "''", "\"", "feet", "'", "foot", "'", "ft.", "'", "ft", "'", "inches", "\"", "inch", "\"", "in.", "\"", "in", "\"")

// FeetInches reads 6'2", 6 ft 2 in and the like as metres.
func FeetInches(text string) (si float64, ok bool) {
	t := strings.ToLower(Fold(text))
	t = feetMarks.Replace(t)
	feet, rest, found := strings.Cut(t, "'")
	rest = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "\""))
	sign := 1.0
	if f, minus := strings.CutPrefix(strings.TrimSpace(feet), "-"); minus {
		feet, sign = f, -1
	}
	if !found || rest == "" {
		return 0, false
	}
	f, err := strconv.ParseUint(strings.TrimSpace(feet), 10, 16)
	in, err2 := strconv.ParseFloat(rest, 64)
	if err != nil || err2 != nil || in < 0 || in >= 12 {
		return 0, false
	}
	return sign * (float64(f)*units.Foot + in*units.Inch), true
}
