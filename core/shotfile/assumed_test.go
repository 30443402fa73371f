package shotfile

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ferrule/core/shot"
)

// TestWhatWasNotMeasuredIsSaid: a number that is the same in all balls of a club
// and block, one whose header says that it is worked out, and flights of which a
// few yards were seen are kept and marked.
func TestWhatWasNotMeasuredIsSaid(t *testing.T) {
	h, rows := laid(noSets(bedDrives(5)), []shot.Quantity{shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Apex}, pen{}, wDay)
	for _, c := range []struct {
		name   string
		change func(h []string, i int, row []string)
		want   []shot.Quantity // of the last ball
		balls  int
		says   string
	}{
		{"as measured", func([]string, int, []string) {}, nil, 0, ""},
		{"one spin", func(_ []string, _ int, row []string) { row[3] = "2500" }, []shot.Quantity{shot.Spin}, 24, `"Spin Rate (rpm)" are the same in 24`},
		{"one spin on the last day", func(_ []string, i int, row []string) {
			if i >= 16 {
				row[3] = "2500"
			}
		}, []shot.Quantity{shot.Spin}, 8, `"Spin Rate (rpm)" are the same in 8`},
		{"whole degrees", func(_ []string, _ int, row []string) { row[2] = "12" }, nil, 0, ""},
		{"an estimate", func(h []string, _ int, _ []string) { h[3] = "Est. Spin Rate (rpm)" }, []shot.Quantity{shot.Spin}, 24, ""},
		{"computed", func(h []string, _ int, _ []string) { h[4] = "Calculated Carry (yd)" }, []shot.Quantity{shot.Carry}, 24, ""},
		{"computed, in German", func(h []string, _ int, _ []string) { h[4] = "Berechneter Carry (yd)" }, []shot.Quantity{shot.Carry}, 24, ""},
		{"computed, in Japanese", func(h []string, _ int, _ []string) { h[4] = "推定キャリー (yd)" }, []shot.Quantity{shot.Carry}, 24, ""},
		{"tracked over nine yards", func(h []string, i int, row []string) {
			h[0], row[0] = "Tracked Distance (yd)", fmt.Sprintf("%.1f", 8+.1*float64(i%9))
		}, []shot.Quantity{shot.Carry, shot.Apex}, 24, "followed over 4 %"},
		{"tracked to the ground", func(h []string, _ int, row []string) { h[0], row[0] = "Tracked Distance (yd)", row[4] }, nil, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			head, body := slices.Clone(h), [][]string{}
			for i, row := range rows {
				row = slices.Clone(row)
				c.change(head, i, row)
				body = append(body, row)
			}
			tab, err := Read("f.csv", []byte(csvText(head, body, ",")), Options{})
			if err != nil || len(tab.Shots) != 24 || len(tab.Ask) > 0 {
				t.Fatalf("%v, %d balls, asks %q", err, len(tab.Shots), tab.Ask)
			}
			n := 0
			for _, s := range tab.Shots {
				if len(s.Assumed) > 0 {
					n++
				}
				if len(s.Values) != 5 {
					t.Errorf("%d numbers of a ball, want all 5", len(s.Values))
				}
			}
			if got := tab.Shots[23].Assumed; !slices.Equal(got, c.want) || n != c.balls {
				t.Errorf("%v of %d balls are marked, want %v of %d", got, n, c.want, c.balls)
			}
			if !strings.Contains(english(tab.Notes), c.says) {
				t.Errorf("said %q", tab.Notes)
			}
		})
	}
}

// TestTwoColumnsOfOneNumber: the one that was measured is taken.
func TestTwoColumnsOfOneNumber(t *testing.T) {
	tab, err := Read("f.csv", []byte("Avg Carry (yd),Carry (yd),Ball Speed (mph)\n240,238,150\n240,243,151\n240,239,150.5\n"), Options{})
	if err != nil || tab.Shots[0].Values[shot.Carry] != 238*.9144 || len(tab.Shots[0].Assumed) > 0 {
		t.Errorf("%v, %v", err, tab.Shots)
	}
}

// TestATitleThatIsAUnitsName: "second" alone in its line names a setting as "third"
// does.
func TestATitleThatIsAUnitsName(t *testing.T) {
	h, rows := laid(noSets(bedDrives(6)), bedColumns, pen{})
	for _, titles := range [][3]string{{"first", "second", "third"}, {"second", "third", "fourth"}, {"third", "meter", "second"}} {
		t.Run(strings.Join(titles[:], ", "), func(t *testing.T) {
			var b strings.Builder
			if titles[0] == "first" {
				b.WriteString(csvLine(h, ","))
			}
			for i, row := range rows {
				if i%8 == 0 {
					b.WriteString(titles[i/8] + "\n")
					if titles[0] != "first" {
						b.WriteString(csvLine(h, ","))
					}
				}
				b.WriteString(csvLine(row, ","))
			}
			tab, err := Read("f.csv", []byte(b.String()), Options{})
			if err != nil || len(tab.Shots) != 24 {
				t.Fatalf("%v: %d balls", err, len(tab.Shots))
			}
			for i, s := range tab.Shots {
				if got := s.Setting.Key(); got != titles[i/8] && len(tab.Ask) == 0 {
					t.Errorf("%q: ball %d: setting %q", titles, i+1, got)
					break
				}
			}
		})
	}
}
