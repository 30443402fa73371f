package decide

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"ferrule/core/report"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What few balls can honestly say.
const (
	ellipseBalls = 5  // fewer balls get no ellipse: draw the points
	spreadBalls  = 10 // fewer balls each, and spreads are not compared
	power        = 0.8
	level        = 0.05
)

// ballsEach is how many balls each of two settings needs to tell a difference
// of means from nothing, with the given chance of seeing it and a two-sided
// 5 %: 2 (z_.975 + z_power)^2 (sd/difference)^2, both in one unit. It is +Inf
// for no difference.
func ballsEach(sd, difference, power float64) float64 {
	z := mathext.NormalQuantile(1-level/2) + mathext.NormalQuantile(power)
	return 2 * z * z * (sd / difference) * (sd / difference)
}

// ballsToPick is how many balls each of two settings needs so that the better
// one has the better average with the given chance: 2 (z_power sd/difference)^2.
func ballsToPick(sd, difference, power float64) float64 {
	z := mathext.NormalQuantile(power) * sd / difference
	return 2 * z * z
}

// mostBalls stands for "more than anybody hits".
const mostBalls = 9999

// ballsMore is how many balls in each are still needed if the difference is as
// large as it now looks. -1 when the spread is unknown.
func ballsMore(spread, difference float64, have int) int {
	if spread <= 0 {
		return -1
	}
	n := ballsToSee(spread, difference, power)
	if n == mostBalls {
		return mostBalls
	}
	return max(0, n-have)
}

// ellipse is the region into which the next ball of a setting falls with
// chance p, from n of its landing places with mean (x, z) and a covariance
// pooled over settings with df degrees of freedom: Hotelling's T^2 with the
// factor of a new observation,
//
//	(1 + 1/n) 2 df/(df-1) F_{2,df-1}(p),
//
// which for one setting alone (df = n-1) is 2 (n-1)(n+1)/(n (n-2)) F. Below
// five balls there is none: Kind is empty.
func ellipse(n int, x, z float64, xx, xz, zz float64, df int, p float64) report.Ellipse {
	if n < ellipseBalls || df < ellipseBalls-1 || !(xx+zz > 0) {
		return report.Ellipse{}
	}
	f := nextBall(n, df, p)
	half, diff := (xx+zz)/2, (xx-zz)/2
	root := math.Hypot(diff, xz)
	return report.Ellipse{Kind: "next-shot-80", X: x, Z: z, A: math.Sqrt(f * (half + root)), B: math.Sqrt(f * math.Max(half-root, 0)),
		Turn: math.Atan2(2*xz, xx-zz) / 2, BallsUsed: n}
}

// nextBall is the squared radius of the next ball's ellipse in units of the
// covariance. The quantile of F with two degrees above has a closed form.
func nextBall(n, df int, p float64) float64 {
	m := float64(df - 1)
	f := m / 2 * (math.Pow(1-p, -2/m) - 1)
	return (1 + 1/float64(n)) * 2 * float64(df) / m * f
}

// brownForsythe compares the spreads of groups by the distances from their
// medians (key BrownForsythe1974): F, its degrees of freedom and the chance of
// as large a one when the spreads are alike.
func brownForsythe(groups ...[]float64) (f, df1, df2, p float64) {
	dist := make([][]float64, len(groups))
	for g, v := range groups {
		m := robust.Median(v)
		for _, x := range v {
			dist[g] = append(dist[g], math.Abs(x-m))
		}
	}
	n, total := 0, 0.0
	for _, v := range dist {
		n += len(v)
		total += mean(v) * float64(len(v))
	}
	grand, between, inside := total/float64(n), 0.0, 0.0
	for _, v := range dist {
		m := mean(v)
		between += float64(len(v)) * (m - grand) * (m - grand)
		for _, x := range v {
			inside += (x - m) * (x - m)
		}
	}
	df1, df2 = float64(len(groups)-1), float64(n-len(groups))
	f = between / df1 / (inside / df2)
	return f, df1, df2, 1 - mathext.RegIncBeta(df1/2, df2/2, df1*f/(df1*f+df2))
}

// average is what the balls of a setting did, without any model.
type average struct {
	raw     []report.Amount
	ellipse report.Ellipse
}

// averages are those of each setting: empty where none was hit.
//
// They have intervals from the spread pooled over settings (a spread of
// three balls alone is worth nothing). Differences to the reference hold for
// all settings at once (Dunnett), because one looks at all and picks.
func (s *session) averages(f factors) []average {
	gs := s.groups()
	out := make([]average, len(s.counts))
	for _, kind := range shot.Kinds {
		pooled(out, gs, s.today, kind.Quantity, f)
	}
	ellipses(out, gs)
	return out
}

