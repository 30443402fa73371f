package act

import (
	"testing"

	"ferrule/core/shot"
)

// The time line is cut at the file's breaks and where the person says so; what
// is said holds from there on. All by hand.
func TestTimeLine(t *testing.T) {
	tab := &shot.Table{Shots: make([]shot.Shot, 20), Parts: []shot.FilePart{{Balls: 12}, {From: 12, Balls: 8, Why: "gap"}}}
	for i := 12; i < 15; i++ {
		tab.Shots[i].Tag = shot.TagOut
	}
	m := New(Deps{})
	m.Reader.state.Table = tab
	is := func(what string, want ...[4]int) { // from, balls, kept, use
		t.Helper()
		got := m.Reader.state.lines()
		if len(got) != len(want) {
			t.Fatalf("%s: %+v, want %v", what, got, want)
		}
		for i, l := range got {
			if g := [4]int{l.From, l.Balls, l.Kept, l.Use}; g != want[i] {
				t.Errorf("%s: line %d is %v, want %v", what, i, g, want[i])
			}
		}
	}
	is("as read", [4]int{0, 12, 12, -1}, [4]int{12, 8, 5, -1})
	m.Reader.SetFrom(0, 1)
	is("from the first on", [4]int{0, 12, 12, 1}, [4]int{12, 8, 5, 1})
	if !m.Reader.Split("4-6, 9") {
		t.Error("4-6, 9 was refused")
	}
	is("cut", [4]int{0, 3, 3, 1}, [4]int{3, 3, 3, 1}, [4]int{6, 2, 2, 1}, [4]int{8, 4, 4, 1}, [4]int{12, 8, 5, 1})
	m.Reader.SetFrom(3, 2)
	m.Reader.SetFrom(6, 1)
	is("a range", [4]int{0, 3, 3, 1}, [4]int{3, 3, 3, 2}, [4]int{6, 2, 2, 1}, [4]int{8, 4, 4, 1}, [4]int{12, 8, 5, 1})
	for _, bad := range []string{"0", "21", "9-4", "x", "4-22", "-3", "4-"} {
		if m.Reader.Split(bad) {
			t.Errorf("%q was taken", bad)
		}
	}
}

func TestAnswersAboutLinesAreNotKept(t *testing.T) {
	for id, want := range map[string]bool{"units in 6-12": true, "unit of Carry in yards in 2, 9": true, "units in 2-9 of Data": true, "sides of Curve in lines 2 to 9": true, "unit Carry in yards": false, "clubs": false, "sides of Curve": false} {
		if ofLines(id) != want {
			t.Errorf("%q is about lines: %v", id, !want)
		}
	}
}
