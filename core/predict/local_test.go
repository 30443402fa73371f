package predict

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/response"
	"ferrule/core/units"
)

// Moving a ball by slopes must land where flying it lands, for every setting
// of the example club: it decides which of two settings is longer.
func TestLocalAgreesWithFlights(t *testing.T) {
	in, settings := session(t, 5, 1, 9)
	r, err := response.Fit(in)
	if err != nil {
		t.Fatal(err)
	}
	s, err := flight.NewSurface(flight.Around(response.Launch(r.Centre)), flight.Env{})
	if err != nil {
		t.Fatal(err)
	}
	cfg := Config{PerDraw: 6, Seed: 1, Doubt: [3][3]float64{{1e-9}}}
	noise, _ := r.Noise(cfg.PerDraw, cfg.Seed)
	worstMean, worstRMS := 0.0, 0.0
	Each(r, s, settings, in.Changes, cfg, func(j int, o *Outcome) {
		var mean, sq [2]float64
		for d := range o.Draws {
			for b := range o.PerDraw {
				at := d*o.PerDraw + b
				y := [response.K]float64(o.Launch[d*response.K : (d+1)*response.K])
				ball := noise[at]
				ball[4] *= tilting(r.Mean(d, in.Reference, make([]float64, o.Draws*response.K))[3], y[3])
				g := s.At(response.Launch(launchOf(&y, &ball)))
				n := float64(len(o.Balls))
				for i, e := range []float64{o.Balls[at].RestX - g.RestX, o.Balls[at].RestZ - g.RestZ} {
					mean[i] += e / n
					sq[i] += e * e / n
				}
			}
		}
		for i := range mean {
			worstMean = math.Max(worstMean, math.Abs(mean[i]))
			worstRMS = math.Max(worstRMS, math.Sqrt(sq[i]))
		}
	})
	t.Logf("largest mean error %.3f m, largest rms error of a ball %.3f m", worstMean, worstRMS)
	if worstMean > .1 || worstRMS > .6 {
		t.Errorf("mean error %.3f m, rms %.3f m; want at most .1 and .6", worstMean, worstRMS)
	}
}

// The same swing at more loft puts more backspin and the same sidespin on the
// ball: package impact's strike, face 3 degrees open, tilts it less in
// proportion to its spin within 3 %.
func TestTiltingFollowsTheStrike(t *testing.T) {
	p := impact.DefaultParams(club.Head{Kind: club.Driver, Loft: 10.5 * units.Degree, Mass: .2})
	strike := func(loft, face float64) flight.Launch {
		l, err := impact.Strike(impact.Delivery{ClubSpeed: 43, DynamicLoft: loft * units.Degree, Face: face * units.Degree}, p)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	for _, loft := range []float64{12, 14, 18} {
		a, b := strike(15, 3), strike(loft, 3)
		if want := b.Axis / a.Axis; math.Abs(tilting(a.Spin, b.Spin)/want-1) > .03 {
			t.Errorf("loft %g: tilts by %.3f, the strike by %.3f", loft, tilting(a.Spin, b.Spin), want)
		}
	}
}
