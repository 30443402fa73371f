package pipeline

import (
	"ferrule/core/air"
	"ferrule/core/decide"
	"ferrule/core/flight"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What is tried: a fresh breeze, in which golf is still played, and a course in
// the mountains.
const (
	triedWind   = 5                 // [m/s]
	triedHeight = 5000 * units.Foot // [m]
)

// trial is one of them.
type trial struct {
	text report.Message
	env  flight.Env
}

// tried are other conditions under which the advice is asked for again. What
// the player's ball does off the club stays as it was learned; only its flight
// is another. Winds are in the player's own world.
func tried(e flight.Env, mirror func(float64) float64) []trial {
	number := func(v float64, d units.Dimension) report.Arg {
		return report.Number(v, d, -1)
	}
	out := []trial{{report.Say("vary.as-hit"), e}}
	for _, w := range []struct {
		key  string
		from float64
	}{{"vary.head", 0}, {"vary.tail", 180 * units.Degree}, {"vary.left", -90 * units.Degree}, {"vary.right", 90 * units.Degree}} {
		f := e
		f.Air.Wind, f.Air.WindFrom = triedWind, mirror(w.from)
		out = append(out, trial{report.Say(w.key, number(triedWind, units.Speed)), f})
	}
	cold, high := e, e
	cold.Air.Temperature -= 15
	out = append(out, trial{report.Say("vary.cold", report.Signed(-15, units.Temperature, 0)), cold})
	high.Air.Pressure *= air.AtAltitude(triedHeight) / air.SeaLevel
	out = append(out, trial{report.Say("vary.high", number(triedHeight, units.Height)), high})
	for _, b := range []struct {
		key string
		by  float64
	}{{"vary.lively", 1.06}, {"vary.dead", 0.94}} {
		f := e
		if f.Model.KL == 0 { // nothing adjusted
			f.Model = flight.Default()
		}
		f.Model.KL *= b.by
		out = append(out, trial{report.Say(b.key, report.Percent(.06)), f})
	}
	firm := e
	firm.Firmness = 1
	return append(out, trial{report.Say("vary.firm"), firm})
}

// Vary asks for the advice again in other winds, other air, on other ground
// and with another ball: what would change it. The first answer is that of the
// session as it was hit. A row names another setting where the session's choice
// is expected to lose more than a tie there, and only then: what is said of all
// rows is true of what they name.
func Vary(s shot.Session, m Memory, sd uint64, progress Progress) ([]report.Variation, error) {
	a := analysis{s: rightHanded(s), seed: seed.Seed(sd), memory: m.withoutOwn(s)}
	if err := a.prepare(); err != nil {
		return nil, err
	}
	if err := a.learn(); err != nil {
		return nil, err
	}
	var out []report.Variation
	was := 0 // the choice of the session as it was hit
	a.place()
	all := tried(a.env, s.Player.Hand.Mirror)
	for k, v := range all {
		a.env, a.tried = v.env, v.env.Air != all[0].env.Air
		r, err := a.decide(nil)
		if err != nil {
			return nil, err
		}
		c := r.Choice
		if k == 0 {
			was = c.Setting
		}
		x := report.Variation{Text: v.text, Setting: a.settings[c.Setting], Verdict: c.Verdict, Keep: c.Keep, Sure: c.Sure, Gain: c.Gain, Same: c.Setting == was}
		if !x.Same && r.Settings[was].Loss <= r.Settings[c.Setting].Loss+decide.Tie(a.course.Goal) {
			was := held(r, was)
			was.Text = v.text
			x = was
		}
		out = append(out, x)
		if progress != nil {
			progress("predict", float64(k+1)/float64(len(all)))
		}
	}
	return out, nil
}

// held is the session's choice under other conditions, where it is kept.
func held(r report.Report, was int) report.Variation {
	o := &r.Settings[was]
	x := report.Variation{Setting: o.Setting, Keep: was == r.Reference, Sure: o.PBetter, Gain: o.Difference.Minus(), Same: true}
	if x.Keep {
		x.Sure = 1 - r.Settings[r.Choice.Setting].PBetter
	}
	x.Verdict = decide.VerdictOf(x.Sure)
	return x
}
