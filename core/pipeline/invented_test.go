package pipeline

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// The bench of intervals: invented players with a flight, effects, scatter, form
// and devices that share nothing with the engine. go test ./core/pipeline -run
// Invented -bench-players 40 -v prints how often intervals hold.
var (
	benchPlayers = flag.Int("bench-players", 0, "invented players a cell of the table of intervals, 0 = a taste")
	benchFrom    = flag.Uint64("bench-from", 4_000_000, "seed of the first")
	benchCells   = flag.String("bench-cells", "", "cells whose names hold one of these, parted by commas")
)

// ownFlight is an own flight: point mass, drag and lift by own curves of the spin
// parameter, own decay of spin (invented numbers that give ordinary drives).
func ownFlight(l [5]float64) (carry, side, apex float64) {
	v, axis := l[0], l[4]
	sa, ca := math.Sincos(l[1])
	sd, cd := math.Sincos(l[2])
	vx, vy, vz := v*ca*cd, v*sa, v*ca*sd
	var x, y, z float64
	const dt, mass, area, rho, radius = .02, .0459, .00143, 1.2, .02135
	for t := 0.0; t < 12; t += dt {
		speed := math.Sqrt(vx*vx + vy*vy + vz*vz)
		s := l[3] * math.Exp(-t/22) * radius / speed
		drag := .215 + .16*s + .9*s*s
		lift := .55*s/(s+.10) - .19*s
		q := rho * area / 2 / mass * speed
		flat := math.Hypot(vx, vz)
		st, ct := math.Sincos(axis)
		// up and right, square to the flight
		ux, uy, uz := -vy*vx/flat/speed, flat/speed, -vy*vz/flat/speed
		rx, rz := -vz/flat, vx/flat
		ax := q * (-drag*vx + lift*speed*(ct*ux+st*rx))
		ay := q*(-drag*vy+lift*speed*ct*uy) - 9.81
		az := q * (-drag*vz + lift*speed*(ct*uz+st*rz))
		nx, ny, nz := x+vx*dt+ax*dt*dt/2, y+vy*dt+ay*dt*dt/2, z+vz*dt+az*dt*dt/2
		if ny <= 0 && t > .1 {
			f := y / (y - ny)
			return x + f*(nx-x), z + f*(nz-z), apex
		}
		x, y, z = nx, ny, nz
		vx, vy, vz = vx+ax*dt, vy+ay*dt, vz+az*dt
		apex = math.Max(apex, y)
	}
	return x, z, apex
}

// cell is a kind of session.
type cell struct {
	name   string
	device string // full, axis, spin: what is missing; carry: carry and side alone
	balls  int
	odd    float64 // deviation of a setting in units of the scatter
	wander float64 // form, the same
	blocks bool    // one block a setting
}

type invented struct {
	cell    cell
	base    [5]float64
	scatter [5]float64
	effect  [5][5]float64 // by feature: lean, upright, toe, back, mass
	odd     map[int][5]float64
	changes []club.Change
	rng     *rand.Rand
}

func newInvented(c cell, changes []club.Change, s uint64) *invented {
	rng := rand.New(rand.NewPCG(s, 991))
	p := &invented{cell: c, changes: changes, rng: rng, odd: map[int][5]float64{}}
	n := rng.NormFloat64
	slow := rng.Float64()
	p.base = [5]float64{(150 - 22*slow + 4*n()) * units.MPH, (12.7 + 1.5*n()) * units.Degree, 1.5 * n() * units.Degree, (2650 + 450*slow + 380*n()) * units.RPM, (1 + 3.5*n()) * units.Degree}
	p.base[3] = math.Max(p.base[3], 1700*units.RPM)
	unit := [5]float64{2.6 * units.MPH, 1.7 * units.Degree, 2.1 * units.Degree, 360 * units.RPM, 6 * units.Degree}
	grow := .7 + .6*slow
	for k := range unit {
		p.scatter[k] = unit[k] * grow * math.Exp(.2*n())
	}
	per := [5][5]float64{ // a degree, degree, mm, mm, g; invented about what is said in the trade
		{-.4 * units.MPH, .75 * units.Degree, -.5 * units.Degree, 210 * units.RPM, -1.6 * units.Degree},
		{0, .05 * units.Degree, -.35 * units.Degree, 20 * units.RPM, -1.2 * units.Degree},
		{-.1 * units.MPH, 0, .25 * units.Degree, 0, 2 * units.Degree},
		{-.1 * units.MPH, .2 * units.Degree, 0, 50 * units.RPM, 0},
		{-.1 * units.MPH, 0, .03 * units.Degree, 4 * units.RPM, 0},
	}
	step := [5]float64{units.Degree, units.Degree, units.Millimetre, units.Millimetre, units.Gram}
	for f := range per {
		size := .9 + .45*n()
		for k := range per[f] {
			p.effect[f][k] = per[f][k] / step[f] * (size + .3*n())
		}
	}
	for j := 1; j < len(changes); j++ {
		var d [5]float64
		for k := range d {
			d[k] = c.odd * p.scatter[k] * n()
		}
		p.odd[j] = d
	}
	return p
}

