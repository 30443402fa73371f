package page

import (
	"cmp"
	"slices"
	"sort"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/shot"
)

// clubs lists the clubs of the session. The one that is described below stands
// first in the session (shot.Session.Front); the list keeps the order of names.
func (c *Club) clubs(s shot.Session) app.UI {
	if !s.Several() {
		return moreLater("clubs", c.w("clubs.add"), func() []app.UI { return []app.UI{c.addClub()} })
	}
	all := s.All()
	sort.SliceStable(all, func(i, j int) bool { return all[i].Name < all[j].Name })
	chips := app.Range(all).Slice(func(k int) app.UI {
		name := all[k].Name
		text := name
		if s.ClubAt(name) == s.OwnAt() {
			text = c.w("clubs.own-mark", name)
		}
		return chip("club-is-"+strconv.Itoa(k), text, name == s.Head.Name, name, func() {
			c.look = nil
			c.m.Editor.Edit(clubsEdit, func(s *shot.Session) { s.Front(s.ClubAt(name)) })
		})
	})
	hit := slices.ContainsFunc(s.Shots, func(x shot.Shot) bool { return s.ClubAt(x.Setting.Club) == 0 })
	return ui.Card("clubs", c.w("clubs.title"),
		ui.P("hint", c.w("clubs.hint")),
		app.Div().Class("set-buttons").Attr("role", "group").Attr("aria-label", c.w("clubs.title")).Body(chips),
		app.If(s.OwnAt() != 0, func() app.UI {
			return ui.Button("club-own", "quiet", c.w("clubs.own"), func(app.Context) {
				c.m.Editor.Edit(clubsEdit, func(s *shot.Session) { s.Own = s.Head.Name })
			})
		}),
		app.If(!hit, func() app.UI {
			return ui.Button("club-remove", "quiet", c.w("clubs.remove"), func(app.Context) {
				c.m.Editor.Edit(clubsEdit, func(s *shot.Session) { s.RemoveClub(0) })
			})
		}),
		c.addClub(),
	)
}

var clubsEdit = act.Change{Key: "edit.head"}

// addClub offers a club that cannot be set, described like the one shown, and a
// copy of that one. Either is then the one described.
func (c *Club) addClub() app.UI {
	add := func(id, key string, of func(s *shot.Session) club.Head) app.UI {
		return ui.Button(id, "quiet", c.w(key), func(app.Context) {
			c.look = nil
			c.m.Editor.Edit(clubsEdit, func(s *shot.Session) {
				s.Head.Name = cmp.Or(s.Head.Name, c.w("clubs.mine"))
				s.Front(s.AddClub(of(s), s.Head.Name))
			})
		})
	}
	return app.Div().Class("choices").Body(
		add("club-add", "clubs.add", func(s *shot.Session) club.Head {
			h := s.Head
			return club.Head{Name: c.w("clubs.new"), Kind: h.Kind, Loft: h.Loft, Lie: h.Lie, Mass: h.Mass, Hold: h.Hold}
		}),
		add("club-copy", "clubs.copy", func(s *shot.Session) club.Head {
			if s.Head.Model == "" { // both have this head
				s.Head.Model = s.Head.Name
			}
			return act.Clone(*s).Head
		}),
		c.known(),
	)
}

// known offers the clubs that were described before: by their own names, never by
// whose session it was.
func (c *Club) known() app.UI {
	all := c.m.Library.KnownClubs()
	return app.If(len(all) > 0, func() app.UI {
		options := []ui.Option{{Value: "", Label: "–"}}
		for i, k := range all {
			options = append(options, ui.Option{Value: strconv.Itoa(i), Label: k.Name})
		}
		return &ui.Pick{ID: "club-known", Label: c.w("clubs.known"), Options: options, Picked: func(_ app.Context, v string) {
			all := c.m.Library.KnownClubs()
			if i, err := strconv.Atoi(v); err == nil && i < len(all) {
				c.look = nil
				c.m.Library.TakeClub(all[i], c.w("clubs.mine"))
			}
		}}
	})
}

// partsCard names head and shaft, where clubs may share them.
func partsCard(model *act.Model, say wording, s shot.Session) app.UI {
	if !s.Several() {
		return app.Div()
	}
	h := s.Head
	return app.Div().Body(
		textField(model, "head-model", say.w("clubs.model"), say.w("clubs.model-hint"), h.Model, headEdit, func(s *shot.Session, v string) { s.Head.Model = v }),
		textField(model, "shaft-name", say.w("clubs.shaft"), say.w("clubs.shaft-hint"), h.Shaft.Name, headEdit, func(s *shot.Session, v string) { s.Head.Shaft.Name = v }),
	)
}
