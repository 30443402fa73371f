package impact

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/units"
	"ferrule/testdata/near"
	"ferrule/testdata/rows"
)

// explained are rows that this program does not reproduce as written, or that
// hold no number to reproduce, each with the reason; what does hold of them is
// checked beside it all the same.
var explained = map[string]string{
	"R06": "text of a rule: shown as a caution by the page, nothing to compute",
	"R07": "text of a rule, likewise",
	"S11": "the row's 6 % is against its own table (row S02 alone gives 11.6 %): the identity holds to .2 % for a face without loft, which is checked; with 10.5 degrees the tan(loft) coupling reaches 12 %",
	"G03": "compare only: the published full-gear rule sets ball surface speed to face speed, a free sphere keeps 2.5 kappa of it; the prior's gear multiplier spans both",
	"G11": "the row's 1.01 % is not its own closed form: 1/M_eff = 1/M + z^2/I_v gives 1.22 %, which is checked; the head's fade brings it to the players' 2.5 %",
	"P01": "apex of the row is a toy flight's, 15 % off core/flight at most; launch, spin and speed agree",
}

type check func(t *testing.T)

func (c check) at(m map[string]check, ids ...string) {
	for _, id := range ids {
		m[id] = c
	}
}

// Every row of testdata/impact/cases.csv is checked here by number, or stands
// in explained with its reason. A row without either fails.
func TestEveryCase(t *testing.T) {
	rows := rows.Read(t, "../../testdata/impact/cases.csv")
	checks := map[string]check{}
	ruleCases(checks)
	sleeveCases(checks, rows)
	lieCases(checks)
	strikeCases(checks)
	gearCases(checks)
	playerCases(checks)
	for _, r := range rows[1:] {
		c, ok := checks[r[0]]
		reason, said := explained[r[0]]
		if !ok && !said {
			t.Errorf("%s (%s) has no check and no reason", r[0], r[1])
			continue
		}
		if ok {
			t.Run(r[0], c)
		}
		if said {
			t.Logf("%s explained: %s", r[0], reason)
		}
		delete(checks, r[0])
		delete(explained, r[0])
	}
	for id := range checks {
		t.Errorf("check %s has no row", id)
	}
	for id := range explained {
		t.Errorf("reason %s has no row", id)
	}
}

func ruleCases(m map[string]check) {
	m["R01"] = func(t *testing.T) {
		near.Abs(t, "volume [cc]", club.RuleVolume*1e6, 460, 1e-9)
		near.Abs(t, "tolerance", club.RuleVolumeTolerance*1e6, 10, 1e-9)
	}
	m["R02"] = func(t *testing.T) {
		near.Abs(t, "inertia [g cm2]", club.RuleInertia*1e7, 5900, 1e-6)
		near.Abs(t, "margin", club.RuleInertiaMargin*1e7, 100, 1e-6)
	}
	m["R03"] = func(t *testing.T) {
		near.Abs(t, "contact [us]", (club.RuleContact+club.RuleContactMargin)*1e6, 257, 1e-9)
	}
	m["R04"] = func(t *testing.T) { near.Abs(t, "length [in]", club.RuleLength/units.Inch, 48, 1e-9) }
	m["R05"] = func(t *testing.T) { near.Abs(t, "local length [in]", club.RuleLengthLocal/units.Inch, 46, 1e-9) }
	m["R08"] = func(t *testing.T) {
		near.Abs(t, "ball [g]", flight.BallMass/units.Gram, 45.93, 1e-9)
		near.Abs(t, "ball [mm]", 2*flight.BallRadius/units.Millimetre, 42.67, 1e-9)
	}
}

// bores rebuilds the shaft's unit vectors from lean and lie, which is all that
// a Change tells: an independent way to the identities.
func bores(h club.Head) (s [][3]float64, changes []club.Change) {
	for _, p := range h.Places() {
		c := p.Change
		s = append(s, [3]float64{math.Sin(c.Lean), math.Cos(c.Lean) * math.Sin(h.Lie+c.Upright), -math.Cos(c.Lean) * math.Cos(h.Lie+c.Upright)})
		changes = append(changes, c)
	}
	return s, changes
}

func ringed(loft float64, rings ...club.Ring) club.Head {
	return club.Head{Loft: loft * deg, Lie: 58 * deg, Mass: .2, Sleeve: club.Sleeve{Rings: rings}}
}

