package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/frame"
)

// looked is the setting that is drawn: the one picked, while the club has it,
// else today's.
func (c *Club) looked(h club.Head) club.Setting {
	if c.look != nil {
		t := withWeights(h, *c.look)
		if _, err := h.Change(t); err == nil {
			return t
		}
	}
	return asToday(h)
}

// lookPart shows one setting as it is described: the head at address, and in
// words what it does in both readings of an angled sleeve. It follows every
// key.
func (c *Club) lookPart(h club.Head) app.UI {
	if h.Validate() != nil {
		return nil
	}
	ref := asToday(h)
	set := c.looked(h)
	change, err := h.Change(set)
	was, err2 := h.Change(ref)
	if err != nil || err2 != nil {
		return nil
	}
	hand := frame.Right
	if c.st().Session.Player.Hand == frame.Left {
		hand = frame.Left
	}
	return app.Div().ID("look").Class("part").Body(
		chartOf(c.wording(), "head-drawing", chart.Head(chart.Address{Head: h, Setting: set, Change: change, Reference: was, Hand: hand}, styleOf(c.wording(), "head")), nil),
		pickSetting(c.m, c.wording(), "look", h, set, func(_ app.Context, t club.Setting) { c.look = &t }),
		app.Div().ID("look-words").Attr("role", "status").Body(
			ui.P("look-name", lookName(c.wording(), set, ref)),
			ui.List("plain", lookWords(c.wording(), h, set, change, was, set.Equal(ref))),
		),
	)
}

func lookName(say wording, set, ref club.Setting) string {
	if set.Equal(ref) {
		return say.w("club.look-today", say.setting(set))
	}
	return say.w("club.look-against", say.setting(set), say.setting(ref))
}

// lookWords says what a setting does: against today's, or for today's own
// against the head without its sleeve's tilt.
func lookWords(say wording, h club.Head, set club.Setting, change, was club.Change, today bool) []string {
	against := change.Against(was)
	if today {
		against = change
	}
	r := say.r
	lines := []string{}
	if len(h.Places()) > 1 {
		squared, soled := r.BothWays(against)
		lines = append(lines, squared)
		if soled != squared {
			lines = append(lines, soled)
		}
	}
	if len(h.Weights) > 0 {
		lines = append(lines, capital(r.Moved(against)))
	}
	if points, ok := h.SwingWeight(change); ok {
		lines = append(lines, capital(say.w("whole.swing", club.SwingWeightText(points))))
	}
	if same := h.Canonical(set); !same.Equal(set) {
		lines = append(lines, say.w("club.look-same", say.setting(same)))
	}
	return lines
}

// capital begins a sentence.
func capital(s string) string {
	for i, r := range s {
		if i == 0 {
			return strings.ToUpper(string(r)) + s[len(string(r)):]
		}
	}
	return s
}
