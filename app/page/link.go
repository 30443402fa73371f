package page

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// file is one to be handed out.
type file struct {
	name, kind string
	data       []byte
}

// send offers a file to the device's other apps; false when the browser can't.
func send(f file) bool {
	if app.IsServer {
		return false
	}
	nav := app.Window().Get("navigator")
	if !nav.Get("share").Truthy() || !nav.Get("canShare").Truthy() {
		return false
	}
	array := app.Window().Get("Uint8Array").New(len(f.data))
	app.CopyBytesToJS(array, f.data)
	offer := map[string]any{"files": []any{app.Window().Get("File").New([]any{array}, f.name, map[string]any{"type": f.kind})}, "title": "Ferrule"}
	if !nav.Call("canShare", offer).Bool() {
		return false
	}
	dialogue(nav, offer)
	return true
}

// dialogue opens the device's own dialogue; who closes it has changed their mind,
// which is no error.
func dialogue(nav app.Value, offer map[string]any) {
	nav.Call("share", offer).Call("catch", app.FuncOf(func(app.Value, []app.Value) any { return nil }))
}

// toPNG has the browser draw an SVG as a PNG, twice as fine as it is wide; done
// gets nil when it cannot.
func toPNG(svg string, done func([]byte)) {
	app.Window().Call("ferrulePNG", svg).Call("then", app.FuncOf(func(_ app.Value, args []app.Value) any {
		if len(args) == 0 || !args[0].Truthy() {
			done(nil)
			return nil
		}
		png := make([]byte, args[0].Get("length").Int())
		app.CopyBytesToGo(png, args[0])
		done(png)
		return nil
	}))
}

// download hands a file to the person.
func download(f file) {
	if app.IsServer {
		return
	}
	array := app.Window().Get("Uint8Array").New(len(f.data))
	app.CopyBytesToJS(array, f.data)
	blob := app.Window().Get("Blob").New([]any{array}, map[string]any{"type": f.kind})
	url := app.Window().Get("URL").Call("createObjectURL", blob)
	doc := app.Window().Get("document")
	a := doc.Call("createElement", "a")
	a.Set("href", url)
	a.Set("download", f.name)
	a.Call("click")
	app.Window().Get("URL").Call("revokeObjectURL", url)
}
