// Package record keeps what the balls of many players said of one head: what a
// degree and a millimetre do to players in general, and how far players differ. It
// holds no ball and no name.
//
// Model. The effects theta_p of player p (responses a degree, millimetre and gram)
// are those of the head and the player's own part of them,
//
//	theta_p ~ N(mu, T)    T = s^2 diag(shape^2)
//
// and the player's balls say exp(-theta'J theta/2 + j'theta) (response.Knowledge).
// With theta_p integrated out, for each s of a grid,
//
//	-mu'(T + J^-1)^-1 mu/2 + mu'(I + J T)^-1 j + j'(J + T^-1)^-1 j/2 - log|I + T J|/2
//
// which adds up over players: a record is those sums, so it takes the same room
// whoever many players it holds, and two records of different players add up to
// one. mu and s are then weighed by all of it together with what physics says of
// mu: the normal-normal model of empirical Bayes with s averaged over, not fixed
// (Gelman et al., Bayesian Data Analysis, chapter 5; from memory). Nobody's part
// counts for more than bounded (Add), and no session twice (Seen).
//
// Main types in reading order: Player, Record, Belief.
//
// Begin with Record.Add and its example.
package record

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sort"

	"ferrule/core/club"
	"ferrule/core/linear"
	"ferrule/core/message"
)

// K is the number of responses of a ball, in impact's order; F the number of
// features.
const (
	K = 5
	F = 5
)

// shape is what the effects of one unit of a feature are like, in reference units:
// players differ by a share of it. Rounded from the textbook; it sets how the grid
// is cut and is part of the file's format.
var shape = [F][K]float64{
	{.15, .38, .20, .50, .30}, // a degree of lean
	{.07, .07, .10, .07, .15}, // a degree upright
	{.10, .08, .10, .12, .30}, // a millimetre to the toe
	{.10, .20, .08, .25, .10}, // a millimetre to the back
	{.03, .02, .02, .03, .02}, // a gram
}

// spreads is the grid of s.
var spreads = [...]float64{.1, .2, .35, .6, 1, 1.7}

// MaxSeen is how many sessions a record can hold: it knows each by eight bytes.
const MaxSeen = 1 << 16

// Player is what one player's sessions with the head say. Info and Vec are laid
// out as response.Knowledge has them, summed over the sessions.
type Player struct {
	Features  []int // in impact's order
	Info, Vec []float64
	Seen      []uint64 // a mark of each session
}

// Record is what was learned of one head.
type Record struct {
	Head     club.Head // without what is set and held today
	Features []int     // none = nobody yet
	Players  float64   // [1] that add up to it; no whole number where records that overlap were merged
	Seen     []uint64  // marks of their sessions, in order
	Sums     [len(spreads)]Sum
}

// Sum is what adds up at one spread between players.
type Sum struct {
	Info []float64 // packed lower triangle
	Vec  []float64
	Log  float64 // [1] log evidence
}

// ErrFull says that a record knows as many sessions as it can.
var ErrFull = message.New("problem.record-full", MaxSeen)

// ErrOther says that something is of another head.
var ErrOther = message.New("problem.record-other")

// New is the empty record of a head.
func New(h club.Head) *Record { return &Record{Head: bare(h)} }

func bare(h club.Head) club.Head {
	h.Current, h.Exclude, h.Hold, h.Shaft = club.Setting{}, nil, "", club.Shaft{}
	return h
}

// Of reports an ErrOther with the reason when the record is of another head.
func (r *Record) Of(h club.Head) error {
	if reflect.DeepEqual(bare(h), r.Head) { // the usual case, without working the settings out
		return nil
	}
	if why := r.Head.Unlike(h); why.Key != "" {
		return message.New("problem.named", ErrOther, why)
	}
	return nil
}

// OfAny is Of for several heads: an error of the first one where it is of none.
func (r *Record) OfAny(heads []club.Head) (first error) {
	for i, h := range heads {
		err := r.Of(h)
		if err == nil {
			return nil
		}
		if i == 0 {
			first = err
		}
	}
	return first
}

func (r *Record) has(mark uint64) bool {
	_, yes := slices.BinarySearch(r.Seen, mark)
	return yes
}

// Knows reports whether a session is in the record.
func (r *Record) Knows(mark uint64) bool { return r.has(mark) }