// pooled puts the averages of a quantity to those of each group's setting.
func pooled(to []average, gs []group, today int, q shot.Quantity, f factors) {
	var cols [][]float64
	n, used, ss := 0, 0, 0.0
	for _, g := range gs {
		v := g.column(q)
		cols = append(cols, v)
		if len(v) > 0 {
			n, used = n+len(v), used+1
			ss += variance(v) * float64(len(v)-1)
		}
	}
	df := n - used
	if n == 0 {
		return
	}
	hasRef := gs[0].setting == today && len(cols[0]) > 0
	var others []int
	if hasRef {
		for _, v := range cols[1:] {
			if len(v) > 0 {
				others = append(others, len(v))
			}
		}
	}
	sp := 0.0
	var t [3]float64
	if df > 0 {
		sp, t = math.Sqrt(ss/float64(df)), tFactors(df)
	}
	for k, g := range gs {
		v := cols[k]
		if len(v) == 0 {
			continue
		}
		a := report.Amount{Quantity: q, BallsMore: -1}
		m := mean(v)
		a.Value = flat(m)
		if len(v) > 1 {
			a.Spread = math.Sqrt(variance(v))
		}
		if df > 0 {
			a.Value = around(m, sp/math.Sqrt(float64(len(v))), t)
		}
		if hasRef && k > 0 {
			diff := m - mean(cols[0])
			a.Difference = flat(diff)
			if df > 0 {
				a.Difference = around(diff, sp*math.Sqrt(1/float64(len(v))+1/float64(len(cols[0]))), f.dunnett(len(cols[0]), others, df))
			}
		}
		to[g.setting].raw = append(to[g.setting].raw, a)
	}
}

// flat is a value of which no doubt can be given: one ball alone. Its bounds
// coincide, and Balls says why.
func flat(m float64) report.Interval {
	return report.Interval{Mean: m, Lo50: m, Hi50: m, Lo80: m, Hi80: m, Lo95: m, Hi95: m}
}

// around is m with its 50, 80 and 95 % intervals.
func around(m, se float64, f [3]float64) report.Interval {
	return report.Interval{Mean: m, Lo50: m - f[0]*se, Hi50: m + f[0]*se, Lo80: m - f[1]*se, Hi80: m + f[1]*se, Lo95: m - f[2]*se, Hi95: m + f[2]*se}
}

func tFactors(df int) [3]float64 {
	nu := float64(df)
	return [3]float64{student(nu, .75), student(nu, .9), student(nu, .975)}
}

// student is the quantile p > 1/2 of Student's t with nu degrees of freedom:
// 2 (1-p) = I_x(nu/2, 1/2), t^2 = nu (1-x)/x. It and its neighbours ask mathext
// as gonum's distuv does, which links stat and mat along.
func student(nu, p float64) float64 {
	x := mathext.InvRegIncBeta(nu/2, .5, 2*(1-p))
	return math.Sqrt(nu * (1 - x) / x)
}

// ellipses of the next ball, of settings with five balls or more.
func ellipses(to []average, gs []group) {
	var xx, xz, zz float64
	df := 0
	type place struct{ x, z float64 }
	all := make([][]place, len(gs))
	mid := make([]place, len(gs))
	for k, g := range gs {
		for _, s := range g.values {
			x, okX := s.Get(shot.Carry)
			z, okZ := s.Get(shot.Offline)
			if okX && okZ {
				all[k] = append(all[k], place{x, z})
				mid[k].x, mid[k].z = mid[k].x+x, mid[k].z+z
			}
		}
		n := float64(len(all[k]))
		if n == 0 {
			continue
		}
		mid[k].x, mid[k].z = mid[k].x/n, mid[k].z/n
		for _, p := range all[k] {
			dx, dz := p.x-mid[k].x, p.z-mid[k].z
			xx, xz, zz = xx+dx*dx, xz+dx*dz, zz+dz*dz
		}
		df += len(all[k]) - 1
	}
	if df < 1 {
		return
	}
	v := 1 / float64(df)
	for k, g := range gs {
		to[g.setting].ellipse = ellipse(len(all[k]), mid[k].x, mid[k].z, xx*v, xz*v, zz*v, df, 0.8)
	}
}

// spreadNotes tells of settings that scatter the ball differently from
// today's: only with ten balls in each, and for all that are looked at together.
func (s *session) spreadNotes(of *settings) []report.Message {
	gs := s.groups()
	if len(gs) == 0 || gs[0].setting != s.today {
		return nil
	}
	var out []report.Message
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
		ref := gs[0].column(q)
		if len(ref) < spreadBalls {
			continue
		}
		looked := 0
		for _, g := range gs[1:] {
			if len(g.column(q)) >= spreadBalls {
				looked++
			}
		}
		for _, g := range gs[1:] {
			v := g.column(q)
			if len(v) < spreadBalls {
				continue
			}
			_, _, _, p := brownForsythe(ref, v)
			if p*float64(looked) > level {
				continue
			}
			word := "note.spread.wider"
			if variance(v) < variance(ref) {
				word = "note.spread.tighter"
			}
			out = append(out, report.Say(word, of.label(g.setting), report.Quantity(q),
				report.Number(math.Sqrt(variance(v)), units.Length, -1), report.Number(math.Sqrt(variance(ref)), units.Length, -1), report.Count(len(v))))
		}
	}
	return out
}
