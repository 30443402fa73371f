package act

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/club"
	"ferrule/core/export"
	"ferrule/core/pipeline"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/store/storetest"
	"ferrule/core/typed"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// real answers as the worker does, by the same door.
type real struct{ reads []wire.Read }

func (w *real) Do(_ context.Context, r wire.Request) (out wire.Result, err error) {
	if r.Read != nil {
		w.reads = append(w.reads, *r.Read)
	}
	raw, err := msgpack.Marshal(&r)
	if err != nil {
		return out, err
	}
	return wire.Unpack(pipeline.Serve(raw, nil), func() {})
}

func realRig(t *testing.T) (*rig, *real) {
	t.Helper()
	r := newRig(t)
	w := &real{}
	r.Loop.deps.Worker = w
	r.Preferences.Set(func(p *Prefs) { p.Auto = false })
	return r, w
}

// again is the program started anew on the same store and pocket.
func (r *rig) again() *Model {
	m := New(Deps{Worker: r.Loop.deps.Worker, Pocket: r.Loop.deps.Pocket, Open: r.Loop.deps.Open, Now: r.Loop.deps.Now, After: r.Loop.deps.After})
	m.Boot()
	m.Loop.Settle()
	return m
}

const fewBalls = "Ball Speed (mph),Carry,Way\n150,240,-12\n148,236,8\n151,243,3\n"

func TestCorrectedColumnsAreRememberedForTheNextFileOfTheShape(t *testing.T) {
	r, w := realRig(t)
	r.Sessions.New()
	r.Files.Open("monday.csv", []byte(fewBalls))
	r.Loop.Settle()
	g := r.State().Reading
	if g.Phase != Ready || g.Remembered {
		t.Fatalf("reading %+v", g)
	}
	fixed := g.Table.Columns[2] // as the page does: with what the reading said of it
	if len(fixed.Evidence) == 0 {
		t.Fatalf("column %+v: no evidence", fixed)
	}
	fixed.Quantity, fixed.Unit, fixed.Flipped = shot.Offline, "m", true
	r.Reader.FixColumn(fixed)
	r.Loop.Settle()
	if v := r.State().Reading.Table.Shots[0].Values[shot.Offline]; v != 12 {
		t.Fatalf("corrected: %v m offline, want 12", v)
	}
	r.Files.Accept()
	r.rest()

	m := r.again() // the page was loaded again
	m.Files.Open("tuesday.csv", []byte(strings.ReplaceAll(fewBalls, "-12", "-20")))
	m.Loop.Settle()
	g = m.State().Reading
	if !g.Remembered || g.Table == nil || g.Table.Shots[0].Values[shot.Offline] != 20 {
		t.Fatalf("the next file of the shape: remembered %v, table %+v", g.Remembered, g.Table)
	}
	m.Reader.ForgetColumns()
	m.Loop.Settle()
	if v, ok := m.State().Reading.Table.Shots[0].Values[shot.Offline]; ok {
		t.Errorf("forgotten, and still %v m offline", v)
	}
	m.Files.Drop()
	m.Files.Open("other.csv", []byte("Way,Ball Speed (mph),Carry\n-12,150,240\n8,148,236\n"))
	m.Loop.Settle()
	if g := m.State().Reading; g.Remembered {
		t.Error("a file of another shape took the corrections")
	}
	if n := len(w.reads); n < 5 {
		t.Errorf("%d readings asked", n)
	}
}

// Older versions kept a sentence and the cells beside what a person said of a column.
func TestCorrectionsOfAnOlderVersionAreRemembered(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.New()
	r.Files.Open("monday.csv", []byte(fewBalls))
	r.Loop.Settle()
	shape := typed.Shape(r.State().Reading.Table.Columns)
	r.Files.Drop()
	r.rest()
	r.Reader.keeper.note(columnsKey, fmt.Sprintf(`[{"shape":%q,"columns":[{"Header":"Way","Quantity":%q,"Role":"","Unit":"m","Flipped":true,"Evidence":"numbers like a side","Written":["-12"],"Read":["12 m"]}],"answers":null}]`, shape, shot.Offline))
	r.rest()
	m := r.again()
	m.Files.Open("tuesday.csv", []byte(fewBalls))
	m.Loop.Settle()
	if g := m.State().Reading; !g.Remembered || g.Table == nil || g.Table.Shots[0].Values[shot.Offline] != 12 {
		t.Errorf("remembered %v, table %+v", g.Remembered, g.Table)
	}
}

