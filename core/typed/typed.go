// Package typed reads one number as a person or a device writes it: "12,3 L",
// "R 12.3", "152.3 yd", "2.1 open", "左 5". It links neither numerics nor
// encodings, so that the page may use it for its keypad; package shotfile uses
// the same lexer for the cells of files.
//
// Main functions in reading order: Parse (one typed field), Split (a cell into
// number and words), Unit and Meaning (what the words say), Shape (a key for a
// file's columns, so that corrections are remembered).
//
// Begin with Reader.Parse and its example.
package typed

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Parts is a cell split into its number and the words around it.
type Parts struct {
	Number string   // sign, digits, '.', ',' and grouping marks as written; ASCII
	Words  []string // what stood around it, lower case, in order: "yd", "r"
}

// foldRune maps look-alikes to ASCII: full-width forms, dashes used as minus,
// odd spaces and apostrophes.
func foldRune(r rune) rune {
	switch {
	case r >= 0xff01 && r <= 0xff5e:
		return r - 0xff01 + '!'
	case r == 0x2212 || r == 0x2012 || r == 0x2013 || r == 0x2014 || r == 0xfe63:
		return '-'
	case r == 0xa0 || r == 0x2009 || r == 0x202f || r == 0x2007 || r == 0x3000:
		return ' '
	case r == 0x2019 || r == 0x2018 || r == 0x2032:
		return '\''
	case r == 0x2033 || r == 0x201d || r == 0x201c:
		return '"'
	case r == 0xba || r == 0x2da:
		return '°'
	case Unseen(r):
		return -1
	}
	return r
}

// Unseen reports marks that nobody sees: joiners, byte order, which way a text runs
// (Unicode's default ignorable code points that occur in exports).
func Unseen(r rune) bool {
	return r >= 0x200b && r <= 0x200f || r >= 0x202a && r <= 0x202e || r >= 0x2060 && r <= 0x2069 || r == 0xfeff || r == 0x61c || r == 0xad
}

// Fold maps look-alike characters to ASCII and trims spaces.
func Fold(s string) string {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return strings.TrimSpace(strings.Map(foldRune, s))
		}
	}
	return strings.TrimSpace(s)
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// Split finds the one number in a cell. ok is false when there is none, or
// when what is left holds another number (a date, a range).
func Split(text string) (p Parts, ok bool) {
	s := Fold(text)
	start := -1
	for i := 0; i < len(s); i++ {
		if isDigit(s[i]) || (s[i] == '.' || s[i] == ',') && i+1 < len(s) && isDigit(s[i+1]) {
			start = i
			break
		}
	}
	if start < 0 {
		return p, false
	}
	end := numberEnd(s, start)
	number, before, after := s[start:end], s[:start], s[end:]
	trimmed := strings.TrimRight(before, " ")
	if n := len(trimmed); n > 0 && (trimmed[n-1] == '-' || trimmed[n-1] == '+') {
		if trimmed[n-1] == '-' {
			number = "-" + number
		}
		before = trimmed[:n-1]
	}
	if before == "" && after == "" {
		return Parts{Number: number}, true
	}
	for i := 0; i < len(before); i++ {
		if isDigit(before[i]) {
			return p, false
		}
	}
	p = Parts{Number: number, Words: append(wordsOf(before), wordsOf(after)...)}
	for _, w := range p.Words {
		if strings.ContainsAny(w, "0123456789") {
			if _, unit := Unit(w); !unit {
				return Parts{}, false
			}
		}
	}
	return p, true
}

