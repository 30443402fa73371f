package page

import (
	"cmp"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/intl"
	"ferrule/app/ui"
	"ferrule/core/text"
	"ferrule/core/units"
)

// Settings is the choice of units, theme and language, and the state of the
// storage.
type Settings struct {
	base
	install, installed bool
}

// OnInit names the page.
func (p *Settings) OnInit() { p.base.OnInit(); p.name = "settings" }

// OnAppInstallChange shows the offer to install.
func (p *Settings) OnAppInstallChange(ctx app.Context) { p.install = ctx.IsAppInstallable() }

// OnMount asks whether the app can be installed.
func (p *Settings) OnMount(ctx app.Context) {
	p.base.OnMount(ctx)
	p.install, p.installed = ctx.IsAppInstallable(), app.Window().Call("goappIsAppInstalled").Truthy()
}

// Render draws the page.
func (p *Settings) Render() app.UI {
	p.name = "settings"
	s := p.st()
	set := p.m.Preferences.Set
	languages := []ui.Option{}
	for _, l := range text.Languages {
		languages = append(languages, ui.Option{Value: string(l), Label: l.Name()})
	}
	lang := cmp.Or(s.Prefs.Language, "en")
	system := cmp.Or(s.Prefs.System, units.Imperial)
	r := p.reader()
	return p.frame(p.w("settings.lead"),
		ui.Card("units", p.w("settings.units"),
			&ui.Choice{ID: "system", Label: p.w("settings.units"), Value: string(system), Stack: true, Said: true, Options: []ui.Option{
				{Value: "imperial", Label: p.w("units.imperial")}, {Value: "metric", Label: p.w("units.metric")}, {Value: "metric-mps", Label: p.w("units.metric-mps")}},
				Picked: func(_ app.Context, v string) { set(func(x *act.Prefs) { x.System = units.System(v) }) }},
			ui.P("hint", p.w("settings.sample", r.Number(200, units.Length, 0), r.Number(62, units.Speed, -1), r.Number(26, units.Height, 0))),
		),
		p.part(func() app.UI {
			return ui.Card("look", p.w("settings.look"),
				&ui.Choice{ID: "theme", Label: p.w("settings.theme"), Value: s.Prefs.Theme, Stack: true, Options: []ui.Option{
					{Value: "", Label: p.w("theme.device")}, {Value: "light", Label: p.w("theme.light")}, {Value: "dark", Label: p.w("theme.dark")}, {Value: "sun", Label: p.w("theme.sun")}},
					Picked: func(_ app.Context, v string) { set(func(x *act.Prefs) { x.Theme = v }) }},
				app.If(len(languages) > 1, func() app.UI {
					return &ui.Pick{ID: "language", Label: p.w("settings.language"), Value: lang, Options: languages,
						Picked: func(ctx app.Context, v string) {
							ctx.Async(func() { // its words may have to be fetched first
								intl.Load(text.Language(v))
								ctx.Dispatch(func(ctx app.Context) {
									set(func(x *act.Prefs) { x.Language = v })
									ctx.Page().SetTitle(p.w("page.settings.title") + " · Ferrule")
								})
							})
						}}
				}),
			)
		}),
		p.part(func() app.UI {
			return ui.Card("working", p.w("settings.working"),
				&ui.Check{ID: "auto", Label: p.w("settings.auto"), On: s.Prefs.Auto, Turned: func(_ app.Context, on bool) { set(func(x *act.Prefs) { x.Auto = on }) }},
				&ui.Choice{ID: "confirm", Label: p.w("settings.confirm"), Value: cmp.Or(s.Prefs.Confirm, "vibration"), Options: []ui.Option{
					{Value: "vibration", Label: p.w("confirm.vibration")}, {Value: "sound", Label: p.w("confirm.sound")}, {Value: "none", Label: p.w("confirm.none")}},
					Picked: func(_ app.Context, v string) {
						set(func(x *act.Prefs) { x.Confirm = v })
						confirmed(p.st().Prefs)
					}},
				ui.P("hint", p.w("settings.voice")),
			)
		}),
		p.part(func() app.UI {
			return ui.Card("storage", p.w("settings.storage"),
				ui.P("", p.w(storageKey(s))),
				app.If(s.Sessions.Health.Used > 0, func() app.UI {
					return ui.P("hint", p.w("home.storage", p.reader().Number(float64(s.Sessions.Health.Used)/1e6, units.None, 1)))
				}),
				ui.P("hint", p.w("settings.storage-hint")),
				app.If(p.install, func() app.UI {
					return ui.Button("install", "main", p.w("settings.install"), func(ctx app.Context) { ctx.ShowAppInstallPrompt() })
				}).ElseIf(!p.installed, func() app.UI {
					return ui.P("hint", p.w("settings.install-hand"))
				}),
				ui.Row("", ui.Link("to-home", "", "/", p.w("home.backup"))),
			)
		}),
		p.part(func() app.UI {
			return ui.Card("about", p.w("settings.about"), ui.P("", p.w("settings.about-text")),
				ui.Row("", ui.Link("to-how", "", "/how", p.w("page.how.title"))))
		}),
	)
}

func storageKey(s act.State) string {
	switch {
	case s.Offline:
		return "app.memory-only"
	case s.Sessions.Health.Kept:
		return "home.kept"
	}
	return "home.not-kept"
}
