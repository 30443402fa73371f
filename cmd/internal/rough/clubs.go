package rough

import "ferrule/cmd/internal/invent"

// BagNames are the clubs of a bag: the golfer's own, which cannot be set; two
// heads with its shaft; the same two with another shaft.
var BagNames = [5]string{"own", "head a", "head b", "head a, other shaft", "head b, other shaft"}

// What another head and another shaft do, standard deviations: speed, loft (or
// launch), face (or direction), backspin, side spin. Invented, about what is said
// of blind tests; a golfer's own sizes are half to nearly twice these.
var (
	headSize  = effect{1.3 * mph, .8 * deg, .7 * deg, 170 * rpm, 90 * rpm}
	shaftSize = effect{1.0 * mph, .4 * deg, .5 * deg, 90 * rpm, 60 * rpm}
)

// Bag is the same golfer on the same day with each club. In the heads each
// setting has a deviation of its own beside the golfer's.
func (g *Golfer) Bag() (bag [5]*Golfer) {
	r := invent.NewRand(g.Seed, 31)
	size := []float64{.5, 1, 1.8}[r.Int(3)]
	draw := func(of effect) (e effect) {
		for j := range e {
			e[j] = size * of[j] * r.Normal()
		}
		return e
	}
	a, b, shaft := draw(headSize), draw(headSize), draw(shaftSize)
	none := effect{}
	for c, parts := range [5][2]effect{{none, none}, {a, none}, {b, none}, {a, shaft}, {b, shaft}} {
		copied := *g
		own := invent.NewRand(g.Seed, 32+uint64(c)%2) // one head, one set of deviations
		for i := range copied.at {
			for j := range copied.at[i] {
				copied.at[i][j] += parts[0][j] + parts[1][j]
				if z := own.Normal(); c > 0 && i > 0 {
					copied.at[i][j] += .5 * g.Deviation * g.sd[j] * z
				}
			}
		}
		bag[c] = &copied
	}
	return bag
}

// BagSession is n balls at each visit: the own club at the beginning, in the
// middle and at the end, each head at three settings, the other shaft at two, in
// an order of chance. of says with which club each ball was hit.
func (g *Golfer) BagSession(bag [5]*Golfer, n int) (seen []Seen, of []int) {
	type pair struct{ club, setting int }
	r := invent.NewRand(g.Seed, 41)
	var all []pair
	for c := 1; c < len(bag); c++ {
		tested := g.Tested(8)
		all = append(all, pair{c, 0}, pair{c, tested[1+c%2]})
		if c < 3 {
			all = append(all, pair{c, tested[2+c]})
		}
	}
	invent.Shuffle(r, all)
	own := pair{0, 0}
	half := len(all) / 2
	order := append(append(append([]pair{own}, all[:half]...), own), append(append([]pair{}, all[half:]...), own)...)
	o := bag[0].Start(uint64(900 + n))
	of = make([]int, len(o.Seen))
	for _, p := range order {
		o.g = bag[p.club]
		for range n {
			o.Hit(p.setting)
			of = append(of, p.club)
		}
	}
	return o.Seen, of
}