func sleeveCases(m map[string]check, rows [][]string) {
	for _, r := range rows {
		if len(r[0]) == 3 && r[0] >= "S01" && r[0] <= "S08" {
			m[r[0]] = func(t *testing.T) {
				var k int
				fmt.Sscanf(r[0], "S%02d", &k)
				c := ringed(10.5, club.Ring{Tilt: 1.5 * deg, Positions: 8}).Places()[k-1].Change
				var w [7]float64
				if _, err := fmt.Sscanf(r[2], "lean=%f;dLie=%f;notwist dLoft=%f dFace=%f;square dLoft=%f;soled dLoft=%f dFace=%f", &w[0], &w[1], &w[2], &w[3], &w[4], &w[5], &w[6]); err != nil {
					t.Fatal(err)
				}
				for i, got := range []float64{c.Lean, c.Upright, c.LoftHeld, c.FaceHeld, c.LoftSquare, c.LoftSoled, c.FaceSoled} {
					near.Abs(t, fmt.Sprint("value ", i), got/deg, w[i], .002)
				}
			}
		}
	}
	m["S10"] = func(t *testing.T) {
		for n := 3; n < 13; n++ {
			s, _ := bores(ringed(10.5, club.Ring{Tilt: 1.5 * deg, Positions: n}))
			var sum [3]float64
			for _, v := range s {
				for i := range v {
					sum[i] += v[i]
				}
			}
			c := float64(n) * math.Cos(1.5*deg)
			near.Abs(t, "x", sum[0], 0, 1e-12)
			near.Abs(t, "y", sum[1], c*math.Sin(58*deg), 1e-12)
			near.Abs(t, "z", sum[2], -c*math.Cos(58*deg), 1e-12)
		}
	}
	m["S11"] = func(t *testing.T) {
		_, cs := bores(ringed(0, club.Ring{Tilt: 2 * deg, Positions: 16}))
		for _, c := range cs {
			near.Abs(t, "loft^2+face^2+lie^2 over t^2", (c.LoftHeld*c.LoftHeld+c.FaceHeld*c.FaceHeld+c.Upright*c.Upright)/(4*deg*deg), 1, .002)
		}
	}
	m["S12"] = func(t *testing.T) {
		_, cs := bores(ringed(10.5, club.Ring{Tilt: 1.5 * deg, Positions: 16}))
		for _, c := range cs {
			near.Abs(t, "lean^2+lie^2 over t^2", (c.Lean*c.Lean+c.Upright*c.Upright)/(2.25*deg*deg), 1, .001)
		}
	}
	m["S13"] = func(t *testing.T) {
		c := ringed(10.5, club.Ring{Tilt: 1e-4 * deg, Positions: 4}).Places()[0].Change
		for i, x := range [][2]float64{{c.LoftHeld, .848}, {c.FaceHeld, -.530}, {c.LoftSquare, 1.179}, {c.FaceSoled, -1.887}} {
			near.Abs(t, fmt.Sprint("slope ", i), x[0]/(1e-4*deg), x[1], .001)
		}
	}
	two := func(a, b, offset float64, want int) check {
		return func(t *testing.T) {
			h := ringed(10.5, club.Ring{Tilt: a * deg, Positions: 4}, club.Ring{Tilt: b * deg, Positions: 4, Offset: offset * deg})
			if got := len(h.Settings()); got != want {
				t.Errorf("%d settings, want %d", got, want)
			}
			var sum, square, up float64
			for _, p := range h.Places() {
				sum, up = sum+p.Tilt.Lean, up+p.Tilt.Upright
				square += (p.Tilt.Lean*p.Tilt.Lean + p.Tilt.Upright*p.Tilt.Upright) / (deg * deg)
			}
			near.Abs(t, "sum of tilts", math.Hypot(sum, up), 0, 1e-12)
			near.Abs(t, "sum of squares", square, 16*(a*a+b*b), 1e-9)
		}
	}
	m["S14"], m["S15"], m["S16"] = two(.75, .75, 45, 16), two(.75, .75, 0, 9), two(1, .5, 0, 16)
	m["S17"] = func(t *testing.T) { mirrored(t) }
	m["S18"] = func(t *testing.T) {
		c := ringed(10.5, club.Ring{Tilt: 1 * deg, Positions: 4}).Places()[0].Change
		near.Abs(t, "loft per face turned back", (c.LoftSquare-c.LoftHeld)/-c.FaceHeld, .625, .02)
	}
}

