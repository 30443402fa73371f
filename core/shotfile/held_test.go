package shotfile

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// A second set, built apart from the bed and held back while the reader was
// written: sessions are put together from random pieces (clubs, a second club
// column, decoys, a setting, a unit change, averages, sheets, an order of
// columns), and are right or asked about.
func TestHeldBack(t *testing.T) {
	readBed(t, "session", 9_000_002, func(r *rand.Rand) written {
		w, what := heldBack(r)
		return written{name: w.file, data: w.data, options: w.options(nil), habits: what, shown: string(w.data), differs: w.differs}
	})
}

func heldBack(r *rand.Rand) (way, string) {
	var what []string
	say := func(s string) { what = append(what, s) }
	sets := pick(r, [3]string{"A open", "A closed", "A square"}, [3]string{"heel", "middle", "toe"}, [3]string{"+1", "0", "-1"}, [3]string{"9°", "10°", "11°"})
	cols := []shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.Carry, shot.Offline}
	if r.IntN(2) == 0 {
		cols = append(cols, shot.ClubSpeed, shot.Smash)
	}
	if r.IntN(2) == 0 {
		cols = append(cols, shot.SpinAxis, shot.Apex)
	}
	r.Shuffle(len(cols), func(i, j int) { cols[i], cols[j] = cols[j], cols[i] })
	mean := 38 + 12*r.Float64()
	var ds []bedBall
	for i := range 3 * (5 + r.IntN(5)) {
		ds = append(ds, bedBall{v: ball(r, mean, .97+.05*r.Float64()), club: "Driver", day: "2026-06-01", clock: fmt.Sprint(i)})
	}
	per := len(ds) / 3
	words := []word{}
	if r.IntN(2) == 0 {
		words = append(words, word{pick(r, "No.", "#", "Shot Number"), func(i int, _ bedBall) string { return fmt.Sprint(i + 1) }})
	}
	headed := r.IntN(2) == 0
	if headed {
		say("setting column")
		for i := range ds {
			ds[i].set = sets[min(2, i/per)]
		}
		words = append(words, fixed(pick(r, "Setting", "Configuration", "Hosel", "Club Setting"), func(d bedBall) string { return d.set }))
	}
	if r.IntN(2) == 0 {
		decoy := pick(r, "Result", "Lie", "Shot Rating", "Bay", "Weather", "Ball Path", "Mode")
		say("decoy " + decoy)
		words = append(words, word{decoy, func(i int, d bedBall) string {
			return map[bool]string{true: pick(r, "Left Rough", "Left"), false: "Fairway"}[d.v[shot.Offline] < -3]
		}})
	}
	all := ds
	if r.IntN(2) == 0 {
		name := pick(r, "Driver", "DR", "1W", "driver (10.5)", "W1", "Dr.")
		other := pick(r, []string{"I7", "PW"}, []string{"3 wood", "8 iron"}, []string{"56", "7", "4H"}, []string{"Lob Wedge", "7-iron"}, []string{"5W", "GW"})
		say(name + " among " + other[0])
		all = mixed(renamed(ds, name), bedOthers(8+r.IntN(40), other...))
		ds = renamed(ds, name)
		words = append(words, fixed(pick(r, "Club", "Club Name", "Club Type"), func(d bedBall) string { return d.club }))
		if r.IntN(2) == 0 {
			say("second club column")
			words = append(words, fixed("Club Description", func(d bedBall) string { return pick(r, "", "", "Set") }))
		}
	}
	p := pen{unit: pick(r, nil, metric, map[shot.Quantity]units.Unit{shot.ClubSpeed: units.UnitMPS, shot.BallSpeed: units.UnitMPS, shot.Carry: units.UnitM, shot.Offline: units.UnitM, shot.Apex: units.UnitM}), bare: r.IntN(3) == 0}
	h, b := laid(all, cols, p, words...)
	sep := pick(r, ",", ";", "\t")
	if len(all) == len(ds) && !p.bare && p.unit == nil && r.IntN(2) == 0 { // some balls are written otherwise
		from := r.IntN(len(b) / 2)
		to := min(len(b), from+5+r.IntN(8))
		say(fmt.Sprintf("balls %d to %d metric", from+1, to))
		_, m := laid(all[from:to], cols, pen{unit: metric}, words...)
		for i := range m {
			copy(b[from+i][len(words):], m[i][len(words):])
		}
	}
	text := csvText(h, b, sep)
	if r.IntN(3) == 0 && len(words) > 0 {
		say("average at the end")
		l := make([]string, len(h))
		for k := len(words); k < len(h); k++ {
			l[k] = fmt.Sprintf("%.1f", meanOf(b, k))
		}
		if len(what) == 0 || !strings.Contains(strings.Join(what, " "), "metric") {
			text += csvLine(l, sep)
		}
	}
	w := way{file: "held.csv", data: []byte(text), want: ds, cols: cols}
	return w, fmt.Sprintf("%q, bare %v, %v", what, p.bare, p.unit != nil)
}
