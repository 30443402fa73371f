package act

import (
	"fmt"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
)

func rows(n int) *shot.Table {
	t := &shot.Table{}
	for i := range n {
		t.Shots = append(t.Shots, shot.Shot{Line: i + 2, Values: shot.Values{shot.Carry: 200 + float64(i)/3, shot.BallSpeed: 60 + float64(i)/7, shot.Offline: float64(i%5) - 2}})
	}
	return t
}

func atBay(t *testing.T) *rig {
	r := newRig(t)
	r.Sessions.New()
	r.Loop.Settle()
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) { s.Head = club.Example() })
	return r
}

// TestBallsComeInByThemselves: a file that holds all balls of the day each time
// brings each ball once, to the setting that is set; balls from before the folder
// was watched stay away; one tap moves those that came in last.
func TestBallsComeInByThemselves(t *testing.T) {
	r := atBay(t)
	all := Settings(r.State().Session)
	count := func(c club.Setting) (n int) {
		for _, h := range r.State().Session.Shots {
			if h.Setting.Equal(c) {
				n++
			}
		}
		return n
	}
	come := func(balls, from int) {
		r.worker.table = rows(balls)
		r.Files.TakeIn("day.csv", []byte("x"), from)
		r.Loop.Settle()
	}
	come(5, 3) // lines 2 and 3 were there before
	if n := len(r.State().Session.Shots); n != 3 || count(all[0]) != 3 {
		t.Fatalf("%d balls came in, %d of them to %s, want 3", n, count(all[0]), all[0].Key())
	}
	r.Bay.SetNext(all[1])
	come(9, 3)
	if a, b := count(all[0]), count(all[1]); a != 3 || b != 4 {
		t.Errorf("%d and %d balls, want 3 and 4", a, b)
	}
	if n := r.State().Notice; n.Key != "notice.balls-to" || n.Args[0].Value != 4 || n.Args[1].Text != all[1].Key() {
		t.Errorf("told: %+v", n)
	}
	undo := r.State().Undo
	come(9, 3)
	if n := len(r.State().Session.Shots); n != 7 || r.State().Undo != undo {
		t.Errorf("the same file again: %d balls", n)
	}
	r.Bay.MoveArrived(all[2])
	if a, b, c := count(all[0]), count(all[1]), count(all[2]); a != 3 || b != 0 || c != 4 {
		t.Errorf("moved: %d, %d and %d balls, want 3, 0 and 4", a, b, c)
	}
	r.Editor.Undo()
	if count(all[1]) != 4 {
		t.Error("the move is not undone")
	}

	// What is open is asked, as of any file.
	r.worker.table = rows(12)
	r.worker.table.Questions = []shot.Question{{ID: "players", Open: true}}
	r.Files.TakeIn("two.csv", []byte("x"), 0)
	r.Loop.Settle()
	if g := r.State().Reading; g.Phase != Ready || len(r.State().Session.Shots) != 7 {
		t.Errorf("a file with a question: %q, %d balls", g.Phase, len(r.State().Session.Shots))
	}
}

// TestDaysAndPlayersStayApart: two days of one session are two parts; the next
// player, and the next day, begin with nothing of the air, the name, the tick or
// the setting.
func TestDaysAndPlayersStayApart(t *testing.T) {
	r := atBay(t)
	r.clock = 1_700_000_000
	r.Sessions.New()
	r.Loop.Settle()
	all := Settings(r.State().Session)
	r.Editor.Edit(Change{Key: "edit.player"}, func(s *shot.Session) {
		s.Player = shot.Player{Name: "Ann", Hand: frame.Left}
		s.Conditions = shot.Conditions{Wind: 6, WindFrom: 1, Firmness: 1}
		s.Aim.BallsLeft = 3
	})
	r.hit(200)
	r.hit(201)
	r.clock += 24 * 3600
	r.Bay.SetNext(all[2])
	r.hit(202)
	parts := fmt.Sprintf("%q", []string{r.State().Session.Shots[0].Session, r.State().Session.Shots[1].Session, r.State().Session.Shots[2].Session})
	if a, b := r.State().Session.Shots[1].Session, r.State().Session.Shots[2].Session; a != "" || b == "" {
		t.Errorf("the parts of two days: %s", parts)
	}
	if n := r.State().Session.Aim.BallsLeft; n != -1 {
		t.Errorf("3 balls left, 3 hit: %d, want -1 (used up)", n)
	}
	r.Sessions.NewPlayer()
	r.Loop.Settle()
	s := r.State().Session
	if s.Player.Name != "" || s.Player.Hand == frame.Left || s.Conditions != (shot.Conditions{}) || len(s.Airs) != 0 || s.Aim.BallsLeft != 0 || !Now(r.State()).Equal(all[0]) || len(r.State().Drafts) != 0 {
		t.Errorf("the next player begins with %+v, %+v, set to %s", s.Player, s.Conditions, Now(r.State()).Key())
	}
	r.Editor.Edit(Change{Key: "edit.air"}, func(s *shot.Session) { s.Conditions.Indoors = true })
	r.Sessions.NewPlayer()
	r.Loop.Settle()
	if r.State().Session.Conditions.Indoors {
		t.Error("indoors is carried along to the next player")
	}
}

// TestTheClockGoesIntoTheAnswer: minutes run down, and are used up.
func TestTheClockGoesIntoTheAnswer(t *testing.T) {
	r := atBay(t)
	r.hit(200)
	if _, runs := r.Bay.MinutesLeft(); runs {
		t.Error("the clock runs before it was started")
	}
	r.Bay.StartClock(30)
	r.clock += 10 * 60
	if left, runs := r.Bay.MinutesLeft(); !runs || left != 20 {
		t.Errorf("after 10 of 30 minutes %v are left", left)
	}
	r.clock += 21 * 60
	if got := r.Bay.timed(*r.State().Session).Aim.MinutesLeft; got != -1 {
		t.Errorf("after 31 of 30 minutes the answer is told %v, want -1 (used up)", got)
	}
	r.Bay.StartClock(0)
	if _, runs := r.Bay.MinutesLeft(); runs {
		t.Error("the clock was stopped and runs")
	}
}

// TestNothingOfTheLastSessionIsLeftToHit: balls and minutes left are of the
// session that they were said in, and of an example only the club is taken along.
func TestNothingOfTheLastSessionIsLeftToHit(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.Editor.Edit(Change{Key: "edit.aim"}, func(s *shot.Session) {
		s.Player.Name, s.Player.Hand = "Ann", frame.Left
		s.Aim.BallsLeft, s.Aim.MinutesLeft, s.Aim.FairwayWidth = 5, 9, 30
	})
	r.Sessions.New()
	r.Loop.Settle()
	if s := r.State().Session; s.Player.Name != "Ann" || s.Aim.FairwayWidth != 30 || s.Aim.BallsLeft != 0 || s.Aim.MinutesLeft != 0 {
		t.Errorf("Ann's next session begins with %+v, %+v", s.Player, s.Aim)
	}
	r.Editor.Edit(Change{Key: "edit.player"}, func(s *shot.Session) { s.Player.Name, s.Head.Name = "Demo player A, mirrored", "Shown" })
	r.Sessions.New()
	r.Loop.Settle()
	if s := r.State().Session; s.Player.Name != "" || s.Player.Hand == frame.Left || s.Aim.FairwayWidth == 30 || s.Head.Name != "Shown" {
		t.Errorf("a session after an example begins with %+v, %+v, %s", s.Player, s.Aim, s.Head.Name)
	}
}