// mirrored: a left-hander's strike is a right-hander's with face, path and
// heel-toe turned over; the club's own terms are not turned. Exact.
func mirrored(t *testing.T) {
	p := DefaultParams(club.Head{})
	p.CGToe = -2 * mm
	for _, d := range []Delivery{
		{ClubSpeed: 42, Attack: -2 * deg, Path: 3 * deg, Face: -1 * deg, DynamicLoft: 13 * deg, StrikeToe: 8 * mm, StrikeHigh: -5 * mm},
		{ClubSpeed: 50, Attack: 4 * deg, Path: -6 * deg, Face: 2 * deg, DynamicLoft: 15 * deg, StrikeToe: -11 * mm, StrikeHigh: 9 * mm},
	} {
		q, e := p, d
		q.CGToe, e.Path, e.Face, e.StrikeToe = -p.CGToe, -d.Path, -d.Face, -d.StrikeToe
		a, b := must(t, d, p), must(t, e, q)
		if (flight.Launch{Speed: a.Speed, Angle: a.Angle, Direction: -a.Direction, Spin: a.Spin, Axis: -a.Axis}) != b {
			t.Errorf("mirror of %+v is %+v", a, b)
		}
	}
}

func lieCases(m map[string]check) {
	face := func(loft, up, want, tol float64) check {
		return func(t *testing.T) {
			d, _ := moved(Delivery{DynamicLoft: loft * deg}, Params{}, moveTurn, up*deg)
			near.Abs(t, "face closes [deg]", -d.Face/deg, want, tol)
			near.Abs(t, "closed form", -d.Face, math.Atan(math.Tan(loft*deg)*math.Sin(up*deg)), 1e-12)
		}
	}
	m["L10_3"], m["L14_1"], m["L20_3"], m["L45_2"] = face(10, 3, .529, .001), face(14, 1, .249, .001), face(20, 3, 1.091, .001), face(45, 2, 1.999, .001)
	m["L_drv"] = face(10, 3, .55, .05)
	m["L90"] = func(t *testing.T) {
		d, _ := moved(Delivery{DynamicLoft: 30 * deg}, Params{}, moveTurn, 90*deg)
		near.Abs(t, "face", -d.Face/deg, 30, 1e-9)
		near.Abs(t, "loft", d.DynamicLoft, 0, 1e-9)
	}
	m["L_axis"] = func(t *testing.T) {
		d0 := Delivery{ClubSpeed: 42, DynamicLoft: 12 * deg}
		d, p := moved(d0, flat(), moveTurn, 2*deg)
		near.Abs(t, "spin loft", math.Acos(normalOf(d.DynamicLoft, d.Face)[0]), 12*deg, 1e-12)
		near.Abs(t, "axis per degree of lie", -must(t, d, p).Axis/(2*deg), 1, .08)
	}
}

func strikeCases(m map[string]check) {
	for _, id := range []string{"I01", "I02", "I03", "I04", "I05", "I07", "I08"} {
		m[id] = TestIdentities
	}
	m["I06"] = func(t *testing.T) { mirrored(t) }
	v := 95 * mph
	share := func(t *testing.T, eta float64) float64 {
		p := flat()
		p.Eta = eta
		return must(t, Delivery{ClubSpeed: v, DynamicLoft: 14 * deg, Face: 1 * deg}, p).Direction / deg
	}
	m["I09"] = func(t *testing.T) {
		near.Abs(t, "rolling", share(t, 1), .82, .005)
		near.Abs(t, "eta .87", share(t, .87), .84, .005)
		near.Abs(t, "eta .80", share(t, .80), .855, .005)
	}
	m["I10"] = func(t *testing.T) { // drivers sit at the top of the range, over eta .55 .. 1.25
		if s := share(t, 1.25); s < .61 || s > .83 {
			t.Errorf("share at the highest grip is %.3f", s)
		}
		near.Abs(t, "usual grip against the top of the range", share(t, .85), .83, .03)
	}
	m["I11"] = func(t *testing.T) {
		for _, eta := range []float64{.7, .85, 1} {
			if s := share(t, eta); s < .8 || s > .9 {
				t.Errorf("share at eta %g is %.3f", eta, s)
			}
		}
	}
	calibrated := func(speed, attack, loft, eta, launch, tolLaunch, spin, tolSpin, ball, tolBall float64) check {
		return func(t *testing.T) {
			p := flat()
			p.Eta = eta
			l := must(t, Delivery{ClubSpeed: speed * mph, Attack: attack * deg, DynamicLoft: loft * deg}, p)
			near.Abs(t, "launch", l.Angle/deg, launch, tolLaunch)
			near.Abs(t, "spin", l.Spin/rpm, spin, tolSpin)
			if ball > 0 {
				near.Abs(t, "ball speed", l.Speed/mph, ball, tolBall)
			}
		}
	}
	m["I12"] = calibrated(113, -1.3, 12.8, .77, 10.9, .2, 2686, 60, 0, 0)
	m["I13"] = calibrated(93.4, -1.6, 15.1, .95, 12.6, .4, 3275, 80, 132.6, 1.5)
	m["I14"] = func(t *testing.T) {
		rule := 160 * 100 * math.Sin(13.5*deg)
		near.Abs(t, "published rule [rpm]", rule, 3735, 1)
		p := flat()
		p.Eta = 1
		if l := must(t, Delivery{ClubSpeed: 100 * mph, DynamicLoft: 13.5 * deg}, p); l.Spin/rpm > rule {
			t.Errorf("full grip spins %.0f rpm, above the published upper bound", l.Spin/rpm)
		}
	}
	m["I15"] = func(t *testing.T) {
		near.Abs(t, "against the horizontal", math.Atan2(math.Cos(14*deg)*math.Sin(deg), math.Sin(14*deg))/deg, 4.00, .02)
		near.Abs(t, "about the launch direction", must(t, Delivery{ClubSpeed: v, DynamicLoft: 14 * deg, Face: deg}, flat()).Axis/deg, 4.17, .1)
	}
	m["I16"] = TestFigures
	m["I17"] = func(t *testing.T) {
		for open, want := range map[float64]float64{1: 10, 2: 20} {
			g, err := flight.Fly(must(t, Delivery{ClubSpeed: v, DynamicLoft: 14 * deg, Face: open * deg}, DefaultParams(club.Head{})), flight.Env{})
			if err != nil {
				t.Fatal(err)
			}
			near.Abs(t, "yards right", g.RestZ/units.Yard, want, .25*want)
		}
	}
}

