package predict

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strings"
	"testing"
	"text/tabwriter"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/frame"
	"ferrule/core/impact"
	"ferrule/core/response"
	"ferrule/core/score"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"

	"gonum.org/v1/gonum/mat"
)

// mixture is the name of the engine's row.
const mixture = "mixture"

// The regret test is a workbench for the beliefs: go test -run Regret -long
// -players 200. Without -long it runs a handful of players, to see that it
// runs. `ferrule simulate` is the published benchmark; this one shares with
// the engine the flight and score packages and, in the world "right", the
// prior that true effects are drawn from.
var (
	long    = flag.Bool("long", false, "run the regret table")
	players = flag.Int("players", 60, "invented players a cell of the regret table")
	balls   = flag.String("balls", "3", "balls a setting: 3,5,10")
	levels  = flag.String("levels", "low,mid,high", "groups of players")
	reaim   = flag.Bool("reaim", true, "let every setting aim at its best; false = the middle, always")
	worldsF = flag.String("worlds", "right,weak,reversed", "worlds")
)

type level struct {
	name   string
	base   [5]float64
	spread float64
	mishit float64
	hcp    float64
}

var allLevels = []level{
	{"low", [5]float64{155 * units.MPH, 12.5 * units.Degree, 0, 2600 * units.RPM, 1 * units.Degree}, .8, .04, 4},
	{"mid", [5]float64{138 * units.MPH, 13 * units.Degree, 1 * units.Degree, 2950 * units.RPM, 4 * units.Degree}, 1, .08, 14},
	{"high", [5]float64{122 * units.MPH, 13.5 * units.Degree, 1.5 * units.Degree, 3300 * units.RPM, 6 * units.Degree}, 1.2, .14, 24},
}

// grid is 16 sleeve positions by 5 weight positions; index 0 is the reference.
func grid() (cs []club.Change, ss []club.Setting) {
	add := func(a, b, c float64, n string) {
		cs = append(cs, club.Change{Lean: a * units.Degree, Upright: b * units.Degree, CGToe: c * units.Millimetre})
		ss = append(ss, club.Setting{Sleeve: n})
	}
	add(0, 0, 0, "ref")
	for i, a := range []float64{-1.5, -.5, .5, 1.5} {
		for j, b := range []float64{-1.5, -.5, .5, 1.5} {
			for k, c := range []float64{-1.2, -.6, 0, .6, 1.2} {
				if i == 1 && j == 1 && k == 2 {
					continue
				}
				add(a, b, c, fmt.Sprintf("%d%d%d", i, j, k))
			}
		}
	}
	return cs, ss
}

// player is one invented golfer with the true mean launch of every setting.
type player struct {
	lv    level
	mean  [][5]float64
	drift [5]float64
	warm  [5]float64
	prior impact.Prior
	value []float64 // true strokes of each setting at its best aim
}

func newPlayer(lv level, world string, cs []club.Change, prior impact.Prior, rng *rand.Rand) *player {
	p := &player{lv: lv, prior: prior}
	e := drawEffects(prior, world, rng)
	for k := range 5 {
		p.drift[k] = .5 * response.Scale[k] * lv.spread * rng.NormFloat64()
		p.warm[k] = .5 * response.Scale[k] * lv.spread * rng.NormFloat64()
	}
	var quad [6][5]float64
	for q := range quad {
		for k := range 5 {
			quad[q][k] = .1 * response.Scale[k] * lv.spread * rng.NormFloat64()
		}
	}
	for _, c := range cs {
		x := impact.Features(c, cs[0])
		a, b, g := x[0]/(1.5*units.Degree), x[1]/(1.5*units.Degree), x[2]/(1.2*units.Millimetre)
		second := [6]float64{a * a, b * b, g * g, a * b, a * g, b * g}
		y := lv.base
		for k := range 5 {
			for f := range x {
				y[k] += x[f] * e[f][k]
			}
			for q := range second {
				y[k] += quad[q][k] * second[q]
			}
			if x != [5]float64{} {
				y[k] += .2 * response.Scale[k] * lv.spread * rng.NormFloat64()
			}
		}
		p.mean = append(p.mean, y)
	}
	return p
}

