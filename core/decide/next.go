package decide

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/club"
	"ferrule/core/report"
)

// Minutes that things take at a range. Common practice, no source: a sleeve is
// unscrewed, turned and tightened to the click in about a minute, a weight in a
// minute and a half, a ball is hit every half minute.
const (
	minutesSleeve = 1.0 // [min]
	minutesWeight = 1.5 // [min] each weight
	minutesBall   = 0.5 // [min]
)

// visit is how many balls are hit before the club is changed again.
const visit = 3

// nodes of the standard normal for the expectation of the best mean: 41 places
// from -4 to 4, with the weights of the normal density.
var nodes, nodeWeight = func() (z, w [41]float64) {
	total := 0.0
	for i := range z {
		z[i] = -4 + 0.2*float64(i)
		w[i] = math.Exp(-z[i] * z[i] / 2)
		total += w[i]
	}
	for i := range w {
		w[i] /= total
	}
	return
}()

// minutes that a visit of balls costs when the club stands at setting from.
func minutes(from, to club.Setting, balls int) float64 {
	t := minutesBall * float64(balls)
	if from.Sleeve != to.Sleeve {
		t += minutesSleeve
	}
	for i := range to.Weights {
		if i >= len(from.Weights) || from.Weights[i] != to.Weights[i] {
			t += minutesWeight
		}
	}
	return t
}

// standing is the setting on the club now: that of the last ball.
func (d *Decider) standing() int {
	for i := len(d.cfg.Shots) - 1; i >= 0; i-- {
		if s := d.cfg.Shots[i].Setting; s >= 0 {
			return s
		}
	}
	return d.cfg.Reference
}

// gains returns for every candidate what m more balls with it are expected to
// improve the choice by, in the goal's unit: the knowledge gradient for
// correlated beliefs (key Frazier2009 in core/REFERENCES.md), in which a ball
// hit with one setting teaches about all others.
//
// What a visit shows is the mean launch of m balls, five numbers whose joint
// distribution with the costs of all settings is read off the draws. When no
// spread of the launch is known, it is the mean cost of m balls instead. The
// spurious part of a correlation seen in few draws is taken out.
func (d *Decider) gains(candidates []int, m int) []float64 {
	open := d.compared
	mu := make([]float64, len(open))
	sd := make([]float64, len(open))
	for j, i := range open {
		mu[j] = d.rows[i].average
		sd[j] = d.rows[i].scatter
	}
	low := math.Inf(1)
	for _, v := range mu {
		low = math.Min(low, v)
	}
	// settings that cannot come to the top under any likely result are left out
	var near []int
	for j := range open {
		if mu[j]-4*sd[j] <= low+1e-12 {
			near = append(near, j)
		}
	}
	centre := make([]float64, len(near))
	scatter := make([]float64, len(near))
	for a, j := range near {
		centre[a], scatter[a] = mu[j], sd[j]*sd[j]
	}
	out := make([]float64, len(candidates))
	for c, i := range candidates {
		cols := d.signal(i, m)
		if cols == nil {
			continue
		}
		steps := make([]float64, 0, len(near)*len(cols))
		for a, j := range near {
			steps = append(steps, step(cols, d.rows[open[j]].cost, mu[j], scatter[a])...)
		}
		out[c] = math.Max(0, low-expectedLow(centre, steps, len(cols)))
	}
	return out
}

// step is by how much one standard deviation of each column of a signal moves
// the mean of draws y of mean m and variance v. Of its length as much is taken off as
// columns unrelated to y would show in so few draws.
func step(cols [][]float64, y []float64, m, v float64) []float64 {
	n := float64(len(y))
	out := make([]float64, len(cols))
	var length, chance float64
	for a, c := range cols {
		var s, own float64
		for t := range y {
			s += c[t] * (y[t] - m)
			own += c[t] * c[t]
		}
		out[a] = s / (n - 1)
		length += out[a] * out[a]
		chance += v * own / (n - 1) / (n - 1)
	}
	f := 0.0
	if length > chance {
		f = math.Sqrt(1 - chance/length)
	}
	for a := range out {
		out[a] *= f
	}
	return out
}