func (p *invented) mean(j int) (y [5]float64) {
	c, r := p.changes[j], p.changes[0]
	x := [5]float64{c.Lean - r.Lean, c.Upright - r.Upright, c.CGToe - r.CGToe, c.CGBack - r.CGBack, c.Mass - r.Mass}
	y = p.base
	for k := range y {
		for f := range x {
			y[k] += x[f] * p.effect[f][k]
		}
		y[k] += p.odd[j][k]
	}
	return y
}

// swing is a ball's scatter: one in ten a mis-hit, face against path leaning the axis.
func (p *invented) swing() (e [5]float64) {
	n := p.rng.NormFloat64
	for k := range e {
		e[k] = p.scatter[k] * n()
	}
	e[4] -= .3 * e[2] / p.scatter[2] * p.scatter[4]
	if p.rng.Float64() < .1 {
		e[0] -= p.scatter[0] * (1 + 2*p.rng.Float64())
		e[3] += p.scatter[3] * 2 * n()
		e[4] += p.scatter[4] * n()
	}
	return e
}

// truth is where setting j's balls land on average.
func (p *invented) truth(j int, swings [][5]float64) (at [3]float64) {
	y := p.mean(j)
	for _, e := range swings {
		l := y
		for k := range l {
			l[k] += e[k]
		}
		c, s, a := ownFlight(l)
		at[0], at[1], at[2] = at[0]+c/float64(len(swings)), at[1]+s/float64(len(swings)), at[2]+a/float64(len(swings))
	}
	return at
}

// session hits every setting in two mirrored rounds of visits, or in one block each.
func (p *invented) session(s shot.Session, settings []club.Setting, hit []int) shot.Session {
	n := p.rng.NormFloat64
	var order []int
	visit := (p.cell.balls + 1) / 2
	for round := range 2 {
		for i := range hit {
			j := hit[i]
			balls := visit
			if round == 1 {
				j, balls = hit[len(hit)-1-i], p.cell.balls-visit
			}
			if p.cell.blocks {
				j, balls = hit[i], p.cell.balls*(1-round)
			}
			for range balls {
				order = append(order, j)
			}
		}
	}
	var form [5]float64
	for k := range form {
		form[k] = n()
	}
	keep := math.Exp(-1. / 12)
	s.Shots = nil
	for b, j := range order {
		l, e := p.mean(j), p.swing()
		for k := range l {
			form[k] = keep*form[k] + math.Sqrt(1-keep*keep)*n()
			l[k] += e[k] + p.cell.wander*p.scatter[k]*form[k]
		}
		c, side, apex := ownFlight(l)
		v := shot.Values{shot.Carry: math.Hypot(c, side) * (1 + .008*n()), shot.Offline: side + n(), shot.Apex: apex * (1 + .02*n())}
		if p.cell.device == "carry" {
			delete(v, shot.Apex)
		} else {
			v[shot.BallSpeed], v[shot.Launch], v[shot.LaunchDirection] = l[0]+.2*n(), l[1]+.15*units.Degree*n(), l[2]+.2*units.Degree*n()
			if p.cell.device != "spin" {
				v[shot.Spin] = l[3] + 60*units.RPM*n()
				if p.cell.device != "axis" {
					v[shot.SpinAxis] = l[4] + .8*units.Degree*n()
				}
			}
		}
		s.Shots = append(s.Shots, shot.Shot{ID: fmt.Sprint(b), Setting: settings[j], Values: v})
	}
	return s
}

// holds counts how often intervals hold.
type holds struct {
	in [3]float64
	n  float64
	z2 float64
}

