package impact

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/message"
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
	ClubSpeed *float64 // [m/s] nil = not measured
	Attack    *float64 // [rad] nil = -1.5 +- 2.5 degrees, about amateurs'

	// Own is what the player's centred strikes say of grip and restitution
	// (Calibrate); nil takes the typical ball's, with more doubt.
	Own *Calibration
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

// The primitive moves of a strike: what the features act through.
const (
	moveLoft   = iota // [rad] delivered loft
	moveFace          // [rad] delivered face
	moveTurn          // [rad] head turned toe up about the target line
	moveToe           // [m] centre of mass to the toe
	moveDepth         // [m] centre of mass to the back
	moveMass          // [kg] head mass
	moveSpeed         // [m/s] club speed
	moveAttack        // [rad]
	moves
)

// moved is a strike after one primitive move by x.
func moved(d Delivery, p Params, move int, x float64) (Delivery, Params) {
	switch move {
	case moveLoft:
		d.DynamicLoft += x
	case moveFace:
		d.Face += x
	case moveTurn:
		n := normalOf(d.DynamicLoft, d.Face)
		s, c := math.Sincos(x)
		y, z := n[1]*c+n[2]*s, n[2]*c-n[1]*s
		d.DynamicLoft, d.Face = math.Asin(y), math.Atan2(z, n[0])
	case moveToe:
		p.CGToe += x
	case moveDepth:
		p.CGDepth += x
	case moveMass:
		p.HeadMass += x
	case moveSpeed:
		d.ClubSpeed += x
	case moveAttack:
		d.Attack += x
	}
	return d, p
}

// moveStep is the step of the central differences; a test halves it and
// compares with closed forms.
var moveStep = [moves]float64{.1 * units.Degree, .1 * units.Degree, .1 * units.Degree, 1e-4, 1e-4, 1e-4, .05, .1 * units.Degree}

// jacobian is the change of the responses per unit of each primitive move.
type jacobian [moves][K]float64

func slopes(d Delivery, p Params) (j jacobian, err error) {
	for m := range j {
		h := moveStep[m]
		up, err := strikeOf(moved(d, p, m, h))
		if err != nil {
			return j, err
		}
		down, err := strikeOf(moved(d, p, m, -h))
		if err != nil {
			return j, err
		}
		for k := range K {
			j[m][k] = (up[k] - down[k]) / (2 * h)
		}
	}
	return j, nil
}

// normalLatent is a latent's mean and standard deviation.
type normalLatent struct{ mean, sd float64 }

// The latents: what is not known of club and player ([Impact-latents] where a
// value is not said to be judged; wide where its sources disagree).
const (
	gain       = iota // [1] delivered / geometric change by the sleeve
	resquare          // [1] 0 = shaft not rolled, 1 = face squared
	lieGain           // [1] delivered / static lie
	gear              // [1] on the rigid-body gear effect
	arrive            // [rad/m] face arrival per centre of mass to the toe
	bend              // [rad/m] loft by shaft bend per centre of mass to the back
	massSpeed         // [m/s/kg] club speed by head mass
	massLoft          // [rad/kg] delivered loft by head mass
	massFace          // [rad/kg] delivered face by head mass
	massAttack        // [rad/kg] attack by head mass
	latents
)

// priorOf lists the latents for a head. The gear effect stands between the
// rigid body (1), the published full-gear rule (1.5 to 1.8) and what practice
// says of a weight step (about 2). Head mass: club speed -.10 mph/g measured
// [MRR15]; more loft, more fade, steeper attack by sign only, sizes judged.
// Bend: no number found, judged.
func priorOf(h club.Head) [latents]normalLatent {
	const degmm, degg = units.Degree / units.Millimetre, units.Degree / units.Gram
	share := normalLatent{.60, .40}
	switch h.Hold { // judged: what a hand intends is not what arrives
	case club.HoldSquare:
		share = normalLatent{.90, .25}
	case club.HoldSoled: // in full -tan(lie)^2, about -2.6; hands take half of it back
		share = normalLatent{-1.3, 1.0}
	}
	return [latents]normalLatent{
		gain:       {.85, .20},
		resquare:   share,
		lieGain:    {.70, .30},
		gear:       {1.45, .55},
		arrive:     {.10 * degmm, .12 * degmm},
		bend:       {0, .10 * degmm},
		massSpeed:  {-.10 * units.MPH / units.Gram, .05 * units.MPH / units.Gram},
		massLoft:   {.02 * degg, .03 * degg},
		massFace:   {.02 * degg, .03 * degg},
		massAttack: {-.01 * degg, .02 * degg},
	}
}