// expectedLow is E min_j (mu_j + step_j Z), Z standard normal in dims
// dimensions; steps holds dims numbers a setting.
func expectedLow(mu, steps []float64, dims int) float64 {
	if dims == 1 {
		e := 0.0
		for k, z := range nodes {
			low := math.Inf(1)
			for j, m := range mu {
				low = math.Min(low, m+steps[j]*z)
			}
			e += nodeWeight[k] * low
		}
		return e
	}
	e := 0.0
	for _, z := range cloud {
		up, down := math.Inf(1), math.Inf(1)
		for j, m := range mu {
			s := steps[j*dims : j*dims+dims]
			v := 0.0
			for a := range s {
				v += s[a] * z[a]
			}
			if m+v < up {
				up = m + v
			}
			if m-v < down {
				down = m - v
			}
		}
		e += up + down
	}
	return e / float64(2*len(cloud))
}

// cloud is a low-discrepancy sample (Halton) of the standard normal in five
// dimensions, whitened so that its covariance about 0 is exactly the identity;
// each place is used with its opposite.
var cloud = func() (out [96][launch]float64) {
	for i := range out {
		for a, base := range [launch]int{2, 3, 5, 7, 11} {
			u, f := 0.0, 1.0
			for k := i + 1; k > 0; k /= base {
				f /= float64(base)
				u += f * float64(k%base)
			}
			out[i][a] = math.Sqrt2 * math.Erfinv(2*u-1)
		}
	}
	for a := range launch { // Gram-Schmidt on the columns
		for b := range a {
			s := 0.0
			for i := range out {
				s += out[i][a] * out[i][b] / float64(len(out))
			}
			for i := range out {
				out[i][a] -= s * out[i][b]
			}
		}
		s := 0.0
		for i := range out {
			s += out[i][a] * out[i][a] / float64(len(out))
		}
		for i := range out {
			out[i][a] /= math.Sqrt(s)
		}
	}
	return
}()

