package club

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ferrule/core/units"
)

// compose is the bore of two rings as a mechanic would see it: the second ring
// sits in the first and is tilted with it. Independent of the sum of tilts.
func compose(lie float64, a, b Tilt) vec {
	h0 := bore(lie, Tilt{})
	rot := func(t Tilt, v vec) vec {
		size := math.Hypot(t.Lean, t.Upright)
		if size == 0 {
			return v
		}
		e1, e2 := vec{1, 0, 0}, vec{0, math.Cos(lie), math.Sin(lie)}
		axis := h0.Cross(e1.Times(t.Lean / size).Plus(e2.Times(t.Upright / size)))
		return turn(axis, size, v)
	}
	return rot(a, rot(b, h0))
}

func TestSumOfTiltsAgainstComposedBores(t *testing.T) {
	worst := 0.0
	for k := range 12 {
		for j := range 12 {
			a, b := (Ring{1 * deg, 12, 0}).at(k), (Ring{1 * deg, 12, .3}).at(j)
			s, c := bore(58*deg, Tilt{a.Lean + b.Lean, a.Upright + b.Upright}), compose(58*deg, a, b)
			worst = max(worst, math.Asin(min(1, vec.Size(s.Cross(c)))))
		}
	}
	if worst == 0 || worst > .001*deg {
		t.Errorf("summing the tilts of two 1 degree rings is off by %.2g deg, want below 0.001", worst/deg)
	}
}

// The sixteen rows of two rings of 0.75 degrees, the second offset by 45: the
// table of the impact reference, computed there from rotation matrices by hand.
func TestTwoRingTable(t *testing.T) {
	rows := `1.280 .530 1.082 -.783 1.572 -2.511
.220 .530 .185 -.216 .320 -.513
.220 -.530 .186 -.017 .197 -.316
1.280 -.530 1.088 -.576 1.449 -2.314
.530 1.280 .444 -.524 .771 -1.237
-.530 1.280 -.449 .049 -.480 .764
-.530 .220 -.449 .241 -.600 .961
.530 .220 .449 -.323 .651 -1.041
-.220 .530 -.186 .019 -.198 .316
-1.280 .530 -1.083 .584 -1.448 2.322
-1.280 -.530 -1.089 .770 -1.570 2.519
-.220 -.530 -.187 .214 -.321 .513
.530 -.220 .450 -.240 .600 -.959
-.530 -.220 -.450 .321 -.651 1.042
-.530 -1.280 -.456 .513 -.776 1.239
.530 -1.280 .450 -.039 .474 -.763`
	h := Head{Loft: 10.5 * deg, Lie: 58 * deg, Mass: .2, Sleeve: Sleeve{Rings: []Ring{{.75 * deg, 4, 0}, {.75 * deg, 4, 45 * deg}}}}
	places := h.Places()
	var squares float64
	for i, row := range strings.Split(rows, "\n") {
		var w [6]float64
		fmt.Sscan(strings.TrimSpace(row), &w[0], &w[1], &w[2], &w[3], &w[4], &w[5])
		c := places[i].Change
		got := [6]float64{c.Lean, c.Upright, c.LoftHeld, c.FaceHeld, c.LoftSquare, c.FaceSoled}
		for j := range w {
			if math.Abs(got[j]/deg-w[j]) > .0021 {
				t.Errorf("row %d column %d = %.4f deg, want %.3f", i, j, got[j]/deg, w[j])
			}
		}
		squares += (c.Lean*c.Lean + c.Upright*c.Upright) / (deg * deg)
	}
	if math.Abs(squares-18) > .01 { // S14
		t.Errorf("sum of lean^2 + lie^2 = %.4f, want 18.0", squares)
	}
}

func TestRotationsAreRotations(t *testing.T) {
	h0 := bore(58*deg, Tilt{})
	for name, tilt := range map[string]Tilt{"lean alone": {.02, 0}, "flat alone": {0, -.03}, "both": {-.01, .02}} {
		t.Run(name, func(t *testing.T) {
			s := bore(58*deg, tilt)
			r := leastRotation(s, h0)
			for i := range 3 {
				for j := range 3 {
					want := 0.0
					if i == j {
						want = 1
					}
					if got := r[i].Dot(r[j]); math.Abs(got-want) > 1e-12 {
						t.Errorf("R R' [%d][%d] = %g", i, j, got)
					}
				}
			}
			if det := r[0].Dot(r[1].Cross(r[2])); math.Abs(det-1) > 1e-12 {
				t.Errorf("det = %g", det)
			}
			if d := vec.Size(r.times(s).Plus(h0.Times(-1))); d > 1e-12 {
				t.Errorf("R s misses h0 by %g", d)
			}
			o := bore(58*deg, Tilt{-tilt.Lean, -tilt.Upright}) // s(phi) + s(phi+180) = 2 cos t h0
			if d := vec.Size(s.Plus(o).Plus(h0.Times(-2 * math.Cos(math.Hypot(tilt.Lean, tilt.Upright))))); d > 1e-12 {
				t.Errorf("opposite bores miss 2 cos t h0 by %g", d)
			}
		})
	}
}

