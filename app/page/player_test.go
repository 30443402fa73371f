package page

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/core/chart/charttest"
	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/store"
)

// A client's page names the client, the visits, clubs, aims and decisions; neither it
// nor the second window names another's.
func TestAClientsPage(t *testing.T) {
	r := charttest.Report()
	m := with(t, &r, nil)
	for _, who := range []string{"Ann", "Ben"} {
		s := shot.Session{ID: who, Title: "morning of " + who, Player: shot.Player{Name: who}, Created: 10, Head: club.Example(), Aim: shot.Aim{Goal: shot.GoalCarry}}
		s.Head.Name = "head of " + who
		s.Adopted = &shot.Decision{When: 20, Setting: club.Setting{Sleeve: "set for " + who}, Goal: shot.GoalCarry, Chance: .75}
		blob, err := store.Encode(s)
		if err != nil {
			t.Fatal(err)
		}
		m.Library.Restore(blob)
		m.Loop.Settle()
	}
	m.Sessions.Open("Ben")
	m.Loop.Settle()
	h := pages()["/"].(*Home)
	if html := app.HTMLString(h); !strings.Contains(html, `id="player-Ann"`) || !strings.Contains(html, "morning of Ben") {
		t.Errorf("the list has no button with the name")
	}
	h.who = "Ann"
	m.Clients.Show("Ann")
	m.Loop.Settle()
	html := app.HTMLString(h)
	sound(t, "player", html)
	for _, want := range []string{"morning of Ann", "head of Ann", "set for Ann", "75", "Next visit of Ann", h.w("goal.carry")} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for name, html := range map[string]string{"the page": html, "the second window": app.HTMLString(pages()["/client"])} {
		for _, s := range m.State().Sessions.Entries {
			for _, not := range append([]string{s.Player, s.Title}, s.Clubs...) {
				if not != "" && (s.Player != "Ann" || name != "the page") && strings.Contains(html, not) {
					t.Errorf("%s shows %q of %s", name, not, s.Player)
				}
			}
		}
	}
}
