package trial

import (
	"math"
	"sort"

	"ferrule/cmd/internal/invent"
	"ferrule/cmd/internal/rough"
)

// spots is where a session's counted balls landed, as written down.
type spots struct {
	setting []int
	x, z    []float64 // [m] at rest, with an average run
	apex    []float64 // [m] nil when the device tells none
	seen    []rough.Seen
}

func spotted(seen []rough.Seen) (s spots) {
	for _, b := range seen {
		if b.WarmUp {
			continue
		}
		k := 1 + 17/math.Max(b.Carry, 50)
		s.setting = append(s.setting, b.Setting)
		s.x = append(s.x, k*math.Sqrt(math.Max(0, b.Carry*b.Carry-b.Offline*b.Offline)))
		s.z = append(s.z, k*b.Offline)
		if !math.IsNaN(b.Apex) {
			s.apex = append(s.apex, b.Apex)
		}
		s.seen = append(s.seen, b)
	}
	return s
}

// features of the 80 settings: degrees of lean and upright, millimetres of the
// centre of mass.
var features = func() (f [][3]float64) {
	for _, s := range invent.Settings80() {
		f = append(f, [3]float64{s.Lean * 180 / math.Pi, s.Upright * 180 / math.Pi, s.CGToe * 1e3})
	}
	return f
}()

// means of each setting hit.
func means(y []float64, setting []int) (sum, n map[int]float64) {
	sum, n = map[int]float64{}, map[int]float64{}
	for i, s := range setting {
		n[s]++
		sum[s] += (y[i] - sum[s]) / n[s]
	}
	return sum, n
}

// prices is what a pattern costs by where its middle lies: the residuals of all
// balls about their settings, smoothed to 256, on a grid with linear
// interpolation.
type prices struct {
	x0, z0, step float64
	cost         [][]float64
}

func priced(g *rough.Golfer, s spots) *prices {
	const balls, step = 256, 5.
	mx, _ := means(s.x, s.setting)
	mz, n := means(s.z, s.setting)
	_, sx := within(s.x, s.setting)
	_, sz := within(s.z, s.setting)
	smooth := invent.Swings(balls)
	h := math.Pow(float64(len(s.x)), -.2)
	keep := math.Sqrt(1 - h*h/2)
	px, pz := make([]float64, balls), make([]float64, balls)
	for k := range px {
		i := k % len(s.x)
		grow := math.Sqrt(n[s.setting[i]] / math.Max(1, n[s.setting[i]]-1))
		px[k] = keep*grow*(s.x[i]-mx[s.setting[i]]) + h*math.Sqrt(.5)*sx*smooth[k][0]
		pz[k] = keep*grow*(s.z[i]-mz[s.setting[i]]) + h*math.Sqrt(.5)*sz*smooth[k][1]
	}
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for t := range mx {
		lo[0], hi[0] = math.Min(lo[0], mx[t]), math.Max(hi[0], mx[t])
		lo[1], hi[1] = math.Min(lo[1], mz[t]), math.Max(hi[1], mz[t])
	}
	p := &prices{x0: lo[0] - 20, z0: lo[1] - 25, step: step}
	x, z := make([]float64, balls), make([]float64, balls)
	for a := p.x0; a < hi[0]+20+step; a += step {
		var line []float64
		for b := p.z0; b < hi[1]+25+step; b += step {
			for k := range px {
				x[k], z[k] = px[k]+a, pz[k]+b
			}
			c, _ := g.Cost(x, z)
			line = append(line, c)
		}
		p.cost = append(p.cost, line)
	}
	return p
}

func (p *prices) at(x, z float64) float64 {
	a, b := (x-p.x0)/p.step, (z-p.z0)/p.step
	i := min(max(int(a), 0), len(p.cost)-2)
	j := min(max(int(b), 0), len(p.cost[0])-2)
	a, b = math.Min(math.Max(a-float64(i), 0), 1), math.Min(math.Max(b-float64(j), 0), 1)
	return (1-a)*((1-b)*p.cost[i][j]+b*p.cost[i][j+1]) + a*((1-b)*p.cost[i+1][j]+b*p.cost[i+1][j+1])
}

// pick is a rival's choice and what it promises of it.
type choice struct {
	setting int
	gain    float64 // [strokes]
}

func cheapest(p *prices, at func(s int) (x, z float64), of []int) choice {
	x, z := at(0)
	now := p.at(x, z)
	c := choice{0, 0}
	for _, s := range of {
		x, z := at(s)
		if gain := now - p.at(x, z); gain > c.gain {
			c = choice{s, gain}
		}
	}
	return c
}

// tested lists the settings hit, all lists every setting.
func (s spots) tested() (t []int) {
	seen := map[int]bool{}
	for _, k := range s.setting {
		if !seen[k] {
			seen[k] = true
			t = append(t, k)
		}
	}
	sort.Ints(t)
	return t
}

var all = func() (a []int) {
	for i := range features {
		a = append(a, i)
	}
	return a
}()

// averages picks among those hit by plain means.
func averages(p *prices, s spots) choice {
	mx, _ := means(s.x, s.setting)
	mz, _ := means(s.z, s.setting)
	return cheapest(p, func(k int) (x, z float64) { return mx[k], mz[k] }, s.tested())
}