// start lays the sums out at the first player.
func (r *Record) start(features []int) error {
	if r.Features != nil {
		if !slices.Equal(r.Features, features) {
			return fmt.Errorf("%w: features %v, expected %v", ErrOther, features, r.Features)
		}
		return nil
	}
	for i, f := range features {
		if f < 0 || f >= F || i > 0 && f <= features[i-1] {
			return fmt.Errorf("record: features %v, expected some of 0 to %d in order", features, F-1)
		}
	}
	r.Features = slices.Clone(features)
	e := len(features) * K
	for g := range r.Sums {
		r.Sums[g] = Sum{Info: make([]float64, e*(e+1)/2), Vec: make([]float64, e)}
	}
	return nil
}

// strange is from where on, in expected squares of a direction, what a player's
// balls say counts for less: such effects no head has.
const strange = 3

// Add takes a player in. A session that the record has already is the caller's to
// leave out (Knows). Who is so far from any effect that is known (a file with its
// settings mixed up) counts as much less as the squared distance is beyond three
// times what is usual.
func (r *Record) Add(p Player) error {
	if len(p.Features) == 0 {
		return errors.New("record: the head has no adjustment that is described: nothing can be learned of it")
	}
	if len(r.Seen)+len(p.Seen) > MaxSeen {
		return ErrFull
	}
	if err := r.start(p.Features); err != nil {
		return err
	}
	e := len(p.Features) * K
	if len(p.Info) != e*e || len(p.Vec) != e {
		return fmt.Errorf("record: %d and %d numbers, expected %d and %d", len(p.Info), len(p.Vec), e*e, e)
	}
	var parts [len(spreads)]Sum
	w := 1.0
	for g := len(spreads) - 1; g >= 0; g-- {
		part, far, err := r.part(p, spreads[g])
		if err != nil {
			return err
		}
		if g == len(spreads)-1 {
			w = math.Min(1, strange*float64(e)/math.Max(far, 1e-9))
		}
		parts[g] = part
	}
	for g := range parts {
		r.Sums[g].add(parts[g], w)
	}
	for _, m := range p.Seen {
		if at, there := slices.BinarySearch(r.Seen, m); !there {
			r.Seen = slices.Insert(r.Seen, at, m)
		}
	}
	r.Players++
	return nil
}

func (s *Sum) add(o Sum, w float64) {
	for i, v := range o.Info {
		s.Info[i] += w * v
	}
	for i, v := range o.Vec {
		s.Vec[i] += w * v
	}
	s.Log += w * o.Log
}

// between is the spread between players in direction i at spread s.
func between(features []int, i int, s float64) float64 { return s * shape[features[i/K]][i%K] }

// part is what a player adds at spread s; far is j'(J + J T J)^-1 j = j'J^-1 (J^-1
// + T)^-1 J^-1 j about no effect at all.
func (r *Record) part(p Player, s float64) (out Sum, far float64, err error) {
	e := len(p.Vec)
	a := slices.Clone(p.Info) // J + T^-1
	prec := make([]float64, e)
	log := 0.0
	for i := range e {
		t := between(p.Features, i, s)
		prec[i] = 1 / (t * t)
		a[i*e+i] += prec[i]
		log += math.Log(prec[i])
	}
	c, ok := linear.Factor(e, a)
	if !ok {
		return out, 0, errors.New("record: what the balls say is no information: expected a positive semidefinite matrix of finite numbers")
	}
	inv, ok := c.Inverse()
	if !ok {
		return out, 0, errors.New("record: what the balls say cannot be inverted")
	}
	x := slices.Clone(p.Vec)
	c.Solve(x) // (J + T^-1)^-1 j
	out = Sum{Info: make([]float64, 0, e*(e+1)/2), Vec: make([]float64, e)}
	for i := range e {
		for j := range i + 1 {
			v := -prec[i] * inv[i*e+j] * prec[j]
			if i == j {
				v += prec[i]
			}
			out.Info = append(out.Info, v)
		}
		out.Vec[i] = prec[i] * x[i]
		out.Log += x[i] * p.Vec[i] / 2
		far += x[i] * prec[i] * x[i] // of the player's own effects, shrunk, in units of T
	}
	for i := range e {
		log -= 2 * math.Log(c.U[i*e+i])
	}
	out.Log += log / 2
	return out, far, nil
}