func gearCases(m map[string]check) {
	v := 95 * mph
	at := func(change func(*Delivery, *Params)) (flight.Launch, flight.Launch) {
		p, d := flat(), Delivery{ClubSpeed: v, DynamicLoft: 14 * deg}
		p.Eta = .87
		a, err := Strike(d, p)
		change(&d, &p)
		b, err2 := Strike(d, p)
		if err != nil || err2 != nil {
			panic(fmt.Sprint(err, err2))
		}
		return a, b
	}
	side := func(l flight.Launch) float64 { return l.Spin * math.Sin(l.Axis) / rpm }
	m["G01"] = func(t *testing.T) {
		_, b := at(func(_ *Delivery, p *Params) { p.CGToe = -mm })
		near.Abs(t, "side spin", side(b), -55.4, 1)
		near.Abs(t, "axis", b.Axis/deg, -1.25, .02)
	}
	m["G02"] = func(t *testing.T) {
		rule := 58830 * 150 * 1.3 * .15 / 4685
		near.Abs(t, "published rule [rpm]", rule, 367, 1)
		// The same head and strike by rigid body: between 1/1.8 and 1/1.5 of it at eta .87 to 1.
		p := flat()
		p.CGDepth, p.Iv, p.Eta = 1.3*units.Inch, 4685e-7, .93
		d := Delivery{ClubSpeed: 150 * mph / 1.447, DynamicLoft: 14 * deg, StrikeToe: .15 * units.Inch}
		if q := rule / -side(must(t, d, p)); q < 1.4 || q > 1.9 {
			t.Errorf("published over rigid body is %.2f, want 1.5 to 1.8", q)
		}
	}
	m["G03"] = func(t *testing.T) {
		near.Abs(t, "bulge [deg]", .25*units.Inch/(12*units.Inch)/deg, 1.2, .01)
		p := flat()
		p.Bulge = 12 * units.Inch
		l := must(t, Delivery{ClubSpeed: 150 * mph / 1.447, DynamicLoft: 14 * deg, StrikeToe: .25 * units.Inch}, p)
		if side(l) >= 0 || l.Direction <= 0 {
			t.Errorf("a toe strike nets %.0f rpm of side spin and starts %.1f deg, want hook and right", side(l), l.Direction/deg)
		}
		near.Abs(t, "rigid body net [rpm]", side(l), -70, 25)
	}
	m["G04"] = func(t *testing.T) { near.Abs(t, "shift", shiftOf(t, .204, .015, 2*units.Inch)/mm, 3.74, .02) }
	m["G05"] = func(t *testing.T) {
		near.Abs(t, "shift", shiftOf(t, .2, .010, .090)/mm, 4.5, 1e-9)
		near.Abs(t, "a step of five", shiftOf(t, .2, .010, .0225)/mm, 1.125, 1e-9)
	}
	m["G08"] = func(t *testing.T) {
		for _, open := range []float64{2, 8} {
			p, d := flat(), Delivery{ClubSpeed: v, DynamicLoft: 14 * deg, Face: open * deg / 2, Path: -open * deg / 2}
			q := p
			q.CGToe = -2.25 * mm
			if a, b := must(t, d, p), must(t, d, q); b.Spin >= a.Spin {
				t.Errorf("a fader's spin goes from %.0f to %.0f rpm with weight in the heel, want less", a.Spin/rpm, b.Spin/rpm)
			}
		}
	}
	check(TestFigures).at(m, "G09", "G10")
	m["G11"] = func(t *testing.T) {
		a, b := at(func(d *Delivery, _ *Params) { d.StrikeToe = 12.7 * mm })
		near.Abs(t, "rigid body [%]", 100*(1-b.Speed/a.Speed), 1.22, .1)
		p := DefaultParams(club.Head{})
		d := Delivery{ClubSpeed: v, DynamicLoft: 14 * deg}
		a = must(t, d, p)
		d.StrikeToe = 12.7 * mm
		near.Abs(t, "with the face's fade [%]", 100*(1-must(t, d, p).Speed/a.Speed), 2.5, 1)
	}
}

