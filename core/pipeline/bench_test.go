package pipeline

import (
	"maps"
	"testing"

	"ferrule/core/club"
	"ferrule/core/response"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// sixty is the example with two balls more and a sleeve that turns in sixteen
// steps instead of eight: 60 shots, 80 settings.
func sixty(tb testing.TB) shot.Session {
	tb.Helper()
	s, err := Example("demo")
	if err != nil {
		tb.Fatal(err)
	}
	sleeve := &s.Head.Sleeve
	var labels []string
	for i, l := range sleeve.Labels {
		labels = append(labels, l, "between "+string(rune('a'+i)))
	}
	sleeve.Rings = []club.Ring{sleeve.Rings[0]}
	sleeve.Rings[0].Positions, sleeve.Labels = 16, labels
	for _, h := range s.Shots[len(s.Shots)-2:] {
		h.ID += "again"
		v := shot.Values{}
		maps.Copy(v, h.Values)
		v[shot.BallSpeed] += .3 * units.MPH
		h.Values = v
		s.Shots = append(s.Shots, h)
	}
	return s
}

// BenchmarkAnalyse is the whole analysis: 58 balls of the example and its 40
// settings, and 60 balls with 80 settings.
func BenchmarkAnalyse(b *testing.B) {
	demo, err := Example("demo")
	if err != nil {
		b.Fatal(err)
	}
	for name, s := range map[string]shot.Session{"58 balls, 40 settings": demo, "60 balls, 80 settings": sixty(b)} {
		b.Run(name, func(b *testing.B) {
			defer processor(b)()
			for b.Loop() {
				r, err := Analyse(s, 1, nil)
				if err != nil {
					b.Fatal(err)
				}
				if n := len(r.Settings); n != 40 && n != 80 {
					b.Fatalf("%d settings", n)
				}
			}
		})
	}
}

// BenchmarkDecide is the last part of it alone: 80 settings flown and scored,
// the choice, the next test and the plan.
func BenchmarkDecide(b *testing.B) {
	a := analysis{s: rightHanded(sixty(b)), seed: 1}
	if err := a.prepare(); err != nil {
		b.Fatal(err)
	}
	if err := a.learn(); err != nil {
		b.Fatal(err)
	}
	a.place()
	defer processor(b)()
	for b.Loop() {
		if _, err := a.decide(nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFit is the fit of those 60 balls alone.
func BenchmarkFit(b *testing.B) {
	a := analysis{s: rightHanded(sixty(b)), seed: 1}
	if err := a.prepare(); err != nil {
		b.Fatal(err)
	}
	if err := a.learn(); err != nil {
		b.Fatal(err)
	}
	in := a.response.Input()
	defer processor(b)()
	for b.Loop() {
		if _, err := response.Fit(in); err != nil {
			b.Fatal(err)
		}
	}
}

// used is the processor time of this process in milliseconds, nil where nothing
// tells it. What else runs on the machine adds to the time that passes, and
// little to this.
var used func() float64

// processor reports the processor time of each turn of a benchmark.
func processor(b *testing.B) (end func()) {
	if used == nil {
		return func() {}
	}
	from := used()
	return func() { b.ReportMetric((used()-from)/float64(b.N), "cpu-ms/op") }
}
