package act

import (
	"reflect"
	"slices"
	"sort"

	"ferrule/app/kept"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

// Preferences is what the person chose for the program.
type Preferences struct {
	loop   *Loop
	keeper *Keeper
	drafts *Drafts

	now  Prefs
	kept Prefs // as they are stored

	spoken, measured bool // the language, the units were chosen by the person
}

// PrefsKey is where the preferences are kept; pwa/peek.js reads them.
const PrefsKey = "ferrule.prefs"

// load reads the preferences; damaged ones count as none. A language and
// units that nobody chose are the browser's, each time anew. Each field is kept
// by itself, so that two tabs overwrite only what they change; the whole of them
// is kept beside it for the start and for older versions.
func (pf *Preferences) load() {
	p := Prefs{Auto: true}
	if text := pf.loop.deps.Pocket.Load(PrefsKey); text != "" {
		if kept.Read(text, &p) != nil {
			p = Prefs{Auto: true}
		}
	}
	for _, key := range pf.loop.deps.Pocket.Keys(PrefsKey + "/") {
		was := p
		if kept.Read(pf.loop.deps.Pocket.Load(key), &p) != nil {
			p = was
		}
	}
	pf.kept = p
	if pf.spoken = text.Language(p.Language).Spoken(); !pf.spoken {
		p.Language = pf.loop.deps.Language
	}
	if pf.measured = p.System != ""; !pf.measured {
		if p.System = pf.loop.deps.System; p.System == "" {
			p.System = units.Imperial
		}
	}
	p.Fields = slices.DeleteFunc(slices.Clone(p.Fields), func(q shot.Quantity) bool { _, ok := shot.KindOf(q); return !ok })
	if len(p.Fields) == 0 {
		p.Fields = slices.Clone(DefaultFields)
	}
	pf.kept.Fields = p.Fields // nobody chose them here: a choice of another tab stays
	pf.now = p
}

// Now are the preferences as they stand.
func (pf *Preferences) Now() Prefs { return pf.now }

// Set changes the preferences through f and keeps them.
func (pf *Preferences) Set(f func(*Prefs)) {
	p := pf.now
	p.Fields = slices.Clone(p.Fields)
	p.Roster = slices.Clone(p.Roster)
	was := p
	f(&p)
	pf.now = p
	pf.spoken, pf.measured = pf.spoken || p.Language != was.Language, pf.measured || p.System != was.System
	if p.System != was.System {
		pf.drafts.changeUnits(was.System, p.System)
	}
	if !pf.spoken {
		p.Language = ""
	}
	if !pf.measured {
		p.System = ""
	}
	pf.save(p)
	pf.loop.changed()
}

// save writes the fields of p that are not as they were kept.
func (pf *Preferences) save(p Prefs) {
	now, was := reflect.ValueOf(p), reflect.ValueOf(pf.kept)
	for i := range now.NumField() {
		if reflect.DeepEqual(now.Field(i).Interface(), was.Field(i).Interface()) {
			continue
		}
		name := now.Type().Field(i).Tag.Get("json")
		if text, err := kept.Write(now.Field(i).Interface()); err == nil {
			pf.keeper.note(PrefsKey+"/"+name, `{"`+name+`":`+text+`}`)
		}
	}
	pf.kept = p
	if text, err := kept.Write(p); err == nil {
		pf.keeper.note(PrefsKey, text)
	}
}

// ToggleField adds a quantity to those typed by hand, or takes it away; the
// last one stays.
func (pf *Preferences) ToggleField(q shot.Quantity) {
	pf.Set(func(p *Prefs) {
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

// Prefs is what a person chose for the program, kept apart from sessions.
type Prefs struct {
	System   units.System    `json:"system"`
	Theme    string          `json:"theme"` // "", "light", "dark", "sunlight"; "" = as the device
	Language string          `json:"language"`
	Fields   []shot.Quantity `json:"fields"`   // typed by hand for each ball, in order
	Last     string          `json:"last"`     // id of the session that was open
	Code     bool            `json:"code"`     // print the link and its code on the sheet
	Auto     bool            `json:"auto"`     // answer anew after each change
	Roster   []string        `json:"roster"`   // ids of the sessions of the big view
	Confirm  string          `json:"confirm"`  // what tells that a ball was taken: "vibration", "sound", "none"; "" = vibration
	Alone    bool            `json:"alone"`    // earlier visits are not counted
	NoRecord bool            `json:"norecord"` // records of heads are not counted
	Nameless bool            `json:"nameless"` // all sessions without a name are one player's
	Backed   int64           `json:"backed"`   // [s] Unix time of the last backup, 0 = none
}

// DefaultFields are typed by hand unless the person chose others: carry and
// offline are enough to begin. MoreFields are what most devices show.
var (
	DefaultFields = []shot.Quantity{shot.Carry, shot.Offline}
	MoreFields    = []shot.Quantity{shot.Carry, shot.Offline, shot.BallSpeed, shot.Launch, shot.Spin}
)
