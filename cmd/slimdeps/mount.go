package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
)

// edits are what the copy of go-app has otherwise than the module, so that it mounts by
// drafts (stub/made.go.txt). Each old text is there once. Left out is what no page of
// ours has: elements of another namespace that are not raw, and passive listeners.
var edits = []struct{ file, old, new string }{
	{"html.go", "\tjsElement     Value\n", "\tjsElement     Value\n\tnode\n"},
	{"html.go", "\tsetJSElement(Value) HTML\n", "\tsetJSElement(Value) HTML\n\tsetNode(node)\n"},
	{"html.go", "\treturn e.jsElement\n}\n", "\tif e.jsElement == nil {\n\t\te.jsElement = e.value()\n\t}\n\treturn e.jsElement\n}\n\nfunc (e *htmlElement) setNode(n node) { e.node = n }\n"},
	{"html.go", "return e.jsElement != nil", "return e.jsElement != nil || e.of != nil"},
	{"text.go", "\tjsvalue       Value\n", "\tjsvalue       Value\n\tnode\n"},
	{"text.go", "\treturn t.jsvalue\n", "\tif t.jsvalue == nil {\n\t\tt.jsvalue = t.node.value()\n\t}\n\treturn t.jsvalue\n"},
	{"text.go", "return t.jsvalue != nil", "return t.jsvalue != nil || t.of != nil"},
	{"raw.go", "\tjsElement     Value\n", "\tjsElement     Value\n\tnode\n"},
	{"raw.go", "\treturn r.jsElement\n", "\tif r.jsElement == nil {\n\t\tr.jsElement = r.node.value()\n\t}\n\treturn r.jsElement\n"},
	{"raw.go", "return r.jsElement != nil", "return r.jsElement != nil || r.of != nil"},
	{"attribute.go", "func setJSAttribute(jsElement Value,", "func setJSAttribute(jsElement attributed,"},

	{"node.go", "type nodeManager struct {\n}", "type nodeManager struct {\n\tdraft *draft // of what is being mounted\n}"},
	{"node.go", "depth uint, v UI) (UI, error) {\n\tctx = m.context(ctx, v)\n",
		"depth uint, v UI) (UI, error) {\n\tif m.draft == nil {\n\t\tm.draft = &draft{made: &made{}}\n\t\tv, err := m.Mount(ctx, depth, v)\n\t\tm.draft.make()\n\t\treturn v, err\n\t}\n\tctx = m.context(ctx, v)\n"},
	{"node.go", "\tv.jsvalue = Window().createTextNode(v.value)\n", "\tv.node = m.draft.add('\\'', v.value)\n"},
	{"node.go", "\tjsElement, _ := Window().createElement(v.Tag(), v.XMLNamespace())\n\tv = v.setJSElement(jsElement)\n", "\tv.setNode(m.draft.add('<', v.Tag()))\n"},
	{"node.go", "\t\tchildren[i] = child\n\t\tv.JSValue().appendChild(child)\n\t}\n", "\t\tchildren[i] = child\n\t}\n\tm.draft.say('>', \"\")\n"},
	{"node.go", "\tfor name, value := range v.attrs() {\n\t\tsetJSAttribute(v.JSValue(), name,", "\tvar to attributed = m.draft\n\tif m.draft == nil {\n\t\tto = v.JSValue()\n\t}\n\tfor name, value := range v.attrs() {\n\t\tsetJSAttribute(to, name,"},
	{"node.go", "\tjsHandler := FuncOf(func(this Value, args []Value) any {\n\t\tif len(args) != 0 {\n\t\t\tctx.Dispatch(func(ctx Context) {\n\t\t\t\tevent := Event{Value: args[0]}\n",
		"\tstop := m.listen(v, event, func(e Value) {\n\t\t\tctx.Dispatch(func(ctx Context) {\n\t\t\t\tevent := Event{Value: e}\n"},
	{"node.go", "\t\t\t})\n\t\t}\n\t\treturn nil\n\t})\n\tv.JSValue().addEventListener(event, jsHandler, handler.options())\n", "\t\t\t})\n\t})\n"},
	{"node.go", "\t\tjsHandler: jsHandler,\n\t\tclose: func() {\n\t\t\tv.JSValue().removeEventListener(event, jsHandler)\n\t\t\tjsHandler.Release()\n\t\t},\n", "\t\tclose:     stop,\n"},
	{"node.go", "\twrapper, _ := Window().createElement(\"div\", \"\")\n\twrapper.setInnerHTML(v.value)\n\tv.jsElement = wrapper.firstChild()\n\twrapper.removeChild(v.jsElement)\n", "\tv.node = m.draft.add('#', v.value)\n"},
	{"node.go", "\tv.setJSElement(nil)\n", "\tv.setJSElement(nil)\n\tv.setNode(node{})\n"},
	{"node.go", "\tv.jsElement = nil\n", "\tv.jsElement, v.node = nil, node{}\n"},
	// A frame that is due by the time that a long dispatch ends would follow in the same
	// piece: it is put off, so that the browser has its turn between them.
	{"engine.go", "\t\t\tif currentFrameDuration != activeFrameDuration {\n\t\t\t\tframes.Reset(activeFrameDuration)\n\t\t\t\tcurrentFrameDuration = activeFrameDuration\n\t\t\t}\n\t\t\tdispatch()\n",
		"\t\t\tbegan := time.Now()\n\t\t\tdispatch()\n\t\t\tif currentFrameDuration != activeFrameDuration || time.Since(began) > activeFrameDuration/2 {\n\t\t\t\tframes.Reset(activeFrameDuration)\n\t\t\t\tcurrentFrameDuration = activeFrameDuration\n\t\t\t}\n"},
	// Every context comes of the engine's, which has it.
	{"node.go", "\tctx.notifyComponentEvent = m.NotifyComponentEvent\n", ""},
}

// rewrite makes the edits in a copy of go-app.
func rewrite(copied string) error {
	for _, e := range edits {
		name := filepath.Join(copied, "pkg/app", e.file)
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if n := bytes.Count(text, []byte(e.old)); n != 1 {
			return fmt.Errorf("%s holds %q %d times, not once: adapt cmd/slimdeps/mount.go", name, e.old, n)
		}
		if err := os.WriteFile(name, bytes.Replace(text, []byte(e.old), []byte(e.new), 1), 0o644); err != nil {
			return err
		}
	}
	return nil
}