// ridgeHit draws each setting's mean towards the mean of all by as much as the
// balls say that settings are alike: fifty lines of shrinkage.
func ridgeHit(p *prices, s spots) choice {
	x, z := shrunk(s.x, s.setting), shrunk(s.z, s.setting)
	return cheapest(p, func(k int) (float64, float64) { return x[k], z[k] }, s.tested())
}

func shrunk(y []float64, setting []int) map[int]float64 {
	m, n := means(y, setting)
	middle, sd := within(y, setting)
	between, noise := 0., 0.
	for k, v := range m {
		between += (v - middle) * (v - middle) / math.Max(1, float64(len(m)-1))
		noise += sd * sd / n[k] / float64(len(m))
	}
	own := math.Max(0, between-noise)
	for k, v := range m {
		m[k] = middle + (v-middle)*own/(own+sd*sd/n[k]+1e-12)
	}
	return m
}

// plane fits y = a + f b with a penalty on b, and returns b's plane over all
// settings. penalty < 0 picks the one of highest marginal likelihood.
func plane(y []float64, setting []int, penalty float64) []float64 {
	middle, sd := within(y, setting)
	size := [3]float64{1, 1, 1} // a degree, a degree, a millimetre
	fit := func(lambda float64) (b [4]float64, evidence float64) {
		a := [4][4]float64{{1e-9}, {0, lambda}, {0, 0, lambda}, {0, 0, 0, lambda}}
		var rhs [4]float64
		yy := 0.
		for i, s := range setting {
			f := [4]float64{1, features[s][0] / size[0], features[s][1] / size[1], features[s][2] / size[2]}
			for g := range 4 {
				for h := range 4 {
					a[g][h] += f[g] * f[h]
				}
				rhs[g] += f[g] * (y[i] - middle)
			}
			yy += (y[i] - middle) * (y[i] - middle)
		}
		det := determinant(a)
		b = solve(a, rhs)
		for g := range 4 {
			yy -= b[g] * rhs[g]
		}
		return b, 1.5*math.Log(lambda) - .5*math.Log(det) - yy/(2*sd*sd)
	}
	best, most := [4]float64{}, math.Inf(-1)
	grid := []float64{.1, .3, 1, 3, 10, 30, 100, 1000, 1e5}
	if penalty >= 0 {
		grid = []float64{math.Max(penalty, 1e-6)}
	}
	for _, l := range grid {
		if b, e := fit(l); e > most {
			best, most = b, e
		}
	}
	out := make([]float64, len(features))
	for s, f := range features {
		out[s] = middle + best[0] + best[1]*f[0] + best[2]*f[1] + best[3]*f[2]
	}
	return out
}

func determinant(a [4][4]float64) float64 {
	d := 1.
	for c := range 4 {
		d *= a[c][c]
		for r := c + 1; r < 4; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k < 4; k++ {
				a[r][k] -= f * a[c][k]
			}
		}
	}
	return d
}

func byPlane(p *prices, s spots, penalty float64, of []int) choice {
	x, z := plane(s.x, s.setting, penalty), plane(s.z, s.setting, penalty)
	return cheapest(p, func(k int) (float64, float64) { return x[k], z[k] }, of)
}

// reference is the full hierarchical model's posterior.
type reference struct {
	x, z, apex [draws][]float64 // [m]; apex nil when not measured
	strokes    [draws][]float64
	expected   []float64 // [strokes] mean over draws
}

// referred runs the model on carry, side and height (the first two at rest, in
// which strokes are counted) with physics as read off the session.
func referred(p *prices, s spots, seed uint64) *reference {
	r := invent.NewRand(seed, 31)
	book := rough.Textbook(s.seen)
	column := func(k int) [3]float64 { return [3]float64{book[0][k], book[1][k], book[2][k]} }
	f := &reference{expected: make([]float64, len(features))}
	f.x = gibbs(evidence{s.x, s.setting, features, column(0)}, r)
	f.z = gibbs(evidence{s.z, s.setting, features, column(1)}, r)
	if len(s.apex) == len(s.x) {
		f.apex = gibbs(evidence{s.apex, s.setting, features, column(2)}, r)
	}
	for d := range draws {
		f.strokes[d] = make([]float64, len(features))
		for k := range features {
			f.strokes[d][k] = p.at(f.x[d][k], f.z[d][k])
			f.expected[k] += f.strokes[d][k] / draws
		}
	}
	return f
}

func (f *reference) choice() choice {
	best := least(f.expected, nil)
	return choice{best, f.expected[0] - f.expected[best]}
}

// interval is the posterior of setting k's difference to today's.
func interval(of *[draws][]float64, k int) Interval {
	v := make([]float64, draws)
	m := 0.
	for d := range v {
		v[d] = of[d][k] - of[d][0]
		m += v[d] / draws
	}
	sort.Float64s(v)
	q := func(p float64) float64 { return v[min(draws-1, int(p*draws))] }
	return Interval{m, q(.25), q(.75), q(.1), q(.9), q(.025), q(.975)}
}
