package page

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/export"
	"ferrule/core/shot"
	"ferrule/core/store"
)

// unsavedRows says what is not stored and offers a way to keep it: nothing may be
// lost because a disk is full, a browser keeps nothing or two tabs disagree.
func unsavedRows(model *act.Model, say wording, s act.State) app.UI {
	rows := []app.UI{}
	switch {
	case s.Saving.Conflict:
		rows = append(rows, ui.Row("banner", ui.Alert("conflict", say.w("save.conflict")),
			ui.Button("keep-mine", "main", say.w("save.mine"), func(app.Context) { model.Keeper.KeepMine() }),
			ui.Button("take-theirs", "", say.w("save.theirs"), func(app.Context) { model.Keeper.TakeTheirs() }),
			fileButton(model, say, "save-conflict", s.Session)))
	case s.Saving.Phase == act.Failed && s.Session != nil:
		why := say.w("save.failed")
		if r := s.Saving.Reason; r != "" {
			why += " " + say.w(r) + "."
		}
		rows = append(rows, ui.Row("banner", ui.Alert("save-failed", why),
			fileButton(model, say, "save-file", s.Session),
			ui.Button("save-again", "", say.w("save.again"), func(app.Context) { model.Keeper.SaveAgain() })))
	}
	for i := range s.Unsaved {
		one := &s.Unsaved[i]
		rows = append(rows, ui.Row("banner", ui.Alert("", say.w("save.left", say.titleOf(one.Title))), fileButton(model, say, "save-left-"+one.ID, one)))
	}
	if len(s.Unsaved) > 0 && s.Saving.Phase != act.Failed {
		rows = append(rows, ui.Row("banner", ui.Button("save-left-again", "", say.w("save.again"), func(app.Context) { model.Keeper.SaveAgain() })))
	}
	if s.Offline && s.Booted {
		why := say.w("app.memory-only")
		if key := store.Key(s.Sessions.Health.Trouble); key != "" {
			why = say.w(key) + "."
		}
		row := []app.UI{ui.Alert("memory-only", why), ui.Button("store-again", "", say.w("save.again"), func(app.Context) { model.Keeper.SaveAgain() })}
		if s.Session != nil && !s.ReadOnly {
			row = append(row, fileButton(model, say, "save-memory", s.Session))
		}
		rows = append(rows, ui.Row("banner", row...))
	}
	return app.Div().Class("unsaved").Body(rows...)
}

// fileButton hands out one session as the file that Restore takes.
func fileButton(model *act.Model, say wording, id string, s *shot.Session) app.UI {
	return ui.Button(id, "", say.w("save.file"), func(app.Context) {
		data, err := act.SessionFile(*s)
		if err != nil {
			model.Notices.Tell("error.backup", false, act.Reason(err))
			return
		}
		download(file{export.FileName(*s, "session", ".ferrule"), "application/octet-stream", data})
	})
}

func (say wording) titleOf(title string) string {
	if title == "" {
		return say.w("app.untitled")
	}
	return title
}

// damaged lists what is stored and cannot be read: to be taken out as it is.
func (h *Home) damaged(s act.State) app.UI {
	if len(s.Sessions.Damaged) == 0 {
		return nil
	}
	rows := []app.UI{ui.P("", h.w("home.damaged-what"))}
	for _, d := range s.Sessions.Damaged {
		reason := d.Reason.Error()
		if key := store.Key(d.Reason); key != "" {
			reason = h.w(key)
		}
		row := []app.UI{
			ui.P("hint", h.w("home.damaged-entry", reason, kilobytes(int64(len(d.Bytes))))),
			ui.Button("take-"+domID(d.Key), "", h.w("save.file"), func(app.Context) {
				download(file{fileName(d.ID, "damaged") + ".ferrule", "application/octet-stream", d.Bytes})
			}),
		}
		if h.asking != d.Key {
			row = append(row, ui.Button("forget-"+domID(d.Key), "quiet", h.w("home.damaged-forget"), func(ctx app.Context) {
				h.asking = d.Key
				focusOn(ctx, "spare-"+domID(d.Key))
			}))
		} else {
			row = append(row,
				ui.Button("really-"+domID(d.Key), "bad", h.w("home.really"), func(app.Context) {
					h.asking = ""
					h.m.Library.Discard(d.Key)
				}),
				ui.Button("spare-"+domID(d.Key), "quiet", h.w("app.no"), func(ctx app.Context) {
					h.asking = ""
					focusOn(ctx, "forget-"+domID(d.Key))
				}))
		}
		rows = append(rows, ui.Row("", row...))
	}
	return ui.Card("damaged", h.w("home.damaged"), rows...)
}

// kilobytes is a size as people read it, never nothing.
func kilobytes(n int64) string { return strconv.FormatInt((n+1023)/1024, 10) }

// fileName makes a name that every system takes out of a title.
func fileName(title, other string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '-', r == '_':
			return r
		case unicode.IsSpace(r), r == '.':
			return '-'
		}
		return -1
	}, title)
	if name = strings.Trim(name, "-"); name == "" {
		return other
	}
	switch n := strings.ToLower(name); { // names that one system keeps for its devices
	case n == "con", n == "prn", n == "aux", n == "nul", len(n) == 4 && (strings.HasPrefix(n, "com") || strings.HasPrefix(n, "lpt")):
		name = other + "-" + name
	}
	if r := []rune(name); len(r) > 60 {
		name = string(r[:60])
	}
	return name
}

// domID makes a key fit to be a part of an element's id.
func domID(key string) string { return strings.NewReplacer("!", "", " ", "-").Replace(key) }
