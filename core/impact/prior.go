package impact

import (
	"math"
	"math/rand/v2"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/seed"
	"ferrule/core/units"
)

// F is the number of features that the response is linear in: lean [rad],
// upright [rad], centre of mass to the toe [m], to the back [m], mass [kg].
const F = 5

// Features lists a change against the reference setting's.
func Features(c, ref club.Change) [F]float64 {
	return [F]float64{c.Lean - ref.Lean, c.Upright - ref.Upright, c.CGToe - ref.CGToe, c.CGBack - ref.CGBack, c.Mass - ref.Mass}
}

// Baseline is the player's typical ball, and club data where it was measured.
type Baseline struct {
	Launch    flight.Launch
	ClubSpeed *float64 // [m/s]
	Attack    *float64 // [rad] nil = -1.5 degrees, about an amateur's average
	StrikeToe float64  // [m] typical strike place, 0 = middle
}

// Prior is what physics believes of the effects before a ball is hit, jointly
// normal, per unit of each feature (rad, m, kg), responses in SI.
type Prior struct {
	Mean        [F][K]float64  // [response per feature]
	Cov         []float64      // [product of those] (F*K)^2 row-major, index f*K+k
	Resquare    float64        // [1] share of a turned face that the player turns back
	ResquareVar float64        // [1]
	ResquareCov [F * K]float64 // [response per feature] covariance of the share with the effects
	Misfit      [K]float64     // [response] sd of what a setting does beyond its features
}

// latent is one draw of what is not known about club and player: [IMPACT9],
// judged from the sources named there, wide where they disagree.
type latent struct{ gain, resquare, lie, eta, gear, arrive, back, speed float64 }

func draw(rng *rand.Rand, sign float64, z *[8]float64) latent {
	if sign > 0 {
		for i := range z {
			z[i] = rng.NormFloat64()
		}
	}
	at := func(i int, mean, sd float64) float64 { return mean + sign*sd*z[i] }
	return latent{
		gain:     at(0, .85, .20),                                   // delivered / geometric change by the sleeve
		resquare: at(1, .60, .40),                                   // 0 = shaft not rolled, 1 = face squared
		lie:      at(2, .70, .30),                                   // delivered / static lie
		eta:      at(3, 1, .10),                                     // grip efficiency against the player's own
		gear:     at(4, 1.45, .55),                                  // on rigid-body gear effect: rigid theory 1, published rule and practice 1.8-2
		arrive:   at(5, .10, .12) * units.Degree / units.Millimetre, // face arrival per mm of centre to the toe
		back:     at(6, 0, .10) * units.Degree / units.Millimetre,   // loft by shaft bend per mm of centre to the back: no number found
		speed:    at(7, -.10, .05) * units.MPH / units.Gram,         // club speed per head mass [MRR15]
	}
}

// floor is the doubt of each effect that no latent carries (head shapes,
// adaptation), per degree, millimetre or gram; judged, not sourced.
var floor = [F][K]float64{ // mph, deg, deg, rpm, deg
	{.30, .12, .12, 45, .45}, {.15, .06, .06, 25, .25}, {.20, .06, .06, 20, .30}, {.30, .10, .10, 40, .40}, {.03, .03, .03, 8, .08}}

var featureUnit = [F]float64{units.Degree, units.Degree, units.Millimetre, units.Millimetre, units.Gram}
var responseUnit = [K]float64{units.MPH, units.Degree, units.Degree, units.RPM, units.Degree}

// misfit is what a setting does beyond its features; judged, not sourced.
var misfit = [K]float64{.6 * units.MPH, .4 * units.Degree, .4 * units.Degree, 120 * units.RPM, 1.0 * units.Degree}

const pairs = 120 // antithetic pairs of latents

