package page

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/core/chart/charttest"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
)

// A rule of leaving out is taken only where it leaves something to compare
// with; what is refused says why and changes nothing.
func TestLeavingSettingsOut(t *testing.T) {
	r := charttest.Report()
	with(t, &r, nil)
	model.Editor.Edit(act.Change{}, func(s *shot.Session) { s.Head = club.Example() })
	c := pages()["/club"].(*Club)
	all := len(act.Settings(model.State().Session))
	settings := func() int { return len(model.State().Session.Head.Settings()) }
	was := settings()

	c.leaveOut()
	if c.refused == "" || settings() != was {
		t.Errorf("leaving everything out: %q, %d settings of %d", c.refused, settings(), was)
	}
	sound(t, "refused", app.HTMLString(c))
	today := act.Reference(model.State().Session)
	c.rulings = club.Setting{Sleeve: today.Sleeve}
	c.leaveOut()
	if !strings.Contains(c.refused, today.Sleeve) || settings() != was {
		t.Errorf("leaving today's setting out: %q, %d settings of %d", c.refused, settings(), was)
	}
	other := ""
	for _, p := range model.State().Session.Head.Places() {
		if p.Label != today.Sleeve {
			other = p.Label
		}
	}
	c.rulings = club.Setting{Sleeve: other}
	c.leaveOut()
	if c.refused != "" || settings() >= was {
		t.Fatalf("leaving %q out: %q, %d settings of %d", other, c.refused, settings(), was)
	}
	html := app.HTMLString(c)
	sound(t, "left out", html)
	if !strings.Contains(html, `id="limit1-remove"`) {
		t.Error("what is left out is not listed")
	}
	c.rulings = club.Setting{Sleeve: other}
	c.leaveOut()
	if c.refused == "" {
		t.Error("the same again is taken")
	}
	model.Editor.Undo()
	if settings() != was || len(act.Settings(model.State().Session)) != all {
		t.Errorf("after an undo %d settings, want %d", settings(), was)
	}
}

// The looked-at setting says what it does in both readings, and follows what
// is typed.
func TestTheLookedAtSettingInWords(t *testing.T) {
	r := charttest.Report()
	with(t, &r, nil)
	model.Editor.Edit(act.Change{}, func(s *shot.Session) {
		s.Head = club.Example()
		s.Aim.Holes = []shot.Hole{{Name: "first"}, {Trouble: frame.SideLeft}}
	})
	c := pages()["/club"].(*Club)
	for i := range model.State().Session.Head.Places() {
		c.lookAt(i)
		html := app.HTMLString(c)
		sound(t, "look", html)
		if off := strings.Count(html, `aria-pressed="false"`); strings.Count(html, "aria-pressed")-off != 1 { // on is written without a value
			t.Errorf("position %d: not one position is looked at", i)
		}
	}
	before := app.HTMLString(c.lookPart(model.State().Session.Head))
	model.Editor.Edit(act.Change{}, func(s *shot.Session) { s.Head.Sleeve.Rings[0].Tilt *= 2 })
	if app.HTMLString(c.lookPart(model.State().Session.Head)) == before {
		t.Error("twice the tilt says the same")
	}
}