// shiftOf is how far a weight moves the centre of mass, by package club.
func shiftOf(t *testing.T, head, weight, by float64) float64 {
	t.Helper()
	h := club.Head{Loft: 10 * deg, Lie: 58 * deg, Mass: head, Weights: []club.Weight{{Mass: weight, Stops: []club.Stop{{Label: "a", Toe: -by / 2}, {Label: "b", Toe: by / 2}}}}}
	a, err1 := h.Change(club.Setting{Weights: []string{"a"}})
	b, err2 := h.Change(club.Setting{Weights: []string{"b"}})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	return b.CGToe - a.CGToe
}

func playerCases(m map[string]check) {
	row := func(t *testing.T, speed float64, key string) PriorRow {
		t.Helper()
		rows, err := PriorTable(player95(t, speed), club.Head{Lie: 58 * deg, Mass: .2}, flight.Env{}, 1)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			if r.Key == key {
				return r
			}
		}
		t.Fatalf("no row %q", key)
		return PriorRow{}
	}
	holds := func(speed float64, key string, lo, hi float64) check {
		return func(t *testing.T) {
			r := row(t, speed, key)
			if !r.Holds(Figure{Lo: lo, Hi: hi}) {
				t.Errorf("%s: prior %.2f ± %.2f does not hold %g to %g", key, r.Mean, r.SD, lo, hi)
			}
		}
	}
	m["G06"] = holds(95, "track", -13.4, -13.4)
	m["G07"] = func(t *testing.T) {
		holds(95, "step", -4, -4)(t)
		holds(95, "track", -16, -16)(t)
	}
	m["P01"] = func(t *testing.T) {
		for speed, want := range map[float64][3]float64{80: {148, -.58, 4.7}, 95: {178, -.61, 7.2}, 110: {207, -.66, 10}} {
			p := flat()
			p.Eta = .87
			d := Delivery{ClubSpeed: speed * mph, DynamicLoft: 14 * deg}
			e := d
			e.DynamicLoft += deg
			a, b := must(t, d, p), must(t, e, p)
			near.Abs(t, "launch", (b.Angle-a.Angle)/deg, .84, .025)
			near.Abs(t, "spin", (b.Spin-a.Spin)/rpm, want[0], .03*want[0])
			near.Abs(t, "speed", (b.Speed-a.Speed)/mph, want[1], .1)
			f, _ := flight.Fly(a, flight.Env{})
			g, _ := flight.Fly(b, flight.Env{})
			near.Abs(t, "apex [ft]", (g.Apex-f.Apex)/units.Foot, want[2], .25*want[2])
		}
	}
	m["P02"] = func(t *testing.T) {
		holds(95, "range-launch", 2.5, 3.5)(t)
		holds(95, "range-apex", 25, 55)(t)
		holds(113, "range-apex", 40, 40)(t) // the figure itself, for a fast player
	}
	m["P03"] = holds(95, "loft-spin", 200, 500)
	m["P04"] = func(t *testing.T) {
		if r := row(t, 95, "less-loft-speed"); r.Mean <= 0 {
			t.Errorf("less loft gives %.2f mph, want more speed", r.Mean)
		}
	}
	m["H01"] = func(t *testing.T) { // one measured head in the collision: a plausible drive
		p := Params{HeadMass: .207, CGDepth: .0423, Iv: 5679e-7, Ih: 4085e-7, Ix: 2843e-7, Restitution: .83, Eta: .85, Friction: .4, Bulge: .305, Roll: .305}
		near.Abs(t, "ball inertia [g cm2]", ballInertia*1e7, 83.63, .005*83.63)
		l := must(t, Delivery{ClubSpeed: 100 * mph, DynamicLoft: 12 * deg}, p)
		near.Abs(t, "smash", l.Speed/(100*mph), 1.45, .03)
	}
	m["H02"] = func(t *testing.T) {
		p := DefaultParams(club.Head{})
		if p.Iv < 3870e-7 || p.Iv > 5867e-7 || p.CGDepth < .032 || p.CGDepth > .047 {
			t.Errorf("the usual head %+v is none of the 17 measured", p)
		}
	}
	swingCases(m)
	m["M01"] = func(t *testing.T) {
		holds(95, "mass-club", -2.7, -2.7)(t)
		holds(95, "mass-ball", -.8, .8)(t)
		for _, key := range []string{"mass-spin", "mass-direction"} {
			if r := row(t, 95, key); r.Mean <= 0 {
				t.Errorf("%s: %.2f, want more with a heavier head", key, r.Mean)
			}
		}
	}
}