// numberEnd returns the end of the number that begins at start.
func numberEnd(s string, start int) int {
	i := start
	group := func(at int) bool { // exactly three digits follow
		return at+3 < len(s)+0 && isDigit(s[at+1]) && isDigit(s[at+2]) && isDigit(s[at+3]) &&
			(at+4 >= len(s) || !isDigit(s[at+4]))
	}
	for i < len(s) {
		c := s[i]
		switch {
		case isDigit(c):
			i++
		case (c == '.' || c == ',') && i+1 < len(s) && isDigit(s[i+1]):
			i++
		case c == '.' && i+1 == len(s):
			return i + 1
		case (c == '\'' || c == ' ') && i > start && i-start <= 12 && group(i):
			i += 4
		case (c == 'e' || c == 'E') && i+1 < len(s) && (isDigit(s[i+1]) ||
			(s[i+1] == '-' || s[i+1] == '+') && i+2 < len(s) && isDigit(s[i+2])):
			i += 2
			for i < len(s) && isDigit(s[i]) {
				i++
			}
			return i
		default:
			return i
		}
	}
	return i
}

// wordsOf splits the text beside a number into lower-case words; a degree
// sign, a percent sign and the side letters of Japanese and Korean stand alone.
func wordsOf(s string) []string {
	s = strings.ToLower(s)
	var out []string
	for _, f := range strings.FieldsFunc(s, func(r rune) bool {
		return r == ' ' || r == '(' || r == ')' || r == '[' || r == ']' || r == ':' || r == ';' || r == '='
	}) {
		for _, mark := range []string{"°", "%", "右", "左", "우", "좌"} {
			if Meaning(f) != 0 { // "右侧" is one word
				break
			}
			if f != mark && strings.HasPrefix(f, mark) {
				out, f = append(out, mark), f[len(mark):]
			} else if f != mark && strings.HasSuffix(f, mark) {
				out, f = append(out, f[:len(f)-len(mark)]), mark
			}
		}
		if f = strings.Trim(f, ",.·"); f != "" && f != "'" || len(out) > 0 && f == "'" {
			out = append(out, f)
		}
	}
	if len(out) == 0 && strings.TrimSpace(s) == "'" {
		return []string{"'"} // feet after a number, a spreadsheet's text mark before one
	}
	return out
}

// Mark is which character separates decimals.
type Mark byte

// The marks. Auto judges one cell by itself.
const (
	Auto  Mark = 0
	Point Mark = '.'
	Comma Mark = ','
)

// Value reads Parts.Number with the given decimal mark; the other mark and
// apostrophes, spaces are grouping.
func Value(number string, m Mark) (float64, error) {
	if m == Auto {
		return units.ParseNumber(number)
	}
	plain := true
	for i := 0; i < len(number); i++ {
		if c := number[i]; c == ',' || c == '\'' || c == ' ' || c == '.' && m == Comma {
			plain = false
			break
		}
	}
	s := number
	if !plain {
		b := make([]byte, 0, len(number))
		for i := 0; i < len(number); i++ {
			switch c := number[i]; {
			case c == byte(m):
				b = append(b, '.')
			case c == '.' || c == ',' || c == '\'' || c == ' ':
			default:
				b = append(b, c)
			}
		}
		s = string(b)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, message.New("problem.read", strconv.Quote(number), message.Of("problem.number", "67.5"))
	}
	return v, nil
}

// Reader reads typed fields for one person.
type Reader struct {
	System   units.System // in which unit a bare number counts
	Hand     frame.Hand   // "open" and "draw" depend on it
	Language string       // for letters that languages use differently: "es" D = right
}

