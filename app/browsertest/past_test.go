package browsertest

import (
	"encoding/base64"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// named opens an example in which the player has a name.
func (p *tab) named(example, name string) {
	p.t.Helper()
	p.goByLink("/", "home")
	p.tap(example)
	p.page("choose")
	p.answered()
	p.isNamed(name)
}

func (p *tab) isNamed(name string) {
	p.t.Helper()
	p.goByLink("/club", "club")
	p.unfold("player-more")
	p.types("#player-name", name)
	p.saved()
}

// TestASecondVisit: the second visit of a player counts the first, says so in a
// line and on the sheet, and leaves it out when told so; a session of somebody else
// does not count.
func TestASecondVisit(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.named("#try-example", "Ann")
	p.named("#example-thin", "Ben")
	p.goByLink("/choose", "choose")
	p.answered()
	if said := p.text("#recalled"); said != "" {
		t.Errorf("Ben's answer says %q", said)
	}
	p.isNamed("Ann")
	p.goByLink("/choose", "choose")
	p.until("the earlier visit to count", `document.querySelector("#recalled")?.innerText === "Balls of 1 earlier visit count too."`)
	p.goByLink("/sheet", "sheet")
	p.until("the sheet to say so", `document.querySelector("#sheet")?.srcdoc.includes("Balls of 1 earlier visit count too.")`)
	p.goByLink("/", "home")
	p.goByLink("/visits", "visits")
	p.until("what it adds", `document.querySelector("#past-visits ul")?.innerText.includes("worth")`)
	t.Logf("%s", p.text("#past-visits"))
	p.tap("#use-visits")
	p.goByLink("/choose", "choose")
	p.answered()
	p.until("today's balls alone", `!document.querySelector("#recalled")`)
	p.check()
}

// TestARecordIsMadeSentAndTaken: what the sessions of one browser say of a head is
// saved as a file and taken by another browser, which is asked; it is refused for
// another head.
func TestARecordIsMadeSentAndTaken(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(catchDownload))
	p.named("#try-example", "Ann")
	p.named("#example-thin", "Ben")
	p.goByLink("/", "home")
	p.goByLink("/visits", "visits")
	p.tap("#learn")
	p.until("what Ann hit to be learned", `document.querySelector("#record-said").innerText === "Learned from 1 player"`)
	p.tap("#save-record")
	p.until("the file", `window.saved?.length > 0`)
	bytes, err := base64.StdEncoding.DecodeString(js[string](p, `window.saved`))
	if err != nil {
		t.Fatal(err)
	}
	file := fileOf(t, "head.ferrule-record", string(bytes))
	t.Logf("%d bytes", len(bytes))
	p.check()

	q := startBrowser(t, s).open("/", script(catchDownload))
	q.example()
	q.named("#example-thin", "Cat")
	open := func(path string) {
		q.goByLink("/", "home")
		q.goByLink("/visits", "visits")
		q.until("the button", `document.querySelector("#record-input")`)
		q.do(chromedp.SetUploadFiles(chromedp.CSS("#record-input"), []string{path}))
	}
	open(file)
	q.until("the question", `document.querySelector("#record-offer")?.innerText.includes("2 players")`)
	q.tap("#take-record")
	q.until("the record", `document.querySelector("#record-said").innerText === "Learned from 2 players"`)
	q.goByLink("/choose", "choose")
	q.answered()
	// Ben's balls are those of this session: they count once
	q.until("the answer to count it", `document.querySelector("#recalled")?.innerText.includes("1 other player")`)
	q.saved()
	q.reload()
	q.page("choose")
	q.answered()
	q.until("the answer to count it after a reload", `document.querySelector("#recalled")?.innerText.includes("1 other player")`)
	open(file)
	q.until("nothing to be new", `document.querySelector("#notice").innerText.includes("here already")`)
	q.goByLink("/", "home")
	q.tap("#do-backup")
	q.until("the backup", `window.saved?.length > 0`)
	whole, err := base64.StdEncoding.DecodeString(js[string](q, `window.saved`))
	if err != nil {
		t.Fatal(err)
	}
	z := startBrowser(t, s).open("/")
	z.goByLink("/", "home")
	z.until("the button", `document.querySelector("#restore-input")`)
	z.do(chromedp.SetUploadFiles(chromedp.CSS("#restore-input"), []string{fileOf(t, "backup.bin", string(whole))}))
	z.until("sessions and records", `document.querySelector("#notice").innerText.includes("Records of heads: 1")`)
	z.tap(".session-open")
	z.page("shots")
	z.goByLink("/", "home")
	z.goByLink("/visits", "visits")
	z.until("the record on another device", `document.querySelector("#record-said").innerText === "Learned from 2 players"`)
	z.check()
	open(fileOf(t, "bad.ferrule-record", string(bytes[:len(bytes)-3])))
	q.until("damage to be said", `document.querySelector("#record-error")?.innerText.includes("damaged")`)
	q.goByLink("/club", "club")
	q.types("#head-name", "Another")
	q.saved()
	open(file)
	q.until("the reason", `document.querySelector("#record-error")?.innerText.includes("Another")`)
	if said := q.text("#record-said"); said != "Nobody’s balls yet" {
		t.Errorf("of another head: %q", said)
	}
	q.tap("#use-visits")
	q.check()
	if strings.Contains(string(bytes), "Ann") || strings.Contains(string(bytes), "Ben") {
		t.Error("the file holds a name")
	}
}

