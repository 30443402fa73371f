package act

import (
	"maps"
	"strings"

	"ferrule/app/kept"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Drafts are the texts of fields that are typed and no number yet.
type Drafts struct {
	loop   *Loop
	editor *Editor
	keeper *Keeper

	texts map[string]Draft // by field
}

// draftsKey keeps half-typed balls and pasted rows by session, so that a page
// that is loaded again, or killed in the pocket, has lost none of it.
const draftsKey = "ferrule.drafts"

// EntryField is the draft of one number of the ball that is being typed.
func EntryField(q shot.Quantity) string { return entryPrefix + string(q) }

// PasteField is the draft of rows that are being pasted.
const PasteField = "paste"

// PrintedField is the draft of a maker's table that is pasted or typed as printed.
const PrintedField = "printed"

const entryPrefix = "entry-"

// maxKept bounds one kept text; a larger paste is only in memory. [bytes]
const maxKept = 256 << 10

// lasting reports whether a draft outlives an undo, as half-typed balls and
// pasted rows do: the others are texts of fields, and an undo sets the fields.
func lasting(field string) bool {
	return strings.HasPrefix(field, entryPrefix) || field == PasteField || field == PrintedField
}

// Put keeps typed text that is not usable, with the reason; an empty
// reason keeps the text of a field being typed in.
func (dr *Drafts) Put(field, text, reason string) {
	d := maps.Clone(dr.texts)
	was := d[field]
	d[field] = Draft{text, reason}
	dr.set(d, keeps(field, d[field]) || keeps(field, was))
}

// Refuse keeps typed text that cannot be used, with the reason, and takes back
// what the keys before it made of the field: of 95 no 9 is left.
func (dr *Drafts) Refuse(field, text, reason string) {
	dr.editor.takeBack(field)
	dr.Put(field, text, reason)
}

// keeps reports whether a draft outlives the page: what is half typed, and
// what was typed and cannot be used. Of all others the number is stored.
func keeps(field string, d Draft) bool { return lasting(field) || d.Error != "" }

// Drop forgets what was typed in a field; what is typed there next is an
// edit of its own.
func (dr *Drafts) Drop(field string) {
	if c := dr.editor.last(field); c != nil {
		c.Field = ""
	}
	was, ok := dr.texts[field]
	if !ok {
		return
	}
	d := maps.Clone(dr.texts)
	delete(d, field)
	dr.set(d, keeps(field, was))
}

func (dr *Drafts) set(d map[string]Draft, keep bool) {
	dr.texts = d
	if keep {
		dr.keepAll()
	}
	dr.loop.changed()
}

// keptDraft is a draft as the journal has it. Ball is of versions before balls had
// keys of their own: the text became that ball, which may not be stored.
type keptDraft struct {
	Text  string
	Error string
	Ball  string
}

func (dr *Drafts) of() string {
	if dr.editor.session == nil {
		return ""
	}
	return dr.editor.session.ID
}

func draftKey(id, field string) string { return draftsKey + "/" + id + "/" + field }

// kept reads one draft of the journal.
func (dr *Drafts) kept(id, field string) (d keptDraft) {
	if text := dr.loop.deps.Pocket.Load(draftKey(id, field)); text == "" || kept.Read(text, &d) != nil {
		return keptDraft{} // a damaged one counts as none
	}
	return d
}

func (dr *Drafts) keep(id, field string, d keptDraft) {
	key := draftKey(id, field)
	if d.Text == "" || len(d.Text) > maxKept {
		if dr.loop.deps.Pocket.Load(key) != "" {
			dr.keeper.note(key, "")
		}
		return
	}
	if text, err := kept.Write(d); err == nil && dr.loop.deps.Pocket.Load(key) != text {
		dr.keeper.note(key, text)
	}
}

// keepAll writes the lasting drafts of the open session to the journal.
func (dr *Drafts) keepAll() {
	id := dr.of()
	prefix := draftKey(id, "")
	for _, key := range dr.loop.deps.Pocket.Keys(prefix) {
		field := strings.TrimPrefix(key, prefix)
		if d := dr.texts[field]; d.Text == "" || !keeps(field, d) {
			dr.keeper.note(key, "")
		}
	}
	for field, d := range dr.texts {
		if keeps(field, d) && d.Text != "" {
			dr.keep(id, field, keptDraft{Text: d.Text, Error: d.Error})
		}
	}
}

// ofSession are the drafts of a stored session as they were left.
func (dr *Drafts) ofSession(s shot.Session) map[string]Draft {
	dr.takeOld()
	d := map[string]Draft{}
	prefix := draftKey(s.ID, "")
	for _, key := range dr.loop.deps.Pocket.Keys(prefix) {
		field := strings.TrimPrefix(key, prefix)
		k := dr.kept(s.ID, field)
		if k.Ball != "" && has(s.Shots, k.Ball) {
			continue
		}
		if k.Text != "" {
			d[field] = Draft{k.Text, k.Error}
		}
	}
	return d
}

// show takes up the drafts of a stored session.
func (dr *Drafts) show(s shot.Session) { dr.texts = dr.ofSession(s) }

// takeOld takes over what versions before the journal kept, all in one text.
func (dr *Drafts) takeOld() {
	old := dr.loop.deps.Pocket.Load(draftsKey)
	if old == "" {
		return
	}
	all := map[string]map[string]Draft{}
	if kept.Read(old, &all) == nil {
		for id, fields := range all {
			for field, d := range fields {
				if dr.kept(id, field).Text == "" {
					dr.keep(id, field, keptDraft{Text: d.Text, Error: d.Error})
				}
			}
		}
	}
	dr.keeper.note(draftsKey, "")
}

// undone are the drafts that an undo leaves.
func (dr *Drafts) undone() map[string]Draft {
	d := maps.Clone(dr.texts)
	maps.DeleteFunc(d, func(field string, _ Draft) bool { return !lasting(field) })
	return d
}

// changeUnits writes the old unit behind each number of the ball that is being
// typed, so that it stays the same when bare numbers count in another system.
func (dr *Drafts) changeUnits(from, to units.System) {
	d := map[string]Draft{}
	for field, old := range dr.texts {
		if !lasting(field) {
			continue // the session keeps the last good number of it
		}
		if q, is := strings.CutPrefix(field, entryPrefix); is {
			k, _ := shot.KindOf(shot.Quantity(q))
			was, is := from.Unit(k.Dim), to.Unit(k.Dim)
			if text := strings.TrimSpace(old.Text); text != "" && was.Name != is.Name && !strings.ContainsAny(text, "abcdefghijkmnopqstuvwxyz°'\"/") {
				old = Draft{Text: text + " " + was.Symbol}
			}
		}
		d[field] = old
	}
	dr.set(d, true)
}

// Draft is text in a field that could not be used, and why.
type Draft struct {
	Text  string
	Error string
}