// Parse reads one typed field of quantity q into SI with the signs of package
// frame. A bare number counts in the reader's system; "12.3 m" says its own
// unit; L and R (or the words of seven languages) say the side, and a minus
// counts when no side is given. The error says what was read and what is
// expected; an empty text is an error too: the caller knows that nothing was
// typed.
func (r Reader) Parse(q shot.Quantity, text string) (float64, error) {
	k, ok := shot.KindOf(q)
	if !ok {
		return 0, errors.New("typed: " + string(q) + " is no quantity")
	}
	unit := r.System.Unit(k.Dim)
	example := Example(k, unit)
	p, ok := Split(text)
	if !ok {
		return 0, message.New("problem.read", strconv.Quote(text), example)
	}
	v, err := Value(p.Number, r.mark(p.Number, k))
	if err != nil {
		return 0, message.New("problem.read", strconv.Quote(text), example)
	}
	sign, sided, odd := r.words(p.Words, k, &unit)
	if odd != "" {
		return 0, message.New("problem.read", message.Of("problem.neither", strconv.Quote(text), strconv.Quote(odd)), example)
	}
	if sided && v < 0 {
		return 0, message.New("problem.read", message.Of("problem.minus-side", strconv.Quote(text)), example)
	}
	v *= sign
	si := unit.SI(v)
	if lo, hi := Limits(q); si < lo || si > hi {
		return 0, message.New("problem.read", strconv.Quote(text), Between(unit, lo, hi))
	}
	return si, nil
}

// mark decides what a lone comma with three digits behind it means: grouping
// for spins ("2,850"), a decimal comma for all else.
func (r Reader) mark(number string, k shot.Kind) Mark {
	if k.Dim == units.Spin && Grouped(number) {
		if strings.Contains(number, ",") {
			return Point
		}
		return Comma
	}
	return Auto
}

// Grouped reports whether a number could be grouped thousands: one kind of
// mark, three digits behind each, one to three before the first.
func Grouped(number string) bool {
	s := strings.TrimPrefix(number, "-")
	var mark byte
	run, groups := 0, 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case isDigit(c):
			run++
		case c == '.' || c == ',':
			if mark != 0 && c != mark || groups > 0 && run != 3 || groups == 0 && (run == 0 || run > 3) {
				return false
			}
			if groups == 0 && s[0] == '0' {
				return false
			}
			mark, run = c, 0
			groups++
		default:
			return false
		}
	}
	return groups > 0 && run == 3
}

// words reads unit and side from the words beside a number; odd is one that says neither.
func (r Reader) words(ws []string, k shot.Kind, unit *units.Unit) (sign float64, sided bool, odd string) {
	sign = 1
	if len(ws) == 0 {
		return
	}
	if m := Meaning(strings.Join(ws, "")); m != 0 {
		ws = []string{strings.Join(ws, "")}
	}
	for _, w := range ws {
		if w == "'" && !isLength(k.Dim) {
			continue
		}
		if m := Meaning(w); m != 0 {
			s, ok := m.Sign(k, r.Hand, r.Language)
			if ok {
				sign, sided = s, true
				continue
			}
			if u, isUnit := Unit(w); isUnit && SameDim(u.Dim, k.Dim) {
				*unit = u
				continue
			}
			return 1, false, w
		}
		u, ok := Unit(w)
		if !ok || !SameDim(u.Dim, k.Dim) {
			return 1, false, w
		}
		*unit = u
	}
	return
}

// Example writes what a cell of this kind looks like: "a number of mph such as 150".
func Example(k shot.Kind, u units.Unit) message.Message {
	lo, hi := Typical(k.Quantity)
	at := (lo + hi) / 2
	digits := 1
	if k.Dim == units.Spin || k.Dim == units.Speed || k.Dim == units.Length || k.Dim == units.Height {
		digits = 0
	}
	if k.Dim == units.None {
		digits = 2
	}
	such := units.Format(u.From(at), digits, '.')
	if k.Compass {
		such = units.Format(math.Abs(u.From(hi))/3, digits, '.') + " R"
	}
	if u.Symbol == "" {
		return message.Of("problem.number", such)
	}
	return message.Of("problem.number-of", u.Symbol, such)
}

// Between is what is expected of a number in the unit u that must lie from lo to hi [SI].
func Between(u units.Unit, lo, hi float64) message.Message {
	return message.Of("problem.between", units.Format(u.From(lo), 0, '.'), strings.TrimSpace(units.Format(u.From(hi), 0, '.')+" "+u.Symbol))
}