func (h *holds) see(truth float64, i report.Interval) {
	h.n++
	for k, at := range [3][2]float64{{i.Lo50, i.Hi50}, {i.Lo80, i.Hi80}, {i.Lo95, i.Hi95}} {
		if truth >= at[0] && truth <= at[1] {
			h.in[k]++
		}
	}
	sd := (i.Hi80 - i.Lo80) / 2.563
	h.z2 += (truth - i.Mean) * (truth - i.Mean) / (sd*sd + 1e-9)
}

func (h holds) String() string {
	return fmt.Sprintf("%.2f %.2f %.2f z%.2f", h.in[0]/h.n, h.in[1]/h.n, h.in[2]/h.n, math.Sqrt(h.z2/h.n))
}

func inventedCells() (out []cell) {
	for _, device := range []string{"full", "axis", "spin", "carry"} {
		out = append(out, cell{name: device + "-5", device: device, balls: 5, odd: .3})
	}
	for _, odd := range []float64{0, .2, .4, .7} {
		for _, n := range []int{3, 5, 10} {
			out = append(out, cell{name: fmt.Sprintf("odd%.1f-%d", odd, n), device: "full", balls: n, odd: odd})
		}
	}
	return append(out, cell{name: "wander-5", device: "full", balls: 5, odd: .3, wander: .6},
		cell{name: "blocks-5", device: "full", balls: 5, odd: .3, wander: .4, blocks: true},
		cell{name: "nospin-3", device: "spin", balls: 3, odd: .3}, cell{name: "nospin-10", device: "spin", balls: 10, odd: .3},
		cell{name: "carryonly-3", device: "carry", balls: 3, odd: .3}, cell{name: "carryonly-10", device: "carry", balls: 10, odd: .3})
}

func TestInventedIntervals(t *testing.T) {
	players := *benchPlayers
	if players == 0 {
		players = 2
	}
	demo, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	demo.Player.Handicap = nil
	settings := demo.Head.Settings()
	changes, err := demo.Head.Changes(settings)
	if err != nil {
		t.Fatal(err)
	}
	quantities := []shot.Quantity{shot.Carry, shot.Offline, shot.Apex}
	for _, c := range inventedCells() {
		if *benchCells != "" {
			wanted := false
			for _, part := range strings.Split(*benchCells, ",") {
				wanted = wanted || strings.Contains(c.name, part)
			}
			if !wanted {
				continue
			}
		} else if *benchPlayers == 0 && !strings.HasSuffix(c.name, "-5") {
			continue
		}
		var is, diff [2][3]holds
		off, contradicted := [2][3]float64{}, 0
		for i := range players {
			p := newInvented(c, changes, *benchFrom+uint64(i))
			hit := []int{0}
			for len(hit) < 6 {
				j := 1 + p.rng.IntN(len(settings)-1)
				seen := false
				for _, o := range hit {
					seen = seen || o == j
				}
				if !seen {
					hit = append(hit, j)
				}
			}
			p.rng.Shuffle(6, func(a, b int) { hit[a], hit[b] = hit[b], hit[a] })
			s := p.session(demo, settings, hit)
			r, err := Analyse(s, uint64(i+1), nil)
			if err != nil {
				t.Fatalf("%s, player %d: %v", c.name, i, err)
			}
			swings := make([][5]float64, 120)
			for k := range swings {
				swings[k] = p.swing()
			}
			zero := p.truth(0, swings)
			for j, x := range r.Settings {
				u := 1
				for _, o := range hit {
					if o == j {
						u = 0
					}
				}
				if u == 1 && j%3 != 0 { // a third of those not hit will do
					continue
				}
				at := p.truth(j, swings)
				for k, q := range quantities {
					m, _ := x.Of(q)
					is[u][k].see(at[k], m.Value)
					off[u][k] += (m.Value.Mean - at[k]) * (m.Value.Mean - at[k])
					if j != 0 {
						diff[u][k].see(at[k]-zero[k], m.Difference)
					}
				}
			}
		}
		for u, name := range []string{"hit", "not hit"} {
			for k, q := range quantities {
				t.Logf("%-12s %-8s %-8s level %v   difference %v   rms %.1f m", c.name, name, q, is[u][k], diff[u][k], math.Sqrt(off[u][k]/is[u][k].n))
			}
		}
		_ = contradicted
	}
}
