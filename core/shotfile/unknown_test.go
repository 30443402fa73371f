package shotfile

import (
	"slices"
	"strings"
	"testing"

	"ferrule/core/shot"
)

// Headers as people shorten and turn them round, and what they name.
func TestHeadersInOtherWords(t *testing.T) {
	for header, want := range map[string]shot.Quantity{
		"Ball Vel": shot.BallSpeed, "speed ball": shot.BallSpeed, "speed club (m/s)": shot.ClubSpeed, "loft dyn": shot.DynamicLoft, "Descent Ang": shot.Descent,
		"Seite°": shot.OfflineAngle, "Side °": shot.OfflineAngle, "Side": shot.Offline, "Max Ht [ft]": shot.Apex, "path face": shot.FaceToPath,
		"heart rate": "", "ball": "", "tempo": "",
	} {
		ms, _, _ := headerMeaning(header)
		got := shot.Quantity("")
		if len(ms) > 0 {
			got = ms[0].quantity
		}
		if got != want {
			t.Errorf("%q is read as %q, want %q", header, got, want)
		}
	}
}

// A column on no list is asked about where the file lacks a number of its size, and
// only there: once it is said, the file is read with it.
func TestAnUnknownHeaderIsAskedAbout(t *testing.T) {
	const file = "club,speed,pulse,launch,spin,carry (yd),drift\n1W 10.5,151,118,11.2,2450,231,8\n1W 10.5,149,121,10.1,2310,225,-12\n7i,112,119,17.2,6300,152,3\n1W 9°,152,120,9.6,2200,236,-5\n1W 9°,---,---,----,----,----,----\n"
	read := func(answers map[string]string) shot.Table {
		t.Helper()
		table, err := Read("a.csv", []byte(file), Options{Answers: answers})
		if err != nil {
			t.Fatal(err)
		}
		return table
	}
	asked := func(table shot.Table) (ids []string) {
		for _, q := range table.Questions {
			if q.Open && strings.HasPrefix(q.ID, "what ") {
				ids = append(ids, q.ID)
			}
		}
		return ids
	}
	if got := asked(read(nil)); !slices.Equal(got, []string{"what speed", "what pulse", "what drift"}) {
		t.Errorf("asked about %q", got)
	}
	table := read(map[string]string{"what speed": "ball_speed", "what drift": "offline", "what pulse": "skip"})
	if got := asked(table); len(got) > 0 {
		t.Errorf("asked about %q once all is said", got)
	}
	if v := table.Shots[0].Values; v[shot.BallSpeed] < 67 || v[shot.BallSpeed] > 68 || v[shot.Offline] < 7 {
		t.Errorf("the first ball is %v", v)
	}
	if got := asked(read(map[string]string{"what speed": "ball_speed"})); !slices.Equal(got, []string{"what drift"}) { // the pulse is no ball's speed any more
		t.Errorf("asked about %q", got)
	}
}