// compose turns primitive slopes into effects per feature under one draw of
// the latents. For a lean of the shaft, with psi = -share cot(lie),
//
//	loft = gain (sin lie - psi cos lie),  face = gain (-cos lie - psi sin lie)
func compose(j *jacobian, lie float64, z *[latents]float64, out *[F * K]float64) {
	s, c := math.Sincos(lie)
	psi := -z[resquare] * c / s
	loft, face := z[gain]*(s-psi*c), z[gain]*(-c-psi*s)
	for k := range K {
		out[0*K+k] = loft*j[moveLoft][k] + face*j[moveFace][k]
		out[1*K+k] = z[lieGain] * j[moveTurn][k]
		out[2*K+k] = z[gear]*j[moveToe][k] + z[arrive]*j[moveFace][k]
		out[3*K+k] = j[moveDepth][k] + z[bend]*j[moveLoft][k]
		out[4*K+k] = j[moveMass][k] + z[massSpeed]*j[moveSpeed][k] + z[massLoft]*j[moveLoft][k] + z[massFace]*j[moveFace][k] + z[massAttack]*j[moveAttack][k]
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

// etaDoubt is the doubt of the player's own grip efficiency as found from the
// baseline (relative).
const etaDoubt = .10

// leastEtaDoubt is what stays in doubt of a grip found from many strikes: the
// device's own error of spin (relative, judged).
const leastEtaDoubt = .03

// pairs of opposite draws; a multiple of 36, so that each pair of nodes of
// attack and grip efficiency has its weight.
const pairs = 180

// nodes are Gauss and Hermite's three points of a standard normal, each as
// often as its weight of 1/6, 2/3, 1/6.
var nodes = [6]int{1, 1, 0, 1, 1, 2}

func node(i int) float64 { return float64(i-1) * math.Sqrt(3) }

// Effects samples the latents through Strike about the player's own delivery:
// correlated means and covariances at this player's speed, loft and curve,
// never a fixed table. What is not known of the delivery (attack, grip) is
// sampled too. A baseline with a spin or angle that no strike gives is pulled
// to the nearest that one does. The same seed gives the same prior.
//
// The error is about a baseline that holds no usable ball speed.
func Effects(base Baseline, h club.Head, s seed.Seed) (Prior, error) {
	out := Prior{Misfit: misfit, Cov: make([]float64, F*K*F*K)}
	var grid [3][3]jacobian
	for a := range grid {
		b := base
		if base.Attack == nil {
			v := UsualAttack + node(a)*usualAttackSD
			b.Attack = &v
		}
		d, p, err := b.delivery(h)
		if err != nil {
			return out, err
		}
		doubt := etaDoubt
		if own := base.Own; own != nil && own.Used > 0 {
			p.Eta, p.Restitution = own.Eta, own.Restitution
			doubt = math.Max(own.EtaSD/own.Eta, leastEtaDoubt)
		}
		for e := range grid[a] {
			q := p
			q.Eta *= 1 + node(e)*doubt
			if grid[a][e], err = slopes(d, q); err != nil {
				return out, err
			}
		}
	}
	lie := cmp.Or(h.Lie, 58*units.Degree)
	draws := draw(s.Stream("impact.Effects"), priorOf(h))
	samples := make([][F * K]float64, len(draws))
	for i := range draws {
		compose(&grid[nodes[i/2%6]][nodes[i/12%6]], lie, &draws[i], &samples[i])
	}
	out.moments(draws, samples)
	return out, nil
}

// draw lists draws of the latents in pairs on opposite sides of the mean, each
// latent spread evenly over its own range (a Latin hypercube).
func draw(rng *rand.Rand, prior [latents]normalLatent) [][latents]float64 {
	out := make([][latents]float64, 2*pairs)
	for l, p := range prior {
		for i, at := range rng.Perm(pairs) {
			z := math.Sqrt2 * math.Erfinv(2*(float64(at)+rng.Float64())/pairs-1)
			out[2*i][l], out[2*i+1][l] = p.mean+p.sd*z, p.mean-p.sd*z
		}
	}
	return out
}

// moments fills means and covariances from the draws and adds the floor.
func (out *Prior) moments(draws [][latents]float64, samples [][F * K]float64) {
	const n = F * K
	count := float64(len(samples))
	var mean [n]float64
	for i := range samples {
		out.Resquare += draws[i][resquare] / count
		for j, v := range samples[i] {
			mean[j] += v / count
		}
	}
	for j, v := range mean {
		out.Mean[j/K][j%K] = v
	}
	for i := range samples {
		dh := draws[i][resquare] - out.Resquare
		out.ResquareVar += dh * dh / count
		for a := range n {
			da := (samples[i][a] - mean[a]) / count
			out.ResquareCov[a] += da * dh
			for b := range a + 1 {
				out.Cov[a*n+b] += da * (samples[i][b] - mean[b])
			}
		}
	}
	for a := range n {
		f := floor[a/K][a%K] * responseUnit[a%K] / featureUnit[a/K]
		out.Cov[a*n+a] += f * f
		for b := range a {
			out.Cov[b*n+a] = out.Cov[a*n+b]
		}
	}
}

// Delivery is what delivery and head explain the baseline: see Explain. A
// ball that no strike gives is pulled to the nearest plausible one, and a club
// speed that would make the face livelier than any is left out.
func (b Baseline) Delivery(h club.Head) (Delivery, Params, error) { return b.delivery(h) }

func (b Baseline) delivery(h club.Head) (Delivery, Params, error) {
	for _, x := range []float64{b.Launch.Speed, b.Launch.Angle, b.Launch.Direction, b.Launch.Spin, b.Launch.Axis} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return Delivery{}, Params{}, fmt.Errorf("impact: the baseline holds %g, expected finite numbers", x)
		}
	}
	if !(b.Launch.Speed >= 10 && b.Launch.Speed <= 120) {
		return Delivery{}, Params{}, message.Outside("quantity.ball_speed", b.Launch.Speed, 10, 120, "m/s")
	}
	p := DefaultParams(h)
	known := Known{Attack: b.Attack}
	if v := b.ClubSpeed; v != nil && *v > 0 {
		if smash := b.Launch.Speed / *v; smash > 1.1 && smash < 1.6 { // else one of the two speeds is wrong
			known.ClubSpeed = v
		}
	}
	l := b.plausible(p, known)
	d, q, err := explain(l, known, p)
	if err != nil {
		return d, q, message.New("problem.named", fmt.Sprintf("%.1f m/s, %.1f°, %.0f rpm", l.Speed, l.Angle/units.Degree, l.Spin/units.RPM), err)
	}
	return d, q, nil
}

