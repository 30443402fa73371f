package share

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// In the session, texts go through the range coder too: each word of the list
// and each letter has its share, roughly as labels of clubs are written. The
// shares are part of version 1.
const (
	shareEnd    = 700 // the text is over
	shareWord   = 5   // each word
	shareCommon = 24  // each of the first words
	commonWords = 20
	shareUpper  = 14 // the next letter is a capital
	shareOther  = 12 // a character of its own, 21 bits
	letterOrder = "etoainrslhdupfmwgckbyvxqzj -,./0123456789"
)

var shareLetter = [...]uint32{44, 32, 30, 30, 28, 28, 28, 25, 24, 20, 18, 16, 16, 14, 14, 12, 12, 12, 8, 8, 8, 6, 3, 3, 3, 3,
	30, 10, 8, 6, 4, 8, 8, 8, 4, 4, 6, 4, 4, 4, 4}

// letters lists the symbols in order: end, capital, other, words, letters.
var letters, letterTotal = func() (parts []uint32, total uint32) {
	parts = append(parts, shareEnd, shareUpper, shareOther)
	for i := range words {
		if i < commonWords {
			parts = append(parts, shareCommon)
		} else {
			parts = append(parts, shareWord)
		}
	}
	parts = append(parts, shareLetter[:]...)
	for _, p := range parts {
		total += p
	}
	return parts, total
}()

const (
	symbolEnd = iota
	symbolUpper
	symbolOther
	symbolWord
)

func (e *rangeWriter) letter(i int) {
	from := uint32(0)
	for _, p := range letters[:i] {
		from += p
	}
	e.symbol(from, letters[i], letterTotal)
}

func (e *rangeWriter) text(s string) {
	s = strings.ToValidUTF8(s, "\uFFFD")
	for n := 0; len(s) > 0 && n < maxText; n++ {
		best := -1
		for i, d := range words {
			if strings.HasPrefix(s, d) && (best < 0 || len(d) > len(words[best])) {
				best = i
			}
		}
		if best >= 0 {
			e.letter(symbolWord + best)
			s = s[len(words[best]):]
			continue
		}
		r, size := utf8.DecodeRuneInString(s)
		s = s[size:]
		if low := unicode.ToLower(r); low != r && r < 128 {
			e.letter(symbolUpper)
			r = low
		}
		if i := strings.IndexRune(letterOrder, r); i >= 0 {
			e.letter(symbolWord + len(words) + i)
			continue
		}
		e.letter(symbolOther)
		e.put(uint64(r), 21)
	}
	e.letter(symbolEnd)
}

func (d *rangeReader) text() string {
	var b strings.Builder
	upper := false
	for n := 0; n <= 2*maxText; n++ {
		if d.over > spare {
			d.fail("a text has no end")
			return ""
		}
		at, from, i := d.place(letterTotal), uint32(0), 0
		for from+letters[i] <= at {
			from += letters[i]
			i++
		}
		d.take(from, letters[i], letterTotal)
		switch {
		case i == symbolEnd:
			return b.String()
		case i == symbolUpper:
			upper = true
			continue
		case i == symbolOther:
			b.WriteRune(rune(d.get(21)))
		case i < symbolWord+len(words):
			b.WriteString(words[i-symbolWord])
		default:
			r := rune(letterOrder[i-symbolWord-len(words)])
			if upper {
				r = unicode.ToUpper(r)
			}
			b.WriteRune(r)
		}
		upper = false
	}
	d.fail("a text has no end")
	return ""
}
