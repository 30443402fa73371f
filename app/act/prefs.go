package act

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sort"

	"ferrule/app/kept"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

const prefsKey = "ferrule.prefs"

// loadPrefs reads the preferences; damaged ones count as none. A language and
// units that nobody chose are the browser's, each time anew.
func (m *Model) loadPrefs() {
	p := Prefs{Auto: true}
	if text := m.deps.Pocket.Load(prefsKey); text != "" {
		if kept.Read(text, &p) != nil {
			p = Prefs{Auto: true}
		}
	}
	if m.spoken = text.Language(p.Language).Spoken(); !m.spoken {
		p.Language = m.deps.Language
	}
	if m.measured = p.System != ""; !m.measured {
		if p.System = m.deps.System; p.System == "" {
			p.System = units.Imperial
		}
	}
	p.Fields = slices.DeleteFunc(p.Fields, func(q shot.Quantity) bool { _, ok := shot.KindOf(q); return !ok })
	if len(p.Fields) == 0 {
		p.Fields = slices.Clone(DefaultFields)
	}
	m.s.Prefs = p
}

// SetPrefs changes the preferences through f and keeps them.
func (m *Model) SetPrefs(f func(*Prefs)) {
	p := m.s.Prefs
	p.Fields = slices.Clone(p.Fields)
	p.Roster = slices.Clone(p.Roster)
	was := p
	f(&p)
	m.s.Prefs = p
	m.spoken, m.measured = m.spoken || p.Language != was.Language, m.measured || p.System != was.System
	if p.System != was.System {
		m.changeUnits(was.System, p.System)
	}
	if !m.spoken {
		p.Language = ""
	}
	if !m.measured {
		p.System = ""
	}
	if text, err := kept.Write(p); err == nil {
		m.deps.Pocket.Save(prefsKey, text)
	}
	m.changed()
}

// ToggleField adds a quantity to those typed by hand, or takes it away; the
// last one stays.
func (m *Model) ToggleField(q shot.Quantity) {
	m.SetPrefs(func(p *Prefs) {
		if i := slices.Index(p.Fields, q); i >= 0 {
			if len(p.Fields) > 1 {
				p.Fields = slices.Delete(p.Fields, i, i+1)
			}
			return
		}
		p.Fields = append(p.Fields, q)
		sort.Slice(p.Fields, func(i, j int) bool { return fieldOrder(p.Fields[i]) < fieldOrder(p.Fields[j]) })
	})
}

// fieldOrder puts where the ball landed first: it is what a person without a
// launch monitor can tell.
func fieldOrder(q shot.Quantity) int {
	if i := slices.Index(DefaultFields, q); i >= 0 {
		return i
	}
	for i, k := range shot.Kinds {
		if k.Quantity == q {
			return len(DefaultFields) + i
		}
	}
	return 1 << 10
}

type memoryPocket map[string]string

func (p memoryPocket) Load(key string) string { return p[key] }
func (p memoryPocket) Save(key, text string)  { p[key] = text }

// newID names a session: 72 random bits, from the runtime's generator that the
// system seeds. crypto/rand would bring ciphers along, and tests of them at
// every start.
func newID() string { return fmt.Sprintf("%016x%02x", rand.Uint64(), rand.UintN(256)) }
