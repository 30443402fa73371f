package invent

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const folder = "../../../testdata/demo"

// The files of the demonstration are what the generator writes, byte for byte.
func TestDemoFiles(t *testing.T) {
	for name, want := range DemoFiles() {
		got, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != want {
			t.Errorf("%s is not what the generator writes; run go run ./cmd/invent", name)
		}
	}
}

// The generator's truth is within two points of the story that the
// demonstration tells.
func TestDemoTruth(t *testing.T) {
	const n = 8000 // standard error of a share: .5 points or less
	want := map[byte]float64{'A': 24, 'B': 17, 'C': 13, 'E': 9}
	for k, share := range want {
		q := demoPlayer().truth(NewRand(99, 7), demoSettings()[k].Setting, 25*yd, n)
		if got := 100 * q.Right; math.Abs(got-share) > 2 {
			t.Errorf("setting %c: %.1f %% beyond 25 yd right, the story wants %.0f", k, got, share)
		}
		if k == 'E' && (math.Abs(q.Apex/ft-86) > 2 || q.Left > .08) {
			t.Errorf("setting E: apex %.1f ft, %.1f %% left, the story wants 86 ft and under 8 %%", q.Apex/ft, 100*q.Left)
		}
	}
}

// The session tells its story: C1 has the best raw average, C2 has not, the
// last balls are slower, the mirror is a mirror.
func TestDemoStory(t *testing.T) {
	shots := demoSession(demoSeed)
	if len(shots) != 58 {
		t.Fatalf("%d balls, want 58", len(shots))
	}
	m := blockMeans(shots)
	reference := (m["A first"] + m["A again"]) / 2
	for b, v := range m {
		if b != "C first" && b != "V" && v >= m["C first"] {
			t.Errorf("block %s carries %.1f yd, C1 %.1f", b, v, m["C first"])
		}
	}
	if d := m["C first"] - reference; d < 5 || d > 9 {
		t.Errorf("C1 is %.1f yd over the reference, the story wants about 7", d)
	}
	if d := m["C again"] - reference; d > 3 {
		t.Errorf("C2 is %.1f yd over the reference, the story wants the luck gone", d)
	}
	for i, s := range shots {
		l := s.mirror()
		if l.Side != -s.Side || l.Axis != -s.Axis || l.Carry != s.Carry {
			t.Errorf("ball %d: mirror of %+v is %+v", i, s, l)
		}
	}
}

// Signs of the generator: loft up goes higher, upright and heel weight left,
// toe strikes draw, low strikes spin.
func TestSigns(t *testing.T) {
	p := demoPlayer()
	p.Quirk = nil
	fly := func(s Setting, toe, high float64) (Launch, Flight) {
		d, h := p.at(s)
		d.Toe, d.High = toe, high
		l := strike(d, h)
		return l, fly(l, p.Air)
	}
	l0, f0 := fly(Setting{}, 0, 0)
	if l, f := fly(Setting{Lean: deg}, 0, 0); !(l.Angle > l0.Angle && l.Spin > l0.Spin && f.Apex > f0.Apex && f.Z < f0.Z) {
		t.Errorf("a degree of lean: %+v %+v against %+v %+v", l, f, l0, f0)
	}
	if _, f := fly(Setting{Upright: deg}, 0, 0); !(f.Z < f0.Z-yd/2) {
		t.Errorf("upright: %.2f m offline against %.2f", f.Z, f0.Z)
	}
	if l, f := fly(Setting{CGToe: -.001}, 0, 0); !(l.Axis < l0.Axis && f.Z < f0.Z) {
		t.Errorf("weight to the heel: %+v against %+v", l, l0)
	}
	if l, _ := fly(Setting{}, .010, 0); !(l.Axis < l0.Axis && l.Speed < l0.Speed) {
		t.Errorf("toe strike: %+v against %+v", l, l0)
	}
	if l, _ := fly(Setting{}, 0, -.008); !(l.Spin > l0.Spin) {
		t.Errorf("low strike: %+v against %+v", l, l0)
	}
}

// The generator's flight is a believable one: published figures of a driver
// within wide limits, and unlike the engine's by a few yards, not more.
func TestFlight(t *testing.T) {
	f := fly(Launch{Speed: 167 * mph, Angle: 12.2 * deg, Spin: 2300 * rpm}, Air{Density: 1.18, Drag: 1, Lift: 1})
	if c := f.carry() / yd; c < 260 || c > 300 {
		t.Errorf("tour drive carries %.1f yd, want 260 to 300", c)
	}
	if v := fly(Launch{Speed: 70, Angle: .2}, Air{}); math.Abs(v.X-70*70*math.Sin(.4)/9.81) > 1e-6 {
		t.Errorf("vacuum carry %.9f m, want %.9f", v.X, 70*70*math.Sin(.4)/9.81)
	}
	a := Air{Density: 1.2, Drag: 1, Lift: 1, Head: 3}
	h, s := fly(Launch{Speed: 60, Angle: .22, Spin: 300}, a), fly(Launch{Speed: 60, Angle: .22, Spin: 300}, Air{Density: 1.2, Drag: 1, Lift: 1})
	if h.X >= s.X {
		t.Errorf("head wind carries %.1f m against %.1f", h.X, s.X)
	}
	for _, l := range []Launch{{}, {Speed: 30, Angle: -.1}, {Speed: 60, Angle: .001, Spin: 50}} {
		g := fly(l, a)
		if math.IsNaN(g.X + g.Z + g.Apex + g.Run + g.Descent) {
			t.Errorf("Fly(%+v) = %+v", l, g)
		}
	}
}

