package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ParseNumber reads a number as a person types it: decimal point or comma,
// grouping by thin or no-break spaces, apostrophes, a Unicode minus or dash.
// "1,234.5", "1.234,5" and "1 234,5" are 1234.5. A single comma is a decimal
// comma ("2,85" is 2.85): a typed field has no column to judge by; files are
// judged by column in shotfile.
//
// The error says what was read and what is expected.
func ParseNumber(text string) (float64, error) {
	var b strings.Builder
	for _, r := range strings.TrimSpace(text) {
		switch {
		case r == '\u2212' || r == '\u2012' || r == '\u2013':
			b.WriteByte('-')
		case r == ' ' || r == '\u00a0' || r == '\u2009' || r == '\u202f' || r == '\'' || r == '\u2019':
		case r >= '\uff10' && r <= '\uff19':
			b.WriteByte(byte('0' + r - '\uff10'))
		case r == '\uff0e':
			b.WriteByte('.')
		default:
			b.WriteRune(r)
		}
	}
	s := b.String()
	point, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case point >= 0 && comma > point: // 1.234,5
		s = strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
	case comma >= 0 && point > comma: // 1,234.5
		s = strings.ReplaceAll(s, ",", "")
	case comma >= 0 && strings.Count(s, ",") == 1:
		s = strings.Replace(s, ",", ".", 1)
	case comma >= 0:
		s = strings.ReplaceAll(s, ",", "")
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(s, "xXpP_") {
		return 0, fmt.Errorf("read %q, expected a number such as 67.5", text)
	}
	return v, nil
}

// Format writes v with the given number of decimals, a real minus sign and
// the given decimal mark ('.' when zero). Negative zero is written as zero.
func Format(v float64, decimals int, mark rune) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.HasPrefix(s, "-") {
		if strings.Trim(s, "-0.") == "" {
			s = s[1:]
		} else {
			s = "\u2212" + s[1:]
		}
	}
	if mark != 0 && mark != '.' {
		s = strings.Replace(s, ".", string(mark), 1)
	}
	return s
}