// Effects samples the latents through Strike about the player's own delivery:
// correlated means and covariances at this player's speed, loft and curve,
// never a fixed table. The error is that of a baseline no impact explains.
func Effects(base Baseline, h club.Head, s seed.Seed) (Prior, error) {
	var out Prior
	out.Misfit = misfit
	attack := -1.5 * units.Degree
	if base.Attack != nil {
		attack = *base.Attack
	}
	p := DefaultParams(h)
	d, p, err := Explain(base.Launch, attack, base.ClubSpeed, p)
	if err != nil {
		return out, err
	}
	lie := h.Lie
	if lie == 0 {
		lie = 58 * units.Degree
	}
	rng := s.Stream("impact.Effects")
	const n = F * K
	var sum, sumH [n]float64
	samples := make([][n]float64, 0, 2*pairs)
	shares := make([]float64, 0, 2*pairs)
	var z [8]float64
	for i := 0; i < 2*pairs; i++ {
		l := draw(rng, 1-2*float64(i%2), &z)
		e, err := slopes(d, p, lie, l)
		if err != nil {
			return out, err
		}
		samples, shares = append(samples, e), append(shares, l.resquare)
		for j := range e {
			sum[j] += e[j]
		}
		out.Resquare += l.resquare
	}
	count := float64(len(samples))
	out.Resquare /= count
	for j := range sum {
		sum[j] /= count
		out.Mean[j/K][j%K] = sum[j]
	}
	out.Cov = make([]float64, n*n)
	for i, e := range samples {
		dh := shares[i] - out.Resquare
		out.ResquareVar += dh * dh / count
		for a := range e {
			da := e[a] - sum[a]
			sumH[a] += da * dh / count
			for b := range a + 1 {
				out.Cov[a*n+b] += da * (e[b] - sum[b]) / count
			}
		}
	}
	out.ResquareCov = sumH
	for a := range n {
		f := floor[a/K][a%K] * responseUnit[a%K] / featureUnit[a/K]
		out.Cov[a*n+a] += f * f
		for b := range a {
			out.Cov[b*n+a] = out.Cov[a*n+b]
		}
	}
	return out, nil
}

// slopes is the change of the responses per unit of each feature under one
// draw of the latents, by central differences of Strike.
func slopes(d Delivery, p Params, lie float64, l latent) (out [F * K]float64, err error) {
	p.Eta *= l.eta
	psi := -l.resquare * math.Cos(lie) / math.Sin(lie)
	loft := l.gain * (math.Sin(lie) - psi*math.Cos(lie))
	face := l.gain * (-math.Cos(lie) - psi*math.Sin(lie))
	move := [F]func(x float64) (Delivery, Params){
		func(x float64) (Delivery, Params) {
			e := d
			e.DynamicLoft += loft * x
			e.Face += face * x
			return e, p
		},
		func(x float64) (Delivery, Params) { // the head turns toe up about the target line
			e := d
			n := normalOf(d.DynamicLoft, d.Face)
			s, c := math.Sincos(l.lie * x)
			y, z := n[1]*c+n[2]*s, n[2]*c-n[1]*s
			e.DynamicLoft, e.Face = math.Asin(y), math.Atan2(z, n[0])
			return e, p
		},
		func(x float64) (Delivery, Params) {
			e, q := d, p
			q.CGToe += l.gear * x
			e.Face += l.arrive * x
			return e, q
		},
		func(x float64) (Delivery, Params) {
			e, q := d, p
			q.CGDepth += x
			e.DynamicLoft += l.back * x
			return e, q
		},
		func(x float64) (Delivery, Params) {
			e, q := d, p
			q.HeadMass += x
			e.ClubSpeed += l.speed * x
			return e, q
		},
	}
	for f := range move {
		h := .25 * featureUnit[f]
		up, err := strikeOf(move[f](h))
		if err != nil {
			return out, err
		}
		down, err := strikeOf(move[f](-h))
		if err != nil {
			return out, err
		}
		for k := range K {
			out[f*K+k] = (up[k] - down[k]) / (2 * h)
		}
	}
	return out, nil
}

// StrikeSlopes is the change of the responses per metre of strike place
// towards the toe and upward, at the player's baseline.
func StrikeSlopes(base Baseline, h club.Head) (toe, high [K]float64, err error) {
	attack := -1.5 * units.Degree
	if base.Attack != nil {
		attack = *base.Attack
	}
	d, p, err := Explain(base.Launch, attack, base.ClubSpeed, DefaultParams(h))
	if err != nil {
		return toe, high, err
	}
	const step = 1e-3
	for i, out := range []*[K]float64{&toe, &high} {
		a, b := d, d
		if i == 0 {
			a.StrikeToe, b.StrikeToe = step, -step
		} else {
			a.StrikeHigh, b.StrikeHigh = step, -step
		}
		up, err1 := strikeOf(a, p)
		down, err2 := strikeOf(b, p)
		if err1 != nil || err2 != nil {
			return toe, high, ErrNoStrike
		}
		for k := range K {
			out[k] = (up[k] - down[k]) / (2 * step)
		}
	}
	return toe, high, nil
}
