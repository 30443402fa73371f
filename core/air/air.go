// Package air is the air that a ball flies through: its density and viscosity
// from temperature, pressure and humidity, its pressure with altitude, and its
// wind with height.
//
// Main type: Air. Sources stand in core/REFERENCES.md under the keys named.
//
// Begin with From and its example.
package air

import (
	"math"

	"ferrule/core/message"
	"ferrule/core/units"
)

// Reference states.
const (
	SeaLevel        = 101325.0             // [Pa] standard pressure at sea level [ISO2533]
	roomTemperature = 20 + units.ZeroC     // [K] taken when a session states none
	halfHumid       = 0.5                  // [1] taken when a session states none
	Density0        = 1.225                // [kg/m^3] standard air at sea level [ISO2533]
	roughness       = 0.03                 // [m] short grass; from memory
	windHeight      = 10.0                 // [m] where a wind is stated
	scaleTempISA    = 288.15               // [K] standard temperature at sea level [ISO2533]
	lapseISA        = 0.0065               // [K/m] [ISO2533]
	exponentISA     = 5.25588              // [1] g M/(R L) [ISO2533]
	sutherlandB     = 1.458e-6             // [kg/(m s K^.5)] [USSA1976]
	sutherlandS     = 110.4                // [K] [USSA1976]
	lnRoughness     = -3.506557897319982   // ln(roughness)
	tenMetreProfile = 5.809142990314027578 // ln(windHeight/roughness)
)

// Limits of what a person may state: beyond them nobody plays.
const (
	MaxWind                  = 30           // [m/s]
	MinAltitude, MaxAltitude = -500, 5000.0 // [m]
)

// Air is the state of the air and the wind in it.
type Air struct {
	Temperature float64 // [K]
	Pressure    float64 // [Pa] at the place, not reduced to sea level
	Humidity    float64 // [1] relative, 0..1
	Wind        float64 // [m/s] at 10 m above the ground
	WindFrom    float64 // [rad] where it comes from: 0 = head wind, +90 deg = from the right
}

// Standard is the air of a comparison: 20 degC, 1013.25 hPa, 50 %, still.
func Standard() Air {
	return Air{Temperature: roomTemperature, Pressure: SeaLevel, Humidity: halfHumid}
}

// AtAltitude is the pressure [Pa] at altitude h [m] above the sea in the
// standard atmosphere,
//
//	p = 101325 (1 - 0.0065 h / 288.15)^5.25588
//
// [ISO2533], for -5000 < h < 11000; outside it the nearest end is taken.
func AtAltitude(h float64) (pressure float64) {
	h = math.Max(-5000, math.Min(11000, h))
	return SeaLevel * math.Pow(1-lapseISA*h/scaleTempISA, exponentISA)
}

// AltitudeOf is the inverse of AtAltitude: the altitude [m] that has this
// pressure [Pa] in the standard atmosphere.
func AltitudeOf(pressure float64) (h float64) {
	return scaleTempISA / lapseISA * (1 - math.Pow(pressure/SeaLevel, 1/exponentISA))
}

// From builds the air of a session; nil means not stated: 20 degC, half humid,
// the pressure of the altitude, sea level. A stated pressure wins over the
// altitude. The error names the quantity, what was read and what is expected.
func From(temperature, pressure, humidity, altitude *float64, wind, windFrom float64) (Air, error) {
	a := Standard()
	if altitude != nil {
		if !(*altitude >= MinAltitude && *altitude <= MaxAltitude) {
			return Air{}, message.Outside("role.altitude", *altitude, MinAltitude, MaxAltitude, "m")
		}
		a.Pressure = AtAltitude(*altitude)
	}
	if temperature != nil {
		a.Temperature = *temperature
	}
	if pressure != nil {
		a.Pressure = *pressure
	}
	if humidity != nil {
		a.Humidity = *humidity
	}
	a.Wind, a.WindFrom = wind, windFrom
	return a, a.Validate()
}

// Validate reports the first quantity that no golfer can stand in: temperature
// outside -40..60 degC, pressure outside 450..1100 hPa, humidity outside 0..1,
// wind outside 0..30 m/s, or a number that is not finite.
func (a Air) Validate() error {
	switch {
	case !(a.Temperature >= units.ZeroC-40 && a.Temperature <= units.ZeroC+60):
		return message.Outside("role.temperature", a.Temperature-units.ZeroC, -40, 60, "°C")
	case !(a.Pressure >= 45000 && a.Pressure <= 110000):
		return message.Outside("role.pressure", a.Pressure/units.HPa, 450, 1100, "hPa")
	case !(a.Humidity >= 0 && a.Humidity <= 1):
		return message.Outside("role.humidity", 100*a.Humidity, 0, 100, "%")
	case !(a.Wind >= 0 && a.Wind <= MaxWind):
		return message.Outside("role.wind", a.Wind, 0, MaxWind, "m/s")
	case math.IsNaN(a.WindFrom) || math.Abs(a.WindFrom) > 4*math.Pi:
		return message.Outside("role.wind-from", a.WindFrom/units.Degree, -360, 360, "°")
	}
	return nil
}

// Density of moist air [kg/m^3],
//
//	rho = (0.34848 p - 0.009 h exp(0.061 t)) / (273.15 + t),
//
// p in hPa, h in %, t in degC: the short form that goes with [CIPM2007]; the
// short form itself is from memory, and within a thousandth of the IAPWS
// equations from 0 to 35 degC (TestMoistAir).
func (a Air) Density() float64 {
	t := a.Temperature - units.ZeroC
	return (0.34848*a.Pressure/units.HPa - 0.009*100*a.Humidity*math.Exp(0.061*t)) / a.Temperature
}

// Viscosity is the dynamic viscosity of air [Pa s], Sutherland's formula
// mu = 1.458e-6 T^1.5 / (T + 110.4), the standard atmosphere's [USSA1976].
func (a Air) Viscosity() float64 {
	return sutherlandB * a.Temperature * math.Sqrt(a.Temperature) / (a.Temperature + sutherlandS)
}

// Still reports whether there is no wind.
func (a Air) Still() bool { return a.Wind == 0 }

// Profile is the wind at height y [m] above the tee as a share of the wind at
// 10 m: the log law over short grass
//
//	ln(h/z0) / ln(10/z0),  h = sqrt(y^2 + 1),  z0 = 0.03 m (from memory)
//
// The rounded height keeps the gradient finite at the ground, where the raw
// log law would cost the integrator its accuracy.
func Profile(y float64) float64 {
	return (0.5*math.Log(y*y+1) - lnRoughness) / tenMetreProfile
}

// WindVector is the wind at 10 m as the velocity of the air along the axes of
// package frame: x down the line, z to the right [m/s].
func (a Air) WindVector() (x, z float64) {
	s, c := math.Sincos(a.WindFrom)
	return -a.Wind * c, -a.Wind * s
}
