package flight

import (
	"errors"
	"math"
	"sync"

	"ferrule/core/linear"
)

// Box is the part of launch space that a Surface covers: a centre and half
// widths. Axis is symmetric about zero in still air.
type Box struct {
	Centre Launch
	Half   Launch // half widths; Axis counts from zero in still air
}

// Around is a box for a driver swing about a typical launch: wide enough for
// setting changes and ordinary misses, narrow enough for a polynomial.
func Around(c Launch) Box {
	const deg = math.Pi / 180
	c.Speed = math.Max(c.Speed, 25)
	b := Box{Centre: c, Half: Launch{Speed: .15 * c.Speed, Angle: 7 * deg, Direction: 12 * deg, Axis: 26 * deg}}
	b.Half.Spin = math.Max(100, .36*c.Spin)
	if low := c.Spin - b.Half.Spin; low < 60 {
		b.Half.Spin = math.Max(c.Spin-60, 40)
	}
	return b
}

// The outputs of a surface. In still air the first three do not change when
// the axis is mirrored and the last two change sign.
const (
	outCarry = iota
	outApex
	outDescent
	outOffline
	outHeading
	outputs
)

// Surface is a fast, smooth stand-in for Fly near one player's launches: a
// polynomial of total degree 4 fitted by least squares to a few hundred flights;
// in still air the launch direction is taken out as a rotation, in wind it is a
// fifth variable. A coarser, larger one takes mis-hits. Outside its box it flies the ball.
type Surface struct {
	*design
	env    Env
	still  bool
	centre [5]float64
	scale  [5]float64 // 1 / half width
	coef   [][outputs]float64
	wide   *Surface // a coarser one around it for mis-hits, nil in itself
}

// design is the least squares of a surface, the same for every box: its terms,
// the places of its flights in (-1, 1) and their factored matrices.
type design struct {
	parent []int8 // term i = term parent[i] * variable[i]
	factor []int8
	places [][5]float64
	parts  []part
}

// part is one system of equations: the terms and the outputs that belong
// together.
type part struct {
	use         []int // terms
	first, last int   // outputs, last not included
	qr          linear.QR
}

// The designs in still air, where even and odd powers of the axis stand apart,
// and in wind.
var (
	stillDesign = sync.OnceValue(func() *design { return newDesign(4, true) })
	windDesign  = sync.OnceValue(func() *design { return newDesign(5, false) })
)

// wideBox is twice the box in speed and half as much again in all else.
func wideBox(b Box) Box {
	h := &b.Half
	h.Speed, h.Angle, h.Direction, h.Spin, h.Axis = 2*h.Speed, 1.5*h.Angle, 1.5*h.Direction, 1.5*h.Spin, 1.5*h.Axis
	if low := b.Centre.Spin - h.Spin; low < 0 {
		h.Spin = b.Centre.Spin
	}
	return b
}

// NewSurface fits a surface over box in environment e. The error is that of
// the environment; box must hold launches that Fly takes.
func NewSurface(box Box, e Env) (*Surface, error) {
	e = e.filled()
	if err := e.validate(); err != nil {
		return nil, err
	}
	s, err := surface(box, e)
	if err != nil {
		return nil, err
	}
	s.wide, err = surface(wideBox(box), e)
	return s, err
}

func surface(box Box, e Env) (*Surface, error) {
	s := &Surface{env: e, still: e.Air.Still()}
	c, h := box.Centre, box.Half
	s.centre = [5]float64{c.Speed, c.Angle, c.Spin, c.Axis, c.Direction}
	s.scale = [5]float64{1 / h.Speed, 1 / h.Angle, 1 / h.Spin, 1 / h.Axis, 1 / h.Direction}
	s.design = windDesign()
	if s.still {
		s.centre[3] = 0
		s.design = stillDesign()
	}
	if err := s.fit(); err != nil {
		return nil, err
	}
	return s, nil
}

// newDesign has four flights a term.
func newDesign(vars int, still bool) *design {
	d := &design{}
	axis := d.terms(vars, 4)
	d.places = make([][5]float64, 4*len(axis))
	m := make([]float64, len(axis))
	for i := range d.places {
		for v := range vars {
			d.places[i][v] = sample(i, v)
		}
	}
	d.parts = []part{{first: outCarry, last: outOffline}, {first: outOffline, last: outputs}}
	for odd := range d.parts {
		p := &d.parts[odd]
		for t, power := range axis {
			if !still || power%2 == odd {
				p.use = append(p.use, t)
			}
		}
		n := len(p.use)
		a := make([]float64, len(d.places)*n)
		for i := range d.places {
			d.monomials(&d.places[i], m)
			for j, t := range p.use {
				a[i*n+j] = m[t]
			}
		}
		p.qr = linear.NewQR(len(d.places), n, a)
	}
	return d
}

// terms lays out the monomials so that each is an earlier one times one
// variable, and returns the power of the axis in each.
func (d *design) terms(vars, degree int) (axis []int) {
	type term struct{ e [5]int }
	list := []term{{}}
	d.parent, d.factor = []int8{0}, []int8{-1}
	first, last := 0, 1 // terms of the previous degree
	for range degree {
		for i := first; i < last; i++ {
			lowest := vars - 1
			for v := range vars { // multiply only by variables up to the lowest present: no monomial twice
				if list[i].e[v] > 0 {
					lowest = v
					break
				}
			}
			for v := 0; v <= lowest; v++ {
				t := list[i]
				t.e[v]++
				list = append(list, t)
				d.parent, d.factor = append(d.parent, int8(i)), append(d.factor, int8(v))
			}
		}
		first, last = last, len(list)
	}
	for _, t := range list {
		axis = append(axis, t.e[3])
	}
	return axis
}

