//go:build !js

package page

import (
	"context"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/core/store"
	"ferrule/core/text"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// Static draws every page as HTML in a language, as who comes for the first time
// finds it: cmd/site puts it into the pages, so that they are read and tapped
// before the program is there.
func Static(language text.Language, system units.System) map[string]string {
	m := visit(act.Deps{Language: string(language), System: system})
	out := map[string]string{}
	for path, make := range routes {
		out[path] = markup(make(base{m: m}))
	}
	return out
}

// Worked draws the answer to an example, packed as the site carries it, as it is
// shown before the program is there.
func Worked(language text.Language, system units.System, packed []byte) string {
	m := visit(act.Deps{Language: string(language), System: system, Worked: func(string) []byte { return packed }, After: func(time.Duration, func()) {}})
	m.Sessions.Example("")
	m.Loop.Settle()
	return markup(&Choose{base: base{m: m}})
}

// visit is the state of who comes for the first time: nothing stored, and nobody who
// analyses.
func visit(d act.Deps) *act.Model {
	d.Worker = nobody{}
	d.Open = func(context.Context) act.Place {
		return act.Place{Store: store.New(lasting{store.NewMemory(nil)}, func() int64 { return 1 })}
	}
	m := act.New(d)
	m.Boot()
	m.Loop.Settle()
	return m
}

// markup is a page as HTML.
func markup(c app.Composer) string {
	c.(app.Initializer).OnInit()
	return app.HTMLString(c)
}

// lasting is a store as a browser has it: the first page warns of no other.
type lasting struct{ *store.Memory }

func (lasting) Health(context.Context) store.Health { return store.Health{Lasting: true} }

// nobody answers no question: a first page asks none.
type nobody struct{}

func (nobody) Do(context.Context, wire.Request) (wire.Result, error) { return wire.Result{}, nil }
