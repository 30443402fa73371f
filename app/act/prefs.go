package act

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"sort"
	"strings"

	"ferrule/app/kept"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

// PrefsKey is where the preferences are kept; pwa/peek.js reads them.
const PrefsKey = "ferrule.prefs"

// loadPrefs reads the preferences; damaged ones count as none. A language and
// units that nobody chose are the browser's, each time anew. Each field is kept
// by itself, so that two tabs overwrite only what they change; the whole of them
// is kept beside it for the start and for older versions.
func (m *Model) loadPrefs() {
	p := Prefs{Auto: true}
	if text := m.deps.Pocket.Load(PrefsKey); text != "" {
		if kept.Read(text, &p) != nil {
			p = Prefs{Auto: true}
		}
	}
	for _, key := range m.deps.Pocket.Keys(PrefsKey + "/") {
		was := p
		if kept.Read(m.deps.Pocket.Load(key), &p) != nil {
			p = was
		}
	}
	m.keptPrefs = p
	if m.spoken = text.Language(p.Language).Spoken(); !m.spoken {
		p.Language = m.deps.Language
	}
	if m.measured = p.System != ""; !m.measured {
		if p.System = m.deps.System; p.System == "" {
			p.System = units.Imperial
		}
	}
	p.Fields = slices.DeleteFunc(slices.Clone(p.Fields), func(q shot.Quantity) bool { _, ok := shot.KindOf(q); return !ok })
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
	m.savePrefs(p)
	m.changed()
}

// savePrefs writes the fields of p that are not as they were kept.
func (m *Model) savePrefs(p Prefs) {
	now, was := reflect.ValueOf(p), reflect.ValueOf(m.keptPrefs)
	for i := range now.NumField() {
		if reflect.DeepEqual(now.Field(i).Interface(), was.Field(i).Interface()) {
			continue
		}
		name := now.Type().Field(i).Tag.Get("json")
		if text, err := kept.Write(now.Field(i).Interface()); err == nil {
			m.note(PrefsKey+"/"+name, `{"`+name+`":`+text+`}`)
		}
	}
	m.keptPrefs = p
	if text, err := kept.Write(p); err == nil {
		m.note(PrefsKey, text)
	}
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
	if i := slices.Index(MoreFields, q); i >= 0 {
		return i
	}
	for i, k := range shot.Kinds {
		if k.Quantity == q {
			return len(MoreFields) + i
		}
	}
	return 1 << 10
}

type memoryPocket map[string]string

func (p memoryPocket) Load(key string) string { return p[key] }
func (p memoryPocket) Save(key, text string) {
	if p[key] = text; text == "" {
		delete(p, key)
	}
}
func (p memoryPocket) Keys(prefix string) (keys []string) {
	for k := range p {
		if strings.HasPrefix(k, prefix) {
			keys = append(keys, k)
		}
	}
	sort.Strings(keys)
	return keys
}

// newID names a session: 72 random bits, from the runtime's generator that the
// system seeds. crypto/rand would bring ciphers along, and tests of them at
// every start.
func newID() string { return fmt.Sprintf("%016x%02x", rand.Uint64(), rand.UintN(256)) }
