package impact

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/seed"
	"ferrule/testdata/near"
)

// session invents strikes of a player with known grip and restitution.
func session(n int, eta, e float64, placed bool) []Observation {
	rng := seed.Seed(5).Stream("impact.test")
	p := DefaultParams(club.Head{})
	p.Eta, p.Restitution = eta, e
	var out []Observation
	for range n {
		d := Delivery{ClubSpeed: 42 + .7*rng.NormFloat64(), Attack: (-1.2 + 1.1*rng.NormFloat64()) * deg, Path: (-3 + 1.8*rng.NormFloat64()) * deg,
			Face: 2.2 * rng.NormFloat64() * deg, DynamicLoft: (13.5 + 1.4*rng.NormFloat64()) * deg, StrikeToe: 10 * rng.NormFloat64() * mm, StrikeHigh: 7 * rng.NormFloat64() * mm}
		l, err := Strike(d, p)
		if err != nil {
			panic(err)
		}
		l.Spin *= 1 + .03*rng.NormFloat64()
		l.Angle += .2 * deg * rng.NormFloat64()
		o := Observation{Launch: l, ClubSpeed: &d.ClubSpeed, Attack: &d.Attack}
		if placed {
			o.StrikeToe, o.StrikeHigh = &d.StrikeToe, &d.StrikeHigh
		}
		out = append(out, o)
	}
	return out
}

func TestCalibrateFindsThePlayersOwnStrike(t *testing.T) {
	p, c := Calibrate(session(40, .95, .88, true), DefaultParams(club.Head{}))
	t.Logf("placed: %+v", c)
	near.Abs(t, "eta", c.Eta, .95, 3*c.EtaSD)
	near.Abs(t, "restitution", c.Restitution, .88, 3*c.RestitutionSD)
	if p.Eta != c.Eta || p.Restitution != c.Restitution || c.Off == 0 || c.Used+c.Off+c.Unexplained != 40 {
		t.Errorf("%+v, %+v", p, c)
	}
	if c.EtaSD > .03 || c.RestitutionSD > .01 {
		t.Errorf("forty balls leave %.3f and %.3f", c.EtaSD, c.RestitutionSD)
	}
	_, c = Calibrate(session(40, .95, .88, false), DefaultParams(club.Head{}))
	t.Logf("by smash: %+v", c)
	near.Abs(t, "eta by smash", c.Eta, .95, .08)
	near.Abs(t, "restitution by smash", c.Restitution, .88, .03)
}

func TestCalibrateWithLittleOrWrong(t *testing.T) {
	_, none := Calibrate(nil, DefaultParams(club.Head{}))
	if none.Eta != priorEta || none.EtaSD != priorEtaSD || none.Restitution != priorE {
		t.Errorf("no shots: %+v, want the prior", none)
	}
	// A record of spin 0 and one of two swapped speeds are not believed.
	shots := session(12, .9, .85, true)
	slow := 60.0
	shots[0].Launch.Spin = 0
	shots[1].ClubSpeed = &slow
	zero := 0.0
	for i := range shots {
		shots[i].StrikeToe, shots[i].StrikeHigh = &zero, &zero
	}
	_, c := Calibrate(shots, DefaultParams(club.Head{}))
	if c.Unexplained < 2 {
		t.Errorf("%+v, want the two wrong records left out", c)
	}
	// Without a club speed the restitution is the prior's, the grip is still found.
	for i := range shots {
		shots[i].ClubSpeed = nil
	}
	_, c = Calibrate(shots[2:], DefaultParams(club.Head{}))
	if c.Restitution != priorE || c.RestitutionSD != priorESD || math.Abs(c.Eta-.9) > .12 {
		t.Errorf("without club speed %+v", c)
	}
	if _, c := Calibrate([]Observation{{Launch: flight.Launch{Speed: math.NaN()}}}, Params{}); c.Used != 0 {
		t.Errorf("NaN is used: %+v", c)
	}
}

// The player's own grip moves the priors and narrows what hangs on it.
func TestPriorsTakeTheOwnStrike(t *testing.T) {
	b := player95(t, 95)
	h := club.Head{Lie: 58 * deg, Mass: .2}
	usual, err := Effects(b, h, 1)
	if err != nil {
		t.Fatal(err)
	}
	b.Own = &Calibration{Eta: 1.05, EtaSD: .02, Restitution: .86, RestitutionSD: .01, Used: 30}
	own, err := Effects(b, h, 1)
	if err != nil {
		t.Fatal(err)
	}
	if own.Mean[0][3] <= usual.Mean[0][3] {
		t.Errorf("spin per lean %.0f with more grip, %.0f before: want more", own.Mean[0][3], usual.Mean[0][3])
	}
	b.Own.Used = 0
	if same, _ := Effects(b, h, 1); same.Mean != usual.Mean {
		t.Error("a calibration without a strike changes the prior")
	}
}
