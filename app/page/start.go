package page

import (
	"context"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/breath"
	"ferrule/app/bridge"
	"ferrule/app/idb"
	"ferrule/app/intl"
	"ferrule/core/store"
	"ferrule/core/text"
)

// Routes starts the program on its worker and its store and registers every
// address.
func Routes() {
	breath.Take() // the packages' own beginnings were a piece by themselves
	intl.Use()
	m := act.New(act.Deps{
		Language: intl.Language(),
		System:   intl.System(),
		Worker:   bridge.Default(),
		Rest:     breath.Take,
		Drawn:    drawn,
		Pocket:   pocket{},
		Open: func(ctx context.Context) act.Place {
			o := idb.Open(ctx)
			now := func() int64 { return time.Now().Unix() }
			return act.Place{Store: store.New(o.Table, now), Watch: o.Watch, Persist: o.Persist}
		},
	})
	intl.Load(text.Language(m.State().Prefs.Language))
	sparse.Store(true)
	Start(m)
	breath.Take()
}

// pocket keeps the preferences in the browser's local storage, the one place
// that can be read before the first drawing. A browser that refuses keeps
// nothing.
type pocket struct{}

func (pocket) Load(key string) string {
	if app.IsServer {
		return ""
	}
	text := ""
	guarded(func() {
		if v := app.Window().Get("localStorage").Call("getItem", key); v.Truthy() {
			text = v.String()
		}
	})
	return text
}

func (pocket) Save(key, text string) {
	if app.IsServer {
		return
	}
	guarded(func() { app.Window().Get("localStorage").Call("setItem", key, text) })
}

// guarded runs f; a browser that denies storage throws, and that is no error
// of ours.
func guarded(f func()) {
	defer func() { _ = recover() }()
	f()
}
