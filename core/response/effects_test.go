package response

import (
	"math"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/impact"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

// head is a club with an angled sleeve and one sliding weight.
func head(t *testing.T) (club.Head, []club.Setting, []club.Change) {
	t.Helper()
	h, err := club.FromJSON([]byte(`{"name":"test","loft_deg":10.5,"lie_deg":58,"head_mass_g":198,"sleeve":{"tilt_deg":1.5,"positions":8,"labels":["up","up-upright","upright","down-upright","down","down-flat","flat","up-flat"]},"weights":[{"name":"track","mass_g":12,"stops":[{"label":"heel","toe_mm":-20},{"label":"middle","toe_mm":0},{"label":"toe","toe_mm":20}]}],"current":{"sleeve":"flat","weights":["middle"]}}`))
	if err != nil {
		t.Fatal(err)
	}
	settings := h.Settings()
	var changes []club.Change
	for _, s := range settings {
		c, err := h.Change(s)
		if err != nil {
			t.Fatal(err)
		}
		changes = append(changes, c)
	}
	return h, settings, changes
}

// fitted is the response to balls hit with the settings of order, n each,
// whose true effects are scale times the textbook's.
func fitted(t *testing.T, scale float64, n int, order ...string) (*Response, []club.Setting) {
	t.Helper()
	h, settings, changes := head(t)
	base := impact.Baseline{Launch: Launch([K]float64{62, 13 * units.Degree, 2 * units.Degree, 300, 8 * units.Degree})}
	prior, err := impact.Effects(base, h, 1)
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Changes: changes, Prior: prior, Seed: 1}
	rng := seed.Seed(5).Stream("balls")
	for _, key := range order {
		at := -1
		for i, s := range settings {
			if s.Key() == key {
				at = i
			}
		}
		if at < 0 {
			t.Fatalf("no setting %q", key)
		}
		x := impact.Features(changes[at], changes[0])
		for range n {
			o := Obs{Setting: at, Order: len(in.Shots), Has: [K]bool{true, true, true, true, true}}
			o.Y = [K]float64{62, 13 * units.Degree, 2 * units.Degree, 300, 8 * units.Degree}
			for k := range K {
				o.Y[k] += .5 * Scale[k] * rng.NormFloat64()
				for f := range x {
					o.Y[k] += scale * prior.Mean[f][k] * x[f]
				}
			}
			in.Shots = append(in.Shots, o)
		}
	}
	r, err := Fit(in)
	if err != nil {
		t.Fatal(err)
	}
	return r, settings
}

// TestEffectsSayWhatWasMeasured: a hundred balls that do twice what the
// textbook says pull its effects most of the way towards theirs, and a good part
// of what is known is then measured. Of a weight nobody moved, balls that do
// what the textbook says tell only as much as the loft does by the share that
// the player turns back. (Balls that do twice as much tell more: one of the
// beliefs is that the whole textbook is off by one factor.)
func TestEffectsSayWhatWasMeasured(t *testing.T) {
	r, _ := fitted(t, 2, 25, "flat / middle", "up / middle", "upright / middle", "flat / middle")
	seen := 0
	for _, e := range append(r.Effects(), r.FlightEffects()...) {
		if e.Value.Lo95 > e.Value.Lo80 || e.Value.Lo80 > e.Value.Lo50 || e.Value.Lo50 > e.Value.Hi50 || e.Value.Hi80 > e.Value.Hi95 {
			t.Errorf("feature %d, %s: intervals are not nested: %+v", e.Feature, e.Quantity, e.Value)
		}
		switch e.Feature {
		case 0:
			if e.Quantity != shot.Launch && e.Quantity != shot.Spin {
				continue
			}
			seen++
			t.Logf("loft, %s: %.4g after, %.4g before, %.0f %% measured", e.Quantity, e.Value.Mean, e.Textbook, 100*e.Measured)
			if e.Measured < .4 || math.Abs(e.Value.Mean) < 1.4*math.Abs(e.Textbook) {
				t.Errorf("loft, %s: %g after, %g before, %.2f measured; want it pulled to twice the textbook", e.Quantity, e.Value.Mean, e.Textbook, e.Measured)
			}
		case 2:
			seen++
		}
	}
	plain, _ := fitted(t, 1, 25, "flat / middle", "up / middle", "upright / middle", "flat / middle")
	for _, e := range append(plain.Effects(), plain.FlightEffects()...) {
		if e.Feature == 2 && e.Measured > .1 {
			t.Errorf("weight, %s: %.2f measured though it was never moved", e.Quantity, e.Measured)
		}
	}
	if seen != 2+K+3 {
		t.Errorf("%d effects looked at, want %d", seen, 2+K+3)
	}
	if f := r.NotTried(); len(f) != 1 || f[0] != 2 {
		t.Errorf("never tried: %v, want the weight alone", f)
	}
}