func TestEachOfSeveralFilesIsRead(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.New()
	r.Files.OpenAll([]File{{Name: "a.csv", Bytes: []byte(fewBalls)}, {Name: "b.png", Bytes: []byte("\x89PNG\r\n\x1a\n")}, {Name: "c.csv", Bytes: []byte(fewBalls)}})
	r.Loop.Settle()
	if g := r.State().Reading; g.Name != "a.csv" || len(g.Waiting) != 2 {
		t.Fatalf("first %q, waiting %v", g.Name, g.Waiting)
	}
	r.Files.Accept()
	r.Loop.Settle()
	if g := r.State().Reading; g.Name != "b.png" || g.Phase != Failed {
		t.Fatalf("second %q %s", g.Name, g.Phase)
	}
	r.Files.Drop()
	r.Loop.Settle()
	if g := r.State().Reading; g.Name != "c.csv" || g.Phase != Ready {
		t.Fatalf("third %q %s", g.Name, g.Phase)
	}
	r.Files.Add("d.csv", []byte(strings.ReplaceAll(fewBalls, ",2", ",1")), false) // while c is looked at
	r.Sessions.Example("thin")                                                    // another session is opened meanwhile
	r.Loop.Settle()
	if g := r.State().Reading; g.Name != "c.csv" || len(g.Waiting) != 1 {
		t.Fatalf("after another session was opened: %q, waiting %v; nothing opened may be lost", g.Name, g.Waiting)
	}
	before := len(r.State().Session.Shots)
	r.Files.Accept()
	r.Loop.Settle()
	r.Files.Accept()
	r.Loop.Settle()
	if n := len(r.State().Session.Shots) - before; n != 6 || r.State().Reading.Phase != Idle {
		t.Errorf("%d balls taken over, phase %q; want 6", n, r.State().Reading.Phase)
	}
}

// TestAFileThatHasGrown: a launch monitor's file is opened again with more
// balls in it; those that are there stay as they are, corrections and all, and
// the new ones are hit as the club is set now.
func TestAFileThatHasGrown(t *testing.T) {
	r, _ := realRig(t)
	const few = "Ball Speed (mph),Carry (yd),Launch Angle (deg)\n150,240,12.5\n148,236,13\n151,243,11.9\n"
	r.Sessions.Example("demo")
	r.Loop.Settle()
	r.Sessions.New() // keeps the club
	r.Files.Open("bay.csv", []byte(few))
	r.Loop.Settle()
	r.Files.Accept()
	first := r.State().Session.Shots
	r.Balls.SetValue(first[1].ID, shot.Carry, &[]float64{210}[0])
	all := Settings(r.State().Session)
	r.Bay.SetNext(all[3])
	grown := few + "149,238,12.1\n147,231,12.4\n"
	for _, name := range []string{"bay.csv", "bay (1).csv"} { // the corrected ball is known by the name alone
		r.Files.Open(name, []byte(grown))
		r.Loop.Settle()
		want := map[string]int{"bay.csv": 3, "bay (1).csv": 4}[name]
		if got := r.State().Reading.Known; got != want {
			t.Errorf("%s: %d balls are known, want %d", name, got, want)
		}
		if name == "bay (1).csv" {
			r.Files.Drop()
			break
		}
		r.Files.Accept()
		r.Loop.Settle()
	}
	s := r.State().Session
	if len(s.Shots) != 5 {
		t.Fatalf("%d balls, want 5", len(s.Shots))
	}
	if c := s.Shots[1].Values[shot.Carry]; c != 210 {
		t.Errorf("the corrected carry is %v, want 210", c)
	}
	if !s.Shots[0].Setting.Equal(all[0]) || !s.Shots[4].Setting.Equal(all[3]) {
		t.Errorf("hit with %q and then %q, want %q and %q", s.Shots[0].Setting.Key(), s.Shots[4].Setting.Key(), all[0].Key(), all[3].Key())
	}
}

