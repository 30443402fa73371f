package page

import (
	"math"
	"strings"

	"ferrule/app/act"
	"ferrule/core/club"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

// wording says values and sentences to whom the page is written for.
type wording struct{ r text.Reader }

// wordingOf is the wording as the person has it now: who outlives a drawing asks anew.
func wordingOf(model *act.Model) wording {
	p := model.Preferences.Now() // a word is asked for a thousand times a page: not the whole state
	return wording{text.Reader{Language: text.Language(p.Language), System: p.System}}
}

// w is the word of a key with its places filled.
func (say wording) w(key string, args ...string) string { return say.r.Fill(key, args...) }

// message renders a message of the state or of a report.
func (say wording) message(key string, args []report.Arg) string {
	return say.r.Say(report.Message{Key: key, Args: args})
}

func (say wording) msg(m report.Message) string {
	if m.Key == "" {
		return ""
	}
	return say.r.Say(m)
}

func (say wording) msgs(ms []report.Message) []string {
	out := make([]string, 0, len(ms))
	for _, m := range ms {
		if t := say.msg(m); t != "" {
			out = append(out, t)
		}
	}
	return out
}

// err says in the person's language what went wrong.
func (say wording) err(err error) string { return say.msg(message.From(err)) }

// setting is the person's own name of a setting.
func (say wording) setting(s club.Setting) string {
	if k := s.Key(); k != "" {
		return k
	}
	return say.w("setting.as-is")
}

// num writes a value with its unit.
func (say wording) num(v float64, d units.Dimension) string { return say.r.Number(v, d, -1) }

// deg writes an angle with its sign.
func (say wording) deg(v float64) string { return say.r.Difference(v, units.Angle, 1) }

// quantity is the trade's name of a quantity.
func (say wording) quantity(q shot.Quantity) string { return say.w("quantity." + string(q)) }

// value writes one measured number: a side is written as left or right, a
// strike as toe or heel, so that no sign needs to be known.
func (say wording) value(q shot.Quantity, v float64) string {
	k, ok := shot.KindOf(q)
	if !ok {
		return ""
	}
	r := say.r
	if k.Compass && k.Dim != units.Spin {
		if s := r.Number(math.Abs(v), k.Dim, -1); s != r.Number(0, k.Dim, -1) {
			return s + "\u00a0" + say.sideLetter(v)
		}
	}
	if k.Dim == units.Time {
		return r.Number(v, k.Dim, 1)
	}
	return r.Number(v, k.Dim, -1)
}

func (say wording) sideLetter(v float64) string {
	if v < 0 {
		return say.w("side.l")
	}
	return say.w("side.r")
}

// wayOf says the shape of a ball in the player's own words, with what makes it
// so; empty where nothing says it.
func wayOf(model *act.Model, say wording, v shot.Values) string {
	s := model.State().Session
	if s == nil {
		return ""
	}
	w, ok := shot.WayOf(v, s.Player.Hand)
	if !ok {
		return ""
	}
	side := func(v float64, d units.Dimension) report.Arg {
		return report.Arg{Form: message.FormSide, Value: v, Dim: d, Digits: -1}
	}
	args := []report.Arg{{Form: message.FormKey, Text: "way." + string(w.Shape)}}
	if !w.Starts {
		return say.message("way.curved", append(args, side(w.Curve, units.Length)))
	}
	return say.message("way.whole", append(args, side(w.Start, units.Angle), side(w.Curve, units.Length)))
}

// usualWay is the way of a ball with a setting, by what is expected of it.
func usualWay(model *act.Model, say wording, s report.Setting) string {
	v := shot.Values{}
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.LaunchDirection, shot.SpinAxis} {
		if a, ok := s.Of(q); ok {
			v[q] = a.Value.Mean
		}
	}
	return wayOf(model, say, v)
}

// estimate writes a value with the limits that 8 of 10 such estimates keep:
// "210 yd (198 to 223)". Spins are rounded to tens: no estimate is finer.
func (say wording) estimate(q shot.Quantity, i report.Interval) string {
	k, _ := shot.KindOf(q)
	if k.Dim == units.Spin {
		i.Mean, i.Lo80, i.Hi80 = tens(i.Mean), tens(i.Lo80), tens(i.Hi80)
	}
	return say.w("interval.is", say.value(q, i.Mean), say.bare(k, i.Lo80), say.bare(k, i.Hi80))
}

// against writes a difference with its limits, signs shown.
func (say wording) against(q shot.Quantity, i report.Interval) string {
	k, _ := shot.KindOf(q)
	if k.Dim == units.Spin {
		i.Mean, i.Lo80, i.Hi80 = tens(i.Mean), tens(i.Lo80), tens(i.Hi80)
	}
	if k.Compass && k.Dim != units.Spin {
		return say.w("interval.is", say.value(q, i.Mean), say.bare(k, i.Lo80), say.bare(k, i.Hi80))
	}
	r := say.r
	signed := func(v float64) string {
		return strings.TrimSuffix(strings.TrimRight(r.Difference(v, k.Dim, -1), r.Symbol(k.Dim)), "\u00a0")
	}
	return say.w("interval.is", r.Difference(i.Mean, k.Dim, -1), signed(i.Lo80), signed(i.Hi80))
}

func tens(v float64) float64 { return math.Round(v/(10*units.RPM)) * 10 * units.RPM }

// bare is a value without its unit; a side keeps its letter.
func (say wording) bare(k shot.Kind, v float64) string {
	s := say.value(k.Quantity, v)
	if u := say.r.Symbol(k.Dim); u != "" {
		s = strings.Replace(strings.Replace(s, "\u00a0"+u, "", 1), u, "", 1)
	}
	return s
}

// strokes writes strokes a round with their sign, to a tenth as the sheet does:
// nothing is known finer.
func (say wording) strokes(v float64) string {
	s := say.r.Plain(v, units.None, 1)
	if v >= .05 {
		s = "+" + s
	}
	return s
}

// percent writes a chance.
func (say wording) percent(p float64) string {
	switch {
	case p > 0.99:
		return say.w("percent.over", "99")
	case p < 0.01:
		return say.w("percent.under", "1")
	}
	return say.r.Percent(p)
}
