package page

import (
	"math"
	"strings"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// say renders a message of the state or of a report.
func (b *base) say(key string, args []report.Arg) string {
	return b.reader().Say(report.Message{Key: key, Args: args})
}

func (b *base) msg(m report.Message) string {
	if m.Key == "" {
		return ""
	}
	return b.reader().Say(m)
}

func (b *base) msgs(ms []report.Message) []string {
	out := make([]string, 0, len(ms))
	for _, m := range ms {
		if t := b.msg(m); t != "" {
			out = append(out, t)
		}
	}
	return out
}

// problem says an error or a note of core in the person's language.
func (b *base) problem(sentence string) string { return b.reader().Problem(sentence) }

func (b *base) problems(sentences []string) []string {
	out := make([]string, len(sentences))
	for i, s := range sentences {
		out[i] = b.problem(s)
	}
	return out
}

// setting is the person's own name of a setting.
func (b *base) setting(s club.Setting) string {
	if k := s.Key(); k != "" {
		return k
	}
	return b.w("setting.as-is")
}

// num writes a value with its unit.
func (b *base) num(v float64, d units.Dimension) string { return b.reader().Number(v, d, -1) }

// deg writes an angle with its sign.
func (b *base) deg(v float64) string { return b.reader().Difference(v, units.Angle, 1) }

// quantity is the trade's name of a quantity.
func (b *base) quantity(q shot.Quantity) string { return b.w("quantity." + string(q)) }

// value writes one measured number: a side is written as left or right, a
// strike as toe or heel, so that no sign needs to be known.
func (b *base) value(q shot.Quantity, v float64) string {
	k, ok := shot.KindOf(q)
	if !ok {
		return ""
	}
	r := b.reader()
	if k.Compass && k.Dim != units.Spin {
		if s := r.Number(math.Abs(v), k.Dim, -1); s != r.Number(0, k.Dim, -1) {
			return s + "\u00a0" + b.sideLetter(v)
		}
	}
	if k.Dim == units.Time {
		return r.Number(v, k.Dim, 1)
	}
	return r.Number(v, k.Dim, -1)
}

func (b *base) sideLetter(v float64) string {
	if v < 0 {
		return b.w("side.l")
	}
	return b.w("side.r")
}

// way says the shape of a ball in the player's own words, with what makes it
// so; empty where nothing says it.
func (b *base) way(v shot.Values) string {
	s := b.st().Session
	if s == nil {
		return ""
	}
	w, ok := shot.WayOf(v, s.Player.Hand)
	if !ok {
		return ""
	}
	side := func(v float64, d units.Dimension) report.Arg {
		return report.Arg{Form: report.FormSide, Value: v, Dim: d, Digits: -1}
	}
	args := []report.Arg{{Form: report.FormKey, Text: "way." + string(w.Shape)}}
	if !w.Starts {
		return b.say("way.curved", append(args, side(w.Curve, units.Length)))
	}
	return b.say("way.whole", append(args, side(w.Start, units.Angle), side(w.Curve, units.Length)))
}

// usual is the way of a ball with a setting, by what is expected of it.
func (b *base) usual(s report.Setting) string {
	v := shot.Values{}
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.LaunchDirection, shot.SpinAxis} {
		if a, ok := s.Of(q); ok {
			v[q] = a.Value.Mean
		}
	}
	return b.way(v)
}

// estimate writes a value with the limits that 8 of 10 such estimates keep:
// "210 yd (198 to 223)". Spins are rounded to tens: no estimate is finer.
func (b *base) estimate(q shot.Quantity, i report.Interval) string {
	k, _ := shot.KindOf(q)
	if k.Dim == units.Spin {
		i.Mean, i.Lo80, i.Hi80 = tens(i.Mean), tens(i.Lo80), tens(i.Hi80)
	}
	return b.w("interval.is", b.value(q, i.Mean), b.bare(k, i.Lo80), b.bare(k, i.Hi80))
}

// against writes a difference with its limits, signs shown.
func (b *base) against(q shot.Quantity, i report.Interval) string {
	k, _ := shot.KindOf(q)
	if k.Dim == units.Spin {
		i.Mean, i.Lo80, i.Hi80 = tens(i.Mean), tens(i.Lo80), tens(i.Hi80)
	}
	if k.Compass && k.Dim != units.Spin {
		return b.w("interval.is", b.value(q, i.Mean), b.bare(k, i.Lo80), b.bare(k, i.Hi80))
	}
	r := b.reader()
	signed := func(v float64) string {
		return strings.TrimSuffix(strings.TrimRight(r.Difference(v, k.Dim, -1), r.Symbol(k.Dim)), "\u00a0")
	}
	return b.w("interval.is", r.Difference(i.Mean, k.Dim, -1), signed(i.Lo80), signed(i.Hi80))
}

func tens(v float64) float64 { return math.Round(v/(10*units.RPM)) * 10 * units.RPM }

// bare is a value without its unit; a side keeps its letter.
func (b *base) bare(k shot.Kind, v float64) string {
	s := b.value(k.Quantity, v)
	if u := b.reader().Symbol(k.Dim); u != "" {
		s = strings.Replace(strings.Replace(s, "\u00a0"+u, "", 1), u, "", 1)
	}
	return s
}

// strokes writes strokes a round with their sign, to a tenth as the sheet does:
// nothing is known finer.
func (b *base) strokes(v float64) string {
	s := b.reader().Plain(v, units.None, 1)
	if v >= .05 {
		s = "+" + s
	}
	return s
}

// percent writes a chance.
func (b *base) percent(p float64) string {
	switch {
	case p > 0.99:
		return b.w("percent.over", "99")
	case p < 0.01:
		return b.w("percent.under", "1")
	}
	return b.reader().Percent(p)
}