// S17: a left-hander's club is the mirror image in the plane of the target
// line, worked out here in the compass frame from mirrored vectors. Loft and
// lie come out the same, the face with the other compass sign: exactly.
func TestLeftHandedClubIsTheMirror(t *testing.T) {
	flip := func(v vec) vec { return vec{v[0], v[1], -v[2]} }
	for k := range 8 {
		tilt := (Ring{1.5 * deg, 8, 0}).at(k)
		s, h0 := bore(58*deg, tilt), bore(58*deg, Tilt{})
		right, left := leastRotation(s, h0), leastRotation(flip(s), flip(h0))
		n := right.times(normal(10.5*deg, 0))
		m := left.times(flip(normal(10.5*deg, 0)))
		if m != flip(n) {
			t.Errorf("position %d: mirrored normal %v, want the mirror of %v", k, m, n)
		}
		l1, f1 := angles(n)
		l2, f2 := angles(m)
		if l1 != l2 || f1 != -f2 {
			t.Errorf("position %d: loft %g and %g, face %g and %g", k, l1, l2, f1, f2)
		}
	}
}

// A hand-made finite-difference check of the small-tilt slopes (S13) and of
// what turning the shaft trades (S18).
func TestSlopesOfASmallTilt(t *testing.T) {
	lie := 58 * deg
	const e = 1e-6
	up, down := hold(10.5*deg, lie, 0, Tilt{Lean: e}), hold(10.5*deg, lie, 0, Tilt{Lean: -e})
	slope := func(f func(Change) float64) float64 { return (f(up) - f(down)) / (2 * e) }
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"loft held", slope(func(c Change) float64 { return c.LoftHeld }), math.Sin(lie)},
		{"face held", slope(func(c Change) float64 { return c.FaceHeld }), -math.Cos(lie)},
		{"loft square", slope(func(c Change) float64 { return c.LoftSquare }), 1 / math.Sin(lie)},
		{"loft soled", slope(func(c Change) float64 { return c.LoftSoled }), 0},
		{"face soled", slope(func(c Change) float64 { return c.FaceSoled }), -1 / math.Cos(lie)},
	} {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s per lean = %.7f, want %.7f", c.name, c.got, c.want)
		}
	}
	// S18: squaring a face closed by 2 degrees adds 1.25 degrees of loft.
	n := normal(10.5*deg, -2*deg)
	psi, ok := turnToPlane(bore(lie, Tilt{}), n, vec{0, 0, 1})
	l, f := angles(turn(bore(lie, Tilt{}), psi, n))
	if !ok || math.Abs((l-10.5*deg)/deg-1.25) > .02 || math.Abs(f) > 1e-12 {
		t.Errorf("squaring 2 degrees closed adds %.3f deg and leaves %.3g", (l-10.5*deg)/deg, f/deg)
	}
	// Held joins the three ways of holding: shares 0, 1 and -tan(lie)^2.
	c := hold(10.5*deg, lie, 0, Tilt{Lean: .5 * deg, Upright: .2 * deg})
	if l, f := c.Held(0); l != c.LoftHeld || f != c.FaceHeld {
		t.Error("share 0 is not the shaft held as it is")
	}
	if l, f := c.Held(1); l != c.LoftSquare || f != 0 {
		t.Error("share 1 is not the face squared")
	}
	lean := hold(10.5*deg, lie, 0, Tilt{Lean: .5 * deg})
	if l, f := lean.Held(-math.Tan(lie) * math.Tan(lie)); math.Abs(l-lean.LoftSoled) > .01*deg || math.Abs(f-lean.FaceSoled) > .01*deg {
		t.Errorf("the soled share gives %.3f, %.3f deg, want %.3f, %.3f", l/deg, f/deg, lean.LoftSoled/deg, lean.FaceSoled/deg)
	}
}

// S12: lean^2 + lie^2 = t^2 within 0.1 %.
func TestLeanAndLieMakeTheTilt(t *testing.T) {
	for k := range 16 {
		c := hold(10.5*deg, 58*deg, 0, (Ring{2 * deg, 16, 0}).at(k))
		if q := (c.Lean*c.Lean + c.Upright*c.Upright) / (4 * deg * deg); math.Abs(q-1) > .001 {
			t.Errorf("k %d: %.5f", k, q)
		}
	}
}