// TestAClientsPage: a tap on a name in the library shows that client and nobody
// else, in every size, theme and language; the second window shows nothing of it.
func TestAClientsPage(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	axe := axeSource(t)
	p.named("#example-thin", "Ben")
	p.named("#try-example", "Maximiliane Oberwiesenthal-Lindenstaedt")
	p.goByLink("/choose", "choose")
	p.answered()
	p.goByLink("/sheet", "sheet")
	p.tap("#adopt")
	p.saved()
	p.tap("#notice-close") // it lies over the foot of the screen
	look := func(what string, z size, themes ...string) {
		t.Helper()
		p.follow("/", "home")
		if js[bool](p, `!!document.querySelector("#all-sessions")`) {
			p.tap("#all-sessions")
		}
		if !js[bool](p, `typeof ferruleChannels !== "undefined"`) { // once a page
			js[bool](p, axe+"\n"+inspectJS+"\n;true")
		}
		p.until("the names", `document.querySelectorAll(".session-player").length === 2`)
		p.inspect(z, what+" home", themes[0])
		p.shown(what + " home")
		js[bool](p, `([...document.querySelectorAll(".session-player")].find((b) => b.innerText.startsWith("Max")).id = "maximiliane", true)`)
		p.tap("#maximiliane")
		p.until("the client", `document.querySelector("#player-decided") && document.activeElement?.id === "page-title"`)
		for _, theme := range themes {
			p.inspect(z, what+" player", theme)
		}
		p.shown(what + " player")
		if said := js[string](p, `document.body.innerText`); strings.Contains(said, "Ben") {
			t.Errorf("%s: somebody else's name is shown: %s", what, said)
		}
	}
	for _, z := range sizes {
		look(z.name, z, themes...)
	}
	for _, z := range others {
		look(z.name, z, "")
	}
	for _, lang := range p.languages()[1:] {
		p.speak(lang)
		look(lang, sizes[0], themes[0])
	}
	p.tap("#all-sessions")
	p.until("both again", `document.querySelectorAll(".session-player").length === 2`)
	p.follow("/client", "client")
	if said := js[string](p, `document.body.innerText`); strings.Contains(said, "Max") || strings.Contains(said, "Ben") {
		t.Errorf("the second window says %s", said)
	}
	p.check()
}

// catchDownload keeps the bytes of the file that is handed out last.
const catchDownload = `{ const make = URL.createObjectURL;
	URL.createObjectURL = function (b) { if (b.type === "application/octet-stream") b.arrayBuffer().then((a) => { window.saved = btoa(String.fromCharCode(...new Uint8Array(a))); }); return make.call(URL, b); }; }`

// TestACheckIsHitInTurn: from the reasons to three, three and three balls by the
// typing page, each setting shown with its drawing and its cautions, to a decision
// that is the next session's setting of today.
func TestACheckIsHitInTurn(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	p.unfold("worth")
	p.unfold("check")
	p.tap("#check-start")
	p.page("shots")
	turn := func(want string) {
		t.Helper()
		p.until(want, `document.querySelector("#hit-now")?.innerText.startsWith(`+quoted(want)+`)`)
		t.Logf("%s", p.text("#hit-now"))
	}
	hit := func() {
		t.Helper()
		n := js[int](p, balls)
		p.fillIn("entry-carry", "231")
		p.fillIn("entry-offline", "4 R")
		p.tap("#add-shot")
		p.until("the ball", balls+" === "+strconv.Itoa(n+1))
	}
	for block := range 3 {
		turn("Check: 3 balls")
		if block > 0 {
			p.tap("#set-now")
			p.until("how to set it, and with what care", `document.querySelector("#turn-to svg") && document.querySelector(".slip .caution")`)
			p.tap("#turn-done")
		}
		for range 3 {
			hit()
		}
	}
	p.until("what came of it", `document.querySelector("#hit-now").innerText.includes("check")`)
	t.Logf("%s", p.text("#hit-now"))
	want := strings.TrimPrefix(p.text("#turns-new"), "From now on: ")
	p.tap("#turns-new")
	p.until("the end of it", `!document.querySelector("#turns-new")`)
	p.goByLink("/sheet", "sheet")
	p.until("what was taken up", `document.querySelector("#adopted")?.innerText.includes(`+quoted(want)+`)`)
	p.saved()
	p.goByLink("/", "home")
	p.tap("#new-session")
	p.page("club")
	p.goByLink("/", "home")
	p.goByLink("/visits", "visits")
	p.until("the decision", `document.querySelector("#decided")?.innerText.includes(`+quoted(want)+`)`)
	p.goByLink("/shots", "shots")
	p.until("today's setting", `document.querySelector("#chips [aria-pressed=true]").innerText.includes(`+quoted(want)+`)`)
	p.check()
}
