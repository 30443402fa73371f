// Package units converts between the SI numbers used inside core and the
// units of the trade, and reads and writes numbers for people.
//
// Core computes in metres, seconds, kilograms, radians, kelvins and pascals.
// Nothing else in the program multiplies by 0.9144: a value enters through
// Unit.SI and leaves through Unit.From or a System.
//
// Begin with System.Unit and its example.
package units

import "math"

// Factors from a unit to SI: v[SI] = v[unit] * factor. Exact by definition
// (international yard and pound agreement of 1959) unless said otherwise.
const (
	Inch       = 0.0254           // [m]
	Foot       = 0.3048           // [m]
	Yard       = 0.9144           // [m]
	Millimetre = 1e-3             // [m]
	MPH        = 0.44704          // [m/s]
	KMH        = 1 / 3.6          // [m/s]
	FPS        = 0.3048           // [m/s]
	Degree     = math.Pi / 180    // [rad]
	RPM        = 2 * math.Pi / 60 // [rad/s]
	Gram       = 1e-3             // [kg]
	Ounce      = 0.028349523125   // [kg]
	HPa        = 100.0            // [Pa]
	InHg       = 3386.389         // [Pa] conventional, at 0 degC
	ZeroC      = 273.15           // [K]
)

// Dimension is what kind of quantity a number is.
type Dimension uint8

// The dimensions that a shot, a club or the air needs.
const (
	None        Dimension = iota // a ratio or a count
	Length                       // [m] along the ground: carry, offline
	Height                       // [m] above the ground: apex
	Small                        // [m] on the club: strike place, weight position
	Speed                        // [m/s]
	Angle                        // [rad]
	Spin                         // [rad/s]
	Time                         // [s]
	Mass                         // [kg]
	Temperature                  // [K]
	Pressure                     // [Pa]
)

// Unit is one unit of a dimension: v[SI] = v*Scale + Offset.
type Unit struct {
	Symbol string    // as printed: "yd"
	Name   string    // as in keys of JSON: "yd", "mps"
	Dim    Dimension // what it measures
	Scale  float64   // [SI per unit]
	Offset float64   // [SI]
}

// SI turns a number in unit u into SI.
func (u Unit) SI(v float64) float64 { return v*u.Scale + u.Offset }

// From turns an SI number into unit u.
func (u Unit) From(si float64) float64 { return (si - u.Offset) / u.Scale }

// The units that the program shows or reads.
var (
	UnitOne  = Unit{"", "", None, 1, 0}
	UnitM    = Unit{"m", "m", Length, 1, 0}
	UnitYd   = Unit{"yd", "yd", Length, Yard, 0}
	UnitFt   = Unit{"ft", "ft", Length, Foot, 0}
	UnitIn   = Unit{"in", "in", Small, Inch, 0}
	UnitMm   = Unit{"mm", "mm", Small, Millimetre, 0}
	UnitMPS  = Unit{"m/s", "mps", Speed, 1, 0}
	UnitMPH  = Unit{"mph", "mph", Speed, MPH, 0}
	UnitKMH  = Unit{"km/h", "kmh", Speed, KMH, 0}
	UnitFPS  = Unit{"ft/s", "fps", Speed, FPS, 0}
	UnitRad  = Unit{"rad", "rad", Angle, 1, 0}
	UnitDeg  = Unit{"°", "deg", Angle, Degree, 0}
	UnitRPM  = Unit{"rpm", "rpm", Spin, RPM, 0}
	UnitRadS = Unit{"rad/s", "radps", Spin, 1, 0}
	UnitSec  = Unit{"s", "s", Time, 1, 0}
	UnitG    = Unit{"g", "g", Mass, Gram, 0}
	UnitC    = Unit{"°C", "c", Temperature, 1, ZeroC}
	UnitF    = Unit{"°F", "f", Temperature, 5.0 / 9.0, ZeroC - 32*5.0/9.0}
	UnitK    = Unit{"K", "k", Temperature, 1, 0}
	UnitHPa  = Unit{"hPa", "hpa", Pressure, HPa, 0}
	UnitInHg = Unit{"inHg", "inhg", Pressure, InHg, 0}
)

// SI returns the SI unit of a dimension, whose Name is the suffix of JSON keys.
func (d Dimension) SI() Unit {
	switch d {
	case Length, Height, Small:
		return UnitM
	case Speed:
		return UnitMPS
	case Angle:
		return UnitRad
	case Spin:
		return UnitRadS
	case Time:
		return UnitSec
	case Mass:
		return Unit{"kg", "kg", Mass, 1, 0}
	case Temperature:
		return UnitK
	case Pressure:
		return Unit{"Pa", "pa", Pressure, 1, 0}
	}
	return UnitOne
}

// System is a player's choice of units.
type System string

// The systems offered. Each is what a region's ranges print.
const (
	Imperial  System = "imperial"   // yd, ft, mph, degF
	Metric    System = "metric"     // m, m, km/h, degC
	MetricMPS System = "metric-mps" // m, m, m/s, degC
)

// Unit returns the unit in which system s shows dimension d.
func (s System) Unit(d Dimension) Unit {
	imperial := s != Metric && s != MetricMPS
	switch d {
	case Length:
		if imperial {
			return UnitYd
		}
		return UnitM
	case Height:
		if imperial {
			return UnitFt
		}
		return UnitM
	case Small:
		return UnitMm
	case Speed:
		switch s {
		case Metric:
			return UnitKMH
		case MetricMPS:
			return UnitMPS
		}
		return UnitMPH
	case Angle:
		return UnitDeg
	case Spin:
		return UnitRPM
	case Time:
		return UnitSec
	case Mass:
		return UnitG
	case Temperature:
		if imperial {
			return UnitF
		}
		return UnitC
	case Pressure:
		if imperial {
			return UnitInHg
		}
		return UnitHPa
	}
	return UnitOne
}