// A sleeve printed as a table is the sleeve itself, whichever columns are
// printed: loft and lie, face and lie, or all three; and rounded to a quarter
// of a degree it is near it.
func TestPrintedTableIsInverted(t *testing.T) {
	h := Head{Loft: 10.5 * deg, Lie: 58 * deg, Mass: .2}
	ring := h
	ring.Sleeve.Rings = []Ring{{1.5 * deg, 8, 0}}
	for _, columns := range []string{"loft", "face", "both"} {
		for _, round := range []float64{0, .25 * deg} {
			printed := h
			for i, p := range ring.Places() {
				line := Position{Label: fmt.Sprint(i), Loft: p.Change.LoftSquare, Lie: p.Change.Upright, Face: p.Change.FaceSoled}
				if columns == "loft" {
					line.Face = 0
				}
				if columns == "face" {
					line.Loft = 0
				}
				if round > 0 {
					line.Loft, line.Lie, line.Face = math.Round(line.Loft/round)*round, math.Round(line.Lie/round)*round, math.Round(line.Face/round)*round
				}
				printed.Sleeve.Table = append(printed.Sleeve.Table, line)
			}
			for i, p := range printed.Places() {
				want := ring.Places()[i].Change
				tol := 1e-9
				if round > 0 {
					tol = .13 * deg
				}
				if math.Abs(p.Change.Lean-want.Lean) > tol || math.Abs(p.Change.Upright-want.Upright) > tol {
					t.Errorf("%s, rounded to %.2f: position %d leans %.4f, %.4f deg, want %.4f, %.4f", columns, round/deg, i, p.Change.Lean/deg, p.Change.Upright/deg, want.Lean/deg, want.Upright/deg)
				}
			}
		}
	}
}

func TestMadeLabels(t *testing.T) {
	h := Head{Loft: 10.5 * deg, Lie: 58 * deg, Mass: .2, Sleeve: Sleeve{Rings: []Ring{{.75 * deg, 4, 0}, {.75 * deg, 4, 0}}}}
	if err := h.Validate(); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, p := range h.Places() {
		if seen[p.Label] || !strings.Contains(p.Label, "loft ") {
			t.Errorf("label %q is not plain or not unique", p.Label)
		}
		seen[p.Label] = true
	}
	if got := h.Places()[0].Label; got != "loft +1.8°, lie 0.0°" {
		t.Errorf("first label %q", got)
	}
	if s, err := h.Find("LOFT +1.8, lie 0.0"); err != nil || s.Sleeve != h.Places()[0].Label {
		t.Errorf("a made label is found without its signs: %v, %v", s, err)
	}
	same := 0
	for _, p := range h.Places() {
		if p.SameAs != "" {
			same++
		}
	}
	if same != 7 {
		t.Errorf("%d of 16 positions do the same as another, want 7", same)
	}
}

// Two equal weights that change places are one setting; both in the middle is
// another than one at each end, though the centre of mass is the same.
func TestWeightsThatChangePlaces(t *testing.T) {
	stops := []Stop{{Label: "heel", Toe: -.03}, {Label: "middle"}, {Label: "toe", Toe: .03}}
	h := Head{Loft: 10 * deg, Lie: 58 * deg, Mass: .2, Weights: []Weight{{Name: "a", Mass: .008, Stops: stops}, {Name: "b", Mass: .008, Stops: stops}},
		Exclude: []Setting{{Weights: []string{"middle", "middle"}}}}
	if err := h.Validate(); err != nil {
		t.Fatal(err)
	}
	if got := len(h.Settings()); got != 5 {
		t.Errorf("%d settings, want 5: 6 pairs less the excluded", got)
	}
	s, err := h.Find("toe / heel")
	if err != nil || s.Key() != "heel / toe" {
		t.Errorf("toe / heel is kept as %v, %v; want heel / toe", s, err)
	}
	if _, err := h.Find("middle / middle"); err == nil {
		t.Error("an excluded setting is found")
	}
	// Exchanged masses: a heavier weight in the heel moves the centre there and adds mass.
	x := Head{Loft: 10 * deg, Lie: 58 * deg, Mass: .2, Weights: []Weight{{Name: "heel", Stops: []Stop{{Label: "4 g", Toe: -.04, Mass: .004}, {Label: "14 g", Toe: -.04, Mass: .014}}}}}
	c, err := x.Change(Setting{Weights: []string{"14 g"}})
	if err != nil || math.Abs(c.Mass-.010) > 1e-15 || math.Abs(c.CGToe+.014*.04/.210) > 1e-15 {
		t.Errorf("exchanged mass: %+v, %v", c, err)
	}
}

