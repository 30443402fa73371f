package score

import (
	"math"

	"ferrule/core/units"
)

// Lie is where a ball lies after the drive.
type Lie uint8

// The lies of the published baseline.
const (
	Tee Lie = iota
	Fairway
	Rough
	Sand
	Recovery // blocked by trees: out sideways first
	lies
)

// Baseline is average strokes to finish a hole from a distance and a lie.
//
// The table is Broadie 2012 (key Broadie2012 in core/REFERENCES.md), Appendix
// Table 9: men of the US professional tour, 2003-2010. Status of every column:
// verified second-hand (public transcriptions that name the table agree; the
// paper's own table was not opened).
//
// For another level every value is multiplied by Scale: see scaleFor.
type Baseline struct {
	Scale float64 // [1] 1 = the tour's table as printed
}

// scaleFor returns the factor for a handicap, 1 when it is nil: 1 + h/72.
//
// Status: an assumption of this program, without a source of its own. A
// handicap is by definition strokes above a scratch score on a par of about
// 72; they are shared here in proportion to the strokes still to go. The
// yardage ratings of courses (scratch yd/220 + 40.9, bogey yd/160 + 50.7, from
// memory) put a 20-handicapper at 1.30 times scratch on a 400-yd hole where
// the formula gives 1.28. Handicaps below zero count as zero.
func scaleFor(handicap *float64) float64 {
	if handicap == nil || *handicap <= 0 {
		return 1
	}
	return 1 + *handicap/72
}

// At returns the strokes to finish from distance d [m] in lie l, by linear
// interpolation in the table. Outside the table the nearest cell is used: no
// extrapolation. NaN distance gives NaN.
func (b Baseline) At(l Lie, d float64) float64 {
	yd := d / units.Yard
	lo := 0
	if l == Tee {
		lo = 9 // the tee is tabulated from 100 yd
	}
	var i int
	var t float64
	switch {
	case yd <= first || l == Tee && yd <= 100:
		i, t = lo, 0
	case yd < 100:
		f := (yd - first) / 10
		i = int(f)
		t = f - float64(i)
	case yd < last:
		f := (yd - 100) / 20
		i = int(f)
		t = f - float64(i)
		i += 9
	case math.IsNaN(yd):
		return yd
	default:
		i, t = len(table)-2, 1
	}
	return b.Scale * (table[i][l] + t*(table[i+1][l]-table[i][l]))
}

const (
	first = 10.0  // [yd] of the first row
	last  = 600.0 // [yd] of the last row
)

// table holds strokes by row of distance (10, 20, ..., 100, 120, ..., 600 yd)
// and lie. Tee below 100 yd is not published and never read.
var table = [35][lies]float64{
	{0, 2.18, 2.34, 2.43, 3.45},    // 10 yd
	{0, 2.40, 2.59, 2.53, 3.51},    // 20 yd
	{0, 2.52, 2.70, 2.66, 3.57},    // 30 yd
	{0, 2.60, 2.78, 2.82, 3.71},    // 40 yd
	{0, 2.66, 2.87, 2.92, 3.79},    // 50 yd
	{0, 2.70, 2.91, 3.15, 3.83},    // 60 yd
	{0, 2.72, 2.93, 3.21, 3.84},    // 70 yd
	{0, 2.75, 2.96, 3.24, 3.84},    // 80 yd
	{0, 2.77, 2.99, 3.24, 3.82},    // 90 yd
	{2.92, 2.80, 3.02, 3.23, 3.80}, // 100 yd
	{2.99, 2.85, 3.08, 3.21, 3.78}, // 120 yd
	{2.97, 2.91, 3.15, 3.22, 3.80}, // 140 yd
	{2.99, 2.98, 3.23, 3.28, 3.81}, // 160 yd
	{3.05, 3.08, 3.31, 3.40, 3.82}, // 180 yd
	{3.12, 3.19, 3.42, 3.55, 3.87}, // 200 yd
	{3.17, 3.32, 3.53, 3.70, 3.92}, // 220 yd
	{3.25, 3.45, 3.64, 3.84, 3.97}, // 240 yd
	{3.45, 3.58, 3.74, 3.93, 4.03}, // 260 yd
	{3.65, 3.69, 3.83, 4.00, 4.10}, // 280 yd
	{3.71, 3.78, 3.90, 4.04, 4.20}, // 300 yd
	{3.79, 3.84, 3.95, 4.12, 4.31}, // 320 yd
	{3.86, 3.88, 4.02, 4.26, 4.44}, // 340 yd
	{3.92, 3.95, 4.11, 4.41, 4.56}, // 360 yd
	{3.96, 4.03, 4.21, 4.55, 4.66}, // 380 yd
	{3.99, 4.11, 4.30, 4.69, 4.75}, // 400 yd
	{4.02, 4.19, 4.40, 4.83, 4.84}, // 420 yd
	{4.08, 4.27, 4.49, 4.97, 4.94}, // 440 yd
	{4.17, 4.34, 4.58, 5.11, 5.03}, // 460 yd
	{4.28, 4.42, 4.68, 5.25, 5.13}, // 480 yd
	{4.41, 4.50, 4.77, 5.40, 5.22}, // 500 yd
	{4.54, 4.58, 4.87, 5.54, 5.32}, // 520 yd
	{4.65, 4.66, 4.96, 5.68, 5.41}, // 540 yd
	{4.74, 4.74, 5.06, 5.82, 5.51}, // 560 yd
	{4.79, 4.82, 5.15, 5.96, 5.60}, // 580 yd
	{4.82, 4.89, 5.25, 6.10, 5.70}, // 600 yd
}
