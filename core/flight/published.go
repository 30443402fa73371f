package flight

import (
	"math"
	"sort"
	"strings"
)

// Published lists the aerodynamic models of the literature, the default first.
// They disagree on the sign of carry against spin (`ferrule fly -cases` prints
// it): whoever ranks launches by one of them alone ranks by the choice.
var Published = []Aero{Compromise{}, PointsBall{}, tunnel94{}, hexagonal76{}, jet04{}, stillAir18{}, indoor98{}}

// ByKey finds a published model by its key in any case, false if there is none.
func ByKey(key string) (Aero, bool) {
	for _, a := range Published {
		if strings.EqualFold(a.Facts().Key, key) {
			return a, true
		}
	}
	return nil, false
}

func held(x, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, x)) }

// fading is what a fit's lift is multiplied with below the least spin parameter
// that it has data for: in proportion to spin, so that no ball lifts without.
func fading(s, least float64) float64 { return math.Min(1, s/least) }

// tunnel94 is a wind tunnel's fit [SS94], held to its driver range.
type tunnel94 struct{}

func (tunnel94) Facts() Facts {
	return Facts{"SS94", "Smits, Smith 1994, wind tunnel", Range{.7, 2.1, .08, .2}}
}

func (tunnel94) Coefficients(r, s float64) (cd, cl float64) {
	r, f := held(r, .7, 2.1), fading(s, .08)
	s = held(s, .08, .2)
	return .24 + .18*s + .06*math.Sin(math.Pi*(r-.9)/2), .54 * math.Pow(s, .4) * f
}

// jet04 is a wind tunnel's fit without dependence on the Reynolds number [NMS04].
type jet04 struct{}

func (jet04) Facts() Facts {
	return Facts{"NMS04", "Naruo, Mizota, Shimozono 2004, wind tunnel", Range{.709, 1.25, .03, 1.13}}
}

func (jet04) Coefficients(_, s float64) (cd, cl float64) {
	f := fading(s, .03)
	s = held(s, .03, 1.13)
	return .2049 + s*(.2148+s*(1.098+s*(-1.760+s*.7510))), (.0616 + s*(1.250+s*(-1.644+s*(1.006-s*.2158)))) * f
}

// stillAir18 is one of 13 balls shot through still air [LKS18].
type stillAir18 struct{}

func (stillAir18) Facts() Facts {
	return Facts{"LKS18", "Lyu, Kensrud, Smith, Tosaya 2018, one of 13 balls in still air", Range{.5, 2.2, .04, .31}}
}

func (stillAir18) Coefficients(r, s float64) (cd, cl float64) {
	f := fading(s, .04)
	r, s = held(r, .5, 2.2), held(s, .04, .31)
	if r > 1 {
		cd = .191*r*r - .540*r + .56
	} else {
		cd = 1.29*r*r - 2.59*r + 1.50
	}
	return cd, s * (1.99 - 3.25*s) * f
}

// indoor98 is the example regression of the standards body's indoor range [ITR98].
type indoor98 struct{}

func (indoor98) Facts() Facts {
	return Facts{"ITR98", "US 6,186,002 B1, example ball of an indoor range", Range{.81, 2, .044, .218}}
}

func (indoor98) Coefficients(r, s float64) (cd, cl float64) {
	f := fading(s, .044)
	r, s = held(r, .81, 2), held(s, .044, .218)
	return .2028 + s*(-.2159+s*2.8466) + .0165*r, (.0860 + s*(.6463+s*1.4789) - .0122/(r*r)) * f
}

// hexagonal76 is a wind tunnel's table [BH76] for a ball with hexagonal
// dimples, by speed and spin of its 41 mm ball at a viscosity of 1.5e-5 m²/s.
type hexagonal76 struct{}

// The ball and the air of the table.
const (
	tableDiameter  = .041   // [m] as in the file that the table was read from
	tableViscosity = 1.5e-5 // [m^2/s] as in that file
)

func (hexagonal76) Facts() Facts {
	per := tableDiameter / tableViscosity * 1e-5
	return Facts{"BH76", "Bearman, Harvey 1976, wind tunnel, hexagonal dimples", Range{tableSpeeds[0] * per, tableSpeeds[len(tableSpeeds)-1] * per, .05, .9}}
}

func (hexagonal76) Coefficients(r, s float64) (cd, cl float64) {
	v := held(r*1e5*tableViscosity/tableDiameter, tableSpeeds[0], tableSpeeds[len(tableSpeeds)-1])
	rpm := s * v * 2 / tableDiameter * 30 / math.Pi
	i := max(1, min(sort.SearchFloat64s(tableSpeeds[:], v), len(tableSpeeds)-1))
	a := (v - tableSpeeds[i-1]) / (tableSpeeds[i] - tableSpeeds[i-1])
	row := held((rpm-2000)/200, 0, 20)
	j := min(int(row), 19)
	b := row - float64(j)
	at := func(t *[21][10]float64) float64 {
		return (1-b)*((1-a)*t[j][i-1]+a*t[j][i]) + b*((1-a)*t[j+1][i-1]+a*t[j+1][i])
	}
	return at(&tableDrag), at(&tableLift) * math.Min(1, rpm/2000)
}