// drawEffects draws true effects: "right" from the physics prior itself, the
// best case; "weak" .3 of its mean and 1.5 of its scatter; "reversed" -.5 of
// its mean.
func drawEffects(prior impact.Prior, world string, rng *rand.Rand) (e [impact.F][5]float64) {
	const n = impact.F * 5
	keep, scatter := 1.0, 1.0
	switch world {
	case "weak":
		keep, scatter = .3, 1.5
	case "reversed":
		keep = -.5
	}
	l := append([]float64(nil), prior.Cov...)
	for j := range n {
		for i := j; i < n; i++ {
			s := l[i*n+j]
			for q := range j {
				s -= l[i*n+q] * l[j*n+q]
			}
			if i == j {
				l[i*n+i] = math.Sqrt(s)
			} else {
				l[i*n+j] = s / l[j*n+j]
			}
		}
	}
	var z [n]float64
	for i := range z {
		z[i] = rng.NormFloat64()
	}
	for i := range n {
		v := 0.0
		for q := range i + 1 {
			v += l[i*n+q] * z[q]
		}
		e[i/5][i%5] = keep*prior.Mean[i/5][i%5] + scatter*v
	}
	return e
}

// swingNoise is what one swing does beyond the setting: correlated normal, and
// one-sided mis-hits.
func (p *player) swingNoise(rng *rand.Rand) (y [5]float64) {
	s := p.lv.spread
	var z [5]float64
	for k := range z {
		z[k] = rng.NormFloat64()
	}
	z[3] = .9*z[3] + .4*z[1]                       // more launch, more spin
	z[4] = .8*z[4] + .5*z[2]                       // a ball that starts right curves right
	if miss := rng.Float64(); miss < p.lv.mishit { // numbers drawn in any case
		loss := .04 + .08*rng.Float64()
		y[0] -= loss * p.lv.base[0]
		for k := 1; k < 5; k++ {
			z[k] *= 2
		}
	} else {
		rng.Float64()
	}
	for k := range z {
		y[k] += s * response.Scale[k] * z[k]
	}
	return y
}

var monitor = [5]float64{.3, .2 * units.Degree, .3 * units.Degree, 80 * units.RPM, 1.2 * units.Degree}

// session hits n balls with each tested setting in mirrored rounds.
func (p *player) session(tested []int, n int, cs []club.Change, rng *rand.Rand) (out []response.Obs) {
	var order []int
	for round := 0; len(order) < n*len(tested); round++ {
		for i := range tested {
			j := tested[i]
			if round%2 == 1 {
				j = tested[len(tested)-1-i]
			}
			order = append(order, j)
		}
	}
	for i, j := range order {
		o := response.Obs{Setting: j, Order: i}
		noise := p.swingNoise(rng)
		t := float64(i)/float64(len(order)-1) - .5
		for k := range 5 {
			o.Y[k] = p.mean[j][k] + noise[k] + t*p.drift[k] + math.Exp(-float64(i)/5)*p.warm[k] + monitor[k]*rng.NormFloat64()
			o.Has[k] = true
		}
		o.Y[3] = math.Max(o.Y[3], 50)
		out = append(out, o)
	}
	return out
}

// aims is the choice of aim lines, as sines and cosines.
func setAims() {
	aims = [][2]float64{{0, 1}}
	if !*reaim {
		return
	}
	aims = aims[:0]
	for d := -8.0; d <= 8; d++ {
		s, c := math.Sincos(d * units.Degree)
		aims = append(aims, [2]float64{s, c})
	}
}

var aims [][2]float64

// bestAim is the least mean strokes over the aims of balls resting at (x, z),
// with the aim's index.
func bestAim(c *score.Course, x, z []float64) (float64, int) {
	best, at := math.Inf(1), 0
	for i := range aims {
		if v := atAim(c, x, z, i); v < best {
			best, at = v, i
		}
	}
	return best, at
}

