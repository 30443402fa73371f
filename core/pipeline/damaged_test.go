package pipeline

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/export"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/record"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/store"
	"ferrule/core/text"
	"ferrule/core/text/texttest"
	"ferrule/core/units"
)

// spoilt are a good thing's bytes cut off, with each byte of its head another one, and
// with one in its middle.
func spoilt(good []byte) (all [][]byte) {
	for _, n := range []int{1, 4, 9, len(good) / 2, len(good) - 1} {
		all = append(all, good[:min(n, len(good))])
	}
	for i := range min(24, len(good)) {
		b := bytes.Clone(good)
		b[i] += 9
		all = append(all, b)
	}
	b := bytes.Clone(good)
	b[len(b)/2] ^= 0x15
	return append(all, b)
}

// What is said of a damaged session, link, backup, record or file, and of numbers that
// cannot be, is in the reader's language, down to its details.
func TestNoEnglishIsLeftOfWhatIsDamaged(t *testing.T) {
	s, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]message.Message{}
	found := map[string]int{}
	add := func(of string, m message.Message) {
		said[of+": "+m.String()] = m
		found[of]++
	}
	wrong := func(of string, err error) {
		if err != nil {
			add(of, message.From(err))
		}
	}

	blob, err := store.Encode(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range spoilt(blob) {
		if _, err := store.Decode(b); err != nil {
			add("session", message.Of(store.Key(err)))
		}
		if _, err := store.Contents(b); err != nil {
			add("backup", message.Of(store.Key(err)))
		}
	}
	link, err := share.Encode(s, nil, share.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range spoilt([]byte(link)) {
		if _, err := share.Decode(string(b)); err != nil {
			add("link", message.Of(share.Key(err)))
		}
	}
	many := s
	many.Shots = make([]shot.Shot, 5000)
	_, err = share.Encode(many, nil, share.Options{})
	wrong("link", err)
	learned, err := record.New(s.Head).Encode()
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range spoilt(learned) {
		_, err := record.Decode(b)
		wrong("record", err)
	}
	other := s.Head
	for _, spoil := range []func(h *club.Head){func(h *club.Head) { h.Kind = club.Hybrid }, func(h *club.Head) { h.Loft += .1 }, func(h *club.Head) { h.Name = "x" }, func(h *club.Head) { h.Weights = nil }} {
		h := other
		spoil(&h)
		wrong("head", record.New(s.Head).Of(h))
	}

	json, err := export.JSON(export.File{Session: s})
	if err != nil {
		t.Fatal(err)
	}
	table := export.CSV(export.File{Session: s}, units.Imperial)
	files := append(spoilt(json), spoilt(table)...)
	for _, change := range [][2]string{{`"version": 1`, `"version": 99`}, {`"ferrule": "session"`, `"ferrule": "hat"`}, {`"Shots": [`, `"Shots": [7,`}, {`"Line": `, `"Line": "x`}, {`"carry": `, `"hat": `}, {`"Handicap": `, `"Handicap": "`}} {
		files = append(files, []byte(strings.Replace(string(json), change[0], change[1], 1)))
	}
	for _, change := range [][2]string{{"\n1,", "\n1,far"}, {"(mph)", "(hats)"}, {"Line", "Carry (hats)"}} {
		files = append(files, []byte(strings.Replace(string(table), change[0], change[1], 1)))
	}
	for _, plain := range []string{"", "a,b\n1,2\n", "\x89PNG", "%PDF", "Ball Speed,Carry\n", "Ball Speed (mph),Carry (yd)\n150,240\nfast,9000\n149 R L,1 2\n148,230\n0,0\n", "[[", `[{"carry":oops}]`, "<html><p>x"} {
		files = append(files, []byte(plain))
	}
	for _, b := range files {
		tab, err := shotfile.Read("f", b, shotfile.Options{})
		wrong("file", err)
		for _, e := range tab.Errors {
			add("row", e.Message)
		}
	}

	number := func(v float64) *float64 { return &v }
	for _, spoil := range []func(s *shot.Session){
		func(s *shot.Session) { s.Shots = nil },
		func(s *shot.Session) { s.Conditions.Wind = 90 },
		func(s *shot.Session) { s.Conditions.WindFrom = 90 },
		func(s *shot.Session) { s.Conditions.Temperature = number(20) },
		func(s *shot.Session) { s.Conditions.Pressure = number(1013) },
		func(s *shot.Session) { s.Conditions.Humidity = number(50) },
		func(s *shot.Session) { s.Conditions.Altitude = number(9e3) },
		func(s *shot.Session) { s.Conditions.Firmness = 7 },
		func(s *shot.Session) { s.Aim.Goal = "win" },
		func(s *shot.Session) { s.Aim.Goal = shot.GoalHeight; s.Aim.ApexLow, s.Aim.ApexHigh = nil, nil },
		func(s *shot.Session) { s.Aim.ApexLow, s.Aim.ApexHigh = number(40), number(20) },
		func(s *shot.Session) { s.Aim.FairwayWidth = 1e3 },
		func(s *shot.Session) { s.Aim.HoleLength = 20 },
		func(s *shot.Session) { s.Aim.Trouble = "up" },
		func(s *shot.Session) { s.Aim.Trouble, s.Aim.TroubleKind = frame.SideRight, "lava" },
		func(s *shot.Session) { s.Aim.TroublePMax = 10 },
		func(s *shot.Session) { s.Aim.CarryPMin = 10 },
		func(s *shot.Session) { s.Aim.ApexPMin = 10 },
		func(s *shot.Session) { s.Aim.Holes = []shot.Hole{{Name: "7", Length: 9}} },
		func(s *shot.Session) { s.Aim.Holes = []shot.Hole{{Bend: 3}} },
		func(s *shot.Session) { s.Player.Handicap = number(90) },
		func(s *shot.Session) { s.Head.Loft = 7 },
		func(s *shot.Session) { s.Head.Kind, s.Head.Hold = "putter", "x" },
		func(s *shot.Session) { s.Head.Mass = 9 },
		func(s *shot.Session) { s.Head.Loft = math.NaN() },
		func(s *shot.Session) { s.Head.Name = strings.Repeat("x", 1<<20) },
		func(s *shot.Session) { s.Head.Current.Sleeve = "nowhere" },
		func(s *shot.Session) { s.Clubs = []club.Head{s.Head} },
		func(s *shot.Session) { s.Own = "nobody's" },
		func(s *shot.Session) {
			for i := range s.Shots {
				s.Shots[i].Setting = club.Setting{Sleeve: "q"}
			}
		},
		func(s *shot.Session) {
			for i := range s.Shots {
				s.Shots[i].Values = nil
			}
		},
	} {
		bad := s
		bad.Shots = append([]shot.Shot(nil), s.Shots[:min(8, len(s.Shots))]...)
		spoil(&bad)
		wrong("bounds", bad.Bounded())
		wrong("description", bad.Head.Validate())
		_, err := Analyse(bad, 1, nil)
		wrong("analysis", err)
	}
	for of, least := range map[string]int{"session": 20, "backup": 5, "link": 20, "record": 20, "head": 3, "file": 20, "row": 2, "bounds": 2, "description": 4, "analysis": 20} {
		if found[of] < least {
			t.Errorf("%d of %s are refused, want at least %d: nothing is damaged", found[of], of, least)
		}
	}
	for _, l := range text.Languages {
		t.Run(string(l), func(t *testing.T) {
			var words texttest.Words
			if l != "en" {
				words = texttest.Of(t, l)
			}
			for of, m := range said {
				got := (text.Reader{Language: l}).Say(m)
				if got == "" || strings.HasPrefix(got, "[") { // a key without words stands in brackets
					t.Errorf("%q says %q", of, got)
				}
				if left := words.Left(got); l != "en" && len(left) > 0 {
					t.Errorf("%q is still English in %q: %s", of, got, left)
				}
			}
		})
	}
	t.Logf("%d sentences of %v", len(said), found)
}
