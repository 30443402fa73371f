package act

import (
	"context"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// echo is a worker that answers every analysis with a report that bears the
// number of balls; hold makes it wait until released or cancelled.
type echo struct {
	hold  chan struct{}
	asked int
	table *shot.Table
	fails string
}

func (e *echo) Do(ctx context.Context, r wire.Request) (wire.Result, error) {
	e.asked++
	if e.hold != nil {
		select {
		case <-e.hold:
		case <-ctx.Done():
			return wire.Result{}, ctx.Err()
		}
	}
	if e.fails != "" {
		return wire.Result{Error: wrongly(e.fails)}, nil
	}
	switch {
	case r.Analyse != nil:
		return wire.Result{Report: &report.Report{Balls: len(r.Analyse.Session.Shots)}}, nil
	case r.Read != nil:
		if e.table == nil {
			return wire.Result{Error: wrongly("no column was understood")}, nil
		}
		t := *e.table
		return wire.Result{Table: &t}, nil
	case r.Example != nil:
		return wire.Result{Session: &shot.Session{Title: "Example", Head: club.Example(),
			Shots: []shot.Shot{{ID: "1", Setting: club.Example().Current, Values: shot.Values{shot.Carry: 200}}}}}, nil
	case r.Fly != nil:
		return wire.Result{Flights: make([]wire.Flight, len(r.Fly.Launches))}, nil
	}
	return wire.Result{Error: wrongly("?")}, nil
}

// wrongly is what a worker finds wrong.
func wrongly(s string) *message.Message {
	m := message.Plain(s)
	return &m
}

// rig is a model whose timers run when the test says so.
type rig struct {
	*Model
	worker *echo
	memory store.Store
	timers []func()
	clock  int64
}

func newRig(t *testing.T) *rig {
	t.Helper()
	r := &rig{worker: &echo{}, clock: 1000}
	now := func() int64 { return r.clock }
	r.memory = store.New(store.NewMemory(nil), now)
	r.Model = New(Deps{
		Worker: r.worker,
		Open:   func(context.Context) Place { return Place{Store: r.memory} },
		Now:    func() time.Time { return time.Unix(r.clock, 0) },
		After: func(d time.Duration, f func()) {
			if d < 5*time.Second { // notices go by themselves and are not waited for
				r.timers = append(r.timers, f)
			}
		},
	})
	r.Boot()
	r.Loop.Settle()
	return r
}

// rest lets the hands rest: timers run, work is done.
func (r *rig) rest() {
	for range 10 {
		ts := r.timers
		r.timers = nil
		for _, f := range ts {
			f()
		}
		r.Loop.Drain()
		r.Loop.Settle()
		if len(r.timers) == 0 {
			return
		}
	}
}

func (r *rig) hit(carry float64) {
	r.Balls.add(shot.Values{shot.Carry: carry, shot.Offline: -3}, Now(r.State()))
}

// Two taps on an example open one session; one tapped while an answer is worked out
// is opened all the same.
func TestAnExampleTappedTwice(t *testing.T) {
	r := newRig(t)
	r.Sessions.Example("demo")
	r.Sessions.Example("demo")
	r.Sessions.Example("left")
	r.Sessions.Example("left")
	r.rest()
	if n := len(r.State().Sessions.Entries); n != 1 {
		t.Errorf("%d sessions were opened", n)
	}
	if s := r.State().Session; s == nil || r.State().Answer.Phase == Failed {
		t.Fatal("no example was opened")
	}
	r.hit(200)
	r.Answers.Analyse()
	r.Sessions.Example("thin")
	r.Loop.Settle()
	if n := len(r.State().Session.Shots); n != 1 {
		t.Errorf("the session of before is still open: %d balls", n)
	}
}

func TestUndoRestoresEveryEdit(t *testing.T) {
	r := newRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	rnd := rand.New(rand.NewPCG(7, 7))
	edits := []func(){
		func() { r.hit(150 + 100*rnd.Float64()) },
		func() { r.Balls.Remove(r.State().Session.Shots[0].ID) },
		func() { r.Balls.Tag(r.State().Session.Shots[0].ID, shot.TagToe) },
		func() { r.Balls.Note(r.State().Session.Shots[0].ID, "note") },
		func() { v := 99.0; r.Balls.SetValue(r.State().Session.Shots[0].ID, shot.Apex, &v) },
		func() { r.Balls.SetValue(r.State().Session.Shots[0].ID, shot.Carry, nil) },
		func() {
			r.Balls.SetSetting(r.State().Session.Shots[0].ID, club.Setting{Sleeve: "up", Weights: []string{"toe 20"}}, true)
		},
		func() { r.Balls.Move(r.State().Session.Shots[0].ID, 1) },
		func() {
			r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
				s.Head.Weights[0].Stops[0].Toe -= units.Millimetre
				s.Head.Sleeve.Labels[0] += "x"
				s.Head.Sleeve.Rings[0].Tilt += 1e-3
				*s.Head.MeasuredLoft += 1e-3
			})
		},
		func() {
			r.Editor.Edit(Change{Key: "edit.air"}, func(s *shot.Session) { v := 280.0; s.Conditions.Temperature = &v })
		},
	}
	r.hit(200)
	r.hit(201)
	var before []shot.Session
	for range 60 {
		if len(r.State().Session.Shots) < 2 {
			before = append(before, Clone(*r.State().Session))
			edits[0]()
			continue
		}
		before = append(before, Clone(*r.State().Session))
		edits[rnd.IntN(len(edits))]()
		if n := len(r.Editor.undo); n < len(before)+2 { // an edit of the same field went into the step before
			before = before[:len(before)-1]
		}
	}
	after := Clone(*r.State().Session)
	for i := len(before) - 1; i >= 0; i-- {
		r.Editor.Undo()
		if got := *r.State().Session; !reflect.DeepEqual(got, before[i]) {
			t.Fatalf("undo %d: got %+v, want %+v", i, got, before[i])
		}
	}
	for range before {
		r.Editor.Redo()
	}
	if got := *r.State().Session; !reflect.DeepEqual(got, after) {
		t.Errorf("redo of all did not come back to the last state")
	}
}