// Stated and measured loft are kept apart; geometry uses the measured one.
func TestMeasuredLoft(t *testing.T) {
	h := Example()
	if h.Loft == h.BestLoft() || math.Abs(h.BestLoft()/deg-10.1) > 1e-9 {
		t.Errorf("best loft %.2f deg, stated %.2f", h.BestLoft()/deg, h.Loft/deg)
	}
	raw, _ := h.JSON()
	if !strings.Contains(string(raw), `"measured_loft_deg": 10.1`) || !strings.Contains(string(raw), `"loft_deg": 10.5`) {
		t.Errorf("CLUB.json keeps both: %s", raw)
	}
}

// Numbers that are not numbers, and sizes that would hang a page, end in errors.
func TestValidateHoldsAgainstNonsense(t *testing.T) {
	nan := math.NaN()
	for name, change := range map[string]func(*Head){
		"loft_deg":               func(h *Head) { h.Loft = nan },
		"measured_loft_deg":      func(h *Head) { h.MeasuredLoft = &nan },
		"lie_deg":                func(h *Head) { h.Lie = math.Inf(1) },
		"head_mass_g":            func(h *Head) { h.Mass = 0 },
		"sleeve.positions":       func(h *Head) { h.Sleeve.Rings[0].Positions = 1 << 30; h.Sleeve.Labels = nil },
		"sleeve.rings[1].tilt":   func(h *Head) { h.Sleeve.Rings = append(h.Sleeve.Rings, Ring{40 * deg, 4, 0}); h.Sleeve.Labels = nil },
		"sleeve.labels":          func(h *Head) { h.Sleeve.Labels = h.Sleeve.Labels[:3] },
		"sleeve.labels[1]":       func(h *Head) { h.Sleeve.Labels = append([]string{"UP", "up"}, h.Sleeve.Labels[2:]...) },
		"weights[0].stops[4].to": func(h *Head) { h.Weights[0].Stops[4].Toe = .4 },
		"weights[0].stops":       func(h *Head) { h.Weights[0].Stops = nil },
		"weights[0].mass_g":      func(h *Head) { h.Weights[0].Mass = -1 },
		"weights":                func(h *Head) { h.Weights[0].Mass = .2 },
		"shaft.length_in":        func(h *Head) { h.Shaft.Length = 3 },
		"current.sleeve":         func(h *Head) { h.Current.Sleeve = "nowhere" },
		"exclude[0]":             func(h *Head) { h.Exclude = []Setting{{}} },
		"kind":                   func(h *Head) { h.Kind = "putter" },
		"hold":                   func(h *Head) { h.Hold = "tight" },
	} {
		t.Run(name, func(t *testing.T) {
			h := Example()
			change(&h)
			err, ok := h.Validate().(FieldErrors)
			found := false
			for _, e := range err {
				found = found || strings.HasPrefix(e.Field, name)
			}
			if !ok || !found {
				t.Errorf("got %v", err)
			}
			h.Places() // a half-typed description is drawn all the same
			h.Settings()
		})
	}
}

func TestFairwayAndHybridDefaults(t *testing.T) {
	for _, kind := range []string{Driver, Fairway, Hybrid} {
		h, err := FromJSON([]byte(`{"kind":"` + kind + `","loft_deg":18}`))
		if err != nil || h.Mass < .19 || h.Lie < 57*deg || len(h.Settings()) != 1 {
			t.Errorf("%s: %+v, %v", kind, h, err)
		}
	}
}

func TestLengthRule(t *testing.T) {
	for inches, want := range map[float64]string{0: "", 45.25: "", 46: "", 46.5: "local", 48: "local", 48.5: "over"} {
		if got := (Head{Shaft: Shaft{Length: inches * units.Inch}}).LengthRule(); got != want {
			t.Errorf("%g in: %q, want %q", inches, got, want)
		}
	}
}

func TestManySettingsAreQuick(t *testing.T) {
	stops := make([]Stop, 9)
	for i := range stops {
		stops[i] = Stop{Label: fmt.Sprint(i), Toe: float64(i-4) * .01, Back: float64(i) * .001}
	}
	h := Head{Loft: 10 * deg, Lie: 58 * deg, Mass: .2, Sleeve: Sleeve{Rings: []Ring{{1 * deg, 8, 0}, {.7 * deg, 8, 0}}},
		Weights: []Weight{{Name: "a", Mass: .008, Stops: stops}, {Name: "b", Mass: .012, Stops: stops}}}
	all := h.Settings()
	if len(all) != 64*81 {
		t.Errorf("%d settings, want 5184", len(all))
	}
	changes, err := h.Changes(all)
	if err != nil || len(changes) != len(all) {
		t.Fatal(err)
	}
	one, _ := h.Change(all[4321])
	if changes[4321] != one {
		t.Error("Changes differs from Change")
	}
}
