package decide

import (
	"math"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// seen is by how much an estimate must differ from the average of its own balls
// for the reason to be said: half of the finest step that is shown would not be
// seen.
const seen = 1 * units.Yard // [m]

// differs says of a setting that was hit where its own balls' average is another
// than what is expected, and why: measured is the share of it that comes from shots,
// others whether another setting was hit.
func differs(o *report.Setting, measured float64, others bool) []report.Differs {
	if !o.Tested {
		return nil
	}
	var out []report.Differs
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
		raw, ok1 := report.AmountOf(o.Raw, q)
		is, ok2 := o.Of(q)
		if !ok1 || !ok2 || math.Abs(raw.Value.Mean-is.Value.Mean) < seen {
			continue
		}
		f := report.Differs{Quantity: q, Balls: o.Balls, Average: raw.Value.Mean, Expected: is.Value.Mean, Reasons: reasons(measured, others, o.Mishits > 0)}
		say := func(v float64) report.Arg {
			if q == shot.Offline {
				return report.Side(v)
			}
			return report.Number(v, units.Length, -1)
		}
		f.Text = report.Say("differs.text", report.Quantity(q), report.Count(f.Balls), say(f.Average), message.Key(f.Reasons[0]), say(f.Expected))
		if len(f.Reasons) > 1 {
			f.Text.Key = "differs.text.more"
			f.Text.Args = append(f.Text.Args, message.Key(f.Reasons[1]))
		}
		out = append(out, f)
	}
	return out
}

// reasons are what a setting's own balls are weighed with, the weightiest
// first. A share below a twentieth is no reason.
func reasons(measured float64, others, mishits bool) []string {
	var out []string
	if measured < .5 {
		out = append(out, "differs.physics")
	}
	if others {
		out = append(out, "differs.others")
	}
	if mishits {
		out = append(out, "differs.mishits")
	}
	if measured >= .5 && measured < .95 {
		out = append(out, "differs.physics")
	}
	return append(out, "differs.time")
}