func atAim(c *score.Course, x, z []float64, i int) float64 {
	s, co := aims[i][0], aims[i][1]
	sum := 0.0
	for b := range x {
		sum += c.Strokes(co*x[b]-s*z[b], s*x[b]+co*z[b])
	}
	return sum / float64(len(x))
}

func strokesAt(c *score.Course, x, z []float64, i int) []float64 {
	s, co := aims[i][0], aims[i][1]
	out := make([]float64, len(x))
	for b := range x {
		out[b] = c.Strokes(co*x[b]-s*z[b], s*x[b]+co*z[b])
	}
	return out
}

// differences are the draws' mean differences a-b, and the part of their
// variance that comes from having only n balls in each.
func differences(a, b []float64, n int) (out []float64, inside float64) {
	out = make([]float64, len(a)/n)
	for d := range out {
		ss := 0.0
		for i := d * n; i < d*n+n; i++ {
			v := a[i] - b[i]
			out[d] += v / float64(n)
			ss += v * v
		}
		inside += (ss - float64(n)*out[d]*out[d]) / float64(n-1) / float64(n) / float64(len(out))
	}
	return out, inside
}

func (p *player) truth(c *score.Course, s *flight.Surface, rng *rand.Rand) {
	const n = 500
	noise := make([][5]float64, n)
	for i := range noise {
		noise[i] = p.swingNoise(rng)
	}
	x, z := make([]float64, n), make([]float64, n)
	for _, m := range p.mean {
		rest(s, m, noise, x, z)
		v, _ := bestAim(c, x, z)
		p.value = append(p.value, v)
	}
}

func rest(s *flight.Surface, mean [5]float64, noise [][5]float64, x, z []float64) {
	for i := range noise {
		y := mean
		for k := range y {
			y[k] += noise[i][k]
		}
		g := s.At(response.Launch(y))
		x[i], z[i] = g.RestX, g.RestZ
	}
}

// answer is what a method says: its pick and what it promises against the
// reference; intervals where it has them.
type answer struct {
	pick    int
	promise float64
	mean    []float64
	diff    [][]float64 // setting -> sorted differences of the draws to the reference
}

// rawMeans picks the tested setting of the best average, at the one aim that
// is best for all its balls together.
func rawMeans(c *score.Course, s *flight.Surface, obs []response.Obs, tested []int) answer {
	x, z := make([]float64, len(obs)), make([]float64, len(obs))
	for i, o := range obs {
		g := s.At(response.Launch(o.Y))
		x[i], z[i] = g.RestX, g.RestZ
	}
	_, at := bestAim(c, x, z)
	best := answer{pick: -1}
	means := map[int]float64{}
	for _, j := range tested {
		var xj, zj []float64
		for i, o := range obs {
			if o.Setting == j {
				xj, zj = append(xj, x[i]), append(zj, z[i])
			}
		}
		means[j] = atAim(c, xj, zj, at)
		if best.pick < 0 || means[j] < means[best.pick] {
			best.pick = j
		}
	}
	best.promise = means[0] - means[best.pick]
	return best
}