// SplitMix64's published first outputs for seed 1234567 and the moments of the
// normal numbers.
func TestRand(t *testing.T) {
	r := &Rand{state: 1234567}
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423} {
		if got := r.Uint64(); got != want {
			t.Errorf("number %d = %d, want %d", i, got, want)
		}
	}
	r = NewRand(1, 1)
	var s [4]float64
	const n = 200000
	for range n {
		x := r.Normal()
		s[0] += x / n
		s[1] += x * x / n
		s[2] += x * x * x / n
		s[3] += x * x * x * x / n
	}
	if math.Abs(s[0]) > .01 || math.Abs(s[1]-1) > .015 || math.Abs(s[2]) > .03 || math.Abs(s[3]-3) > .1 {
		t.Errorf("moments %v, want 0 1 0 3", s)
	}
}

// The strokes are the published table's, copied by hand, read here from the
// copy that names its source.
func TestStrokesTable(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/score/strokes_baseline.csv")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, line := range strings.Split(string(data), "\n") {
		f := strings.Split(strings.TrimSpace(line), ",")
		d, err := strconv.ParseFloat(f[0], 64)
		if err != nil || d < 20 || d > 400 || int(d)%20 != 0 {
			continue
		}
		for k, table := range map[int]*[20]float64{2: &fromFairway, 3: &fromRough, 5: &fromRecovery} {
			want, err := strconv.ParseFloat(f[k], 64)
			if got := finish(table, d*yd); err != nil || math.Abs(got-want) > 1e-4 {
				t.Errorf("%g yd, column %d: %.4f, want %.2f (%v)", d, k, got, want, err)
			}
		}
		seen++
	}
	if seen != 20 {
		t.Errorf("%d distances compared, want 20", seen)
	}
	h := BenchmarkHole(0)
	for _, c := range []struct {
		x, z, want float64
	}{{240, 0, 3.98}, {240, 30, 1 + 3.23 + .0112}, {240, -50, 1 + (3.23+3.81)/2 + .02}, {240, 40, 2 + 3.34}} {
		if got := h.Strokes(c.x*yd, c.z*yd); math.Abs(got-c.want) > .03 {
			t.Errorf("Strokes(%g, %g yd) = %.3f, want %.3f", c.x, c.z, got, c.want)
		}
	}
}

// The even swings have the moments of the player's variation.
func TestSwings(t *testing.T) {
	const n = 512
	var mean, square [Dims]float64
	for _, u := range Swings(n) {
		for j, v := range u {
			mean[j] += v / n
			square[j] += v * v / n
		}
	}
	for j := range Dims {
		m, s := 0., 1.
		if j >= 7 {
			m, s = .5, 1./3
		}
		if math.Abs(mean[j]-m) > .03 || math.Abs(square[j]-s) > .03 {
			t.Errorf("dimension %d: mean %.4f, mean square %.4f", j, mean[j], square[j])
		}
	}
}

// In the null world no setting changes a ball; elsewhere loft up is higher.
func TestWorlds(t *testing.T) {
	all := Settings80()
	if len(all) != 80 || all[0].Setting != (Setting{}) {
		t.Fatalf("%d settings, the first %+v", len(all), all[0])
	}
	rise := map[string]float64{}
	for _, w := range Worlds {
		for i := range 200 {
			p := NewPlayer(NewRand(3, uint64(i)), Levels[1], w)
			a, ha := p.at(all[0].Setting)
			b, hb := p.at(Setting{Lean: deg, Upright: .5 * deg, CGToe: .001})
			rise[w.Name] += (b.Loft - a.Loft) / deg / 200
			if w.Name == "null" && (a != b || ha != hb) {
				t.Fatalf("null world: %+v became %+v", a, b)
			}
		}
	}
	if !(rise["right"] > .6 && rise["weak"] > .1 && rise["weak"] < .5 && rise["reversed"] < -.2) {
		t.Errorf("loft by a degree of lean: %v", rise)
	}
	for _, n := range []int{3, 5, 10} {
		p := NewPlayer(NewRand(3, 1), Levels[1], Worlds[0])
		balls := p.Session(NewRand(4, 1), []int{0, 3, 9, 30, 50, 79}, n)
		count := map[int]int{}
		for _, b := range balls {
			if !b.WarmUp {
				count[b.Setting]++
			}
		}
		for s, c := range count {
			if c != n {
				t.Errorf("setting %d got %d balls, want %d", s, c, n)
			}
		}
	}
}
