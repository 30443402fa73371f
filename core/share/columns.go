package share

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// column is one quantity and the steps to which a link rounds it.
//
// The fine step is what devices print, so that nothing is lost. The coarse one
// is about what devices can tell apart, and a tenth or less of the spread
// between shots: rounding to it adds less than a thousandth to any variance.
// A link is fine where that leaves it short, see Encode.
type column struct {
	quantity     shot.Quantity
	fine, coarse float64 // [SI]
	usual        float64 // [SI] near the middle of a usual session: only makes links shorter
}

const (
	mph = units.MPH
	deg = units.Degree
	rpm = units.RPM
	yd  = units.Yard
	mm  = units.Millimetre
)

// columns1 is the order of quantities in version 1: causes before effects, so
// that a column can be foretold by those before it. It is never changed.
var columns1 = []column{
	{shot.ClubSpeed, .1 * mph, .2 * mph, 96 * mph}, {shot.BallSpeed, .1 * mph, .2 * mph, 138 * mph}, {shot.Smash, .01, .01, 1.44},
	{shot.Attack, .1 * deg, .25 * deg, 0}, {shot.DynamicLoft, .1 * deg, .2 * deg, 15 * deg}, {shot.SpinLoft, .1 * deg, .2 * deg, 15 * deg},
	{shot.Launch, .1 * deg, .2 * deg, 13 * deg},
	{shot.Path, .1 * deg, .25 * deg, 0}, {shot.Face, .1 * deg, .25 * deg, 0}, {shot.FaceToPath, .1 * deg, .25 * deg, 0},
	{shot.LaunchDirection, .1 * deg, .2 * deg, 0},
	{shot.Spin, 1 * rpm, 25 * rpm, 2800 * rpm}, {shot.SpinAxis, .1 * deg, .5 * deg, 2.5 * deg},
	{shot.Backspin, 1 * rpm, 25 * rpm, 2800 * rpm}, {shot.Sidespin, 1 * rpm, 25 * rpm, 0},
	{shot.Carry, .1 * yd, .5 * yd, 215 * yd}, {shot.Total, .1 * yd, .5 * yd, 235 * yd}, {shot.Roll, .1 * yd, .5 * yd, 22 * yd},
	{shot.Offline, .1 * yd, 1 * yd, 0}, {shot.OfflineTotal, .1 * yd, 1 * yd, 0}, {shot.OfflineAngle, .1 * deg, .25 * deg, 0}, {shot.Curve, .1 * yd, 1 * yd, 0},
	{shot.Apex, .1 * units.Foot, 1 * units.Foot, 84 * units.Foot}, {shot.Descent, .1 * deg, .25 * deg, 37 * deg}, {shot.FlightTime, .01, .05, 6.1},
	{shot.StrikeToe, .1 * mm, mm, 0}, {shot.StrikeHigh, .1 * mm, mm, 0},
}

// step is the step of a column in a link, and its usual number in such steps.
func (f *flow) step(c column) (step float64, usual int64) {
	if step = c.coarse; f.fine {
		step = c.fine
	}
	return step, int64(math.Round(c.usual / step))
}

// A column's numbers are foretold from up to maxCauses columns before it,
//
//	foretold_i = base + (sum_c slope_c (x_ci - base_c)) >> slopeBits
//
// in whole numbers, so that every machine reads the same. What is written is
// the rest: its bin by a range coder that knows how often each bin comes
// (shapes), and its place in the bin. That is within a few hundredths of a bit
// of what bell-shaped numbers must take; fixed widths take half a bit more and
// a single mis-hit makes them wider for all.
const (
	maxCauses = 3
	usualBin  = 8 // of binWidths
	slopeBits = 7
	maxSlope  = 1 << 20
	maxValue  = 1 << 36 // [steps]
)

// packed is one column in whole steps.
type packed struct {
	there []bool
	v     []int64 // [steps]
	base  int64
}

// cause is an earlier column and by how much it foretells.
type cause struct {
	of    *packed
	at    int // number among the columns before
	slope int64
}

