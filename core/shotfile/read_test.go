package shotfile

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/units"
)

func read(t *testing.T, text string) shot.Table {
	t.Helper()
	tab, err := Read("test.csv", []byte(text), Options{})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return tab
}

func value(t *testing.T, tab shot.Table, i int, q shot.Quantity, u units.Unit, want float64) {
	t.Helper()
	v, ok := tab.Shots[i].Values[q]
	if !ok || math.Abs(u.From(v)-want) > 1e-6 {
		t.Errorf("shot %d %s = %v %s (read %v), want %v", i, q, u.From(v), u.Symbol, ok, want)
	}
}

// Dialects of one and the same pair of shots; right is positive in each.
func TestDialects(t *testing.T) {
	for name, text := range map[string]string{
		"plain":         "Ball Speed (mph),Launch Angle (deg),Spin Rate (rpm),Carry (yd),Offline (yd)\n150,12.5,2600,240,-12.3\n148,13,2700,236,8\n",
		"unit row":      "Ball Speed,Launch Angle,Spin Rate,Carry,Offline\n[mph],[deg],[rpm],[yds],[yds]\n150,12.5,2600,240,12.3 L\n148,13,2700,236,8 R\n",
		"no units":      "No,Ball Speed,Launch Angle,Spin Rate,Carry,Offline\n1,150,12.5,2600,240,-12.3\n2,148,13,2700,236,8\n",
		"german":        "Nr.;Ballgeschwindigkeit (mph);Abflugwinkel;Spinrate;Carry (yd);Seitenabweichung (yd)\n1;150,0;12,5;2.600;240,0;12,3 links\n2;148,0;13,0;2.700;236,0;8,0 rechts\n",
		"spanish":       "Velocidad de la bola (mph);Ángulo de lanzamiento;Índice de giro;Carry (yd);Lateral (yd)\n150;12,5;2600;240;12,3 I\n148;13;2700;236;8 D\n",
		"units inside":  "Ball Speed\tLaunch Angle\tSpin Rate\tCarry\tOffline\n150 mph\t12.5°\t2,600 rpm\t240 yd\tL12.3 yd\n148 mph\t13°\t2,700 rpm\t236 yd\tR8 yd\n",
		"bom and title": "\ufeffMy session\nplayed on a sunny day\n\nBall Speed (mph),Launch Angle,Spin Rate,Carry (yd),Offline (yd)\n150,12.5,2600,240,-12.3\n148,13,2700,236,8\nAverage,12.75,2650,238,-2\n",
		"json":          `[{"ball_speed_mph":150,"launch_deg":12.5,"spin_rpm":2600,"carry_yd":240,"offline_yd":-12.3},{"ball_speed_mph":148,"launch_deg":13,"spin_rpm":2700,"carry_yd":236,"offline_yd":8}]`,
		"metric":        "Ball Speed (km/h),Launch Angle,Spin Rate,Carry (m),Offline (m)\n241.4016,12.5,2600,219.456,-11.24712\n238.182912,13,2700,215.7984,7.3152\n",
		"two rows":      "Ball,Launch,Spin,Carry,Carry\nSpeed,Angle,Rate,Distance,Side\nmph,deg,rpm,yds,yds\n150,12.5,2600,240,-12.3\n148,13,2700,236,8\n",
		"minus sign":    "Ball Speed (mph),Launch Angle (deg),Spin Rate (rpm),Carry (yd),Offline (yd)\n150,12.5,2600,240,−12.3\n148,13,2700,236,8\n",
		"japanese":      "ボール初速(mph),打ち出し角,スピン量,キャリー(yd),左右ブレ(yd)\n150,12.5,2600,240,左12.3\n148,13,2700,236,右8\n",
	} {
		t.Run(name, func(t *testing.T) {
			tab := read(t, text)
			if len(tab.Shots) != 2 {
				t.Fatalf("%d shots, want 2: %+v", len(tab.Shots), tab)
			}
			value(t, tab, 0, shot.BallSpeed, units.UnitMPH, 150)
			value(t, tab, 0, shot.Launch, units.UnitDeg, 12.5)
			value(t, tab, 0, shot.Spin, units.UnitRPM, 2600)
			value(t, tab, 0, shot.Carry, units.UnitYd, 240)
			value(t, tab, 0, shot.Offline, units.UnitYd, -12.3)
			value(t, tab, 1, shot.Offline, units.UnitYd, 8)
			if len(tab.Errors) > 0 {
				t.Errorf("errors %v", tab.Errors)
			}
		})
	}
}