// signal is the scaled innovation of a visit as it shows in the draws: the
// columns are uncorrelated, of unit variance when observed with noise.
func (d *Decider) signal(i, m int) [][]float64 {
	r := &d.rows[i]
	known := len(r.launches) > 0
	for _, s := range d.cfg.Spread {
		known = known && s > 0
	}
	if !known {
		noise := within(d.ref.cost, nil, d.perDraw)
		v := variance(r.level)
		if v <= 0 {
			return nil
		}
		col := make([]float64, d.draws)
		mu := mean(r.level)
		for k := range col {
			col[k] = (r.level[k] - mu) / math.Sqrt(v+noise/float64(m))
		}
		return [][]float64{col}
	}
	y := mat.NewDense(d.draws, launch, nil)
	for k := range launch {
		mu := 0.0
		for t := range d.draws {
			mu += float64(r.launches[t*launch+k]) / float64(d.draws)
		}
		for t := range d.draws {
			y.Set(t, k, (float64(r.launches[t*launch+k])-mu)/d.cfg.Spread[k])
		}
	}
	cov := mat.NewSymDense(launch, nil)
	for a := range launch {
		for b := a; b < launch; b++ {
			s := 0.0
			for t := range d.draws {
				s += y.At(t, a) * y.At(t, b)
			}
			s /= float64(d.draws - 1)
			if a == b {
				s += 1 / float64(m)
			}
			cov.SetSym(a, b, s)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		return nil
	}
	var l mat.TriDense
	chol.LTo(&l)
	cols := make([][]float64, launch)
	for a := range cols {
		cols[a] = make([]float64, d.draws)
	}
	for t := range d.draws { // forward substitution L c = y
		for a := range launch {
			v := y.At(t, a)
			for b := range a {
				v -= l.At(a, b) * cols[b][t]
			}
			cols[a][t] = v / l.At(a, a)
		}
	}
	return cols
}

// stay is a long stay with one setting. Three balls may be too few to change
// any choice where a dozen would: the value of going on is the larger of that
// of one visit and a quarter of that of four (the KG(*) rule of key
// FrazierPowell2010).
const stay = 4 * visit

// next lists what is worth hitting, best first: by expected improvement a
// minute. Every setting is a candidate, today's and the choice included; of
// many settings those that were hit and the most promising are tried.
func (d *Decider) next(c report.Choice) []report.Next {
	candidates := d.candidates()
	gain := d.gains(candidates, visit)
	lasting := d.gains(candidates, stay)
	best := func(k int) float64 { return math.Max(gain[k], lasting[k]*visit/stay) }
	from := d.cfg.Settings[d.standing()]
	rate := map[int]float64{}
	d.going = 0
	var out []report.Next
	for k, i := range candidates {
		d.going = math.Max(d.going, best(k))
		rate[i] = best(k) / minutes(from, d.cfg.Settings[i], visit)
		n := report.Next{Setting: i, Balls: visit, Value: gain[k], Minutes: minutes(from, d.cfg.Settings[i], visit)}
		if left := d.cfg.Aim.BallsLeft; left > 0 && left < n.Balls {
			n.Balls = left
		}
		out = append(out, n)
	}
	sort.SliceStable(out, func(a, b int) bool {
		x, y := rate[out[a].Setting], rate[out[b].Setting]
		if math.Abs(x-y) < 1e-9 {
			return d.distance(out[a].Setting) < d.distance(out[b].Setting)
		}
		return x > y
	})
	if len(out) > shownNext {
		out = out[:shownNext]
	}
	for k := range out {
		out[k].Why = d.whyNext(out[k], c)
	}
	return out
}

const (
	shownNext     = 5
	maxCandidates = 60
)

// candidates for the next visit.
func (d *Decider) candidates() []int {
	var out []int
	for i := range d.rows {
		if d.rows[i].out.Feasible || d.rows[i].out.Tested || i == d.cfg.Reference || len(d.rows) <= maxCandidates {
			out = append(out, i)
		}
	}
	promise := func(i int) float64 {
		if i == d.cfg.Reference || d.rows[i].out.Tested {
			return math.Inf(-1)
		}
		return d.rows[i].average - d.rows[i].scatter
	}
	sort.SliceStable(out, func(a, b int) bool { return promise(out[a]) < promise(out[b]) })
	if len(out) > maxCandidates {
		out = out[:maxCandidates]
	}
	return out
}

// stop says whether another visit is worth it. It is not when the best one,
// alone or as one of four, is expected to improve the choice by less than a
// tie, a change is likely for the better or the answer is to keep the club, and
// the shots do not contradict the textbook. A lean that more balls are hardly
// expected to settle stays a lean.
func (d *Decider) stop(c report.Choice) report.Stop {
	most := d.going
	s := report.Stop{Risk: riskMargin * d.rows[c.Setting].out.Loss}
	switch {
	case d.cfg.Aim.BallsLeft < 0 || d.cfg.Aim.MinutesLeft < 0:
		s.Stop, s.Why = true, report.Message{Key: "stop.spent"}
	case d.thin():
		s.Why = report.Message{Key: "stop.thin", Args: []report.Arg{count(leastBalls), count(leastReference)}}
	case d.cfg.Conflict > 1.5:
		s.Why = report.Message{Key: "stop.conflict"}
	case !c.Keep && c.Sure < likelyAbove && most >= d.tie()/5:
		s.Why = report.Message{Key: "stop.unsure", Args: []report.Arg{sure(c.Sure)}}
	case most >= d.tie():
		s.Why = report.Message{Key: "stop.gain", Args: append([]report.Arg{count(visit)}, d.worth(most)...)}
	case !c.Keep && c.Sure < likelyAbove:
		s.Stop = true
		s.Why = report.Message{Key: "stop.lean", Args: []report.Arg{count(visit), sure(c.Sure)}}
	default:
		s.Stop = true
		s.Why = report.Message{Key: "stop.enough", Args: append([]report.Arg{count(visit)}, d.worth(d.tie())...)}
	}
	if balls := hitAll(d.cfg.Shots); balls >= tired {
		s.Stop, s.Why = true, report.Message{Key: "stop.tired", Args: []report.Arg{count(float64(balls))}}
	}
	return s
}

// riskMargin is put on the expected loss of stopping. The plain figure was too
// small by a tenth for simulated players to whom the prior had the wrong sign
// (TestStopping); with it the stated risk holds in all three worlds.
const riskMargin = 1.25

// tired is how many full drives are a load. Common practice, no source: more
// than about 60 to 80 in a session.
const tired = 70

func hitAll(shots []Shot) int { return len(shots) }
