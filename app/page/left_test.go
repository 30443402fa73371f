package page

import (
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/core/chart/charttest"
	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

var tagsOfHTML = regexp.MustCompile(`<[^>]*>`)

// wayOf is the line that says how the opened ball flew, on each page that says
// it, for a golfer of the given hand who hits one mirrored ball or the other.
func waysOf(t *testing.T, r report.Report) map[string]string {
	t.Helper()
	for i := range r.Settings { // the invented report says nothing of the axis
		r.Settings[i].Quantities = append(r.Settings[i].Quantities, report.Amount{Quantity: shot.LaunchDirection, Value: report.Interval{Mean: r.Hand.Mirror(-2 * units.Degree)}})
	}
	m := with(t, &r, nil)
	id := m.State().Session.Shots[len(m.State().Session.Shots)-1].ID
	m.Editor.Edit(act.Change{Key: "edit.value"}, func(s *shot.Session) {
		v := shot.Values{shot.Carry: 200, shot.LaunchDirection: -2 * units.Degree, shot.Offline: 9}
		if r.Hand == frame.Left {
			v = shot.Values{shot.Carry: 200, shot.LaunchDirection: 2 * units.Degree, shot.Offline: -9}
		}
		s.Shots[len(s.Shots)-1].Values = v
	})
	all := pages()
	all["/shots"].(*Shots).open = id
	all["/compare"].(*Compare).tapped = id
	out := map[string]string{}
	for _, path := range []string{"/shots", "/compare", "/live", "/choose"} {
		plain := tagsOfHTML.ReplaceAllString(app.HTMLString(all[path]), "\n")
		for line := range strings.Lines(plain) {
			if strings.Contains(line, "started ") {
				out[path] = strings.TrimSpace(line)
			}
		}
	}
	return out
}

// TestLeftHandersSeeTheirOwnFade: the mirror image of a ball has the same name
// for the mirror image of a player, and left and right as they are seen.
func TestLeftHandersSeeTheirOwnFade(t *testing.T) {
	right, left := waysOf(t, charttest.Report()), waysOf(t, charttest.Mirrored())
	for _, path := range []string{"/shots", "/compare", "/live"} {
		// 200 tan 2° = 6.98 m: the ball curves 15.98 m, 17 yd
		if want := "Fade: started 2.0° left, curved 17\u00a0yd right"; right[path] != want {
			t.Errorf("%s, right-handed: %q, want %q", path, right[path], want)
		}
		if want := "Fade: started 2.0° right, curved 17\u00a0yd left"; left[path] != want {
			t.Errorf("%s, left-handed: %q, want %q", path, left[path], want)
		}
	}
	if right["/choose"] == "" || left["/choose"] == "" {
		t.Fatalf("what to expect names no shape: %q, %q", right["/choose"], left["/choose"])
	}
	swap := strings.NewReplacer("left", "right", "right", "left")
	if swap.Replace(right["/choose"]) != left["/choose"] {
		t.Errorf("what to expect: %q for a right-hander, %q for a left-hander", right["/choose"], left["/choose"])
	}
}