// Other balls that stand in the same line, or tell too little, are no repeats.
func TestOtherBallsInTheSameLineAreAdded(t *testing.T) {
	at := func(source string, line int, v shot.Values) shot.Shot {
		return shot.Shot{Source: source, Line: line, Values: v}
	}
	have := []shot.Shot{at("paste", 2, shot.Values{shot.Carry: 200, shot.Offline: 4, shot.BallSpeed: 60}), at("paste", 3, shot.Values{shot.Carry: 190})}
	for name, c := range map[string]struct {
		shot shot.Shot
		want bool
	}{
		"the same":           {at("other", 2, shot.Values{shot.Carry: 200, shot.Offline: 4, shot.BallSpeed: 60}), true},
		"one number differs": {at("paste", 2, shot.Values{shot.Carry: 205, shot.Offline: 4, shot.BallSpeed: 60}), true},
		"and another file":   {at("other", 2, shot.Values{shot.Carry: 205, shot.Offline: 4, shot.BallSpeed: 60}), false},
		"two numbers differ": {at("paste", 2, shot.Values{shot.Carry: 205, shot.Offline: 5, shot.BallSpeed: 60}), false},
		"another line":       {at("paste", 4, shot.Values{shot.Carry: 200, shot.Offline: 4, shot.BallSpeed: 60}), true},
		"two numbers alone":  {at("other", 9, shot.Values{shot.Carry: 200, shot.Offline: 4}), false},
		"carry alone":        {at("paste", 3, shot.Values{shot.Carry: 190}), false},
	} {
		if got := shot.Repeats(have, []shot.Shot{c.shot}); (got[0] >= 0) != c.want {
			t.Errorf("%s: there already %v, want %v", name, got[0] >= 0, c.want)
		}
	}
}

// TestAFileBesideALink: what is accepted while somebody's link is looked at
// goes into a session of one's own, with one's own club.
func TestAFileBesideALink(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	r.rest()
	head := r.State().Session.Head.Name
	r.Sessions.Show(shot.Session{ID: "shared"}, nil, false)
	r.Files.Open("bay.csv", []byte(fewBalls))
	r.Loop.Settle()
	r.Files.Accept()
	r.Loop.Settle()
	if s := r.State(); s.ReadOnly || len(s.Session.Shots) != 3 || s.Session.Head.Name != head || s.Reading.Phase != Idle {
		t.Errorf("read only %v, %d balls, head %q, reading %q; want three balls with %q", s.ReadOnly, len(s.Session.Shots), s.Session.Head.Name, s.Reading.Phase, head)
	}
}