// The measured drives, as they are and with their axis turned over: the same
// shots must come out.
func TestSignAudit(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/measured/drives.csv")
	if err != nil {
		t.Fatal(err)
	}
	asks := read(t, string(raw))
	if len(asks.Questions) != 1 || asks.Questions[0].ID != "setting" || asks.Shots[0].Setting.Key() != "" {
		t.Errorf("a column of classes is taken for settings in silence: %+v", asks.Questions)
	}
	options := Options{Answers: map[string]string{"setting": "ball_class"}}
	plain, err := Read("drives.csv", raw, options)
	if err != nil || len(plain.Shots) != 183 || len(plain.Ask) > 0 {
		t.Fatalf("%d shots, asks %v", len(plain.Shots), plain.Ask)
	}
	if got := plain.Shots[0].Setting.Sleeve; got != "a" {
		t.Errorf("setting of the first drive is %q, want its ball class", got)
	}
	for _, flip := range []string{"spin_axis_deg", "launch_direction_deg"} {
		t.Run(flip+" turned over in the file", func(t *testing.T) {
			lines := strings.Split(strings.TrimSpace(string(raw)), "\n")
			at := -1
			for i, h := range strings.Split(lines[0], ",") {
				if h == flip {
					at = i
				}
			}
			for i := 1; i < len(lines); i++ {
				cells := strings.Split(lines[i], ",")
				if strings.HasPrefix(cells[at], "-") {
					cells[at] = cells[at][1:]
				} else {
					cells[at] = "-" + cells[at]
				}
				lines[i] = strings.Join(cells, ",")
			}
			turned := read(t, strings.Join(lines, "\n"))
			for i := range plain.Shots {
				for q, v := range plain.Shots[i].Values {
					if math.Abs(turned.Shots[i].Values[q]-v) > 1e-9 {
						t.Fatalf("%s turned over in the file: shot %d %s = %v, want %v; notes %v", flip, i, q, turned.Shots[i].Values[q], v, turned.Notes)
					}
				}
			}
		})
	}
}

// A header that says MPH over km/h, and yards over metres, is found out.
func TestUnitAudit(t *testing.T) {
	var b strings.Builder
	b.WriteString("Ball Speed (mph),Club Speed (mph),Launch Angle,Spin Rate,Carry (yd)\n")
	for i := range 8 {
		fmt.Fprintf(&b, "%d,%d,12.%d,2600,%d\n", 238+i, 164+i, i, 212+i)
	}
	tab := read(t, b.String())
	value(t, tab, 0, shot.BallSpeed, units.UnitKMH, 238)
	value(t, tab, 0, shot.ClubSpeed, units.UnitKMH, 164)
}