func swingCases(m map[string]check) {
	base := club.Head{Mass: .2, Lie: 58 * deg, Shaft: club.Shaft{Length: 45.5 * units.Inch, Mass: .06, GripMass: .05}}
	points := func(change func(*club.Head) club.Change) float64 {
		h := base
		a, _ := h.SwingWeight(club.Change{})
		b, _ := h.SwingWeight(change(&h))
		return b - a
	}
	m["W01"] = func(t *testing.T) { // one gram more at 50 in from the fulcrum is a point
		h := base
		h.Shaft.Length = (14 + .5 + 50) * units.Inch
		a, _ := h.SwingWeight(club.Change{})
		b, _ := h.SwingWeight(club.Change{Mass: 1 * units.Gram})
		near.Abs(t, "points", b-a, 1, .01)
	}
	m["W02"] = func(t *testing.T) { // trade's rules, for irons too: same sign, same size within a half
		for name, x := range map[string][2]float64{
			"2 g head":   {points(func(*club.Head) club.Change { return club.Change{Mass: 2 * units.Gram} }), 1},
			"4.5 g grip": {points(func(h *club.Head) club.Change { h.Shaft.GripMass += 4.5 * units.Gram; return club.Change{} }), -1},
			"9 g shaft":  {points(func(h *club.Head) club.Change { h.Shaft.Mass += 9 * units.Gram; return club.Change{} }), 1},
			"1/2 in":     {points(func(h *club.Head) club.Change { h.Shaft.Length += .5 * units.Inch; return club.Change{} }), 3},
		} {
			near.Abs(t, name, x[0]/x[1], 1, .5)
		}
	}
	m["W03"] = func(t *testing.T) {
		near.Abs(t, "head", points(func(*club.Head) club.Change { return club.Change{Mass: 2 * units.Gram} }), 1.24, .1)
		near.Abs(t, "length", points(func(h *club.Head) club.Change { h.Shaft.Length += .5 * units.Inch; return club.Change{} }), 2.3, .1)
		near.Abs(t, "grip", points(func(h *club.Head) club.Change { h.Shaft.GripMass += 5 * units.Gram; return club.Change{} }), -.97, .1)
		near.Abs(t, "shaft", points(func(h *club.Head) club.Change { h.Shaft.Mass += 9 * units.Gram; return club.Change{} }), 1.41, .1)
	}
	m["W04"] = func(t *testing.T) {
		near.Abs(t, "10 g over 45 mm", points(func(*club.Head) club.Change { return club.Change{CGToe: .010 * .045 / .2} }), .19, .02)
	}
}