// filled sets every field of v to something of its own, two in each list.
func filled(t *testing.T, v reflect.Value, path string) {
	t.Helper()
	switch v.Kind() {
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(1)
	case reflect.Uint8:
		v.SetUint(1)
	case reflect.Float64:
		v.SetFloat(1)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		filled(t, v.Elem(), path)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range 2 {
			filled(t, v.Index(i), path+"[]")
		}
	case reflect.Array:
		for i := range v.Len() {
			filled(t, v.Index(i), path+"[]")
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		k, e := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		filled(t, k, path+"{key}")
		filled(t, e, path+"{}")
		v.SetMapIndex(k, e)
	case reflect.Struct:
		for i := range v.NumField() {
			filled(t, v.Field(i), path+"."+v.Type().Field(i).Name)
		}
	default:
		t.Fatalf("%s is a %s: say here how to fill it and in Clone how to copy it", path, v.Kind())
	}
}

func TestClonedSessionSharesNothing(t *testing.T) {
	var s shot.Session
	filled(t, reflect.ValueOf(&s).Elem(), "session")
	c := Clone(s)
	if !reflect.DeepEqual(s, c) {
		t.Fatal("a clone differs")
	}
	var walk func(path string, a, b reflect.Value)
	walk = func(path string, a, b reflect.Value) {
		switch a.Kind() {
		case reflect.Pointer, reflect.Map, reflect.Slice:
			if a.IsNil() || a.Kind() == reflect.Slice && a.Len() == 0 {
				return
			}
			if a.Pointer() == b.Pointer() {
				t.Errorf("%s is shared", path)
			}
			if a.Kind() == reflect.Slice {
				for i := range a.Len() {
					walk(path+"[]", a.Index(i), b.Index(i))
				}
			}
		case reflect.Struct:
			for i := range a.NumField() {
				walk(path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
			}
		}
	}
	walk("session", reflect.ValueOf(s), reflect.ValueOf(c))
}

func TestEditIsSavedAndThereAgain(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(180)
	id := r.State().Session.ID
	r.rest()
	if s := r.State().Saving; s.Phase != Ready || s.Revision < 1 {
		t.Fatalf("saving = %+v, want ready with a revision", s)
	}
	got, _, err := r.memory.Get(context.Background(), id)
	if err != nil || len(got.Shots) != 1 {
		t.Fatalf("stored: %d balls, %v; want 1", len(got.Shots), err)
	}
	again := New(Deps{Worker: r.worker, Pocket: r.Loop.deps.Pocket, Open: r.Loop.deps.Open, After: func(time.Duration, func()) {}})
	again.Boot()
	again.Loop.Settle()
	if s := again.State().Session; s == nil || s.ID != id || len(s.Shots) != 1 {
		t.Errorf("after a restart the session is %+v, want the last one with its ball", s)
	}
}

func TestAnswerGoesStaleAndUndoMakesItGoodAgain(t *testing.T) {
	r := newRig(t)
	r.Preferences.Set(func(p *Prefs) { p.Auto = false })
	r.Sessions.New()
	r.hit(180)
	r.Answers.Analyse()
	r.Loop.Settle()
	if s := r.State(); s.Answer.Phase != Ready || s.Stale() {
		t.Fatalf("answer %+v stale %v, want a good one", s.Answer, s.Stale())
	}
	r.hit(190)
	if !r.State().Stale() {
		t.Error("a new ball left the answer good")
	}
	r.Editor.Undo()
	if r.State().Stale() {
		t.Error("after undo the answer to the same numbers counts as stale")
	}
	r.Balls.Note("1", "windy")
	if r.State().Stale() {
		t.Error("a note made the answer stale")
	}
}

func TestCancelKeepsWhatWasKnown(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(180)
	r.rest()
	first := r.State().Answer.Value
	r.worker.hold = make(chan struct{})
	r.hit(190)
	for _, f := range r.timers {
		f()
	}
	r.timers = nil
	r.Loop.Drain()
	if r.State().Answer.Phase != Working {
		t.Fatalf("phase %q, want working", r.State().Answer.Phase)
	}
	r.Answers.Cancel()
	r.Loop.Settle()
	s := r.State()
	if s.Answer.Value != first || s.Answer.Phase != Ready || !s.Stale() {
		t.Errorf("after cancel: %+v stale %v, want the first answer, stale", s.Answer, s.Stale())
	}
	if r.Answers.Pending() {
		t.Error("a stopped analysis is about to start by itself")
	}
}

func TestLateAnswerOfAnOlderQuestionIsDropped(t *testing.T) {
	r := newRig(t)
	r.Preferences.Set(func(p *Prefs) { p.Auto = false })
	r.Sessions.New()
	r.hit(180)
	gate := make(chan struct{})
	r.worker.hold = gate
	r.Answers.Analyse()
	r.hit(190)
	r.worker.hold = nil
	r.Answers.Analyse()
	close(gate)
	r.Loop.Settle()
	if v := r.State().Answer.Value; v == nil || v.Balls != 2 {
		t.Errorf("answer %+v, want the one to two balls", v)
	}
}

func TestBadFileLeavesTheSessionAsItWas(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(180)
	before := Clone(*r.State().Session)
	r.Files.Open("picture.png", []byte{0x89, 'P', 'N', 'G'})
	r.Loop.Settle()
	if g := r.State().Reading; g.Phase != Failed || !strings.Contains(g.Error.Error(), "no column") {
		t.Errorf("reading %+v, want failed with the reason", g)
	}
	r.Files.Open("large.csv", make([]byte, maxFile+1))
	if g := r.State().Reading; g.Phase != Failed || message.From(g.Error).Key != "error.file-large" {
		t.Errorf("reading %+v, want too large", g)
	}
	r.Files.Accept()
	r.Files.Drop()
	if !reflect.DeepEqual(before, *r.State().Session) {
		t.Error("a file that was refused changed the session")
	}
}

func TestFileNamesSettingsOfAnUnknownClub(t *testing.T) {
	r := newRig(t)
	r.worker.table = &shot.Table{Shots: []shot.Shot{
		{Line: 2, Setting: club.Setting{Sleeve: "A1"}, Values: shot.Values{shot.Carry: 200}},
		{Line: 3, Setting: club.Setting{Sleeve: "B2"}, Values: shot.Values{shot.Carry: 210}},
		{Line: 4, Setting: club.Setting{Sleeve: "A1"}, Values: shot.Values{shot.Carry: 205}},
	}}
	r.Sessions.New()
	r.Files.Open("shots.csv", []byte("x"))
	r.Loop.Settle()
	if n := len(r.State().Reading.Settings); n != 2 {
		t.Fatalf("settings named: %d, want 2", n)
	}
	r.Files.Accept()
	s := *r.State().Session
	if len(s.Shots) != 3 || len(s.Head.Sleeve.Table) != 2 || !s.Head.Sleeve.Table[0].Unknown {
		t.Fatalf("balls %d, positions %+v; want 3 balls and two positions not described", len(s.Shots), s.Head.Sleeve.Table)
	}
	if err := s.Head.Validate(); err != nil {
		t.Errorf("the head made from the file: %v", err)
	}
	if all := Settings(r.State().Session); len(all) != 2 {
		t.Errorf("settings %v, want two", all)
	}
	r.Editor.Undo()
	if s := *r.State().Session; len(s.Shots) != 0 || len(s.Head.Sleeve.Table) != 0 {
		t.Error("undo did not take the file back")
	}
}

func TestFileSettingsAreMatchedWithTheHead(t *testing.T) {
	r := newRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	r.worker.table = &shot.Table{Shots: []shot.Shot{
		{Line: 2, Setting: club.Setting{Sleeve: "Up", Weights: []string{"heel 20"}}, Values: shot.Values{shot.Carry: 200}},
		{Line: 3, Setting: club.Setting{Sleeve: "who knows"}, Values: shot.Values{shot.Carry: 200}},
	}}
	r.Files.Open("shots.csv", []byte("x"))
	r.Loop.Settle()
	g := r.State().Reading
	if len(g.Settings) != 2 || g.Settings[0].Use < 0 || g.Settings[1].Use != -1 {
		t.Fatalf("settings %+v, want the first matched and the second open", g.Settings)
	}
	all := Settings(r.State().Session)
	r.Reader.UseSetting("who knows", 0)
	r.Files.Accept()
	shots := r.State().Session.Shots
	if got := shots[len(shots)-2].Setting; got.Sleeve != "up" {
		t.Errorf("first ball's setting %v, want the head's own label", got)
	}
	if got := shots[len(shots)-1].Setting; !got.Equal(all[0]) {
		t.Errorf("second ball's setting %v, want %v", got, all[0])
	}
}

func TestRemovedSessionComesBack(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(180)
	id := r.State().Session.ID
	r.rest()
	r.Library.Delete(id)
	r.Loop.Settle()
	if r.State().Session != nil || len(r.State().Sessions.Entries) != 0 {
		t.Fatal("the session is still there")
	}
	r.UndoNotice()
	r.Loop.Settle()
	if n := len(r.State().Sessions.Entries); n != 1 {
		t.Errorf("sessions after undo: %d, want 1", n)
	}
	r.Sessions.Open(id)
	r.Loop.Settle()
	if s := r.State().Session; s == nil || len(s.Shots) != 1 {
		t.Errorf("the session came back as %+v", s)
	}
}

func TestSharedSessionChangesNothing(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(180)
	r.rest()
	mine := r.State().Session.ID
	r.Sessions.Show(shot.Session{ID: mine, Player: shot.Player{Hand: frame.Left}, Shots: []shot.Shot{{ID: "1", Values: shot.Values{shot.Carry: 1}}}}, nil, false)
	r.hit(1) // refused
	r.rest()
	if got, _, _ := r.memory.Get(context.Background(), mine); len(got.Shots) != 1 || got.Shots[0].Values[shot.Carry] != 180 {
		t.Errorf("a link overwrote what is stored: %+v", got.Shots)
	}
	if n := len(r.State().Session.Shots); n != 1 {
		t.Errorf("a shared session took a ball: %d", n)
	}
	r.Sessions.Keep()
	r.rest()
	if s := r.State(); s.ReadOnly || s.Session.ID == mine {
		t.Errorf("keep: read only %v, id %q", s.ReadOnly, s.Session.ID)
	}
	if n := len(r.State().Sessions.Entries); n != 2 {
		t.Errorf("sessions %d, want both", n)
	}
}

func TestBackupAndRestore(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(180)
	r.rest()
	var file []byte
	r.Library.Backup(func(b []byte) { file = b })
	r.Loop.Settle()
	fresh := newRig(t)
	fresh.Library.Restore(file)
	fresh.Loop.Settle()
	if n := len(fresh.State().Sessions.Entries); n != 1 {
		t.Errorf("sessions after restore: %d, want 1", n)
	}
	fresh.Library.Restore(file)
	fresh.rest()
	if n := fresh.State().Notice; n.Key != "notice.restored-same" || n.Alert || n.Args[1].Value < 1 {
		t.Errorf("the same file again: %+v", n)
	}
	fresh.Library.Restore(file[:len(file)*3/4])
	fresh.rest()
	if n := fresh.State().Notice; n.Key != "error.restored" || !n.Alert || n.Args[1].Value < 1 {
		t.Errorf("a file cut off: %+v", n)
	}
	fresh.Library.Restore([]byte("no backup"))
	fresh.Loop.Settle()
	if n := fresh.State().Notice; !n.Alert || n.Key != "error.restore" {
		t.Errorf("notice %+v, want the error", n)
	}
}

// A store that refuses must be seen, and nothing typed may be lost by it.
type refusing struct{ store.Store }

func (refusing) Put(context.Context, shot.Session, int) (int, error) { return 0, store.ErrFull }

func TestFullStoreIsSaid(t *testing.T) {
	r := newRig(t)
	r.Model.Keeper.store = refusing{r.memory}
	r.Sessions.New()
	r.hit(180)
	r.rest()
	s := r.State()
	if s.Saving.Phase != Failed || !s.Notice.Alert {
		t.Errorf("saving %+v notice %+v, want failed and said", s.Saving, s.Notice)
	}
	if len(s.Session.Shots) != 1 {
		t.Error("the ball is lost")
	}
	r.Model.Keeper.store = r.memory
	r.hit(181)
	r.rest()
	if s := r.State().Saving; s.Phase != Ready {
		t.Errorf("saving %+v after room was made", s)
	}
}

func TestWorkerErrorIsShown(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(180)
	r.worker.fails = "all shots are the same"
	r.rest()
	if a := r.State().Answer; a.Phase != Failed || a.Error.Error() != "all shots are the same" {
		t.Errorf("answer %+v", a)
	}
}

func TestShotIDsAreNeverGivenTwice(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(1)
	r.hit(2)
	r.Balls.Remove("1")
	r.hit(3)
	seen := map[string]bool{}
	for _, h := range r.State().Session.Shots {
		if seen[h.ID] {
			t.Errorf("id %q twice", h.ID)
		}
		seen[h.ID] = true
	}
}

func TestSettingOnwardStopsAtTheNextChange(t *testing.T) {
	r := newRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	a, b := Settings(r.State().Session)[0], Settings(r.State().Session)[1]
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
		s.Shots = nil
		for i, set := range []club.Setting{a, a, b, a} {
			s.Shots = append(s.Shots, shot.Shot{ID: string(rune('1' + i)), Setting: set})
		}
	})
	c := Settings(r.State().Session)[2]
	r.Balls.SetSetting("1", c, true)
	got := r.State().Session.Shots
	if !got[0].Setting.Equal(c) || !got[1].Setting.Equal(c) || !got[2].Setting.Equal(b) || !got[3].Setting.Equal(a) {
		t.Errorf("settings %v %v %v %v", got[0].Setting, got[1].Setting, got[2].Setting, got[3].Setting)
	}
}

// The Undo of "the ball is removed" takes back the removal or nothing: after a
// further ball it is no longer offered.
func TestANoticesUndoIsItsOwn(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(200)
	r.hit(20)
	r.Balls.Remove(r.State().Session.Shots[1].ID)
	if !r.State().Notice.Undo {
		t.Fatal("a removal offers no undo")
	}
	r.hit(210)
	if n := r.State().Notice; n.Undo {
		r.UndoNotice()
		t.Errorf("%q still offers its undo after another ball; it leaves %d balls", n.Key, len(r.State().Session.Shots))
	}
	r.rest()
	r.Library.Delete(r.State().Session.ID)
	r.Loop.Settle()
	r.Sessions.New()
	r.hit(190)
	if n := r.State().Notice; n.Key == sessionRemoved && !n.Undo {
		t.Error("the session removed cannot be brought back any more")
	}
}