// leastSquares fits loft, lie, weight and time to each response and picks of
// all settings, with the pooled residuals as the scatter.
func leastSquares(c *score.Course, s *flight.Surface, obs []response.Obs, cs []club.Change) answer {
	n := len(obs)
	design := func(j int, t float64) []float64 {
		f := impact.Features(cs[j], cs[0])
		return []float64{1, f[0] / units.Degree, f[1] / units.Degree, f[2] / units.Millimetre, t}
	}
	var x []float64
	for i, o := range obs {
		x = append(x, design(o.Setting, float64(i)/float64(n-1)-.5)...)
	}
	var qr mat.QR
	qr.Factorize(mat.NewDense(n, 5, x))
	var lines [5]mat.VecDense
	noise := make([][5]float64, n)
	for k := range 5 {
		y := make([]float64, n)
		for i, o := range obs {
			y[i] = o.Y[k]
		}
		if err := qr.SolveVecTo(&lines[k], false, mat.NewVecDense(n, y)); err != nil {
			panic(err)
		}
		for i := range obs {
			noise[i][k] = y[i]
			for a := range 5 {
				noise[i][k] -= x[i*5+a] * lines[k].AtVec(a)
			}
		}
	}
	px, pz := make([]float64, n), make([]float64, n)
	a := answer{}
	for j := range cs {
		var m [5]float64
		for k := range 5 {
			for i, v := range design(j, 0) {
				m[k] += v * lines[k].AtVec(i)
			}
		}
		rest(s, m, noise, px, pz)
		v, _ := bestAim(c, px, pz)
		a.mean = append(a.mean, v)
		if v < a.mean[a.pick] {
			a.pick = j
		}
	}
	a.promise = a.mean[0] - a.mean[a.pick]
	return a
}

const benchDraws, benchBalls = 100, 12

func bayesian(c *score.Course, s *flight.Surface, in response.Input, ss []club.Setting, draws int) (answer, *response.Response) {
	in.Draws = draws
	r, err := response.Fit(in)
	if err != nil {
		panic(err)
	}
	a := answer{}
	n := draws * benchBalls
	x, z := make([]float64, n), make([]float64, n)
	var ref, refLaunch []float64
	Each(r, s, ss, Config{PerDraw: benchBalls, Seed: in.Seed}, func(j int, o *Outcome) {
		for i, b := range o.Balls {
			x[i], z[i] = b.RestX, b.RestZ
		}
		v, at := bestAim(c, x, z)
		a.mean = append(a.mean, v)
		if v < a.mean[a.pick] {
			a.pick = j
		}
		own := strokesAt(c, x, z, at)
		if j == 0 {
			ref, refLaunch = own, append([]float64(nil), o.Launch...)
		}
		diff, inside := differences(own, ref, benchBalls)
		if st := NewSteady(o.Launch, refLaunch); st != nil {
			diff = st.Values(diff, inside)
		}
		sort.Float64s(diff)
		a.diff = append(a.diff, diff)
	})
	a.promise = a.mean[0] - a.mean[a.pick]
	return a, r
}

// tally gathers one cell of the table.
type tally struct {
	regret, promise, conflict []float64
	in                        [2][3]float64 // tested or not, 50/80/95
	of                        [2]float64
}

func (t *tally) add(p *player, a answer, tested map[int]bool) {
	best := math.Inf(1)
	for _, v := range p.value {
		best = math.Min(best, v)
	}
	t.regret = append(t.regret, p.value[a.pick]-best)
	t.promise = append(t.promise, a.promise-(p.value[0]-p.value[a.pick]))
	for j := range a.diff {
		if j == 0 {
			continue
		}
		u := 0
		if !tested[j] {
			u = 1
		}
		d, n := p.value[j]-p.value[0], float64(len(a.diff[j]))
		t.of[u]++
		for i, q := range []float64{.25, .1, .025} {
			at := func(q float64) float64 { // interpolated quantile
				f := q*n - .5
				lo := int(math.Max(0, math.Min(n-2, math.Floor(f))))
				return a.diff[j][lo] + (f-float64(lo))*(a.diff[j][lo+1]-a.diff[j][lo])
			}
			if d >= at(q) && d <= at(1-q) {
				t.in[u][i]++
			}
		}
	}
}

func meanError(x []float64) (m, se float64) {
	n := float64(len(x))
	for _, v := range x {
		m += v / n
	}
	for _, v := range x {
		se += (v - m) * (v - m)
	}
	return m, math.Sqrt(se / n / math.Max(n-1, 1))
}