func (p *packed) rest(i int, causes []cause) int64 {
	sum := int64(0)
	for _, c := range causes {
		if c.of.there[i] {
			sum += c.slope * (c.of.v[i] - c.of.base)
		}
	}
	return p.base + sum>>slopeBits
}

func (f *flow) columns(shots []shot.Shot) {
	var before []*packed
	for _, c := range columns1 {
		some := false
		for _, s := range shots {
			_, ok := s.Values[c.quantity]
			some = some || ok
		}
		if f.bool(&some); !some {
			continue
		}
		p := &packed{there: make([]bool, len(shots)), v: make([]int64, len(shots))}
		for i, s := range shots {
			_, p.there[i] = s.Values[c.quantity]
		}
		f.flags(len(shots), p.there)
		f.assumed(shots, p.there, c.quantity)
		if f.w != nil {
			f.err = cmp.Or(f.err, f.writeColumn(p, before, shots, c))
		} else {
			f.readColumn(p, before, shots, c)
		}
		if f.err != nil || f.r != nil && f.r.err != nil {
			return
		}
		before = append(before, p)
	}
}

// assumed says which numbers of a column the device estimated.
func (f *flow) assumed(shots []shot.Shot, there []bool, q shot.Quantity) {
	var at []int
	var is []bool
	any := false
	for i, s := range shots {
		if there[i] {
			at, is = append(at, i), append(is, isAssumed(s, q))
			any = any || is[len(is)-1]
		}
	}
	if f.bool(&any); !any {
		return
	}
	f.flags(len(is), is)
	for j, i := range at {
		if is[j] && f.r != nil {
			shots[i].Assumed = append(shots[i].Assumed, q)
		}
	}
}

func isAssumed(s shot.Shot, q shot.Quantity) bool {
	return slices.Contains(s.Assumed, q)
}

func (f *flow) writeColumn(p *packed, before []*packed, shots []shot.Shot, c column) error {
	step, usual := f.step(c)
	var sorted []int64
	for i, s := range shots {
		if !p.there[i] {
			continue
		}
		q := math.Round(s.Values[c.quantity] / step)
		if math.IsNaN(q) || math.Abs(q) > maxValue {
			return fmt.Errorf("share: shot %d: %s of %g can't be written", i+1, c.quantity, s.Values[c.quantity])
		}
		p.v[i] = int64(q)
		sorted = append(sorted, p.v[i])
	}
	sort.Slice(sorted, func(a, b int) bool { return sorted[a] < sorted[b] })
	p.base = sorted[len(sorted)/2]
	var causes []cause
	cost := p.cost(nil, len(before))
	for len(causes) < maxCauses {
		best, bestCost := []cause(nil), cost
		for at, of := range before {
			try := p.fit(causes, cause{of: of, at: at})
			if try == nil {
				continue
			}
			if k := p.cost(try, len(before)); k < bestCost {
				best, bestCost = try, k
			}
		}
		if best == nil {
			break
		}
		causes, cost = best, bestCost
	}
	out{f.w}.signed(p.base-usual, 3)
	f.w.put(uint64(len(causes)), 2)
	for _, k := range causes {
		f.w.put(uint64(k.at), width(len(before)))
		out{f.w}.signed(k.slope, 5)
	}
	shape, bin, _ := p.code(causes)
	f.w.put(uint64(shape), 3)
	out{f.w}.signed(int64(bin-usualBin), 2)
	for i := range p.v {
		if p.there[i] {
			f.w.rest(p.v[i]-p.rest(i, causes), shape, binWidths[bin])
		}
	}
	return nil
}

