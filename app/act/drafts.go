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

// Draft keeps typed text that is not usable, with the reason; an empty
// reason keeps the text of a field being typed in.
func (m *Model) Draft(field, text, reason string) {
	d := maps.Clone(m.s.Drafts)
	was := d[field]
	d[field] = Draft{text, reason}
	m.setDrafts(d, keeps(field, d[field]) || keeps(field, was))
}

// Refuse keeps typed text that cannot be used, with the reason, and takes back
// what the keys before it made of the field: of 95 no 9 is left.
func (m *Model) Refuse(field, text, reason string) {
	if n := len(m.undo); n > 0 && m.undo[n-1].change.Field == field && m.s.Session != nil && !m.s.ReadOnly {
		was := m.undo[n-1]
		m.undo = m.undo[:n-1]
		if !was.change.Quiet {
			m.s.Edition++
		}
		after := Clone(was.session)
		after.Changed = m.deps.Now().Unix()
		m.put(after)
	}
	m.Draft(field, text, reason)
}

// keeps reports whether a draft outlives the page: what is half typed, and
// what was typed and cannot be used. Of all others the number is stored.
func keeps(field string, d Draft) bool { return lasting(field) || d.Error != "" }

// DropDraft forgets what was typed in a field; what is typed there next is an
// edit of its own.
func (m *Model) DropDraft(field string) {
	if n := len(m.undo); n > 0 && m.undo[n-1].change.Field == field {
		m.undo[n-1].change.Field = ""
	}
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

// keptDraft is a draft as the journal has it. Ball is of versions before balls had
// keys of their own: the text became that ball, which may not be stored.
type keptDraft struct {
	Text  string
	Error string
	Ball  string
}

func (m *Model) draftsOf() string {
	if m.s.Session == nil {
		return ""
	}
	return m.s.Session.ID
}

func draftKey(id, field string) string { return draftsKey + "/" + id + "/" + field }

// keptDraft reads one draft of the journal.
func (m *Model) keptDraft(id, field string) (d keptDraft) {
	if text := m.deps.Pocket.Load(draftKey(id, field)); text == "" || kept.Read(text, &d) != nil {
		return keptDraft{} // a damaged one counts as none
	}
	return d
}

func (m *Model) keepDraft(id, field string, d keptDraft) {
	key := draftKey(id, field)
	if d.Text == "" || len(d.Text) > maxKept {
		if m.deps.Pocket.Load(key) != "" {
			m.note(key, "")
		}
		return
	}
	if text, err := kept.Write(d); err == nil && m.deps.Pocket.Load(key) != text {
		m.note(key, text)
	}
}

// keepDrafts writes the lasting drafts of the open session to the journal.
func (m *Model) keepDrafts() {
	id := m.draftsOf()
	prefix := draftKey(id, "")
	for _, key := range m.deps.Pocket.Keys(prefix) {
		field := strings.TrimPrefix(key, prefix)
		if d := m.s.Drafts[field]; d.Text == "" || !keeps(field, d) {
			m.note(key, "")
		}
	}
	for field, d := range m.s.Drafts {
		if keeps(field, d) && d.Text != "" {
			m.keepDraft(id, field, keptDraft{Text: d.Text, Error: d.Error})
		}
	}
}

// keptDrafts are the drafts of a stored session as they were left.
func (m *Model) keptDrafts(s shot.Session) map[string]Draft {
	m.oldDrafts()
	d := map[string]Draft{}
	prefix := draftKey(s.ID, "")
	for _, key := range m.deps.Pocket.Keys(prefix) {
		field := strings.TrimPrefix(key, prefix)
		k := m.keptDraft(s.ID, field)
		if k.Ball != "" && has(s.Shots, k.Ball) {
			continue
		}
		if k.Text != "" {
			d[field] = Draft{k.Text, k.Error}
		}
	}
	return d
}

// oldDrafts takes over what versions before the journal kept, all in one text.
func (m *Model) oldDrafts() {
	old := m.deps.Pocket.Load(draftsKey)
	if old == "" {
		return
	}
	all := map[string]map[string]Draft{}
	if kept.Read(old, &all) == nil {
		for id, fields := range all {
			for field, d := range fields {
				if m.keptDraft(id, field).Text == "" {
					m.keepDraft(id, field, keptDraft{Text: d.Text, Error: d.Error})
				}
			}
		}
	}
	m.note(draftsKey, "")
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