// Grip efficiencies that a ball is pulled to; tour and amateur averages give
// .77 and .95.
const minEta, maxEta = .55, 1.25

// plausible pulls a launch to one that a strike can give.
func (b Baseline) plausible(p Params, known Known) flight.Launch {
	clamp := func(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }
	l := b.Launch
	attack := UsualAttack
	if known.Attack != nil {
		attack = *known.Attack
	}
	l.Angle = clamp(l.Angle, math.Max(3*units.Degree, attack+3*units.Degree), 40*units.Degree)
	l.Direction = clamp(l.Direction, -20*units.Degree, 20*units.Degree)
	l.Axis = clamp(l.Axis, -35*units.Degree, 35*units.Degree)
	l.Spin = clamp(l.Spin, 800*units.RPM, 9000*units.RPM)
	for range 6 { // spin and the loft that it implies settle in a few rounds
		_, q, ok := centred(l, known, p)
		if !ok {
			l.Spin *= .8
			continue
		}
		if q.Eta >= minEta && q.Eta <= maxEta {
			break
		}
		l.Spin *= clamp(q.Eta, 1.02*minEta, .98*maxEta) / q.Eta
	}
	return l
}

// StrikeSlopes is the change of the responses per metre of strike place
// towards the toe and upward, at the player's baseline.
func StrikeSlopes(base Baseline, h club.Head) (toe, high [K]float64, err error) {
	d, p, err := base.delivery(h)
	if err != nil {
		return toe, high, err
	}
	const step = 1e-3
	for i, out := range []*[K]float64{&toe, &high} {
		a, b := d, d
		if i == 0 {
			a.StrikeToe, b.StrikeToe = a.StrikeToe+step, b.StrikeToe-step
		} else {
			a.StrikeHigh, b.StrikeHigh = a.StrikeHigh+step, b.StrikeHigh-step
		}
		up, err1 := strikeOf(a, p)
		down, err2 := strikeOf(b, p)
		if err1 != nil || err2 != nil {
			return toe, high, errNoStrike
		}
		for k := range K {
			out[k] = (up[k] - down[k]) / (2 * step)
		}
	}
	return toe, high, nil
}