// Both exports, and what the store writes, open from the page as the same
// session, to the last bit.
func TestExportsOpenAsTheSameSession(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
		s.Title, s.Bench = "evening; äö", map[string]string{"place": "range"}
		s.Shots[0].Note, s.Shots[0].Tag = "=1+1, \"x\"\nnew line", shot.TagToe
		s.Shots[1].Values = shot.Values{shot.Carry: 1.0 / 3, shot.Spin: 271.828182845904523}
		s.Aim.Holes = []shot.Hole{{Name: "7", Length: 355.5}}
	})
	r.rest()
	want := Clone(*r.State().Session)
	asJSON, err := export.JSON(export.File{Session: want})
	if err != nil {
		t.Fatal(err)
	}
	blob, err := store.Encode(want)
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"session.json": asJSON, "shots.csv": export.CSV(export.File{Session: want}, units.Imperial), "metric.csv": export.CSV(export.File{Session: want}, units.MetricMPS), "session.ferrule": blob} {
		t.Run(name, func(t *testing.T) {
			fresh, _ := realRig(t) // a device that knows nothing
			fresh.Sessions.New()
			fresh.rest()
			fresh.Files.Open(name, data)
			fresh.Loop.Settle()
			if g := fresh.State().Reading; g.Own == nil {
				t.Error("not known as a session")
				return
			}
			if n := len(fresh.State().Sessions.Entries); n != 1 {
				t.Errorf("%d sessions stored before anybody said so", n)
			}
			fresh.Files.OpenOwn()
			fresh.rest()
			if got := *fresh.State().Session; !reflect.DeepEqual(got, want) {
				t.Errorf("%s came back otherwise:\n got %+v\nwant %+v", name, got, want)
			}
			if n := len(fresh.State().Sessions.Entries); n != 2 {
				t.Errorf("%d sessions stored, want the one before and the new one", n)
			}
		})
	}
	// On the device that has it, the stored one is opened; a changed one is kept beside.
	r.Files.Open("session.json", asJSON)
	r.Loop.Settle()
	r.Files.OpenOwn()
	r.rest()
	if n := len(r.State().Sessions.Entries); n != 1 {
		t.Errorf("opened twice: %d sessions, want 1", n)
	}
	r.Balls.Note(r.State().Session.Shots[0].ID, "changed since")
	r.rest()
	r.Files.Open("session.json", asJSON)
	r.Loop.Settle()
	r.Files.OpenOwn()
	r.rest()
	if n := len(r.State().Sessions.Entries); n != 2 || r.State().Session.ID == want.ID {
		t.Errorf("%d sessions, open %q: want the old one beside the changed one", n, r.State().Session.ID)
	}
}

func TestBallsOfAnExportCanBeAddedToo(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	n := len(r.State().Session.Shots)
	data := export.CSV(export.File{Session: *r.State().Session}, units.Metric)
	r.Sessions.New()
	r.Files.Open("shots.csv", data)
	r.Loop.Settle()
	r.Files.Accept()
	if got := len(r.State().Session.Shots); got != n {
		t.Errorf("%d balls, want %d", got, n)
	}
}

func TestHalfTypedBallSurvivesReloadUndoAndUnits(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(200)
	r.rest()
	r.Drafts.Put(EntryField(shot.BallSpeed), "152.", "")
	r.Drafts.Put(EntryField(shot.Offline), "12 L", "")
	r.Drafts.Put(PasteField, "Carry\n24", "")
	m := r.again()
	for field, want := range map[string]string{EntryField(shot.BallSpeed): "152.", EntryField(shot.Offline): "12 L", PasteField: "Carry\n24"} {
		if got := m.State().Drafts[field].Text; got != want {
			t.Errorf("after a reload %s holds %q, want %q", field, got, want)
		}
	}
	m.Balls.Remove("1")
	m.Editor.Undo()
	if got := m.State().Drafts[EntryField(shot.BallSpeed)].Text; got != "152." {
		t.Errorf("after an undo the half-typed ball is %q", got)
	}
	m.Preferences.Set(func(p *Prefs) { p.System = units.Metric })
	if got := m.State().Drafts[EntryField(shot.BallSpeed)].Text; got != "152. mph" {
		t.Errorf("in other units it says %q, want 152. mph", got)
	}
	other := m.State().Session.ID
	m.Sessions.New()
	if d := m.State().Drafts; len(d) != 0 {
		t.Errorf("a new session begins with %v", d)
	}
	m.Loop.Settle()
	m.Sessions.Open(other)
	m.Loop.Settle()
	if got := m.State().Drafts[EntryField(shot.Offline)].Text; got != "12 L yd" {
		t.Errorf("back in the first session: %q", got)
	}
	m.Drafts.Drop(EntryField(shot.Offline))
	if got := m.Drafts.ofSession(shot.Session{ID: other})[EntryField(shot.Offline)].Text; got != "" {
		t.Errorf("a dropped draft is kept: %q", got)
	}
}