// TestCarryFollowsTheFlight: the effect on carry is the launch effects through
// the flight, so it is what the flight's slopes make of them.
func TestCarryFollowsTheFlight(t *testing.T) {
	r, _ := fitted(t, 1, 8, "flat / middle", "up / middle", "upright / heel", "up / middle", "flat / middle")
	launch := r.Effects()
	for _, e := range r.FlightEffects() {
		i := map[shot.Quantity]int{shot.Carry: 0, shot.Offline: 1, shot.Apex: 2}[e.Quantity]
		want := 0.0
		for _, l := range launch {
			if l.Feature == e.Feature {
				for k, q := range quantities {
					if q == l.Quantity {
						want += r.flight.slope[i][k] / Scale[k] * l.Value.Mean
					}
				}
			}
		}
		if math.Abs(want-e.Value.Mean) > 1e-9*(1+math.Abs(want)) {
			t.Errorf("feature %d, %s: %g, by the slopes %g", e.Feature, e.Quantity, e.Value.Mean, want)
		}
	}
}

// TestContradictionsAreSaid: balls that do the opposite of the textbook, and
// plenty of them, are said to; balls that follow it are not.
func TestContradictionsAreSaid(t *testing.T) {
	against, _ := fitted(t, -2, 20, "flat / middle", "up / middle", "down / middle", "upright / middle", "flat / middle")
	said := against.Contradictions()
	t.Logf("conflict %.2f", against.Conflict)
	for _, m := range said {
		t.Log(text.Reader{}.Say(m))
	}
	if len(said) < 2 || said[0].Key != "response.conflict" || said[1].Key != "response.contradiction" {
		t.Errorf("said %+v", said)
	}
	with, _ := fitted(t, 1, 20, "flat / middle", "up / middle", "down / middle", "upright / middle", "flat / middle")
	if got := with.Contradictions(); got != nil {
		t.Errorf("balls that follow the textbook are said to contradict it: %+v (conflict %.2f)", got, with.Conflict)
	}
}

// TestConfounding: what was changed together is said, with the setting whose
// balls would tell it; one block a setting is said; balls that tell it end it.
func TestConfounding(t *testing.T) {
	find := func(r *Response, a string) (Confound, bool) {
		for _, c := range r.Confounded() {
			if c.A == a || c.B == a {
				return c, true
			}
		}
		return Confound{}, false
	}
	rounds := func(keys ...string) []string { // there and back
		out := append([]string{}, keys...)
		for i := len(keys) - 1; i >= 0; i-- {
			out = append(out, keys[i])
		}
		return out
	}
	r, settings := fitted(t, 1, 3, rounds("flat / middle", "up / middle", "upright / heel")...)
	c, ok := find(r, "feature.toe")
	if !ok || c.Share < .99 || len(c.Resolve) == 0 {
		t.Fatalf("upright and heel together: %+v", r.Confounded())
	}
	for _, i := range c.Resolve {
		if k := settings[i].Key(); k == "flat / middle" || k == "up / middle" || k == "upright / heel" {
			t.Errorf("%s was hit and cannot resolve it", k)
		}
	}
	t.Log(text.Reader{}.Say(ConfoundText(c, settings[c.Resolve[0]].Key())))
	if _, ok := find(r, "feature.setting"); ok {
		t.Error("two mirrored rounds pass for one block each")
	}
	r, _ = fitted(t, 1, 3, rounds("flat / middle", "up / middle", "upright / heel", settings[c.Resolve[0]].Key())...)
	if c, ok := find(r, "feature.toe"); ok {
		t.Errorf("still said after the balls that resolve it: %+v", c)
	}
	r, _ = fitted(t, 1, 6, "flat / middle", "up / middle", "upright / middle")
	if _, ok := find(r, "feature.setting"); !ok {
		t.Errorf("one block a setting is not said: %+v", r.Confounded())
	}
	if m := ConfoundText(Confound{A: "feature.setting", B: "feature.time"}, ""); !strings.Contains(text.Reader{}.Say(m), "block") {
		t.Errorf("said %q", text.Reader{}.Say(m))
	}
}
