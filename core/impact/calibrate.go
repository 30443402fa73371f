package impact

import (
	"math"
	"sort"

	"ferrule/core/flight"
	"ferrule/core/robust"
	"ferrule/core/units"
)

// Observation is one measured strike of one player.
type Observation struct {
	Launch     flight.Launch
	ClubSpeed  *float64 // [m/s] nil = not measured
	Attack     *float64 // [rad] nil = not measured
	StrikeToe  *float64 // [m] nil = not measured
	StrikeHigh *float64 // [m]
}

// Calibration is what the shots say of a player's own strike.
type Calibration struct {
	Eta           float64 // [1] grip efficiency
	EtaSD         float64 // [1]
	Restitution   float64 // [1] effective: the device's club speed is not the point of contact's
	RestitutionSD float64 // [1]
	Used          int     // centred strikes that a delivery explains
	Off           int     // strikes left out for their place on the face
	Unexplained   int     // strikes that no delivery explains: a wrong record, or a spin that was guessed
}

// The priors of the two numbers ([Impact-latents]) and what counts as centred.
const (
	priorEta, priorEtaSD   = .85, .10
	priorE, priorESD       = .85, .025
	centre                 = 10 * units.Millimetre // [m]
	leastEtaSpread         = .05                   // [1] of one shot: spin and launch are read to a few per cent
	leastRestitutionSpread = .02                   // [1] of one shot: two speeds read to half a per cent each
	centredShare           = 2.0 / 3               // of shots by smash when the strike place is not measured
	medianEfficiency       = math.Pi / 2           // variance of a median against a mean's
)

// Calibrate finds grip efficiency and restitution from a player's own centred
// strikes and puts them into p. Where the strike place was measured, those
// within 10 mm of the middle count; where not, the two thirds with the highest
// smash. Each shot is explained by Explain; the medians are joined with the
// priors (eta .85 +- .10, restitution .85 +- .025) by their precisions, so a
// few balls or one wrong record move little. Without a club speed the
// restitution stays the prior's.
func Calibrate(shots []Observation, p Params) (Params, Calibration) {
	c := Calibration{Eta: priorEta, EtaSD: priorEtaSD, Restitution: priorE, RestitutionSD: priorESD}
	var eta, e []float64
	for _, o := range c.central(shots) {
		q := p
		if o.ClubSpeed == nil {
			q.Restitution = priorE
		}
		known := Known{ClubSpeed: o.ClubSpeed, Attack: o.Attack}
		if o.StrikeToe != nil && o.StrikeHigh != nil {
			known.StrikeToe, known.StrikeHigh = *o.StrikeToe, *o.StrikeHigh
		}
		_, q, err := explain(o.Launch, known, q)
		if err != nil || q.Eta < .3 || q.Eta > 1.6 || q.Restitution < .5 || q.Restitution > 1.05 {
			c.Unexplained++
			continue
		}
		c.Used++
		eta = append(eta, q.Eta)
		if o.ClubSpeed != nil {
			e = append(e, q.Restitution)
		}
	}
	c.Eta, c.EtaSD = joined(eta, priorEta, priorEtaSD, leastEtaSpread)
	c.Restitution, c.RestitutionSD = joined(e, priorE, priorESD, leastRestitutionSpread)
	p.Eta, p.Restitution = c.Eta, c.Restitution
	return p, c
}

// central picks the strikes near the middle of the face.
func (c *Calibration) central(shots []Observation) []Observation {
	var out, unplaced []Observation
	for _, o := range shots {
		switch {
		case o.StrikeToe == nil || o.StrikeHigh == nil:
			unplaced = append(unplaced, o)
		case math.Hypot(*o.StrikeToe, *o.StrikeHigh) <= centre:
			out = append(out, o)
		default:
			c.Off++
		}
	}
	smash := func(o Observation) float64 {
		if o.ClubSpeed == nil || *o.ClubSpeed <= 0 {
			return o.Launch.Speed / 1e3 // in order of ball speed, behind those with a club speed
		}
		return o.Launch.Speed / *o.ClubSpeed
	}
	sort.SliceStable(unplaced, func(i, j int) bool { return smash(unplaced[i]) > smash(unplaced[j]) })
	keep := int(math.Ceil(centredShare * float64(len(unplaced))))
	c.Off += len(unplaced) - keep
	return append(out, unplaced[:keep]...)
}

// joined is the precision-weighted mean of a median and a prior.
func joined(values []float64, prior, priorSD, leastSpread float64) (mean, sd float64) {
	if len(values) == 0 {
		return prior, priorSD
	}
	spread := math.Max(robust.Spread(values), leastSpread)
	data := float64(len(values)) / (medianEfficiency * spread * spread)
	own := 1 / (priorSD * priorSD)
	return (data*robust.Median(values) + own*prior) / (data + own), 1 / math.Sqrt(data+own)
}
