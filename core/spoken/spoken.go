// Package spoken reads what was said of a ball: "two four five right twelve",
// "245 links 12". It knows no language: the words of each stand in
// core/text (Said), one list a meaning.
//
// Of what can be read in two ways, or holds a word that is not known, nothing is
// taken: the person sees what was heard and says it again.
//
// Begin with Read and its example.
package spoken

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"ferrule/core/typed"
)

// Ball is what was said of one, as the fields of a key pad take it.
type Ball struct {
	Carry, Side         string // digits with '.' before decimals; empty = not said
	CarryUnit, SideUnit string // "yd", "m"; empty = not said
	Left, Right         bool   // of the two at most one
}

// What a word means, beside the numbers 0 to 19, the tens, and 100 to 900.
const (
	times10  = "x10"  // multiplies: 二十
	times100 = "x100" // multiplies: two hundred
	point    = "."    // between a number and its decimals
	join     = "+"    // forty AND five
	swap     = "&"    // fünf UND vierzig
	left     = "L"
	right    = "R"
	straight = "C" // a side of nothing
	yards    = "yd"
	metres   = "m"
	nothing  = "-" // says nothing here: "carry"
)

// literal is the meaning of digits; which they are stands in the token.
const literal = "#"

type token struct {
	means string
	n     int    // of a number's word, and of a single digit
	text  string // of digits
}

// single reports a number of one digit, written or spoken.
func (t token) single() bool { return t.means == "1" }

// table is the meaning of each word of a language.
type table map[string]string

// tableOf reads "0 zero oh|1 one|x100 hundred": a meaning, then its words.
func tableOf(words string) table {
	t := table{}
	for _, line := range strings.Split(words, "|") {
		f := strings.Fields(line)
		for i := 1; i < len(f); i++ {
			t[plain(f[i])] = f[0]
		}
	}
	return t
}

var accents = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ä", "a", "ö", "o", "ñ", "n", "ß", "ss")

// plain is a text in small letters, without accents and marks that nobody sees.
func plain(s string) string { return accents.Replace(strings.ToLower(typed.Fold(s))) }

// Read reads what was said by the words of a language. ok is false where it is not
// understood, whole and in one way.
func Read(said, words string) (b Ball, ok bool) {
	all, ok := tokens(plain(said), tableOf(words))
	if !ok {
		return b, false
	}
	at := -1
	for i, t := range all {
		if t.means == left || t.means == right || t.means == straight {
			if at >= 0 {
				return b, false
			}
			at = i
		}
	}
	if at < 0 {
		return unsided(all)
	}
	before, after := all[:at], all[at+1:]
	switch side := all[at].means; {
	case side == straight && len(after) == 0:
		b.Side = "0"
	case side == straight:
		return b, false
	default:
		b.Left, b.Right = side == left, side == right
	}
	switch {
	case b.Side != "":
		b.Carry, b.CarryUnit, ok = measure(before)
	case len(after) > 0:
		b.Carry, b.CarryUnit, ok = measure(before)
		if ok {
			b.Side, b.SideUnit, ok = measure(after)
		}
	default:
		ok = b.split(before)
	}
	if !ok {
		return Ball{}, false
	}
	return b, true
}

// unsided reads a carry alone, or digits that stand apart: "245 12". Of words that
// follow each other nobody knows where the second number begins.
func unsided(all []token) (b Ball, ok bool) {
	if b.Carry, b.CarryUnit, ok = measure(all); ok {
		return b, true
	}
	if len(all) > 1 && all[0].means == literal {
		cut := 1
		if all[1].means == yards || all[1].means == metres {
			cut = 2
		}
		c, cu, ok1 := measure(all[:cut])
		s, su, ok2 := measure(all[cut:])
		if ok1 && ok2 && (len(all) == cut+1 || len(all) == cut+2) && all[cut].text != "" {
			return Ball{Carry: c, CarryUnit: cu, Side: s, SideUnit: su}, true
		}
	}
	return Ball{}, false
}

// split finds the one place where a carry ends and the number of a side begins: a
// ball is not further to the side than away.
func (b *Ball) split(all []token) bool {
	if _, _, one := measure(all); one { // "12 right" says no carry
		return false
	}
	found := 0
	for i := 1; i < len(all); i++ {
		c, cu, ok1 := measure(all[:i])
		s, su, ok2 := measure(all[i:])
		if !ok1 || !ok2 {
			continue
		}
		x, _ := strconv.ParseFloat(c, 64)
		if y, _ := strconv.ParseFloat(s, 64); y >= x {
			continue
		}
		found++
		b.Carry, b.CarryUnit, b.Side, b.SideUnit = c, cu, s, su
	}
	return found == 1
}

// tokens parts a text into words of the table and digits. The longest word counts,
// with or without spaces around it, as languages write it.
func tokens(s string, t table) (out []token, ok bool) {
	for s != "" {
		r, size := utf8.DecodeRuneInString(s)
		switch {
		case strings.ContainsRune(" -,.;:!?、。'\"", r):
			s = s[size:]
			continue
		case r >= '0' && r <= '9':
			n := 1
			for n < len(s) && (digit(s[n]) || (s[n] == '.' || s[n] == ',') && n+1 < len(s) && digit(s[n+1])) {
				n++
			}
			text := strings.Replace(s[:n], ",", ".", 1)
			whole, decimals, _ := strings.Cut(text, ".")
			if len(whole) > 3 || len(decimals) > 2 || strings.Trim(decimals, "0123456789") != "" {
				return nil, false
			}
			v, _ := strconv.Atoi(text)
			one := token{literal, v, text}
			if n == 1 {
				one.means = "1"
			}
			out, s = append(out, one), s[n:]
			continue
		}
		long := ""
		for w := range t {
			if len(w) > len(long) && strings.HasPrefix(s, w) {
				long = w
			}
		}
		if long == "" {
			return nil, false
		}
		s = s[len(long):]
		means := t[long]
		if means == nothing {
			continue
		}
		one := token{means: means}
		if v, err := strconv.Atoi(means); err == nil {
			one.n = v
			switch {
			case v < 10:
				one.means = "1"
			case v < 20:
				one.means = "11"
			case v < 100:
				one.means = "20"
			default:
				one.means = "100"
			}
		}
		out = append(out, one)
	}
	return out, len(out) > 0
}

func digit(c byte) bool { return c >= '0' && c <= '9' }
