package pipeline

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/shotfile"
)

// season is a file of invented drives, as many with each of four settings that
// nobody described; the numbers are those of TestSixThousandBalls.
func season(tb testing.TB, balls int) shot.Session {
	tb.Helper()
	var b strings.Builder
	b.WriteString("Club,Setting,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Carry (yd),Offline (yd),Apex (ft)\n")
	for i, setting := range []string{"flat", "up", "down", "draw"} {
		r := rand.New(rand.NewPCG(uint64(70+i), 3))
		for range balls / 4 {
			v, l, s, d := 150+2*r.NormFloat64(), 11+float64(i)+r.NormFloat64(), 2500+100*float64(i)+250*r.NormFloat64(), 2*r.NormFloat64()
			carry := 1.62*v + 1.5*l - .006*(s-2600) + 2*r.NormFloat64() - 20
			fmt.Fprintf(&b, "Driver,%s,%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.1f\n", setting, v, l, d, s, carry, carry*.0175*d+3*r.NormFloat64(), 40+4*l)
		}
	}
	t, err := ReadFile("season.csv", []byte(b.String()), shotfile.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	if len(t.Shots) != balls {
		tb.Fatalf("%d balls were read", len(t.Shots))
	}
	return shot.Session{Head: HeadFromShots(t.Shots), Shots: t.Shots}
}

// BenchmarkSeason is the analysis of a season's balls.
func BenchmarkSeason(b *testing.B) {
	s := season(b, 6000)
	for b.Loop() {
		if _, err := Analyse(s, 1, nil); err != nil {
			b.Fatal(err)
		}
	}
}