// The slopes that the priors are made of, against closed forms of a centred
// strike and against themselves at half the step.
func TestSlopesAgainstFiniteDifferences(t *testing.T) {
	p := DefaultParams(club.Head{})
	p.Eta = .9
	d := Delivery{ClubSpeed: 43, Attack: -2 * deg, Path: 3 * deg, Face: 1 * deg, DynamicLoft: 13 * deg, StrikeToe: 3 * mm}
	full, err := slopes(d, p)
	if err != nil {
		t.Fatal(err)
	}
	for mv := range full {
		for _, half := range []float64{.5, .25} {
			h := half * moveStep[mv]
			up, _ := strikeOf(moved(d, p, mv, h))
			down, _ := strikeOf(moved(d, p, mv, -h))
			for k := range K {
				got := (up[k] - down[k]) / (2 * h)
				scale := math.Max(math.Abs(got), responseUnit[k]/(100*moveStep[mv]))
				if math.Abs(full[mv][k]-got) > 1e-3*scale {
					t.Errorf("move %d response %d: slope %.8g, at a smaller step %.8g", mv, k, full[mv][k], got)
				}
			}
		}
	}
	// Centred, face = path = attack = 0: ball speed, launch and spin by loft in closed form.
	c := Delivery{ClubSpeed: 43, DynamicLoft: 13 * deg}
	j, err := slopes(c, p)
	if err != nil {
		t.Fatal(err)
	}
	closed := func(loft float64) (speed, launch, spin float64) {
		ratio := flight.BallMass / p.HeadMass
		vn := c.ClubSpeed * math.Cos(loft) * (1 + p.Restitution) / (1 + ratio)
		vt := p.Eta * p.kappa(1) * c.ClubSpeed * math.Sin(loft)
		return math.Hypot(vn, vt), loft - math.Atan2(vt, vn), vt / (.4 * flight.BallRadius)
	}
	const e = 1e-6
	s1, l1, n1 := closed(c.DynamicLoft + e)
	s0, l0, n0 := closed(c.DynamicLoft - e)
	near.Abs(t, "speed by loft", j[moveLoft][0], (s1-s0)/(2*e), 1e-4*43)
	near.Abs(t, "launch by loft", j[moveLoft][1], (l1-l0)/(2*e), 1e-5)
	near.Abs(t, "spin by loft", j[moveLoft][3], (n1-n0)/(2*e), .05)
	s, l, n := closed(c.DynamicLoft)
	got := must(t, c, p)
	near.Abs(t, "speed", got.Speed, s, 1e-9)
	near.Abs(t, "launch", got.Angle, l, 1e-12)
	near.Abs(t, "spin", got.Spin, n, 1e-9)
	near.Abs(t, "speed by club speed", j[moveSpeed][0], s/43, 1e-9)
	// Side spin by the centre of mass: 2.5 kappa_h eta (J d / I_v) / r.
	J := flight.BallMass * 43 * math.Cos(c.DynamicLoft) * (1 + p.Restitution) / (1 + flight.BallMass/p.HeadMass)
	want := 2.5 * p.kappa(0) * p.Eta * (J * p.CGDepth / p.Iv) / flight.BallRadius
	axis := j[moveToe][4] * got.Spin // side spin = spin x axis
	near.Abs(t, "side spin by centre of mass, relative", axis/want, 1, .05)
}

// The strike place enters and moves launch and axis more than a weight step.
func TestStrikePlaceOutweighsAWeightStep(t *testing.T) {
	b := player95(t, 95)
	toe, high, err := StrikeSlopes(b, club.Head{Lie: 58 * deg, Mass: .2})
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "direction per 5 mm of toe [deg]", toe[2]*5*mm/deg, 1.0, .1)
	near.Abs(t, "axis per 5 mm of toe [deg]", toe[4]*5*mm/deg, -1.4, .15)
	near.Abs(t, "launch per 5 mm high [deg]", high[1]*5*mm/deg, 1.1, .1)
	near.Abs(t, "spin per 5 mm high [rpm]", high[3]*5*mm/rpm, -199, 15)
	prior, err := Effects(b, club.Head{Lie: 58 * deg, Mass: .2}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if step := prior.Mean[2][2] * 1.1 * mm; math.Abs(toe[2]*5*mm) < 3*math.Abs(step) {
		t.Errorf("5 mm of strike moves the start %.2f deg, a weight step %.2f", toe[2]*5*mm/deg, step/deg)
	}
}

// What Explain finds for strikes off the middle is what was struck.
func TestExplainTakesTheStrikePlace(t *testing.T) {
	p := DefaultParams(club.Head{})
	for _, toe := range []float64{-15, -4, 0, 9} {
		for _, high := range []float64{-8, 0, 10} {
			d := Delivery{ClubSpeed: 44, Attack: 2 * deg, Path: -4 * deg, Face: 1.5 * deg, DynamicLoft: 15 * deg, StrikeToe: toe * mm, StrikeHigh: high * mm}
			l := must(t, d, p)
			got, q, err := explain(l, Known{ClubSpeed: &d.ClubSpeed, Attack: &d.Attack, StrikeToe: d.StrikeToe, StrikeHigh: d.StrikeHigh}, DefaultParams(club.Head{}))
			if err != nil {
				t.Errorf("toe %g high %g: %v", toe, high, err)
				continue
			}
			near.Abs(t, "face", got.Face, d.Face, 1e-7)
			near.Abs(t, "path", got.Path, d.Path, 1e-7)
			near.Abs(t, "loft", got.DynamicLoft, d.DynamicLoft, 1e-7)
			near.Abs(t, "eta", q.Eta, p.Eta, 1e-6)
			near.Abs(t, "restitution", q.Restitution, p.Restitution, 1e-6)
		}
	}
}

