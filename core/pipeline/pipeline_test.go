package pipeline

import (
	"maps"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/text"
	"ferrule/core/wire"
)

func example(t testing.TB, name string) (shot.Session, report.Report) {
	t.Helper()
	s, err := Example(name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Analyse(s, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s, r
}

// The demonstration tells its story: the ball turns left with the setting that
// was made for it, every combination is judged, nothing is NaN.
func TestDemoStory(t *testing.T) {
	s, r := example(t, "demo")
	if len(r.Settings) != 40 || len(r.Shots) != len(s.Shots) {
		t.Fatalf("%d settings, %d of %d shots", len(r.Settings), len(r.Shots), len(s.Shots))
	}
	t.Log(text.Reader{}.Say(r.Choice.Headline))
	// Loft up, upright and the weight to the heel turn this slicer's ball left:
	// the invented truth is 11.7 yd (testdata/demo/SOURCE.md). What aiming does
	// free earns no strokes, so the answer may still be to keep the club.
	for _, x := range r.Settings {
		if x.Setting.Key() != "up-upright / heel 20" {
			continue
		}
		a, _ := x.Of(shot.Offline)
		t.Logf("up-upright / heel 20: offline %+.1f yd (80 %%: %+.1f to %+.1f)", a.Difference.Mean/.9144, a.Difference.Lo80/.9144, a.Difference.Hi80/.9144)
		if a.Difference.Hi80 > 0 || a.Difference.Lo95 > -11.7*.9144 || a.Difference.Hi95 < -11.7*.9144 {
			t.Errorf("offline against today's setting is %+v m, want it left, the truth -10.7 m inside", a.Difference)
		}
	}
	sum := 0.0
	for _, x := range r.Settings {
		sum += x.PBest
		for _, a := range x.Quantities {
			for _, v := range []float64{a.Value.Mean, a.Value.Lo95, a.Value.Hi95, a.Difference.Mean} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s %s is %v", x.Setting.Key(), a.Quantity, v)
				}
			}
		}
	}
	if math.Abs(sum-1) > 1e-6 {
		t.Errorf("chances of being best sum to %v", sum)
	}
	left := 0
	for _, x := range r.Shots {
		if x.Status == report.LeftOut {
			left++
		}
	}
	if left < 6 {
		t.Errorf("%d shots left out, want the 6 warm-up balls of another kind", left)
	}
}