// sample is the Halton point i of dimension d, in (-1, 1), pushed towards the
// edges where polynomials err most.
func sample(i, d int) float64 {
	base := [5]int{2, 3, 5, 7, 11}[d]
	f, r := 1.0, 0.0
	for k := i + 1; k > 0; k /= base {
		f /= float64(base)
		r += f * float64(k%base)
	}
	return math.Sin((r - .5) * math.Pi)
}

func (s *Surface) fit() error {
	n := len(s.places)
	y := make([][outputs]float64, n)
	for i := range y {
		g, err := Fly(s.launch(s.places[i]), s.env)
		if err != nil {
			return err
		}
		y[i] = [outputs]float64{g.Carry, g.Apex, g.Descent, g.Offline, math.Atan2(g.RestZ-g.Offline, g.RestX-g.Carry)}
	}
	s.coef = make([][outputs]float64, len(s.parent))
	for k := range s.parts {
		p := &s.parts[k]
		sides := p.last - p.first
		b := make([]float64, n*sides)
		for i := range y {
			for o := p.first; o < p.last; o++ {
				b[i*sides+o-p.first] = y[i][o]
			}
		}
		x, ok := p.qr.Solve(b, sides)
		if !ok {
			return errors.New("flight: the design of the surface is singular")
		}
		for j, t := range p.use {
			for o := p.first; o < p.last; o++ {
				s.coef[t][o] = x[j*sides+o-p.first]
			}
		}
	}
	return nil
}

func (s *Surface) launch(u [5]float64) Launch {
	at := func(v int) float64 { return s.centre[v] + u[v]/s.scale[v] }
	l := Launch{Speed: at(0), Angle: at(1), Spin: math.Max(at(2), 0), Axis: at(3)}
	if !s.still {
		l.Direction = at(4)
	}
	return l
}

func (d *design) monomials(u *[5]float64, m []float64) {
	m[0] = 1
	for i := 1; i < len(d.parent); i++ {
		m[i] = m[d.parent[i]] * u[d.factor[i]]
	}
}

func (s *Surface) eval(u *[5]float64) (out [outputs]float64) {
	var m [126]float64
	m[0] = 1
	out = s.coef[0]
	for i := 1; i < len(s.parent); i++ {
		t := m[s.parent[i]] * u[s.factor[i]]
		m[i] = t
		c := &s.coef[i]
		out[0] += t * c[0]
		out[1] += t * c[1]
		out[2] += t * c[2]
		out[3] += t * c[3]
		out[4] += t * c[4]
	}
	return out
}

// At is what becomes of launch l: Carry, Offline, Apex, Descent, RestX, RestZ
// and Total are set. Inside the box, and coarser in a larger one, it costs a
// few tenths of a microsecond, outside one Fly. A
// launch that Fly refuses is brought to the nearest one that it takes.
func (s *Surface) At(l Launch) Landing {
	u := [5]float64{(l.Speed - s.centre[0]) * s.scale[0], (l.Angle - s.centre[1]) * s.scale[1],
		(l.Spin - s.centre[2]) * s.scale[2], (l.Axis - s.centre[3]) * s.scale[3]}
	if !s.still {
		u[4] = (l.Direction - s.centre[4]) * s.scale[4]
	}
	for _, v := range u {
		if !(v >= -1 && v <= 1) {
			if s.wide != nil {
				return s.wide.At(l)
			}
			return s.fly(l)
		}
	}
	o := s.eval(&u)
	g := Landing{Carry: o[outCarry], Apex: math.Max(o[outApex], 0), Descent: o[outDescent], Offline: o[outOffline], Within: true}
	run := math.Max(runLevel-runSteep*g.Descent, 0) * (1 + runFirm*s.env.Firmness)
	sin, cos := math.Sincos(o[outHeading])
	g.RestX, g.RestZ = g.Carry+run*cos, g.Offline+run*sin
	if s.still && l.Direction != 0 {
		sin, cos = math.Sincos(l.Direction)
		g.Carry, g.Offline = cos*g.Carry-sin*g.Offline, sin*g.Carry+cos*g.Offline
		g.RestX, g.RestZ = cos*g.RestX-sin*g.RestZ, sin*g.RestX+cos*g.RestZ
	}
	g.Total = g.RestX
	return g
}

func (s *Surface) fly(l Launch) Landing {
	hold := func(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }
	l.Speed, l.Spin = hold(l.Speed, 1, 150), hold(l.Spin, 0, 2500)
	l.Angle, l.Direction = hold(l.Angle, -1.5, 1.5), hold(l.Direction, -1.5, 1.5)
	l.Axis = hold(l.Axis, -3, 3)
	g, err := Fly(l, s.env)
	if err != nil {
		return Landing{} // only NaN gets here, and nothing upstream makes it
	}
	return g
}

// Env is the environment in which the surface flies.
func (s *Surface) Env() Env { return s.env }