func TestBadFilesSayWhy(t *testing.T) {
	for text, want := range map[string]string{
		"":                               "empty",
		"\x89PNG\r\n\x1a\n....":          "picture",
		"a,b,c\n1,2,3\n":                 "no known column",
		"Ball Speed,Launch Angle\n":      "no shot below",
		"[1,2":                           "JSON",
		"Ball Speed,Launch Angle\nx,y\n": "",
	} {
		_, err := Read("f", []byte(text), Options{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want one with %q", text, err, want)
		}
	}
	if _, err := Read("f", make([]byte, MaxBytes+1), Options{}); err == nil {
		t.Error("a file beyond the limit is read")
	}
}

func TestErrorsNameLineAndColumn(t *testing.T) {
	tab := read(t, "Ball Speed (mph),Carry (yd)\n150,240\nfast,230\n0,0\n149,-\n")
	if len(tab.Shots) != 3 {
		t.Errorf("%d shots, want 3", len(tab.Shots))
	}
	found := false
	for _, e := range tab.Errors {
		if e.Line == 3 && e.Column == "Ball Speed (mph)" && strings.Contains(e.Message.String(), `"fast"`) {
			found = true
		}
	}
	if !found {
		t.Errorf("errors %+v, want line 3 and what was read", tab.Errors)
	}
}

func BenchmarkRead10000(b *testing.B) {
	var s strings.Builder
	s.WriteString("Ball Speed (mph),Launch Angle,Launch Direction,Spin Rate,Spin Axis,Carry (yd),Offline (yd),Apex (ft)\n")
	for i := range 10000 {
		fmt.Fprintf(&s, "%d.%d,12.%d,1.%d,26%02d,2.%d,24%d,%d,90\n", 140+i%20, i%10, i%10, i%7, i%100, i%9, i%10, i%30-15)
	}
	data := []byte(s.String())
	for b.Loop() {
		if _, err := Read("f", data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Two columns under one header, and one header over two units, are corrected
// each on its own.
func TestColumnsThatReadAlike(t *testing.T) {
	text := "Ball Speed (mph),Carry (yd),Odd,Odd\n150,240,5,7\n148,236,6,8\n149,238,4,9\n"
	tab := read(t, text)
	if a, b := tab.Columns[2].Header, tab.Columns[3].Header; a != "Odd" || b != "Odd (2)" {
		t.Fatalf("headers %q, %q", a, b)
	}
	tab, err := Read("f", []byte(text), Options{Columns: []shot.Column{{Header: "Odd (2)", Quantity: shot.Offline, Unit: "m"}}})
	if err != nil {
		t.Fatal(err)
	}
	value(t, tab, 0, shot.Offline, units.UnitM, 7)
	two := "Ball Speed,Apex\n[mph],[ft]\n150,90\n148,88\n151,93\n\nBall Speed,Apex\n[km/h],[m]\n240,27\n238,26\n239,28\n"
	tab, err = Read("f", []byte(two), Options{Columns: []shot.Column{{Header: "Apex (2)", Role: "note"}}})
	if err != nil {
		t.Fatal(err)
	}
	value(t, tab, 0, shot.Apex, units.UnitFt, 90)
	if _, ok := tab.Shots[3].Values[shot.Apex]; ok || tab.Shots[3].Note != "27" {
		t.Errorf("the second Apex was given to notes: %+v", tab.Shots[3])
	}
}

// Names that a club compares as equal are one setting: else a club made of
// them bears a label twice and nothing can be worked out.
func TestOneSettingIsReadInOneSpelling(t *testing.T) {
	tab := read(t, "Setting,Ball Speed (mph),Carry (yd)\nup / heel,150,240\nUp/Heel,148,236\nUP / toe,149,238\n Flat / heel,151,243\n")
	want := []string{"up / heel", "up / heel", "up / toe", "Flat / heel"}
	for i, s := range tab.Shots {
		if got := s.Setting.Key(); got != want[i] {
			t.Errorf("shot %d: %q, want %q", i+1, got, want[i])
		}
	}
	note := `the setting "Heel" is read as "heel": the two differ in capitals or spaces alone`
	if n := strings.Count(english(tab.Notes), note); n != 1 {
		t.Errorf("said %d times: %q in %q", n, note, tab.Notes)
	}
	// A sleeve and a weight may share a label, each as its owner writes it.
	if s := read(t, "Sleeve,Weight,Carry (yd)\nUp,up,240\nUp,low,238\n").Shots[0].Setting; s.Sleeve != "Up" || s.Weights[0] != "up" {
		t.Errorf("sleeve and weight: %+v", s)
	}
}

// Nothing is dropped unseen: a spin of zero and the numbers that devices write
// for "not read" are said, with how many there were; rows of zeros alone are
// refused as rows and not counted again.
func TestWhatCountsAsNotReadIsSaid(t *testing.T) {
	tab := read(t, "Ball Speed (mph),Spin Rate (rpm),Carry (yd)\n150,0,240\n148,2700,236\n149,9999,238\n151,0,243\n0,0,0\n147,-21474836480,231\n")
	if n := len(tab.Shots); n != 5 {
		t.Fatalf("%d shots", n)
	}
	notes := english(tab.Notes)
	for _, want := range []string{`2 zeros in "Spin Rate (rpm)" are taken as not read`, `2 numbers in "Spin Rate (rpm)" such as "-21474836480" stand for nothing and are taken as not read`} {
		if !strings.Contains(notes, want) {
			t.Errorf("not said: %s\n%s", want, notes)
		}
	}
	if strings.Contains(notes, "Carry") || strings.Contains(notes, "Ball") {
		t.Errorf("zeros of a false trigger are told as if a ball had them:\n%s", notes)
	}
}

// A table for each setting under its name: the name says how the club was set,
// above the first header too, and when it begins with a number. Sessions, dates
// and other clubs are no settings.
func TestTitlesThatNameSettings(t *testing.T) {
	of := func(a, b string) shot.Table {
		const head, rows = "Ball Speed,Carry,Offline\nmph,yds,yds\n", "150,240,-12\n148,236,8\nAverage,149,238,-2\n\n"
		return read(t, a+"\n"+head+rows+b+"\n"+head+rows)
	}
	for _, names := range [][2]string{{"neutral", "+1 deg"}, {"9.5°", "10.5°"}, {"up / heel", "up / toe"}} {
		t.Run(names[0]+" and "+names[1], func(t *testing.T) {
			tab := of(names[0], names[1])
			got := []string{}
			for _, s := range tab.Shots {
				got = append(got, s.Setting.Key())
			}
			if want := []string{names[0], names[0], names[1], names[1]}; !slices.Equal(got, want) || len(tab.Errors) > 0 {
				t.Errorf("read %q, want %q; %v", got, want, tab.Errors)
			}
			if notes := english(tab.Notes); !strings.Contains(notes, "taken as settings") || strings.Contains(notes, "passed over") {
				t.Errorf("notes %q", notes)
			}
		})
	}
	for _, names := range [][2]string{{"Session 1", "Session 2"}, {"2026-05-01", "2026-05-02"}, {"Driver", "7 Iron"}, {"Pull day", "Pull day"}} {
		for i, s := range of(names[0], names[1]).Shots {
			if s.Setting.Key() != "" {
				t.Errorf("%q: shot %d is said to be hit with %q", names, i+1, s.Setting.Key())
			}
		}
	}
}

// Cells that name several units mean what they say, each its own; numbers
// without one are judged by their size.
func TestCellsOfSeveralUnits(t *testing.T) {
	tab := read(t, "Setting,Carry,Side\nA,230 yd,3 R\nA,210 m,2 L\nA,690 ft,1 R\nB,\"231.5\",4 R\nB,232.5,0\n")
	for i, want := range []float64{230, 210 / .9144, 230, 231.5, 232.5} {
		value(t, tab, i, shot.Carry, units.UnitYd, want)
	}
	if len(tab.Errors) > 0 {
		t.Error(tab.Errors)
	}
}

// english are messages in English, one behind the other.
func english(ms []message.Message) string {
	var all []string
	for _, m := range ms {
		all = append(all, m.String())
	}
	return strings.Join(all, "; ")
}
