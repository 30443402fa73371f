package page

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// file is one to be handed out.
type file struct {
	name, kind string
	data       []byte
}

// send offers files to the device's other apps; false when the browser can't.
func send(files []file) bool {
	if app.IsServer {
		return false
	}
	nav := app.Window().Get("navigator")
	if !nav.Get("share").Truthy() || !nav.Get("canShare").Truthy() {
		return false
	}
	list := []any{}
	for _, f := range files {
		array := app.Window().Get("Uint8Array").New(len(f.data))
		app.CopyBytesToJS(array, f.data)
		list = append(list, app.Window().Get("File").New([]any{array}, f.name, map[string]any{"type": f.kind}))
	}
	offer := map[string]any{"files": list, "title": "Ferrule"}
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

// download hands a file to the person.
func download(name, kind string, data []byte) {
	if app.IsServer {
		return
	}
	array := app.Window().Get("Uint8Array").New(len(data))
	app.CopyBytesToJS(array, data)
	blob := app.Window().Get("Blob").New([]any{array}, map[string]any{"type": kind})
	url := app.Window().Get("URL").Call("createObjectURL", blob)
	doc := app.Window().Get("document")
	a := doc.Call("createElement", "a")
	a.Set("href", url)
	a.Set("download", name)
	a.Call("click")
	app.Window().Get("URL").Call("revokeObjectURL", url)
}
