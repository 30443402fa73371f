package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"runtime"
	"time"

	"ferrule/core/club"
	"ferrule/core/pipeline"
	"ferrule/core/shot"
)

// cost is what an analysis of one size took.
type cost struct {
	shots, settings int
	seconds, mb     float64 // [s] [MB] allocated
}

// grown measures an analysis of the invented example as its shots and its
// settings grow a hundredfold, and draws it into the file name. Times are of
// this machine at this moment; what is judged is how they grow.
func grown(name string) error {
	base, err := pipeline.Example("demo")
	if err != nil {
		return err
	}
	fmt.Println(where())
	fmt.Println("  shots  settings    seconds   allocated MB   per shot or setting, against the first")
	var byShots, bySettings []cost
	for _, n := range []int{60, 600, 6000} {
		if byShots, err = measured(byShots, repeated(base, n), func(c cost) int { return c.shots }); err != nil {
			return err
		}
	}
	for _, stops := range [][]int{{2}, {20}, {20, 10}} {
		s := repeated(base, 60)
		for _, n := range stops {
			s = widened(s, n)
		}
		if bySettings, err = measured(bySettings, s, func(c cost) int { return c.settings }); err != nil {
			return err
		}
	}
	return os.WriteFile(name, growthPlot(byShots, bySettings), 0o644)
}

// measured adds the cost of analysing s to those of smaller sessions, and
// prints it, for each of what size counts, against the first.
func measured(so []cost, s shot.Session, size func(cost) int) ([]cost, error) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	began := time.Now()
	if _, err := pipeline.Analyse(s, 1, nil); err != nil {
		return nil, err
	}
	c := cost{shots: len(s.Shots), settings: len(s.Head.Settings()), seconds: time.Since(began).Seconds()}
	runtime.ReadMemStats(&after)
	c.mb = float64(after.TotalAlloc-before.TotalAlloc) / 1e6
	so = append(so, c)
	times := float64(size(c)) / float64(size(so[0]))
	fmt.Printf("%7d %9d %10.2f %14.1f   time x%.2f, memory x%.2f\n", c.shots, c.settings, c.seconds, c.mb, c.seconds/so[0].seconds/times, c.mb/so[0].mb/times)
	return so, nil
}

// growthPlot draws time and memory over size, both in powers of ten, so that
// what grows in proportion runs along the dashed line.
func growthPlot(byShots, bySettings []cost) []byte {
	const wide, high, left, top = 260.0, 170.0, 60.0, 40.0
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="sans-serif" font-size="12">`+"\n<title>Time and memory of an analysis as shots and settings grow</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>\n", 2*(left+wide)+20, 2*(top+high)+40)
	panel := func(column, row int, title, unit string, of []cost, size func(cost) int, value func(cost) float64) {
		x0, y0 := left+float64(column)*(left+wide), top+float64(row)*(top+high)
		n, v := float64(size(of[0])), value(of[0])
		low := math.Floor(math.Log10(v) - .3)
		x := func(s float64) float64 { return x0 + wide*(math.Log10(s/n)+.1)/2.3 }
		y := func(q float64) float64 { return y0 + high*(1-(math.Log10(q)-low)/3.3) }
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" font-weight="bold">%s</text><path d="M%.1f %.1fV%.1fH%.1f" fill="none" stroke="#444"/>`+"\n", x0, y0-8, title, x0, y0, y0+high, x0+wide)
		for k := range 4 {
			at := math.Pow(10, low+float64(k))
			fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="end">%g %s</text><path d="M%.1f %.1fh%.1f" stroke="#ddd"/>`+"\n", x0-4, y(at)+4, at, unit, x0, y(at), wide)
		}
		fmt.Fprintf(&b, `<path d="M%.1f %.1fL%.1f %.1f" stroke="#444" stroke-dasharray="4 4"/>`+"\n", x(n), y(v), x(100*n), y(100*v))
		for _, c := range of {
			s := float64(size(c))
			fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="4" fill="#0a6e58"/><text x="%.1f" y="%.1f" text-anchor="middle">%d</text>`+"\n", x(s), y(value(c)), x(s), y0+high+15, size(c))
		}
	}
	shots, settings := func(c cost) int { return c.shots }, func(c cost) int { return c.settings }
	seconds, mb := func(c cost) float64 { return c.seconds }, func(c cost) float64 { return c.mb }
	panel(0, 0, "time over shots", "s", byShots, shots, seconds)
	panel(1, 0, "time over settings", "s", bySettings, settings, seconds)
	panel(0, 1, "memory over shots", "MB", byShots, shots, mb)
	panel(1, 1, "memory over settings", "MB", bySettings, settings, mb)
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// repeated is s with n balls: its own again and again, each a little different
// (by up to a thousandth), since equal records would be flagged.
func repeated(s shot.Session, n int) shot.Session {
	out := s
	out.Shots = make([]shot.Shot, 0, n)
	for i := range n {
		b := s.Shots[i%len(s.Shots)]
		v := shot.Values{}
		for q, x := range b.Values {
			v[q] = x * (1 + 1e-3*float64((i*7919+len(q)*104729)%2001-1000)/1000)
		}
		b.Values = v
		out.Shots = append(out.Shots, b)
	}
	return out
}

// widened is s with one more weight of so many places on the head, each ball
// hit with it in the first.
func widened(s shot.Session, stops int) shot.Session {
	w := club.Weight{Name: fmt.Sprint("weight ", len(s.Head.Weights)+1), Mass: .004}
	for k := range stops {
		w.Stops = append(w.Stops, club.Stop{Label: fmt.Sprint("stop ", k), Toe: .04 * float64(k) / float64(max(1, stops-1)), Back: .05})
	}
	add := func(x club.Setting) club.Setting {
		x.Weights = append(append([]string{}, x.Weights...), "stop 0")
		return x
	}
	out := s
	out.Head.Weights = append(append([]club.Weight{}, s.Head.Weights...), w)
	out.Head.Current = add(s.Head.Current)
	out.Shots = append([]shot.Shot{}, s.Shots...)
	for i := range out.Shots {
		out.Shots[i].Setting = add(out.Shots[i].Setting)
	}
	return out
}