// A file that names no setting is split by saying where the setting changed.
func TestAFileWithoutSettingsIsSplitByMarking(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.New()
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) { s.Head = club.Example() })
	r.Files.Open("plain.csv", []byte("Ball Speed (mph),Carry (yd)\n150,240\n148,236\n151,243\n149,238\n147,235\n"))
	r.Loop.Settle()
	r.Files.Accept()
	all := Settings(r.State().Session)
	id := func(i int) string { return r.State().Session.Shots[i].ID }
	r.Balls.SetSetting(id(2), all[1], true) // changed before the third ball,
	r.Balls.SetSetting(id(4), all[2], true) // and before the fifth
	r.Balls.SetSetting(id(0), all[3], true) // the first run was another one, too
	for i, want := range []int{3, 3, 1, 1, 2} {
		if got := r.State().Session.Shots[i].Setting; !got.Equal(all[want]) {
			t.Errorf("ball %d: %v, want %v", i+1, got, all[want])
		}
	}
}

// takeOver reads a file and takes it over as it was understood.
func (r *rig) takeOver(t *testing.T, text string) {
	t.Helper()
	r.Files.Open("range.csv", []byte(text))
	r.Loop.Settle()
	if g := r.State().Reading; g.Phase != Ready {
		t.Fatalf("not read: %s %s", g.Phase, g.Error)
	}
	r.Files.Accept()
	r.Loop.Settle()
}

func keys(all []club.Setting) string {
	out := []string{}
	for _, s := range all {
		out = append(out, s.Key())
	}
	return strings.Join(out, ", ")
}

// A club that only files described is what the files say: a second file adds
// its settings, and a file for a new session has those of the old one no more.
func TestAClubOfFilesFollowsTheFiles(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.New()
	r.takeOver(t, "Setting,Carry,Side\nA,240,-12\nB,236,8\n")
	r.takeOver(t, "Setting,Carry,Side\nC,241,-1\nA,236,7\n")
	if got := keys(r.State().Session.Head.Settings()); got != "A, B, C" {
		t.Errorf("after the second file the club has %s", got)
	}
	r.Sessions.New() // keeps the club
	r.Loop.Settle()
	r.takeOver(t, "Setting,Carry,Side\nneutral,240,-12\nup,236,8\n")
	s := r.State().Session
	if got := keys(s.Head.Settings()); got != "neutral, up" {
		t.Errorf("in the new session the club has %s", got)
	}
	if err := s.Head.Validate(); err != nil {
		t.Error(err)
	}
	r.Sessions.New()
	r.Loop.Settle()
	r.takeOver(t, "Setting,Carry,Side\nup,240,-12\ndown,236,8\n") // one of them known
	if got := keys(r.State().Session.Head.Settings()); got != "up, down" {
		t.Errorf("with one setting known the club has %s", got)
	}
}

// Nothing that a person described is taken away by a file.
func TestADescribedClubStays(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.New()
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
		s.Head.Sleeve = club.Sleeve{Table: []club.Position{{Label: "low"}, {Label: "high", Loft: units.Degree}}}
		s.Head.Current = club.Setting{Sleeve: "low"}
	})
	r.takeOver(t, "Setting,Carry,Side\nA,240,-12\nhigh,236,8\n")
	if got := keys(r.State().Session.Head.Settings()); got != "low, high" {
		t.Errorf("the club has %s", got)
	}
}

// A slip of the pen is one setting with what was meant, in a club of its own
// words as in one that was described.
func TestTwoNamesOfOneSetting(t *testing.T) {
	r, _ := realRig(t)
	const file = "Setting,Carry,Side\nhihg,238,1\nhigh,240,-12\nlow,236,8\nhgih,238,1\n"
	r.Sessions.New()
	r.Files.Open("range.csv", []byte(file))
	r.Loop.Settle()
	r.Reader.SameSetting("hihg", "hgih")
	r.Reader.SameSetting("hgih", "high")
	r.Files.Accept()
	r.Loop.Settle()
	hit := func() string {
		out := []string{}
		for _, h := range r.State().Session.Shots {
			out = append(out, h.Setting.Key())
		}
		return strings.Join(out, ", ")
	}
	if got := keys(r.State().Session.Head.Settings()) + "; " + hit(); got != "high, low; high, high, low, high" {
		t.Errorf("club and balls: %s", got)
	}
	r.Sessions.New()
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
		s.Head.Sleeve = club.Sleeve{Table: []club.Position{{Label: "low"}, {Label: "high", Loft: units.Degree}}}
		s.Head.Current = club.Setting{Sleeve: "low"}
	})
	r.Files.Open("range.csv", []byte(file))
	r.Loop.Settle()
	r.Reader.SameSetting("hihg", "high")
	r.Files.Accept()
	r.Loop.Settle()
	if got := hit(); got != "high, high, low, hgih" {
		t.Errorf("balls of the described club: %s", got)
	}
}

