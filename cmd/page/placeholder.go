//go:build js && wasm

package main

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// register stands in until app/page has its routes.
func register() {
	app.RouteWithRegexp("^/.*$", func() app.Composer { return &placeholder{} })
}

type placeholder struct{ app.Compo }

func (p *placeholder) OnMount(app.Context) {
	app.Window().Get("document").Get("body").Get("dataset").Set("ready", "1")
}

func (p *placeholder) Render() app.UI {
	return app.Main().DataSet("page", "home").Body(app.H1().Text("Ferrule"), app.P().Text("The screens are being built."))
}