// Merge adds another record of the same head. A session of both counts once: the
// other's sums count for as much as is new of it. It returns how many sessions
// were in both.
func (r *Record) Merge(o *Record) (both int, err error) {
	if err := r.Of(o.Head); err != nil {
		return 0, err
	}
	if o.Features == nil {
		return 0, nil
	}
	var fresh []uint64
	for _, m := range o.Seen {
		if !r.has(m) {
			fresh = append(fresh, m)
		}
	}
	both = len(o.Seen) - len(fresh)
	if len(fresh) == 0 {
		return both, nil
	}
	if len(r.Seen)+len(fresh) > MaxSeen {
		return both, ErrFull
	}
	if err := r.start(o.Features); err != nil {
		return both, err
	}
	w := float64(len(fresh)) / float64(len(o.Seen))
	for g := range r.Sums {
		r.Sums[g].add(o.Sums[g], w)
	}
	r.Players += w * o.Players
	r.Seen = append(r.Seen, fresh...)
	sort.Slice(r.Seen, func(i, j int) bool { return r.Seen[i] < r.Seen[j] })
	return both, nil
}

// Without is the record without the sessions of these marks, as nearly as sums allow:
// what is left of it counts for as much as there are other sessions.
func (r *Record) Without(marks []uint64) *Record {
	out := *r
	out.Seen = slices.DeleteFunc(slices.Clone(r.Seen), func(m uint64) bool { return slices.Contains(marks, m) })
	if len(out.Seen) == len(r.Seen) {
		return r
	}
	w := float64(len(out.Seen)) / float64(len(r.Seen))
	out.Players *= w
	for g, s := range r.Sums {
		out.Sums[g] = Sum{Info: make([]float64, len(s.Info)), Vec: make([]float64, len(s.Vec))}
		out.Sums[g].add(s, w)
	}
	return &out
}

// Belief is one thing that the record says of a new player's effects.
type Belief struct {
	Mean, Cov []float64 // laid out as response.Belief
	Spread    float64   // [1] s
	Weight    float64   // [1] of the record's beliefs, 1 together
	Head      []float64 // covariance of mu, the part of Cov that more players would take away
}

// Beliefs weighs the record's spreads with what physics says of mu, N(mean, cov)
// made wide: a head may do anything from the opposite of the textbook to twice it.
// Those of hardly any weight are left out.
func (r *Record) Beliefs(mean, cov []float64) ([]Belief, error) {
	e := len(r.Features) * K
	if r.Features == nil || len(mean) != e || len(cov) != e*e {
		return nil, fmt.Errorf("record: physics of %d effects, the record has %d", len(mean), e)
	}
	wide := slices.Clone(cov)
	for i := range e {
		for j := range e {
			wide[i*e+j] += mean[i] * mean[j]
		}
		t := between(r.Features, i, .5)
		wide[i*e+i] += t * t
	}
	c, ok := linear.Factor(e, wide)
	if !ok {
		return nil, errors.New("record: the covariance of the physics is not positive definite")
	}
	prior, known := c.Inverse()
	from := slices.Clone(mean)
	if !known || !c.Solve(from) {
		return nil, errors.New("record: the covariance of the physics is singular in numbers")
	}
	var out []Belief
	chance := make([]float64, len(spreads))
	for g, s := range spreads {
		sum := &r.Sums[g]
		a, b := slices.Clone(prior), slices.Clone(from)
		for i, at := 0, 0; i < e; i++ {
			for j := 0; j <= i; j, at = j+1, at+1 {
				a[i*e+j] += sum.Info[at]
				if j < i {
					a[j*e+i] += sum.Info[at]
				}
			}
			b[i] += sum.Vec[i]
		}
		f, ok := linear.Factor(e, a)
		if !ok {
			return nil, errors.New("record: its sums are no information")
		}
		mu := slices.Clone(b)
		inv, known := f.Inverse()
		if !known || !f.Solve(mu) {
			return nil, errors.New("record: its sums are singular in numbers")
		}
		chance[g] = sum.Log + linear.Dot(mu, b)/2
		for i := range e {
			chance[g] -= math.Log(f.U[i*e+i])
		}
		full := slices.Clone(inv)
		for i := range e {
			t := between(r.Features, i, s)
			full[i*e+i] += t * t
		}
		out = append(out, Belief{Mean: mu, Cov: full, Spread: s, Head: inv})
	}
	linear.Shares(chance)
	kept := out[:0]
	for g, b := range out {
		if b.Weight = chance[g]; b.Weight > .01 {
			kept = append(kept, b)
		}
	}
	return kept, nil
}

// Trust is how much of what is believed before the balls is the record's: more the
// more players it holds, never all.
func (r *Record) Trust() float64 { return most * r.Players / (r.Players + half) }

// A record is never believed alone; with `half` players it has half of what it can
// have. Judged on invented players.
const (
	most = .9
	half = 5
)