func TestRegret(t *testing.T) {
	count := *players
	ns := strings.Split(*balls, ",")
	lvs, worlds := *levels, *worldsF
	if !*long {
		count, ns, lvs, worlds = 3, []string{"3"}, "mid", "right,reversed"
	}
	setAims()
	cs, ss := grid()
	w := tabwriter.NewWriter(os.Stdout, 2, 4, 2, ' ', 0)
	defer w.Flush()
	if *long {
		fmt.Fprintln(w, "world\tgroup\tballs\tmethod\tregret\t+-\tpromise-true\t+-\ttested 50/80/95\tuntested 50/80/95\tconflict")
	}
	for _, world := range strings.Split(worlds, ",") {
		for _, lv := range allLevels {
			if !strings.Contains(lvs, lv.name) {
				continue
			}
			regretCell(t, w, world, lv, ns, count, cs, ss)
			w.Flush()
		}
	}
}

func regretCell(t *testing.T, w *tabwriter.Writer, world string, lv level, ns []string, count int, cs []club.Change, ss []club.Setting) {
	course, err := score.New(shot.Aim{Trouble: frame.SideRight, TroubleAt: 36 * units.Yard, TroubleKind: "penalty"}, nil, frame.Right)
	if err != nil {
		t.Fatal(err)
	}
	surface, err := flight.NewSurface(flight.Around(response.Launch(lv.base)), flight.Env{})
	if err != nil {
		t.Fatal(err)
	}
	prior, err := impact.Effects(impact.Baseline{Launch: response.Launch(lv.base)}, club.Example(), 1)
	if err != nil {
		t.Fatal(err)
	}
	cells := map[string]*tally{}
	cell := func(name string) *tally {
		if cells[name] == nil {
			cells[name] = &tally{}
		}
		return cells[name]
	}
	for i := range count {
		rng := rand.New(rand.NewPCG(uint64(i), 77))
		p := newPlayer(lv, world, cs, prior, rng)
		p.truth(course, surface, rng)
		tested := []int{0}
		for len(tested) < 6 {
			j := rng.IntN(len(cs))
			new := true
			for _, o := range tested {
				new = new && o != j
			}
			if new {
				tested = append(tested, j)
			}
		}
		rng.Shuffle(6, func(a, b int) { tested[a], tested[b] = tested[b], tested[a] })
		was := map[int]bool{}
		for _, j := range tested {
			was[j] = true
		}
		for _, nb := range ns {
			n := 3
			fmt.Sscan(nb, &n)
			obs := p.session(tested, n, cs, rand.New(rand.NewPCG(uint64(i), 78)))
			if *long {
				cell(nb+"\tkeep").add(p, answer{}, was)
				cell(nb+"\taverages").add(p, rawMeans(course, surface, obs, tested), was)
				cell(nb+"\tleast squares").add(p, leastSquares(course, surface, obs, cs), was)
			}
			in := response.Input{Shots: obs, Changes: cs, Prior: prior, Seed: seed.Seed(i + 1), Handicap: &lv.hcp}
			a, r := bayesian(course, surface, in, ss, benchDraws)
			c := cell(nb + "\t" + mixture)
			c.add(p, a, was)
			c.conflict = append(c.conflict, r.Conflict)
		}
	}
	if !*long {
		if m, _ := meanError(cells["3\t"+mixture].regret); m > .3 || math.IsNaN(m) {
			t.Errorf("%s: mean regret %.3f strokes", world, m)
		}
		return
	}
	for _, nb := range ns {
		for _, m := range []string{"keep", "averages", "least squares", mixture} {
			c := cells[nb+"\t"+m]
			r, re := meanError(c.regret)
			p, pe := meanError(c.promise)
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%.4f\t%.4f\t%+.4f\t%.4f\t", world, lv.name, nb, m, r, re, p, pe)
			if c.of[1] > 0 {
				for u := range 2 {
					fmt.Fprintf(w, "%.2f %.2f %.2f\t", c.in[u][0]/c.of[u], c.in[u][1]/c.of[u], c.in[u][2]/c.of[u])
				}
				k, _ := meanError(c.conflict)
				fmt.Fprintf(w, "%.2f", k)
			}
			fmt.Fprintln(w)
		}
	}
}
