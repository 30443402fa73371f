// Package message is a sentence in no language yet: a key and what fills its
// places. What is wrong is said so where it is found, and package text puts it
// into the reader's language: nobody looks at a sentence to see what it says.
//
// Begin with New and its example.
package message

import (
	"strconv"
	"strings"

	"ferrule/core/units"
)

// Message is a key of package text and what fills its places. As an error its
// words are English, which is what a log and a test read.
type Message struct {
	Key  string
	Args []Arg

	causes []error // errors among what fills the places; they do not cross to another program
}

// Arg fills one place of a message: a number with its dimension, a text, or
// another message.
type Arg struct {
	Form   Form
	Value  float64         // [SI of Dim], when Form is a number
	Dim    units.Dimension // of Value
	Digits int             // decimals wanted, -1 = as the dimension is usually shown
	Text   string          // when Form is FormText, FormQuantity, FormKey or FormMessage
	Args   []Arg           // when Form is FormMessage
}

// Form says how an Arg is shown.
type Form uint8

// The forms of an Arg.
const (
	FormNumber   Form = iota // Value with the unit of Dim in the user's system
	FormSigned               // the same with its sign always shown
	FormPercent              // Value 0..1 as a percentage
	FormCount                // Value as a whole number
	FormStrokes              // Value as strokes, two decimals
	FormText                 // Text as it is (the user's label)
	FormQuantity             // Text is a quantity key, shown in its trade name
	FormSide                 // Value > 0 is right, < 0 is left, with |Value| as a length, or in Dim
	FormWorth                // Value in the unit of a gain that Text names, with the unit
	FormKey                  // Text is a key of package text, rendered without places
	FormChance               // Value 0..1 as a percentage: a chance, which pages also draw as marks of Drives
	FormMessage              // Text is a key of package text, whose places Args fill
)

// Key is a key of package text, rendered without places.
func Key(key string) Arg { return Arg{Form: FormKey, Text: key} }

// Of is the message of a key and what fills its places: a text, a number, an
// Arg, an error or another message.
func Of(key string, places ...any) Message {
	m := Message{Key: key}
	for _, p := range places {
		m.Args = append(m.Args, ArgOf(p))
		if err, is := p.(error); is {
			m.causes = append(m.causes, err)
		}
	}
	return m
}

// New is the same as an error; the errors in its places are what it wraps.
func New(key string, places ...any) error {
	m := Of(key, places...)
	return &m
}

// Plain is a text that is said as it is: the user's own, or another program's.
func Plain(s string) Message { return Of("problem.plain", s) }

// From is what an error says: as it is, where it was made without a key.
func From(err error) Message {
	switch err := err.(type) {
	case *Message:
		return *err
	case interface{ Message() Message }:
		return err.Message()
	}
	return Plain(err.Error())
}

// Outside is the error that the number of a key is not within its limits.
func Outside(key string, v, lo, hi float64, unit string) error {
	return New("problem.named", Key(key), Of("problem.read", within(v, unit), Of("problem.between", lo, within(hi, unit))))
}

func within(v float64, unit string) string {
	return strings.TrimSpace(strconv.FormatFloat(v, 'g', 6, 64) + " " + unit)
}

// ArgOf is what fills one place.
func ArgOf(p any) Arg {
	switch p := p.(type) {
	case Arg:
		return p
	case string:
		return Arg{Form: FormText, Text: p}
	case int:
		return Arg{Form: FormCount, Value: float64(p)}
	case float64:
		return Arg{Form: FormText, Text: strconv.FormatFloat(p, 'g', -1, 64)}
	case Message:
		if p.Key == "problem.plain" { // a place needs no sentence around what it holds
			return p.Args[0]
		}
		return Arg{Form: FormMessage, Text: p.Key, Args: p.Args}
	case error:
		return ArgOf(From(p))
	}
	panic("message: nothing that can be said")
}

// Error is the message in English.
func (m *Message) Error() string { return m.String() }

// Unwrap are the errors in its places.
func (m *Message) Unwrap() []error { return m.causes }

// String is the message in English, for a log and a test: other keys than "problem." are
// the words of package text, and stand here by their last part.
func (m Message) String() string {
	words := strings.NewReplacer("_", " ", "-", " ").Replace(m.Key[strings.LastIndexByte(m.Key, '.')+1:])
	English(func(key, said string) {
		if key == m.Key {
			words = said
		}
	})
	return Expand(words, len(m.Args), func(i int) string { return m.Args[i].english() }, func(i int) bool { return m.Args[i].Value == 1 })
}

// Expand fills the n places of words in one pass, so that braces in what fills them
// are never taken for places: {0} is what fills place 0, {0:ball|balls} the first word
// where place 0 counts one, else the second.
func Expand(words string, n int, fill func(i int) string, one func(i int) bool) string {
	if !strings.Contains(words, "{") {
		return words
	}
	var b strings.Builder
	for {
		open := strings.IndexByte(words, '{')
		if open < 0 {
			break
		}
		shut := strings.IndexByte(words[open:], '}')
		if shut < 0 {
			break
		}
		b.WriteString(words[:open])
		place := words[open+1 : open+shut]
		words = words[open+shut+1:]
		number, choice, chooses := strings.Cut(place, ":")
		i, err := strconv.Atoi(number)
		if err != nil || i < 0 || i >= n {
			b.WriteString("{" + place + "}")
			continue
		}
		if !chooses {
			b.WriteString(fill(i))
			continue
		}
		first, other, _ := strings.Cut(choice, "|")
		if one(i) {
			b.WriteString(first)
		} else {
			b.WriteString(other)
		}
	}
	b.WriteString(words)
	return b.String()
}

func (a Arg) english() string {
	switch a.Form {
	case FormText, FormQuantity:
		return a.Text
	case FormKey, FormMessage:
		return Message{Key: a.Text, Args: a.Args}.String()
	}
	return strconv.FormatFloat(a.Value, 'f', -1, 64)
}
