package page

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/core/chart/charttest"
	"ferrule/core/shot"
)

func wants(t *testing.T, name, html string, parts ...string) {
	t.Helper()
	sound(t, name, html)
	for _, w := range parts {
		if !strings.Contains(html, w) {
			t.Errorf("%s lacks %s", name, w)
		}
	}
}

func TestFilesAreShownOneAfterTheOther(t *testing.T) {
	r := charttest.Report()
	m := with(t, &r, nil)
	p := pages()["/shots"]
	m.Files.OpenAll([]act.File{{Name: "one.csv", Bytes: []byte("x")}, {Name: "session.json", Bytes: []byte("x")}})
	m.Loop.Settle()
	wants(t, "the first of two files", app.HTMLString(p), "one.csv", "session.json", `id="accept-file"`)
	m.Reader.FixColumn(shot.Column{Header: "Side", Quantity: shot.Offline, Unit: "m"})
	m.Loop.Settle()
	m.Files.Accept()
	m.Loop.Settle()
	html := app.HTMLString(p)
	wants(t, "a saved session", html, `id="open-own"`, "evening", "3 balls")
	if strings.Contains(html, `id="column-0"`) {
		t.Error("a saved session shows a column map")
	}
	m.Files.Drop()
	m.Files.Open("two.csv", []byte("x"))
	m.Loop.Settle()
	wants(t, "a file of the shape that was corrected", app.HTMLString(p), `id="forget-columns"`)
}

func TestTheSettingOfARun(t *testing.T) {
	r := charttest.Report()
	m := with(t, &r, nil)
	p := pages()["/shots"].(*Shots)
	id := m.State().Session.Shots[0].ID
	p.run, p.more = id, ballPage
	l := p.ballList(m.State()).(*ballList)
	html := app.HTMLString(l) // a part of the page, so only its own words
	for _, w := range []string{`id="run-` + id + `"`, `id="run-` + id + `-1"`} {
		if !strings.Contains(html, w) {
			t.Errorf("an open run lacks %s", w)
		}
	}
}

func TestHalfTypedAndPastedStay(t *testing.T) {
	r := charttest.Report()
	m := with(t, &r, nil)
	m.Drafts.Put(entryID(shot.Carry), "19", "")
	m.Drafts.Put(act.PasteField, "Carry\n240", "")
	wants(t, "drafts", app.HTMLString(pages()["/shots"]), `value="19"`, `id="paste-text"`, "240")
}
