package shotfile

import (
	"fmt"
	"math"
	"sort"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// audit compares the columns with one another by the physics of the shots:
// false units first, then signs.
func (r *reader) audit() {
	r.auditUnits()
	r.auditSigns()
}

func (r *reader) columnOf(q shot.Quantity) *column {
	for i := range r.cols {
		if r.cols[i].quantity == q {
			return &r.cols[i]
		}
	}
	return nil
}

// blocks splits the shots where the session named in the file changes.
func (r *reader) blocks() [][]int {
	var out [][]int
	last := "\x00"
	for i, s := range r.table.Shots {
		if s.Session != last {
			out = append(out, nil)
			last = s.Session
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

func median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[len(s)/2]
}

// auditUnits finds columns whose stated unit the other columns contradict,
// block by block: carry in metres runs about 4 times ball speed in m/s minus
// 60 (drives of 45 to 75 m/s, common practice), so a carry or speed off by the
// ratio of two units shows.
func (r *reader) auditUnits() {
	swaps := []struct {
		q         shot.Quantity
		is, reads units.Unit
	}{
		{shot.BallSpeed, units.UnitKMH, units.UnitMPH}, {shot.BallSpeed, units.UnitMPS, units.UnitMPH}, {shot.BallSpeed, units.UnitMPH, units.UnitKMH},
		{shot.BallSpeed, units.UnitMPH, units.UnitMPS}, {shot.BallSpeed, units.UnitKMH, units.UnitMPS}, {shot.BallSpeed, units.UnitMPS, units.UnitKMH},
	}
	for _, block := range r.blocks() {
		var ball []float64
		for _, i := range block {
			if v, ok := r.table.Shots[i].Values[shot.BallSpeed]; ok {
				ball = append(ball, v)
			}
		}
		if len(ball) < 3 {
			continue
		}
		c := r.columnOf(shot.BallSpeed)
		m := median(ball)
		if c != nil && c.unitFrom != "correction" && (m > 88 || m < 24) { // no golfer's median drive
			for _, s := range swaps {
				if s.reads == c.unit && m/c.unit.Scale*s.is.Scale > 38 && m/c.unit.Scale*s.is.Scale < 86 {
					r.rescale(block, shot.BallSpeed, s.is.Scale/c.unit.Scale)
					r.note("lines %d to %d: ball speeds under %q are %s, not %s: a median of %.0f %s is no drive", r.table.Shots[block[0]].Line,
						r.table.Shots[block[len(block)-1]].Line, c.header, s.is.Symbol, c.unit.Symbol, c.unit.From(m), c.unit.Symbol)
					break
				}
			}
		}
		r.auditClub(block)
		r.auditCarry(block)
	}
}

// auditClub repairs club speeds by the smash factor of the block.
func (r *reader) auditClub(block []int) {
	c := r.columnOf(shot.ClubSpeed)
	if c == nil || c.unitFrom == "correction" {
		return
	}
	var smash []float64
	for _, i := range block {
		v := r.table.Shots[i].Values
		if b, ok := v[shot.BallSpeed]; ok && v[shot.ClubSpeed] > 0 {
			smash = append(smash, b/v[shot.ClubSpeed])
		}
	}
	m := median(smash)
	if len(smash) < 3 || m > 1.1 && m < 1.62 {
		return
	}
	for _, u := range candidates(units.Speed) {
		if got := m * c.unit.Scale / u.Scale; got > 1.25 && got < 1.55 {
			r.rescale(block, shot.ClubSpeed, u.Scale/c.unit.Scale)
			r.note("lines %d to %d: club speeds under %q are %s, not %s: the smash factor would be %.2f", r.table.Shots[block[0]].Line,
				r.table.Shots[block[len(block)-1]].Line, c.header, u.Symbol, c.unit.Symbol, m)
			return
		}
	}
	r.table.Ask = append(r.table.Ask, fmt.Sprintf("ball and club speed give a smash factor of %.2f; which unit is the club speed in?", m))
}

// auditCarry repairs lengths by carry against ball speed; total, offline and
// curve of the same unit go with it.
func (r *reader) auditCarry(block []int) {
	c := r.columnOf(shot.Carry)
	if c == nil || c.unitFrom == "correction" {
		return
	}
	var ratio []float64
	for _, i := range block {
		v := r.table.Shots[i].Values
		if b, ok := v[shot.BallSpeed]; ok && v[shot.Carry] > 0 && b > 40 {
			ratio = append(ratio, v[shot.Carry]/(4.05*b-57))
		}
	}
	m := median(ratio)
	if len(ratio) < 5 || m > .5 && m < 1.45 {
		return
	}
	for _, u := range candidates(units.Length) {
		if got := m * u.Scale / c.unit.Scale; got > .75 && got < 1.25 {
			for i := range r.cols {
				if o := &r.cols[i]; o.kind.Dim == units.Length && o.unit == c.unit && o.quantity != "" {
					r.rescale(block, o.quantity, u.Scale/c.unit.Scale)
				}
			}
			r.note("lines %d to %d: distances are %s, not %s: carry does not fit the ball speeds", r.table.Shots[block[0]].Line, r.table.Shots[block[len(block)-1]].Line, u.Symbol, c.unit.Symbol)
			return
		}
	}
}

func (r *reader) rescale(block []int, q shot.Quantity, by float64) {
	for _, i := range block {
		if v, ok := r.table.Shots[i].Values[q]; ok {
			r.table.Shots[i].Values[q] = v * by
		}
	}
}

// agreement counts shots in which a and b, both clear of zero, have one sign.
type agreement struct{ same, of int }

func (r *reader) agree(a, b func(shot.Values) (float64, bool), clearA, clearB float64) agreement {
	var g agreement
	for _, s := range r.table.Shots {
		x, ok1 := a(s.Values)
		y, ok2 := b(s.Values)
		if !ok1 || !ok2 || math.Abs(x) < clearA || math.Abs(y) < clearB {
			continue
		}
		g.of++
		if (x > 0) == (y > 0) {
			g.same++
		}
	}
	return g
}

func of(q shot.Quantity) func(shot.Values) (float64, bool) {
	return func(v shot.Values) (float64, bool) { return v.Get(q) }
}

// curved is how far the ball ended right of its start line.
func curved(v shot.Values) (float64, bool) {
	o, ok1 := v[shot.Offline]
	d, ok2 := v[shot.LaunchDirection]
	c, ok3 := v[shot.Carry]
	return o - c*math.Tan(d), ok1 && ok2 && ok3
}

// auditSigns turns columns whose sign the flights contradict. The anchor is
// where balls ended (Offline), because people see that; start line and axis
// are tested against it, the rest against them. A column is turned when at
// least 8 clear shots disagree by 9 to 1; in between the file is asked about.
func (r *reader) auditSigns() {
	test := func(q shot.Quantity, what string, g agreement) {
		c := r.columnOf(q)
		if c == nil || g.of < 5 {
			return
		}
		text := fmt.Sprintf("%s agrees with %s in %d of %d shots", q, what, g.same, g.of)
		switch {
		case c.unitFrom == "correction":
			return
		case g.of >= 8 && g.same*10 <= g.of:
			c.flipped = !c.flipped
			c.evidence += "; turned over: " + text
			r.note("the column %q is turned over: %s", c.header, text)
			for i := range r.table.Shots {
				if v, ok := r.table.Shots[i].Values[q]; ok {
					r.table.Shots[i].Values[q] = -v
				}
			}
		case g.same*10 >= g.of*7 || g.of < 8:
			c.evidence += "; " + text
		default:
			c.evidence += "; " + text
			r.table.Ask = append(r.table.Ask, fmt.Sprintf("%s: does a positive number in %q mean right?", text, c.header))
		}
	}
	start, off := of(shot.LaunchDirection), of(shot.Offline)
	deg := units.Degree
	// Start line against landing: curve may outweigh it on single balls, so only
	// clear starts count.
	test(shot.LaunchDirection, "where the ball landed", r.startAgreement(start, off))
	test(shot.SpinAxis, "the curve", r.agree(of(shot.SpinAxis), curved, 2*deg, 2))
	test(shot.Sidespin, "the curve", r.agree(of(shot.Sidespin), curved, 80*units.RPM, 2))
	test(shot.Curve, "landing less start line", r.agree(of(shot.Curve), curved, 1, 2))
	test(shot.OfflineTotal, "where the ball landed", r.agree(of(shot.OfflineTotal), off, 3, 3))
	test(shot.OfflineAngle, "where the ball landed", r.agree(of(shot.OfflineAngle), off, .5*deg, 2))
	if r.columnOf(shot.Offline) == nil {
		test(shot.Sidespin, "the spin axis", r.agree(of(shot.Sidespin), of(shot.SpinAxis), 80*units.RPM, 1.5*deg))
	}
	test(shot.Face, "the start line", r.agree(of(shot.Face), start, 1*deg, 1*deg))
	faceToPath := func(v shot.Values) (float64, bool) {
		f, ok1 := v[shot.Face]
		p, ok2 := v[shot.Path]
		return f - p, ok1 && ok2
	}
	if r.columnOf(shot.Path) != nil && r.columnOf(shot.Face) != nil && r.columnOf(shot.FaceToPath) != nil {
		test(shot.FaceToPath, "face less path", r.agree(of(shot.FaceToPath), faceToPath, 1*deg, 1*deg))
	}
}

// startAgreement tests the start line where the curve cannot decide: it lets
// the axis, right or wrong way round, explain the rest, and counts which sign
// of the start line leaves less unexplained.
func (r *reader) startAgreement(start, off func(shot.Values) (float64, bool)) agreement {
	var g agreement
	var xs, as, ys [][2]float64
	_ = as
	for _, s := range r.table.Shots {
		d, ok1 := start(s.Values)
		o, ok2 := off(s.Values)
		c, ok3 := s.Values[shot.Carry]
		if ok1 && ok2 && ok3 {
			xs, ys = append(xs, [2]float64{c * math.Tan(d), axisTerm(s.Values, c)}), append(ys, [2]float64{o, 0})
		}
	}
	if len(xs) < 5 {
		return r.agree(start, off, 1.5*units.Degree, 5)
	}
	// least squares o = a start + b axis; the sign of a is the sign of the column
	var sxx, saa, sxa, sxy, say float64
	for i, x := range xs {
		sxx, saa, sxa = sxx+x[0]*x[0], saa+x[1]*x[1], sxa+x[0]*x[1]
		sxy, say = sxy+x[0]*ys[i][0], say+x[1]*ys[i][0]
	}
	b := 0.0
	if det := sxx*saa - sxa*sxa; det > 1e-6*sxx*saa {
		b = (sxx*say - sxa*sxy) / det
	}
	for i, x := range xs {
		rest := ys[i][0] - b*x[1]
		if math.Abs(x[0]) < 3 || math.Abs(rest) < 3 {
			continue
		}
		g.of++
		if (rest > 0) == (x[0] > 0) {
			g.same++
		}
	}
	return g
}

// axisTerm is the curve that a spin axis or side spin makes, up to a factor.
func axisTerm(v shot.Values, carry float64) float64 {
	if a, ok := v[shot.SpinAxis]; ok {
		return carry * math.Sin(a)
	}
	if s, ok := v[shot.Sidespin]; ok {
		if b, ok := v[shot.Backspin]; ok && b > 0 {
			return carry * s / math.Hypot(b, s)
		}
	}
	return 0
}
