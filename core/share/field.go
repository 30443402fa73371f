package share

import (
	"fmt"
	"math"
	"slices"

	"ferrule/core/report"
)

// form is how a field of an answer is written.
type form string

// The forms of a field, each with the type that at points to.
const (
	formFlag   form = "flag"   // *bool: one bit
	formWord   form = "word"   // *string: one of words, by its number
	formLabel  form = "label"  // *string: a text
	formChance form = "chance" // *float64: 0 to 1 in hundredths, the ends kept for what is certain
	formNumber form = "number" // *float64: in steps of step, signed, small numbers short by order
	formCount  form = "count"  // *uint64: small numbers short by order
	formDrives form = "drives" // *int: of report.Drives drives, -1 = not asked
)

// field is one field of an answer. The list answerFields is the only
// description of an answer in a link: the writer, the reader and the small
// reader of the first page (pwa/peek.js, by Layout) all follow it.
//
// Fields are only ever added at the end of the list. A reader stops at the end
// of the fields that it knows, an older link ends before them: both open for
// ever. TestLaterFieldsAreSkipped and TestEarlierLinksEndSooner hold that.
type field struct {
	name  string // of the small reader
	form  form
	step  float64  // [SI] of a number
	order int      // of a number or a count
	words []string // of a word
	when  string   // written only where this flag is set; "!name" where it is not
	from  string   // of a number: written is what it differs from the number of this name,
	less  string   // less the number of this name,
	twice bool     // from counted twice: as far above from as less lies below
	at    func(*Given) any
}

// has tells whether f is written in a with the flags read so far.
func (f field) has(set map[string]bool) bool {
	if f.when == "" {
		return true
	}
	if f.when[0] == '!' {
		return !set[f.when[1:]]
	}
	return set[f.when]
}

// base is what a number is written as a difference from, in steps; unknown
// names are 0. Numbers that lean on each other have one step.
func (f field) base(numbers map[string]int64) int64 {
	v := numbers[f.from]
	if f.twice {
		v *= 2
	}
	return v - numbers[f.less]
}

// writeFields writes an answer; the error names a field that can't be written.
func writeFields(w out, g *Given, fields []field) error {
	set, numbers := map[string]bool{}, map[string]int64{}
	for _, f := range fields {
		if !f.has(set) {
			continue
		}
		switch p := f.at(g).(type) {
		case *bool:
			set[f.name] = *p
			w.bool(*p)
		case *string:
			if f.form == formLabel {
				w.text(*p)
			} else {
				w.put(uint64(wordOf(f.words, *p)), wordBits)
			}
		case *int:
			w.put(uint64(min(max(*p, -1), report.Drives)+1), drivesBits)
		case *uint64:
			w.golomb(*p, f.order)
		case *float64:
			if f.form == formChance {
				w.put(percent(*p), 7)
				continue
			}
			steps := math.Round(*p / f.step)
			if math.IsNaN(steps) || math.Abs(steps) > maxSteps {
				return fmt.Errorf("share: can't write the number %g (%s)", *p, f.name)
			}
			numbers[f.name] = int64(steps)
			w.signed(int64(steps)-f.base(numbers), f.order)
		}
	}
	return nil
}

// readFields reads an answer until left says that none of its bits are left.
// What an older writer did not know keeps its zero.
func readFields(r in, left func() int, g *Given, fields []field) {
	set, numbers := map[string]bool{}, map[string]int64{}
	for _, f := range fields {
		if r.failed() != nil {
			return
		}
		if !f.has(set) {
			continue
		}
		if left() == 0 {
			return
		}
		switch p := f.at(g).(type) {
		case *bool:
			*p = r.bool()
			set[f.name] = *p
		case *string:
			if f.form == formLabel {
				*p = r.text()
				continue
			}
			*p = f.words[0] // also for a word of a later version
			if n := int(r.get(wordBits)); n < len(f.words) {
				*p = f.words[n]
			}
		case *int:
			*p = int(r.get(drivesBits)) - 1
		case *uint64:
			*p = r.golomb(f.order)
		case *float64:
			if f.form == formChance {
				*p = r.percent()
			} else {
				numbers[f.name] = f.base(numbers) + r.signed(f.order)
				*p = float64(numbers[f.name]) * f.step
			}
		}
	}
}

const maxSteps = 1 << 40

// Bits of a word, which leave room for words of later versions, and of a
// number of drives.
const (
	wordBits   = 3
	drivesBits = 5
)

// wordOf is the number of a word, 0 for one that is not listed.
func wordOf(words []string, word string) int {
	return max(0, slices.Index(words, word))
}
