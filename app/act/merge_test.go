package act

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"ferrule/core/club"
	"ferrule/core/shot"
)

func some() shot.Session {
	s := shot.Session{ID: "a", Title: "t", Head: club.Example(), Bench: map[string]string{"grip": "x"}}
	for i := range 4 {
		s.Shots = append(s.Shots, shot.Shot{ID: fmt.Sprint(i + 1), Values: shot.Values{shot.Carry: 200 + float64(i), shot.Offline: 0}})
	}
	return s
}

func TestMergeTakesWhatEitherSideChanged(t *testing.T) {
	base := some()
	mine, theirs := Clone(base), Clone(base)
	mine.Title, mine.Changed = "mine", 9
	mine.Shots[0].Values[shot.Carry] = 190
	mine.Shots[1].Note = "note"
	mine.Shots = append(mine.Shots, shot.Shot{ID: "5", Values: shot.Values{shot.Carry: 5}})
	mine.Bench["place"] = "range"
	mine.Shots = slices.Delete(mine.Shots, 2, 3)
	theirs.Player.Name, theirs.Changed = "theirs", 8
	theirs.Shots[0].Values[shot.Spin] = 300
	delete(theirs.Shots[1].Values, shot.Offline)
	theirs.Shots = append(theirs.Shots, shot.Shot{ID: "5", Values: shot.Values{shot.Carry: 55}})
	theirs.Head.Weights[0].Mass = .02
	got, clashes := Merge(base, mine, theirs)
	want := some()
	want.Title, want.Changed, want.Player.Name = "mine", 9, "theirs"
	want.Head.Weights[0].Mass = .02
	want.Bench["place"] = "range"
	want.Shots = []shot.Shot{
		{ID: "1", Values: shot.Values{shot.Carry: 190, shot.Offline: 0, shot.Spin: 300}},
		{ID: "2", Note: "note", Values: shot.Values{shot.Carry: 201}},
		{ID: "4", Values: shot.Values{shot.Carry: 203, shot.Offline: 0}},
		{ID: "5", Values: shot.Values{shot.Carry: 55}},
		{ID: "6", Values: shot.Values{shot.Carry: 5}},
	}
	if len(clashes) != 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("clashes %v\n got %+v\nwant %+v", clashes, got, want)
	}
}

func TestMergeAsksOnlyOfOneFieldChangedTwice(t *testing.T) {
	base := some()
	mine, theirs := Clone(base), Clone(base)
	mine.Title, theirs.Title = "mine", "theirs"
	mine.Shots[0].Values[shot.Carry], theirs.Shots[0].Values[shot.Carry] = 1, 2
	got, clashes := Merge(base, mine, theirs)
	if !reflect.DeepEqual(clashes, []string{"Shots[1].Values.carry", "Title"}) || got.Title != "mine" {
		t.Errorf("%v, title %q", clashes, got.Title)
	}
	// A ball that one side took out and the other corrected is not lost.
	mine, theirs = Clone(base), Clone(base)
	mine.Shots = mine.Shots[1:]
	theirs.Shots[0].Note = "kept"
	if got, clashes := Merge(base, mine, theirs); len(clashes) != 0 || len(got.Shots) != 4 {
		t.Errorf("%v, %d balls", clashes, len(got.Shots))
	}
}

// Whatever two tabs do to the balls, each ball that one of them added is there
// once, and none that nobody took out is gone.
func TestMergeLosesNoBall(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		base := some()
		edit := func(s shot.Session) (out shot.Session, removed, added int) {
			out = Clone(s)
			for range r.IntN(6) {
				switch r.IntN(4) {
				case 0:
					out.Shots = append(out.Shots, shot.Shot{ID: freshShotID(out.Shots), Values: shot.Values{shot.Carry: r.Float64()}})
					added++
				case 1:
					if i := slices.IndexFunc(out.Shots, func(h shot.Shot) bool { return h.ID <= "4" }); i >= 0 && len(out.Shots[i].ID) == 1 {
						out.Shots = slices.Delete(out.Shots, i, i+1)
						removed++
					}
				case 2:
					if n := len(out.Shots); n > 1 {
						i := r.IntN(n - 1)
						out.Shots[i], out.Shots[i+1] = out.Shots[i+1], out.Shots[i]
					}
				}
			}
			return out, removed, added
		}
		mine, gone1, new1 := edit(base)
		theirs, gone2, new2 := edit(base)
		got, clashes := Merge(base, mine, theirs)
		ids := map[string]bool{}
		for _, h := range got.Shots {
			ids[h.ID] = true
		}
		n := len(got.Shots)
		if len(clashes) > 0 || len(ids) != n || n > 4+new1+new2-max(gone1, gone2) || n < 4+new1+new2-gone1-gone2 {
			t.Fatalf("%v: %d balls, %d ids; added %d and %d, taken out %d and %d", clashes, n, len(ids), new1, new2, gone1, gone2)
		}
	}
}

// Two tabs that describe different clubs of one session are both right.
func TestMergeTakesClubsOneByOne(t *testing.T) {
	base := some()
	base.AddClub(club.Head{Name: "new", Loft: .18}, "mine")
	mine, theirs := Clone(base), Clone(base)
	mine.Head.Loft, theirs.Clubs[0].Loft = .19, .2
	theirs.Own = "new"
	got, clashes := Merge(base, mine, theirs)
	if len(clashes) != 0 || got.Head.Loft != .19 || got.Clubs[0].Loft != .2 || got.Own != "new" {
		t.Errorf("clashes %v, lofts %g and %g, own %q", clashes, got.Head.Loft, got.Clubs[0].Loft, got.Own)
	}
	mine.AddClub(club.Head{Name: "third"}, "")
	if _, clashes := Merge(base, mine, theirs); len(clashes) != 1 || clashes[0] != "Clubs" {
		t.Errorf("a club added here and one changed there: clashes %v, want to be asked", clashes)
	}
}
