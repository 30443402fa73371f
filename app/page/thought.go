package page

import (
	"slices"
	"sort"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
)

// thoughtsShown are as many as fit one line of a phone.
const thoughtsShown = 3

// readyThoughts stand there before a note was written, so that the first needs no
// typing.
var readyThoughts = []string{"thought.easy", "thought.hard", "thought.tired"}

// thoughtChips are the notes written to balls of this session, the last one first, and
// as many ready ones as there is room for: a tap gives the newest ball the same,
// or takes it away again.
func thoughtChips(model *act.Model, say wording, s act.State) app.UI {
	shots := s.Session.Shots
	all := []string{}
	for i := len(shots) - 1; i >= 0 && len(all) < thoughtsShown; i-- {
		if note := shots[i].Note; note != "" && !slices.Contains(all, note) {
			all = append(all, note)
		}
	}
	for _, key := range readyThoughts {
		if note := say.w(key); len(shots) > 0 && len(all) < thoughtsShown && !slices.Contains(all, note) {
			all = append(all, note)
		}
	}
	sort.Strings(all) // no button moves under the finger
	return app.Div().ID("thoughts").Class("chip-row").Attr("role", "group").Attr("aria-label", say.w("balls.note")).Body(
		app.Range(all).Slice(func(i int) app.UI {
			note := all[i]
			return chip("thought-"+strconv.Itoa(i), note, shots[len(shots)-1].Note == note, note, func() {
				id := lastID(model.State(), "")
				for _, h := range model.State().Session.Shots {
					if h.ID == id && h.Note == note {
						model.Balls.Note(id, "")
						return
					}
				}
				model.Balls.Note(id, note)
			})
		}))
}