// A left-hander's mirrored session gives the mirrored report, number by number.
func TestMirror(t *testing.T) {
	s, right := example(t, "demo")
	m := s
	m.Player.Hand = frame.Left
	m.Aim.Trouble = frame.Left.MirrorSide(s.Aim.Trouble)
	m.Shots = append([]shot.Shot(nil), s.Shots...)
	for i := range m.Shots {
		v := shot.Values{}
		for q, x := range s.Shots[i].Values {
			if k, _ := shot.KindOf(q); k.Compass {
				x = -x
			}
			v[q] = x
		}
		m.Shots[i].Values = v
	}
	left, err := Analyse(m, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	if left.Choice.Setting != right.Choice.Setting || left.Choice.Verdict != right.Choice.Verdict {
		t.Errorf("left chooses %d %s, right %d %s", left.Choice.Setting, left.Choice.Verdict, right.Choice.Setting, right.Choice.Verdict)
	}
	for i, a := range right.Settings {
		b := left.Settings[i]
		if a.Strokes != b.Strokes || a.PRight != b.PLeft || a.Aim != -b.Aim {
			t.Fatalf("%s: strokes %v and %v, right %v and left %v", a.Setting.Key(), a.Strokes.Mean, b.Strokes.Mean, a.PRight, b.PLeft)
		}
		for j, q := range a.Quantities {
			want := q.Value.Mean
			if k, _ := shot.KindOf(q.Quantity); k.Compass {
				want = -want
			}
			if b.Quantities[j].Value.Mean != want {
				t.Errorf("%s %s: left %v, want %v", a.Setting.Key(), q.Quantity, b.Quantities[j].Value.Mean, want)
			}
		}
		if e, f := a.Ellipse, b.Ellipse; e.X != f.X || e.Z != -f.Z || e.A != f.A || e.B != f.B || e.Turn != -f.Turn {
			t.Errorf("%s: ellipses %+v and %+v", a.Setting.Key(), e, f)
		}
		for j, p := range a.Path {
			if q := b.Path[j]; p.X != q.X || p.Y != q.Y || p.Z != -q.Z {
				t.Fatalf("%s: the flights pass %v and %v", a.Setting.Key(), p, q)
			}
		}
	}
	for i, a := range right.Shots {
		if b := left.Shots[i]; a.Carry != b.Carry || a.Offline != -b.Offline || a.Apex != b.Apex {
			t.Errorf("ball %d: %+v and %+v", i, a, b)
		}
	}
	sided := 0
	for i, a := range right.Moves {
		b := left.Moves[i]
		for j, e := range a.Effects {
			want := e
			if k, _ := shot.KindOf(e.Quantity); k.Compass {
				want.Value, want.Textbook = e.Value.Minus(), e.Textbook.Minus()
			}
			if b.Effects[j] != want {
				t.Errorf("%s, %s: left %+v, want %+v", a.Feature, e.Quantity, b.Effects[j], want)
			}
		}
		// The sentence names mean, low and high of a side, low below high.
		for j, arg := range a.Text.Args {
			want := arg
			if arg.Form == message.FormSide {
				sided++
				want.Value = -a.Text.Args[[...]int{4: 4, 5: 6, 6: 5}[j]].Value
			}
			if !reflect.DeepEqual(b.Text.Args[j], want) {
				t.Errorf("%s, word %d: left %+v, want %+v", a.Feature, j, b.Text.Args[j], want)
			}
		}
	}
	if sided == 0 {
		t.Error("no move names a side")
	}
}

func TestSameInputSameReport(t *testing.T) {
	_, a := example(t, "thin")
	_, b := example(t, "thin")
	x, _ := msgpack.Marshal(&a)
	y, _ := msgpack.Marshal(&b)
	if string(x) != string(y) {
		t.Error("the same session and seed give another report")
	}
}

// Every sentence of a report has its words: no key in brackets, no place left.
func TestEverySentenceHasWords(t *testing.T) {
	for _, name := range []string{"demo", "left", "thin"} {
		_, r := example(t, name)
		eachMessage(&r, func(m *report.Message) {
			if m.Key == "" {
				return
			}
			if said := (text.Reader{}).Say(*m); strings.ContainsAny(said, "[]{}") {
				t.Errorf("%s: %q says %q", name, m.Key, said)
			}
		})
	}
}

func TestMeasuredDrives(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/measured/drives.csv")
	if err != nil {
		t.Fatal(err)
	}
	tab, err := ReadFile("drives.csv", raw, shotfile.Options{Answers: map[string]string{"setting": "ball_class"}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := Analyse(shot.Session{Head: HeadFromShots(tab.Shots), Shots: tab.Shots}, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(text.Reader{}.Say(r.Choice.Headline))
	if len(r.Settings) != 3 || !r.Settings[0].Tested || r.Settings[1].Balls == 0 {
		t.Errorf("settings %d, want the three kinds of ball, all tested", len(r.Settings))
	}
}

// Columns that are not there take nothing else away, and never make a NaN.
func TestMissingColumns(t *testing.T) {
	s, err := Example("thin")
	if err != nil {
		t.Fatal(err)
	}
	for without, gone := range map[string][]shot.Quantity{
		"the spin axis":  {shot.SpinAxis, shot.Sidespin},
		"spin":           {shot.Spin, shot.Backspin, shot.SpinAxis, shot.Sidespin},
		"the start line": {shot.LaunchDirection},
		"speeds":         {shot.BallSpeed, shot.ClubSpeed, shot.Smash},
		"distances":      {shot.Carry, shot.Total, shot.Roll},
		"sides":          {shot.Offline, shot.OfflineTotal, shot.Curve},
	} {
		t.Run("without "+without, func(t *testing.T) {
			c := s
			c.Shots = append([]shot.Shot(nil), s.Shots...)
			for i := range c.Shots {
				v := shot.Values{}
				maps.Copy(v, s.Shots[i].Values)
				for _, q := range gone {
					delete(v, q)
				}
				c.Shots[i].Values = v
			}
			r, err := Analyse(c, 1, nil)
			if err != nil {
				t.Errorf("without %s: %v", without, err)
				return
			}
			if math.IsNaN(r.Settings[0].Strokes.Mean) {
				t.Errorf("without %s: strokes are NaN", without)
			}
		})
	}
	only := s
	only.Shots = append([]shot.Shot(nil), s.Shots...)
	for i := range only.Shots {
		v := shot.Values{}
		for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
			if x, ok := s.Shots[i].Values[q]; ok {
				v[q] = x
			}
		}
		only.Shots[i].Values = v
	}
	if _, err := Analyse(only, 1, nil); err != nil {
		t.Errorf("carry and offline alone: %v", err)
	}
}

func TestBadSessionsSayWhy(t *testing.T) {
	demo, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	for name, edit := range map[string]func(*shot.Session){
		"no shot": func(s *shot.Session) { s.Shots = nil },
		"names a setting": func(s *shot.Session) {
			s.Shots = append([]shot.Shot(nil), s.Shots...)
			for i := range s.Shots {
				s.Shots[i].Setting = club.Setting{Sleeve: "sideways"}
			}
		},
		"the club": func(s *shot.Session) { s.Head.Loft = 9 },
	} {
		s := demo
		edit(&s)
		if _, err := Analyse(s, 1, nil); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	one := demo
	one.Shots = demo.Shots[8:9]
	if r, err := Analyse(one, 1, nil); err != nil || r.Choice.Verdict == report.Clear {
		t.Errorf("one shot: verdict %v, error %v; want an honest answer", r.Choice.Verdict, err)
	}
}

// The worker's door: what goes in as bytes comes out as bytes, faults as words.
func TestServe(t *testing.T) {
	ask := func(q wire.Request) wire.Result { return served(t, q) }
	got := ask(wire.Request{Version: wire.Version, ID: 7, Example: &wire.Example{Name: "demo"}})
	if got.ID != 7 || got.Session == nil || got.Error != nil {
		t.Fatalf("example: %+v", got.Error)
	}
	got = ask(wire.Request{Version: wire.Version, Analyse: &wire.Analyse{Session: *got.Session, Seed: 1}})
	if got.Report == nil || got.Error != nil {
		t.Fatalf("analyse: %v", got.Error)
	}
	for name, q := range map[string]wire.Request{
		"of a later version":           {Version: 99},
		"asks nothing":                 {Version: wire.Version},
		"a picture to be read":         {Version: wire.Version, Read: &wire.Read{Bytes: []byte("\x89PNG")}},
		"an example that is not there": {Version: wire.Version, Example: &wire.Example{Name: "x"}},
	} {
		if ask(q).Error == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if out, err := wire.Unpack(Serve([]byte{0xc1, 0xff}, nil), func() {}); err != nil || out.Error == nil {
		t.Error("damaged bytes are answered without an error")
	}
	fly := ask(wire.Request{Version: wire.Version, Fly: &wire.Fly{Launches: []wire.Launch{{Speed: 60, Angle: .22, Spin: 280}}}})
	if len(fly.Flights) != 1 || fly.Flights[0].Carry < 150 {
		t.Errorf("fly: %+v", fly)
	}
}

func BenchmarkAnalyseDemo(b *testing.B) {
	s, err := Example("demo")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Analyse(s, 1, nil); err != nil {
			b.Fatal(err)
		}
	}
}