// Priors exist for every ball that a person can hit, are finite and positive
// definite, follow the player's speed and mirror with the curve.
func TestPriorsOfAllKindsOfPlayers(t *testing.T) {
	for _, speed := range []float64{45, 90, 135, 190} {
		for _, launch := range []float64{-2, 6, 13, 28} {
			for _, spin := range []float64{0, 1500, 3000, 6000} {
				for _, axis := range []float64{-40, 0, 12} {
					for _, kind := range []string{club.Driver, club.Fairway, club.Hybrid} {
						b := Baseline{Launch: flight.Launch{Speed: speed * mph, Angle: launch * deg, Direction: 2 * deg, Spin: spin * rpm, Axis: axis * deg}}
						prior, err := Effects(b, club.Head{Kind: kind, Lie: 58 * deg}, 3)
						if err != nil {
							t.Fatalf("%g mph %g deg %g rpm %g deg %s: %v", speed, launch, spin, axis, kind, err)
						}
						if where := notDefinite(prior.Cov, F*K); where >= 0 {
							t.Fatalf("%g mph %g deg %g rpm %g deg: covariance fails at %d", speed, launch, spin, axis, where)
						}
					}
				}
			}
		}
	}
	at := func(speed, axis, direction float64) Prior {
		p, err := Effects(Baseline{Launch: flight.Launch{Speed: speed * mph, Angle: 13 * deg, Direction: direction * deg, Spin: 2800 * rpm, Axis: axis * deg}}, club.Head{Lie: 58 * deg}, 3)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if slow, fast := at(110, 0, 0), at(160, 0, 0); fast.Mean[0][3] < slow.Mean[0][3]*.9 {
		t.Errorf("spin per lean of a fast player %.0f, of a slow one %.0f", fast.Mean[0][3], slow.Mean[0][3])
	}
	// total spin per heel weight follows the curve: less for a fader, more for a drawer
	fade, draw := at(135, 10, 1), at(135, -10, -1)
	if fade.Mean[2][3] <= 0 || draw.Mean[2][3] >= 0 {
		t.Errorf("spin per centre of mass to the toe: fader %.0f, drawer %.0f, want more and less", fade.Mean[2][3], draw.Mean[2][3])
	}
	if _, err := Effects(Baseline{}, club.Head{}, 1); err == nil {
		t.Error("a baseline without a ball speed is taken")
	}
	if _, err := Effects(Baseline{Launch: flight.Launch{Speed: 60, Spin: math.NaN()}}, club.Head{}, 1); err == nil || !strings.Contains(err.Error(), "finite") {
		t.Errorf("NaN: %v", err)
	}
}

// notDefinite tries Cholesky's factors on a scaled copy; -1 when they exist.
func notDefinite(cov []float64, n int) int {
	l := make([]float64, n*n)
	for i := range n {
		for j := range i + 1 {
			s := cov[i*n+j] / math.Sqrt(cov[i*n+i]*cov[j*n+j])
			for k := range j {
				s -= l[i*n+k] * l[j*n+k]
			}
			if i == j {
				if !(s > 1e-9) {
					return i
				}
				l[i*n+i] = math.Sqrt(s)
			} else {
				l[i*n+j] = s / l[j*n+j]
			}
		}
	}
	return -1
}

// How the club is held moves the re-squaring share and what lean does.
func TestHoldMovesThePrior(t *testing.T) {
	b := player95(t, 95)
	of := func(hold string) Prior {
		p, err := Effects(b, club.Head{Lie: 58 * deg, Hold: hold}, 1)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	soled, between, square := of(club.HoldSoled), of(""), of(club.HoldSquare)
	if !(soled.Resquare < between.Resquare && between.Resquare < square.Resquare) {
		t.Errorf("shares %.2f, %.2f, %.2f", soled.Resquare, between.Resquare, square.Resquare)
	}
	if !(soled.Mean[0][1] < between.Mean[0][1] && between.Mean[0][1] < square.Mean[0][1]) || soled.Mean[0][2] >= square.Mean[0][2] {
		t.Error("the more the face is turned back, the more loft and the less closed")
	}
}
