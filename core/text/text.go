// Package text holds every word that a person reads, one catalogue a
// language, and turns a report.Message into a sentence in the user's language
// and units.
//
// Begin with Reader.Say and its example.
package text

import (
	"math"
	"strings"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/units"
)

// Language is a BCP 47 primary tag that has a catalogue.
type Language string

// Reader is for whom a sentence is written.
type Reader struct {
	Language Language     // "" = English
	System   units.System // "" = imperial
}

// Word returns the text of a key without filling any place. A key that is in
// no catalogue comes back in brackets, so that it is seen in a test and on a page.
func (r Reader) Word(key string) string {
	if w, ok := catalogue(r.Language)[key]; ok {
		return w
	}
	if w, ok := english()[key]; ok {
		return w
	}
	return "[" + key + "]"
}

// Say renders a message: places are {0}, {1}, ...; see Fill for plurals.
func (r Reader) Say(m report.Message) string {
	args := make([]filling, len(m.Args))
	for i, a := range m.Args {
		args[i].text = r.arg(a)
		switch a.Form {
		case message.FormCount:
			args[i].count, args[i].counts = math.Round(a.Value), true
		case message.FormText, message.FormKey, message.FormQuantity:
		default:
			args[i].count, args[i].counts = counted(args[i].text)
		}
	}
	return r.expand(r.Word(m.Key), args)
}

// DecimalMark is what stands between the whole of a number and its decimals.
func (r Reader) DecimalMark() string { return string(r.mark()) }

func (r Reader) mark() rune {
	return formsOf(r.Language).Decimal
}

// decimals is how finely a dimension is shown when nothing else is asked for.
func decimals(d units.Dimension, u units.Unit) int {
	switch d {
	case units.Angle, units.Time, units.Small:
		return 1
	case units.None:
		return 2
	case units.Speed:
		if u == units.UnitMPS {
			return 1
		}
	}
	return 0
}

// Number writes an SI value of dimension d in the reader's unit, with it.
// digits < 0 takes the usual number of decimals.
func (r Reader) Number(v float64, d units.Dimension, digits int) string {
	u := r.System.Unit(d)
	if digits < 0 {
		digits = decimals(d, u)
	}
	s := units.Format(u.From(v), digits, r.mark())
	switch {
	case u.Symbol == "":
		return s
	case u.Symbol == "°":
		return s + "°"
	}
	return s + "\u00a0" + u.Symbol
}

// Difference writes a difference of two SI values with its sign. Differences
// ignore a unit's offset, so that 5 K is 9 degF of difference.
func (r Reader) Difference(v float64, d units.Dimension, digits int) string {
	u := r.System.Unit(d)
	s := r.Number(v+u.Offset, d, digits)
	if v > 0 && !strings.HasPrefix(strings.Trim(s, "0.,\u00a0"), u.Symbol) {
		s = "+" + s
	}
	return s
}

func (r Reader) arg(a report.Arg) string {
	switch a.Form {
	case message.FormNumber:
		return r.Number(a.Value, a.Dim, a.Digits)
	case message.FormSigned:
		return r.Difference(a.Value, a.Dim, a.Digits)
	case message.FormWorth:
		return r.Gain(a.Value, report.Unit(a.Text))
	case message.FormMessage:
		return r.Say(report.Message{Key: a.Text, Args: a.Args})
	case message.FormPercent, message.FormChance:
		return r.Percent(a.Value)
	case message.FormCount:
		return units.Format(math.Round(a.Value), 0, r.mark())
	case message.FormStrokes:
		return units.Format(a.Value, 2, r.mark())
	case message.FormText:
		return a.Text
	case message.FormQuantity:
		return r.Word("quantity." + a.Text)
	case message.FormKey:
		return r.Word(a.Text)
	case message.FormSide:
		d := a.Dim
		if d == units.None {
			d = units.Length
		}
		size := r.Number(math.Abs(a.Value), d, a.Digits)
		side := "side.by-right"
		switch {
		case size == r.Number(0, d, a.Digits): // what is shown as nothing has no side
			side = "side.by-none"
		case a.Value < 0:
			side = "side.by-left"
		}
		return r.Fill(side, size)
	}
	return "?"
}

// Gain writes an amount of what is aimed for with its unit ("2.3 strokes a round"):
// strokes, fairways and balls with a decimal, carry [m] in whole units.
func (r Reader) Gain(v float64, u report.Unit) string {
	size := units.Format(v, 1, r.mark())
	if u == report.UnitCarry {
		size = r.Number(v, units.Length, 0)
	}
	return r.Fill("gain."+string(u), size)
}

// GainRange writes a gain with the range that holds 8 times in 10.
func (r Reader) GainRange(w report.Worth) string {
	bare := func(v float64) string {
		if w.Unit == report.UnitCarry {
			return r.Number(v, units.Length, 0)
		}
		return units.Format(v, 1, r.mark())
	}
	return r.Gain(w.Value.Mean, w.Unit) + " (" + bare(w.Value.Lo80) + " … " + bare(w.Value.Hi80) + ")"
}

// Side writes a length [m] to the right (positive) or the left.
func (r Reader) Side(v float64) string { return r.arg(report.Side(v)) }

// Percent writes a share 0..1 as a whole number of hundredths.
func (r Reader) Percent(share float64) string {
	return r.Fill("number.percent", units.Format(100*share, 0, r.mark()))
}
