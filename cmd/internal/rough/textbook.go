package rough

import "math"

// Textbook is what physics would expect of a degree of lean, a degree upright
// and a millimetre of the centre of mass for this golfer's carry, place
// sideways and height [m], from what was seen alone: an average ball, the mean
// speed and angle where the device tells them, otherwise the speed that carries
// as far. It is what a rival may know who has read the same books.
func Textbook(seen []Seen) (by [3][3]float64) {
	mean := func(of func(Seen) float64) float64 {
		sum, n := 0., 0.
		for _, s := range seen {
			if v := of(s); !math.IsNaN(v) {
				sum, n = sum+v, n+1
			}
		}
		return sum / n
	}
	b := ball{power: true, drag: 1, lift: 1, curve: 1, decay: 1, density: 1.2}
	l := Launch{Speed: mean(func(s Seen) float64 { return s.Speed }), Angle: mean(func(s Seen) float64 { return s.Angle }), Back: 275}
	if math.IsNaN(l.Angle) {
		l.Angle = 12.5 * deg
	}
	if carry := mean(func(s Seen) float64 { return s.Carry }); math.IsNaN(l.Speed) {
		for l.Speed = 30; l.Speed < 90 && b.fly(l, 0, 0).X < carry; l.Speed++ {
		}
	}
	at := b.fly(l, 0, 0)
	for k, e := range onLaunch {
		m := l
		m.Speed, m.Angle, m.Direction, m.Back, m.Side = m.Speed+e[0], m.Angle+e[1], m.Direction+e[2], m.Back+e[3], m.Side+e[4]
		f := b.fly(m, 0, 0)
		by[k] = [3]float64{f.X - at.X, f.Z - at.Z, f.Apex - at.Apex}
	}
	return by
}
