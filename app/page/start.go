package page

import (
	"context"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/bridge"
	"ferrule/app/fetch"
	"ferrule/app/idb"
	"ferrule/app/intl"
	"ferrule/app/yield"
	"ferrule/core/store"
	"ferrule/core/text"
)

// Routes starts the program on its worker and its store and registers every
// address.
func Routes() {
	yield.Turn() // the packages' own beginnings were a piece by themselves
	intl.Use()
	m := act.New(act.Deps{
		Language: intl.Language(),
		System:   intl.System(),
		Worker:   bridge.Default(),
		Rest:     yield.Turn,
		Worked:   fetch.Example,
		Drawn:    drawn,
		Words:    func(language string) { intl.Load(text.Language(language)) },
		Pocket:   pocket{idb.OpenNotes()},
		Open: func(ctx context.Context) act.Place {
			o := idb.Open(ctx)
			now := func() int64 { return time.Now().Unix() }
			book := store.New(o.Table, now)
			book.Pause = yield.Due
			return act.Place{Store: book, Watch: o.Watch, Persist: o.Persist, Retry: o.Retry, Trouble: o.Trouble}
		},
	})
	yield.Turn()
	intl.Load(text.Language(m.State().Prefs.Language))
	sparse.Store(true)
	measure()
	start(m)
	yield.Turn()
}

// pocket is the journal, and what can be read before it is: the preferences of
// last time stand in the browser's local storage too, for the first drawing, for
// pwa/peek.js and for versions before the journal, whose other texts are taken
// over from there. A browser that refuses keeps nothing.
type pocket struct{ *idb.Notes }

// Load is the journal's word, or that of the local storage where the journal has none.
func (p pocket) Load(key string) string {
	if text := p.Notes.Load(key); text != "" || p.Notes.Has(key) || app.IsServer {
		return text
	}
	text := ""
	guarded(func() {
		if v := app.Window().Get("localStorage").Call("getItem", key); v.Truthy() {
			text = v.String()
		}
	})
	return text
}

// Save writes the journal, unless that says so already; a text that stands in the
// local storage changes or goes there too.
func (p pocket) Save(key, text string) {
	if text == "" || p.Notes.Load(key) != text {
		p.Notes.Save(key, text)
	}
	if app.IsServer {
		return
	}
	guarded(func() {
		local := app.Window().Get("localStorage")
		switch {
		case key == act.PrefsKey:
			local.Call("setItem", key, text)
		case text == "" || local.Call("getItem", key).Truthy():
			local.Call("removeItem", key)
		}
	})
}

// guarded runs f; a browser that denies storage throws, and that is no error
// of ours.
func guarded(f func()) {
	defer func() { _ = recover() }()
	f()
}
