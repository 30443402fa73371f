package main

import (
	"fmt"
	"runtime"
	"time"

	"ferrule/core/club"
	"ferrule/core/pipeline"
	"ferrule/core/shot"
)

// grown measures an analysis of the invented example as its shots and its
// settings grow a hundredfold. Times are of this machine at this moment; what
// is judged is how they grow.
func grown() error {
	base, err := pipeline.Example("demo")
	if err != nil {
		return err
	}
	fmt.Println(where())
	fmt.Println("  shots  settings    seconds   allocated MB   per shot or setting, against the first")
	var first [2]float64
	for _, n := range []int{60, 600, 6000} {
		if err := measure(repeated(base, n), float64(n), &first); err != nil {
			return err
		}
	}
	first = [2]float64{}
	for _, stops := range [][]int{{2}, {20}, {20, 10}} {
		s := repeated(base, 60)
		for _, n := range stops {
			s = widened(s, n)
		}
		if err := measure(s, float64(len(s.Head.Settings())), &first); err != nil {
			return err
		}
	}
	return nil
}

func measure(s shot.Session, size float64, first *[2]float64) error {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	began := time.Now()
	if _, err := pipeline.Analyse(s, 1, nil); err != nil {
		return err
	}
	seconds := time.Since(began).Seconds()
	runtime.ReadMemStats(&after)
	mb := float64(after.TotalAlloc-before.TotalAlloc) / 1e6
	if first[0] == 0 {
		*first = [2]float64{seconds / size, mb / size}
	}
	fmt.Printf("%7d %9d %10.2f %14.1f   time x%.2f, memory x%.2f\n", len(s.Shots), len(s.Head.Settings()), seconds, mb, seconds/size/first[0], mb/size/first[1])
	return nil
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
