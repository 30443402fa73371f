package act

import (
	"context"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// remembering is a worker that notes what it is told to remember; of a head it
// learns as many marks as it is given balls.
type remembering struct {
	before []*wire.Memory
	learn  []wire.Learn
	fails  string
}

func (w *remembering) Do(_ context.Context, r wire.Request) (wire.Result, error) {
	switch {
	case w.fails != "":
		return wire.Result{Error: wrongly(w.fails)}, nil
	case r.Analyse != nil:
		w.before = append(w.before, r.Analyse.Before)
		return wire.Result{Report: &report.Report{Balls: len(r.Analyse.Session.Shots)}}, nil
	case r.Learn != nil:
		w.learn = append(w.learn, *r.Learn)
		out := wire.Learned{Record: append([]byte("r"), r.Learn.Other...), Players: 7, Theirs: 5, New: len(r.Learn.Other)}
		for _, sessions := range r.Learn.Players {
			p := wire.Part{}
			for _, s := range sessions {
				p.Seen = append(p.Seen, uint64(len(s.Shots)))
			}
			out.Parts = append(out.Parts, p)
		}
		return wire.Result{Learned: &out}, nil
	}
	return wire.Result{}, nil
}

func pastRig(t *testing.T) (*rig, *remembering) {
	r, w := newRig(t), &remembering{}
	r.Loop.deps.Worker = w
	return r, w
}

// visit begins a session of a player with some balls, a day after the last.
func (r *rig) visit(name string, balls int) string {
	r.clock += 86400
	r.Sessions.begin(shot.Session{Player: shot.Player{Name: name}, Head: club.Example()})
	for range balls {
		r.hit(200)
	}
	r.rest()
	return r.State().Session.ID
}

func (w *remembering) last() *wire.Memory { return w.before[len(w.before)-1] }

// ids are those of the visits that were last sent.
func (w *remembering) ids() (ids string) {
	if m := w.last(); m != nil {
		for _, v := range m.Visits {
			ids += v.ID + " "
		}
	}
	return ids
}

func TestEarlierVisitsOfThePlayerAreSent(t *testing.T) {
	r, w := pastRig(t)
	first := r.visit("Ann", 3)
	if w.last() != nil {
		t.Fatalf("the first visit remembers %+v", w.last())
	}
	r.visit("Ben", 4)
	if w.ids() != "" {
		t.Errorf("Ben's answer counts %s", w.ids())
	}
	second := r.visit("ann ", 5)
	if w.ids() != first+" " {
		t.Errorf("the second visit counts %q, want %q", w.ids(), first)
	}
	third := r.visit("Ann", 5)
	if want := second + " " + first + " "; w.ids() != want {
		t.Errorf("the third counts %q, want %q", w.ids(), want)
	}
	asked := len(w.before)
	r.Memory.Count(func(p *Prefs) { p.Alone = true })
	r.rest()
	if len(w.before) != asked+1 || w.ids() != "" {
		t.Errorf("switched off: %d questions more, counts %q", len(w.before)-asked, w.ids())
	}
	r.Memory.Count(func(p *Prefs) { p.Alone = false })
	r.rest()
	r.Library.Delete(first)
	r.rest()
	if w.ids() != second+" " {
		t.Errorf("after one was removed: %q", w.ids())
	}
	r.Library.Undelete()
	r.rest()
	if want := second + " " + first + " "; w.ids() != want {
		t.Errorf("after it was brought back: %q, want %q", w.ids(), want)
	}
	r.Sessions.Open(first) // none is earlier than the first
	r.Loop.Settle()
	r.rest()
	if w.ids() != "" {
		t.Errorf("the first counts %q", w.ids())
	}
	r.Sessions.Open(third)
	r.Loop.Settle()
	for i := range 12 {
		r.visit("Ann", 1+i)
	}
	if n := len(w.last().Visits); n != wire.MaxVisits {
		t.Errorf("%d visits are sent, at most %d", n, wire.MaxVisits)
	}
}

// Sessions without a name are anybody's until the person says that they are not.
func TestSessionsWithoutANameAreNobodys(t *testing.T) {
	r, w := pastRig(t)
	first := r.visit("", 3)
	r.visit("", 4)
	if w.ids() != "" || !r.Memory.Nameless() {
		t.Errorf("counted without a word: %q; asked: %v", w.ids(), r.Memory.Nameless())
	}
	r.Memory.Count(func(p *Prefs) { p.Nameless = true })
	r.rest()
	if w.ids() != first+" " {
		t.Errorf("said to be one player's: %q", w.ids())
	}
	r.Editor.Edit(Change{Key: "edit.name", Quiet: true}, func(s *shot.Session) { s.Player.Name = "Ann" })
	r.rest()
	if w.ids() != "" {
		t.Errorf("Ann has a name, and no visit before: %q", w.ids())
	}
}

func TestARecordIsOfTheOthers(t *testing.T) {
	r, w := pastRig(t)
	r.visit("Ann", 3)
	r.visit("Ben", 4)
	other := club.Example()
	other.Loft += .1
	r.Sessions.begin(shot.Session{Player: shot.Player{Name: "Dan"}, Head: other})
	r.hit(190)
	r.rest()
	r.visit("Ann", 5)
	r.Heads.Learn(club.Example())
	r.Loop.Settle()
	r.rest()
	if len(w.learn) != 2 {
		t.Fatalf("%d players asked for, want Ann and Ben: Dan hit another head", len(w.learn))
	}
	_, kept := r.Heads.Of(club.Example())
	if kept == nil || len(kept.People) != 2 || r.Heads.Others(kept) != 1 {
		t.Fatalf("kept %+v", kept)
	}
	if m := w.last(); m == nil || len(m.Heads) != 1 || len(m.Heads[0].Parts) != 1 || m.Heads[0].Parts[0].Seen[0] != 4 {
		t.Errorf("Ann's answer counts %+v, want Ben's part alone", m)
	}
	r.Heads.Learn(club.Example()) // nothing is new
	r.Loop.Settle()
	if len(w.learn) != 2 {
		t.Errorf("%d questions for what is known", len(w.learn)-2)
	}
	r.Memory.Count(func(p *Prefs) { p.NoRecord = true })
	r.rest()
	if m := w.last(); m != nil && len(m.Heads) > 0 {
		t.Errorf("switched off: %+v", m)
	}
	r.Heads.Save(club.Example(), func([]byte) {})
	r.Loop.Settle()
	if q := w.learn[len(w.learn)-1]; len(q.Parts) != 2 {
		t.Errorf("%d players are saved, want both", len(q.Parts))
	}
	again := New(Deps{Worker: w, Pocket: r.Loop.deps.Pocket})
	if _, k := again.Heads.Of(club.Example()); k == nil || len(k.People) != 2 || k.People[1].Part.Seen[0] == 0 {
		t.Errorf("after a new start: %+v", k)
	}
}

// A session with two heads remembers what is known of each, its own first.
func TestEachHeadOfASessionIsRemembered(t *testing.T) {
	r, w := pastRig(t)
	r.visit("Ben", 4)
	other := club.Example()
	other.Name = "Other head"
	r.Sessions.begin(shot.Session{Player: shot.Player{Name: "Dan"}, Head: other})
	r.hit(190)
	r.rest()
	r.visit("Ann", 2)
	r.Editor.Edit(Change{Key: "edit.club"}, func(s *shot.Session) { s.AddClub(other, "") })
	for _, h := range Learnable(*r.State().Session) {
		r.Heads.Learn(h)
		r.Loop.Settle()
	}
	r.rest()
	m := w.last()
	if m == nil || len(m.Heads) != 2 || !sameHead(m.Heads[0].Head, club.Example()) || m.Heads[0].Parts[0].Seen[0] != 4 || m.Heads[1].Parts[0].Seen[0] != 1 {
		t.Errorf("the answer counts %+v", m)
	}
}

func TestARecordFromAFileIsAskedAbout(t *testing.T) {
	r, w := pastRig(t)
	r.visit("Ann", 3)
	r.Heads.Open(club.Example(), []byte("file"))
	r.Loop.Settle()
	o := r.State().Records.Offer
	if _, kept := r.Heads.Of(club.Example()); kept != nil || o == nil || o.Players != 5 || o.New != 4 {
		t.Fatalf("offered %+v, kept %+v before it was said so", o, kept)
	}
	r.Heads.AnswerOffer(false)
	if _, kept := r.Heads.Of(club.Example()); kept != nil || r.State().Records.Offer != nil {
		t.Errorf("left, and kept %+v", kept)
	}
	r.Heads.Open(club.Example(), []byte("file"))
	r.Loop.Settle()
	r.Heads.AnswerOffer(true)
	r.rest()
	if _, kept := r.Heads.Of(club.Example()); kept == nil || string(kept.Taken) != "rfile" || kept.Theirs != 7 {
		t.Errorf("taken: %+v", kept)
	}
	if m := w.last(); m == nil || string(m.Heads[0].Record) != "rfile" {
		t.Errorf("the answer counts %+v", m)
	}
	w.fails = "another head"
	r.Heads.Open(club.Example(), []byte("x"))
	r.Loop.Settle()
	if rec := r.State().Records; rec.Phase != Failed || rec.Error.Error() != "another head" || rec.Offer != nil {
		t.Errorf("refused: %+v", rec)
	}
	if _, kept := r.Heads.Of(club.Example()); string(kept.Taken) != "rfile" {
		t.Errorf("what was kept is %q", kept.Taken)
	}
}

// A record that cannot be read is kept aside and said.
func TestADamagedRecordIsPutAside(t *testing.T) {
	pocket := memoryPocket{recordsKey + "a": "\x81\xa4Head\xc1"}
	m := New(Deps{Worker: &remembering{}, Pocket: pocket})
	if m.State().Notice.Key != "error.record-spoilt" || pocket[recordsKey+"a"] != "" || len(pocket.Keys(spoiltKey)) != 1 || !strings.Contains(pocket.Load(pocket.Keys(spoiltKey)[0]), "Head") {
		t.Errorf("%+v, %q", m.State().Notice, pocket)
	}
}