// TestWhatArrivesIsShownFirst hands over files that hold sessions, good, damaged
// and hostile: what they hold is said, and the store stays as it was until the
// person keeps it.
func TestWhatArrivesIsShownFirst(t *testing.T) {
	from, _ := realRig(t)
	for range 3 {
		from.Sessions.Example("demo")
		from.rest()
	}
	backup, err := from.Keeper.store.Export(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	one, err := store.Encode(*from.State().Session)
	if err != nil {
		t.Fatal(err)
	}
	bad := slices.Clone(one)
	bad[len(bad)/2] ^= 1

	r, _ := realRig(t)
	r.rest()
	r.Files.Open("backup.bin", backup)
	if g := r.State().Reading; g.Phase != Ready || g.Backup == nil || *g.Backup != (Backup{Sessions: 3, Clubs: 1, Shots: 3 * len(from.State().Session.Shots)}) {
		t.Fatalf("a backup: %s %s %+v", g.Phase, g.Error, g.Backup)
	}
	r.Files.Drop()
	r.Files.Open("one.ferrule", one)
	r.Files.Drop()
	for name, file := range map[string][]byte{"damaged.ferrule": bad, "future.ferrule": storetest.FutureBlob(one)} {
		r.Files.Open(name, file)
		if g := r.State().Reading; g.Phase != Failed || g.Error == nil {
			t.Errorf("%s: %s %v", name, g.Phase, g.Error)
		}
	}
	r.rest()
	if s := r.State(); len(s.Sessions.Entries) != 0 || len(s.Sessions.Damaged) != 0 || s.Session != nil {
		t.Errorf("unasked: %d sessions, %d damaged are stored", len(s.Sessions.Entries), len(s.Sessions.Damaged))
	}
	r.Files.Open("backup.bin", backup)
	r.Files.TakeBackup()
	r.rest()
	if n := len(r.State().Sessions.Entries); n != 3 {
		t.Errorf("%d sessions are kept, want 3", n)
	}
}

// Who corrects a column and takes the balls over before the file is read anew
// takes what was said last; a question that comes up meanwhile is asked first.
func TestTakingOverWaitsForWhatWasSaidLast(t *testing.T) {
	r, _ := realRig(t)
	r.Sessions.New()
	r.Files.Open("monday.csv", []byte(fewBalls))
	r.Loop.Settle()
	r.Reader.FixColumn(shot.Column{Header: "Way", Quantity: shot.Offline, Unit: "m", Flipped: true})
	r.Files.Accept()
	if n := len(r.State().Session.Shots); n != 0 {
		t.Fatalf("%d balls are taken over as they were read before the correction", n)
	}
	r.Loop.Settle()
	if s := r.State().Session.Shots; len(s) != 3 || s[0].Values[shot.Offline] != 12 {
		t.Fatalf("taken over: %v, want 12 m offline", s)
	}
	r.Files.Open("tuesday.csv", []byte(strings.ReplaceAll(fewBalls, "-12", "-20")))
	r.Loop.Settle()
	r.Reader.FixColumn(shot.Column{Header: "Way", Quantity: shot.Offline, Unit: "m"})
	r.Files.Accept()
	r.Reader.Undo() // what is said later holds, and is looked at first
	r.Loop.Settle()
	if n := len(r.State().Session.Shots); n != 3 {
		t.Errorf("%d balls after the correction was taken back, want 3: nobody took the file over as it is now", n)
	}
}
