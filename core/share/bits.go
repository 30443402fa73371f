package share

import (
	"fmt"
	"math"
	"math/bits"
	"strings"
	"unicode/utf8"
)

// writer packs bits, the highest first.
type writer struct {
	b    []byte
	left int // free bits in the last byte
}

// put writes the lowest n bits of v, n up to 57.
func (w *writer) put(v uint64, n int) {
	for n > 0 {
		if w.left == 0 {
			w.b, w.left = append(w.b, 0), 8
		}
		take := min(n, w.left)
		part := v >> (n - take) & (1<<take - 1)
		w.b[len(w.b)-1] |= byte(part << (w.left - take))
		w.left -= take
		n -= take
	}
}

// sink takes bits; what is written of them is the same for both streams: the
// plain bits of the summary, which a small script reads too, and the range
// coder of the session.
type sink interface {
	put(v uint64, n int)
	text(s string)
}

type out struct{ sink }

func (w out) bool(v bool) {
	if v {
		w.put(1, 1)
	} else {
		w.put(0, 1)
	}
}

// golombBits is the length of golomb(v, k).
func golombBits(v uint64, k int) int {
	n := bits.Len64(v + 1<<k)
	return 2*n - 1 - k
}

// golomb writes v as an exponential Golomb code of order k: as many ones as
// the number has bits beyond k, a zero, and the number without its first one.
func (w out) golomb(v uint64, k int) {
	v += 1 << k
	n := bits.Len64(v)
	for i := k + 1; i < n; i++ {
		w.put(1, 1)
	}
	w.put(0, 1)
	w.put(v&^(1<<(n-1)), n-1)
}

// zigzag folds signed numbers: 0, -1, 1, -2, ...
func zigzag(v int64) uint64 { return uint64(v<<1) ^ uint64(v>>63) }

func unzigzag(u uint64) int64 { return int64(u>>1) ^ -int64(u&1) }

func (w out) signed(v int64, k int) { w.golomb(zigzag(v), k) }

// text writes a string as words of the list and single characters.
func (w *writer) text(s string) {
	type token struct {
		word int
		r    rune
	}
	var ts []token
	s = strings.ToValidUTF8(s, "\uFFFD")
	for len(s) > 0 {
		best := -1
		for i, d := range words {
			if strings.HasPrefix(s, d) && (best < 0 || len(d) > len(words[best])) {
				best = i
			}
		}
		if best >= 0 {
			ts = append(ts, token{best, 0})
			s = s[len(words[best]):]
			continue
		}
		r, size := utf8.DecodeRuneInString(s)
		ts = append(ts, token{-1, r})
		s = s[size:]
	}
	if len(ts) > maxText {
		ts = ts[:maxText]
	}
	out{w}.golomb(uint64(len(ts)), 2)
	for _, t := range ts {
		switch {
		case t.word >= 0:
			w.put(1, 1)
			w.put(uint64(t.word), 6)
		case t.r < 127:
			w.put(0, 1)
			w.put(uint64(t.r), 7)
		default:
			w.put(0, 1)
			w.put(127, 7)
			w.put(uint64(t.r), 21)
		}
	}
}

// failure is the first thing that went wrong in reading. It sticks: after it
// every read gives zero, so that callers check once.
type failure struct{ err error }

func (f *failure) fail(format string, args ...any) {
	if f.err == nil {
		f.err = fmt.Errorf("%w: "+format, append([]any{errDamaged}, args...)...)
	}
}

func (f *failure) failed() error { return f.err }

// source gives bits back.
type source interface {
	get(n int) uint64
	text() string
	fail(format string, args ...any)
	failed() error
}

type in struct{ source }

// reader reads what writer wrote.
type reader struct {
	failure
	b  []byte
	at int // bit
}

// rest is how many bits are left.
func (r *reader) rest() int {
	if r.err != nil {
		return 0
	}
	return 8*len(r.b) - r.at
}

func (r *reader) get(n int) uint64 {
	if n > r.rest() {
		r.fail("it ends too early")
		return 0
	}
	v := uint64(0)
	for n > 0 {
		used := r.at & 7
		take := min(n, 8-used)
		v = v<<take | uint64(r.b[r.at>>3])>>(8-used-take)&(1<<take-1)
		r.at += take
		n -= take
	}
	return v
}

// tail is the whole bytes that nothing was read of; they count as read.
func (r *reader) tail() []byte {
	if r.err != nil {
		return nil
	}
	t := r.b[(r.at+7)/8:]
	r.at = 8 * len(r.b)
	return t
}

func (r in) bool() bool { return r.get(1) == 1 }

func (r in) golomb(k int) uint64 {
	n := k
	for r.get(1) == 1 {
		if n++; n > 52 {
			r.fail("a number is too long")
			return 0
		}
	}
	if r.failed() != nil {
		return 0
	}
	return 1<<n + r.get(n) - 1<<k
}

func (r in) signed(k int) int64 { return unzigzag(r.golomb(k)) }

// count reads how many things follow.
func (r in) count(k, most int) int {
	n := r.golomb(k)
	if n > uint64(most) {
		r.fail("it counts %d of something, at most %d are possible", n, most)
		return 0
	}
	return int(n)
}

func (r *reader) text() string {
	n := in{r}.count(2, maxText)
	var b strings.Builder
	for ; n > 0 && r.err == nil; n-- {
		if r.get(1) == 1 {
			if i := int(r.get(6)); i < len(words) {
				b.WriteString(words[i])
			}
			continue
		}
		c := rune(r.get(7))
		if c == 127 {
			c = rune(r.get(21))
		}
		b.WriteRune(c)
	}
	return b.String()
}

// fixed writes a number in steps; an error names what can't be written.
func (w out) fixed(v, step float64, k int) error {
	q := math.Round(v / step)
	if math.IsNaN(q) || math.Abs(q) > 1<<40 {
		return fmt.Errorf("share: can't write the number %g", v)
	}
	w.signed(int64(q), k)
	return nil
}

func (r in) fixed(step float64, k int) float64 {
	// Multiplying by a step that is a ratio keeps 13.1 from becoming
	// 13.100000000000001: the number is the same on every machine either way.
	return float64(r.signed(k)) * step
}

// words are the parts that labels are commonly made of; a word costs as much
// as a letter. The list is part of version 1: it is never changed.
var words = []string{
	"up", "down", "flat", "upright", "heel", "toe", "middle", "neutral", "half", "back", "front", "standard", "open", "closed",
	", ", "-up", "-upright", "-flat", " 10", " 20", "square", "draw", "fade", "high", "low", "loft", "lie", "face", "weight", "sleeve", "slider",
	"track", "driver", "wood", "hybrid", "club", "left", "right", "range", "own", "ball", " ball", " / ", "-down", " 15", " 5",
	" mm", " g", "half ", "+1", "+2", "-1", "-2", ".5", "°", "my ", "position", "er", "in", "an", "on", "ei", "te", "en",
}