func (f *flow) readColumn(p *packed, before []*packed, shots []shot.Shot, c column) {
	r := f.r
	step, usual := f.step(c)
	p.base = usual + in{r}.signed(3)
	causes := make([]cause, r.get(2))
	for j := range causes {
		at := int(r.get(width(len(before))))
		slope := in{r}.signed(5)
		if at >= len(before) || slope > maxSlope || slope < -maxSlope {
			r.fail("column %d foretold by %d", len(before), at)
			return
		}
		causes[j] = cause{before[at], at, slope}
	}
	shape, bin := int(r.get(3)), usualBin+int(in{r}.signed(2))
	if shape >= len(shapes) || bin < 0 || bin >= len(binWidths) || r.err != nil {
		r.fail("shape %d", shape)
		return
	}
	for i := range p.v {
		if !p.there[i] {
			continue
		}
		rest, ok := r.rest(shape, binWidths[bin])
		if p.v[i] = rest + p.rest(i, causes); !ok || p.v[i] > maxValue || p.v[i] < -maxValue || r.over > spare {
			r.fail("a number of shot %d", i+1)
			return
		}
		shots[i].Values[c.quantity] = float64(p.v[i]) * step
	}
}

// width is how many bits tell n things apart.
func width(n int) int {
	b := 0
	for 1<<b < n {
		b++
	}
	return b
}

// code finds the shape and the bin width that make the rests shortest, and
// how long they are [bits].
func (p *packed) code(causes []cause) (shape, bin int, size float64) {
	var rests []int64
	for i := range p.v {
		if p.there[i] {
			rests = append(rests, p.v[i]-p.rest(i, causes))
		}
	}
	size = math.Inf(1)
	for b, w := range binWidths {
		grew := true
		for s := range shapes {
			sum := float64(len(rests)) * math.Log2(float64(w))
			for _, v := range rests {
				n, _ := binOf(v, w)
				_, share := partOf(&shapes[s], n)
				sum += 12 - math.Log2(float64(share))
				if n > sideBins || n < -sideBins {
					sum += float64(1 + golombBits(uint64(max(n, -n)-sideBins-1), 1))
				}
			}
			if sum < size {
				shape, bin, size, grew = s, b, sum, false
			}
		}
		if grew && b > bin+8 { // bins twice and more as wide as the best so far
			break
		}
	}
	return shape, bin, size
}

// cost is about the length [bits] of the column foretold so: the size of each
// rest stands for its code, which would take long to work out for every choice.
func (p *packed) cost(causes []cause, before int) float64 {
	n := 0.0
	for i := range p.v {
		if p.there[i] {
			v := p.v[i] - p.rest(i, causes)
			n += logOf[min(max(v, -v), int64(len(logOf)-1))]
		}
	}
	for _, c := range causes {
		n += float64(width(before) + golombBits(zigzag(c.slope), 5))
	}
	return n
}

// logOf holds log2(1 + v) of small v.
var logOf = func() (l [1024]float64) {
	for i := range l {
		l[i] = math.Log2(1 + float64(i))
	}
	return l
}()

// fit adds one cause and finds all slopes by least squares; nil when they
// can't be told apart.
func (p *packed) fit(have []cause, add cause) []cause {
	for _, c := range have {
		if c.at == add.at {
			return nil
		}
	}
	causes := append(append([]cause(nil), have...), add)
	n := len(causes)
	a := make([][]float64, n)
	for j := range a {
		a[j] = make([]float64, n+1)
		a[j][j] = 1e-6
	}
	value := func(c cause, i int) float64 {
		if !c.of.there[i] {
			return 0
		}
		return float64(c.of.v[i] - c.of.base)
	}
	for i := range p.v {
		if !p.there[i] {
			continue
		}
		y := float64(p.v[i] - p.base)
		for j, cj := range causes {
			xj := value(cj, i)
			for k, ck := range causes {
				a[j][k] += xj * value(ck, i)
			}
			a[j][n] += xj * y
		}
	}
	for j := range a { // elimination with a pivot that is positive for a Gram matrix
		if a[j][j] < 1e-9 {
			return nil
		}
		for k := range a {
			if k != j {
				m := a[k][j] / a[j][j]
				for c := j; c <= n; c++ {
					a[k][c] -= m * a[j][c]
				}
			}
		}
	}
	for j := range causes {
		slope := math.Round(a[j][n] / a[j][j] * (1 << slopeBits))
		if math.IsNaN(slope) || math.Abs(slope) > maxSlope {
			return nil
		}
		causes[j].slope = int64(slope)
	}
	return causes
}
