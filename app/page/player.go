package page

import (
	"cmp"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/shot"
)

// player is one client in the library: visits, clubs, aims and decisions, and
// nothing of anybody else.
func (h *Home) player(s act.State) app.UI {
	h.client = h.who
	visits := s.Client.Visits
	var clubs, aims, decided []string
	add := func(to *[]string, what string) {
		if what != "" && !slices.Contains(*to, what) {
			*to = append(*to, what)
		}
	}
	var rows []app.UI
	for _, v := range visits {
		rows = append(rows, app.Li().Class("session").Body(h.opens(v.ID, v.Title, v.Created, len(v.Shots))))
		for _, k := range v.All() {
			add(&clubs, k.Name)
		}
		add(&aims, h.w("goal."+string(cmp.Or(v.Aim.Goal, shot.GoalStrokes))))
		if d := v.Adopted; d != nil && !d.Before(v) {
			decided = append(decided, h.wording().decision(*d)...)
		}
	}
	body := []app.UI{ui.Row("",
		ui.Button("next-visit", "main", h.w("home.next-visit", h.who), func(ctx app.Context) {
			if len(visits) > 0 {
				h.m.Sessions.NextVisit(visits[0].ID)
				ctx.Navigate("/club")
			}
		}),
		ui.Button("all-sessions", "quiet", h.w("player.back"), func(ctx app.Context) {
			h.who = ""
			focusOn(ctx, "page-title")
		})),
		ui.Card("player-visits", h.w("past.visits"), app.Ul().Class("sessions").Body(rows...))}
	part := func(id, title string, lines []string) {
		if lines != nil {
			body = append(body, ui.Card(id, h.w(title), ui.List("", lines)))
		}
	}
	part("player-clubs", "clubs.title", clubs)
	part("player-aims", "player.aims", aims)
	part("player-decided", "player.decided", decided)
	return h.frame("", body...)
}

// playerOf leads from a session in the list to its player.
func (h *Home) playerOf(id, name string) app.UI {
	if name == "" {
		return nil
	}
	return ui.Button("player-"+id, "quiet session-player", name, func(ctx app.Context) {
		h.who = name
		h.m.Clients.Show(name)
		focusOn(ctx, "page-title")
	})
}
