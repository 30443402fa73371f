package act

import (
	"maps"
	"strings"

	"ferrule/app/kept"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// draftsKey keeps half-typed balls and pasted rows by session, so that a page
// that is loaded again, or killed in the pocket, has lost none of it.
const draftsKey = "ferrule.drafts"

// EntryField is the draft of one number of the ball that is being typed.
func EntryField(q shot.Quantity) string { return entryPrefix + string(q) }

// PasteField is the draft of rows that are being pasted.
const PasteField = "paste"

const entryPrefix = "entry-"

// maxKept bounds one kept text; a larger paste is only in memory. [bytes]
const maxKept = 256 << 10

// lasting reports whether a draft outlives an undo, as half-typed balls and
// pasted rows do: the others are texts of fields, and an undo sets the fields.
func lasting(field string) bool {
	return strings.HasPrefix(field, entryPrefix) || field == PasteField
}

// Draft keeps typed text that is not usable, with the reason; an empty
// reason keeps the text of a field being typed in.
func (m *Model) Draft(field, text, reason string) {
	d := maps.Clone(m.s.Drafts)
	was := d[field]
	d[field] = Draft{text, reason}
	m.setDrafts(d, keeps(field, d[field]) || keeps(field, was))
}

// keeps reports whether a draft outlives the page: what is half typed, and
// what was typed and cannot be used. Of all others the number is stored.
func keeps(field string, d Draft) bool { return lasting(field) || d.Error != "" }

// DropDraft forgets what was typed in a field.
func (m *Model) DropDraft(field string) {
	was, ok := m.s.Drafts[field]
	if !ok {
		return
	}
	d := maps.Clone(m.s.Drafts)
	delete(d, field)
	m.setDrafts(d, keeps(field, was))
}

func (m *Model) setDrafts(d map[string]Draft, keep bool) {
	m.s.Drafts = d
	if keep {
		m.keepDrafts()
	}
	m.changed()
}

func (m *Model) storedDrafts() map[string]map[string]Draft {
	all := map[string]map[string]Draft{}
	if kept.Read(m.deps.Pocket.Load(draftsKey), &all) != nil || all == nil {
		return map[string]map[string]Draft{} // damaged ones count as none
	}
	return all
}

func (m *Model) draftsOf() string {
	if m.s.Session == nil {
		return ""
	}
	return m.s.Session.ID
}

// keepDrafts writes the lasting drafts of the open session to the pocket.
func (m *Model) keepDrafts() {
	last := map[string]Draft{}
	for field, d := range m.s.Drafts {
		if keeps(field, d) && d.Text != "" && len(d.Text) <= maxKept {
			last[field] = d
		}
	}
	all := m.storedDrafts()
	if len(last) == 0 {
		delete(all, m.draftsOf())
	} else {
		all[m.draftsOf()] = last
	}
	if text, err := kept.Write(all); err == nil {
		m.deps.Pocket.Save(draftsKey, text)
	}
}

// keptDrafts are the drafts of a session as they were left.
func (m *Model) keptDrafts(id string) map[string]Draft {
	d := map[string]Draft{}
	maps.Copy(d, m.storedDrafts()[id])
	return d
}

// undoneDrafts are the drafts that an undo leaves.
func (m *Model) undoneDrafts() map[string]Draft {
	d := maps.Clone(m.s.Drafts)
	maps.DeleteFunc(d, func(field string, _ Draft) bool { return !lasting(field) })
	return d
}

// changeUnits writes the old unit behind each number of the ball that is being
// typed, so that it stays the same when bare numbers count in another system.
func (m *Model) changeUnits(from, to units.System) {
	d := map[string]Draft{}
	for field, old := range m.s.Drafts {
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
	m.setDrafts(d, true)
}
