package browsertest

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
)

// questions are what a golfer must be able to answer from one look at the
// answer, each with the element that answers it.
var questions = []struct{ asks, by string }{
	{"what is the setting called", "#answer"},
	{"how is it set today", "#turn .place-today"},
	{"how is it set then", "#turn .place-new"},
	{"which way do I turn the sleeve", "#turn .turn-arrow"},
	{"where does the weight go", "#turn .weight-track .place-new"},
	{"where do my balls go today", "#patterns .pattern-today"},
	{"where do they go then", "#patterns .pattern-new"},
	{"where is the trouble", "#patterns .ground"},
	{"how many fewer end in trouble, and what of the carry", "#counts"},
	{"how sure is that", "#sure .mark"},
	{"what do I do next", "#do-next"},
}

// closedWords counts the words of an element that are seen with all parts
// folded. A browser lays out text to count it, so it is asked.
const closedWords = `(element) => {
  const hidden = [...element.querySelectorAll(".unseen, svg title, svg desc")];
  const was = hidden.map((e) => e.textContent);
  hidden.forEach((e) => { e.textContent = ""; });
  const n = element.innerText.trim().split(/\s+/).filter(Boolean).length;
  hidden.forEach((e, i) => { e.textContent = was[i]; });
  return n;
}`

// TestTheAnswerIsOneScreen: on a phone of 390 x 740 the picture, the sentence,
// how sure it is and the next action stand on the first screen, in every
// language and in every state; each question of a golfer is answered there. A
// screen is what stands above the steps.
func TestTheAnswerIsOneScreen(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	z := size{"phone", 390, 740, true}
	look := func(state, lang string, all bool) {
		t.Helper()
		p.show(z, z.height)
		js[bool](p, `(scrollTo(0, 0), true)`)
		limit := float64(z.height) - js[float64](p, `document.querySelector(".steps").getBoundingClientRect().height`)
		for _, q := range questions {
			at := js[float64](p, fmt.Sprintf(`document.querySelector(%q)?.getBoundingClientRect().bottom ?? -1`, q.by))
			switch {
			case at < 0 && (all || !strings.Contains(q.by, "arrow") && !strings.Contains(q.by, "today")):
				t.Errorf("%s, %s: %s? %s is not there", state, lang, q.asks, q.by)
			case at > limit:
				t.Errorf("%s, %s: %s? %s ends %.0f px down, the screen has %.0f", state, lang, q.asks, q.by, at, limit)
			}
		}
		t.Logf("%s, %s: the next action ends %.0f px down of %.0f", state, lang, js[float64](p, `document.querySelector("#do-next").getBoundingClientRect().bottom`), limit)
		first := js[int](p, `[".answer", "#differs"].map((s) => (`+closedWords+`)(document.querySelector(s))).reduce((a, b) => a + b)`)
		whole := js[int](p, `(`+closedWords+`)(document.querySelector("main"))`)
		t.Logf("%s, %s: %d words above the first fold, %d with all closed", state, lang, first, whole)
		if first > 120 || whole > 350 {
			t.Errorf("%s, %s: %d words above the first fold and %d with all closed, at most 120 and 350", state, lang, first, whole)
		}
	}
	p.example()
	languages := p.languages()
	for _, lang := range append(languages[1:], languages[0]) { // English last: what follows is in English
		p.speak(lang)
		p.follow("/choose", "choose")
		look("the example", lang, true)
	}
	p.tapsAnswerInView(z)
	for _, state := range []string{"left", "thin"} {
		p.enter(state)
		look(state, "en", state == "left")
	}
	p.check()
}

// tapsAnswerInView touches a ball and a setting: what is asked for comes up on
// the screen, has the focus, and goes again.
func (p *tab) tapsAnswerInView(z size) {
	p.t.Helper()
	seen := func(what string) {
		p.t.Helper()
		p.until(what, `document.activeElement?.id === "slip-title"`)
		if at := js[string](p, `(() => { const r = document.querySelector("#slip").getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight ? "" : r.top + " to " + r.bottom; })()`); at != "" {
			p.t.Errorf("%s stands at %s px, the screen has %d", what, at, z.height)
		}
		p.tap("#slip-close")
		p.until("an end of "+what, `!document.querySelector("#slip")`)
	}
	p.tap("#patterns .taps [data-shot]")
	p.until("the ball", `document.activeElement?.id === "slip-title"`)
	p.tap("#ball-smash") // a word in it, over it and back
	p.until("the word", `document.querySelector("#slip .word-drawing path") && document.querySelector("#slip").innerText.includes("divided by")`)
	p.until("its focus", `document.activeElement?.id === "slip-title"`)
	p.tap("#slip-close")
	p.until("the ball again, at the word", `document.activeElement?.id === "ball-smash"`)
	js[bool](p, `(document.querySelector("#slip-title").focus(), true)`)
	seen("the ball")
	const flies = `(() => { try { return document.querySelector("#flights-slip animateMotion").getStartTime() >= 0; } catch { return false; } })()`
	p.do(motion("no-preference"))
	p.tap("#fly")
	p.until("the flights on their way", flies)
	seen("the flights")
	p.do(motion("reduce"))
	p.tap("#fly")
	p.until("the flights", `document.querySelector("#flights-slip .flown-ball")`)
	time.Sleep(300 * time.Millisecond)
	if js[bool](p, flies) {
		p.t.Error("the balls fly for one who wants no motion")
	}
	seen("the flights")
	p.unfold("all")
	p.tap("#gains-chart .tap[data-setting]")
	seen("the setting")
	if n := js[int](p, `document.querySelectorAll("#cell-1 .pips path").length && document.querySelector("#cell-1 .pips").innerHTML.split("h0").length - 1`); n != 20 {
		p.t.Errorf("a cell has %d marks to count, want 20", n)
	}
	p.tap("#cell-1")
	seen("the cell's setting")
}

// mostWords are the words that a page may have with all parts folded: those of
// the typing page and of the club are two fifths of the 1,079 and 605 that they
// once had, the others what they had when this was written and a tenth more.
var mostWords = map[string]int{"club": 242, "shots": 431, "choose": 350}

// TestWordsOfThePages prints how many words a page of the example has with all
// parts folded, and holds those that are read at the range.
func TestWordsOfThePages(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	p.example()
	for _, stop := range stops {
		p.follow(stop.path, stop.name)
		n := js[int](p, `(`+closedWords+`)(document.querySelector("main"))`)
		t.Logf("%-9s %4d words", stop.name, n)
		if most := mostWords[stop.name]; most > 0 && n > most {
			t.Errorf("%s has %d words, at most %d", stop.name, n, most)
		}
	}
	p.check()
}

// TestEveryDrawnWordIsATapAway: each word of the trade that has a drawing is asked
// about somewhere in the example, with all parts unfolded, or at a ball of a device
// that measures the club.
func TestEveryDrawnWordIsATapAway(t *testing.T) {
	raw, err := os.ReadFile("../../core/text/es.json")
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]string
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	left := map[string]bool{}
	for key := range all {
		if word, ok := strings.CutPrefix(key, "word."); ok && word != "ask" && !strings.HasSuffix(word, ".is") {
			left[word] = true
		}
	}
	if len(left) < 15 {
		t.Fatalf("%d words: this tests nothing", len(left))
	}
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	p.example()
	seen := func() {
		for _, word := range js[[]string](p, `[...document.querySelectorAll("[data-word]")].map((e) => e.dataset.word)`) {
			delete(left, word)
		}
	}
	for _, stop := range stops {
		p.follow(stop.path, stop.name)
		p.unfoldAll()
		if stop.name == "choose" {
			p.tap("#patterns .taps [data-shot]")
			p.until("the ball", `document.activeElement?.id === "slip-title"`)
		}
		seen()
	}
	p.goTo("/") // numbers of the club, as a device gives them
	p.page("home")
	rows := "Club,Setting,Ball Speed (mph),Carry (yd),Offline (yd),Attack Angle (deg),Club Path (deg),Face to Path (deg),Impact Height (mm)\n"
	for i := range 24 {
		rows += fmt.Sprintf("Driver,%s,14%d.%d,22%d.%d,%d.%d,-1.%d,2.%d,1.%d,%d\n", []string{"up", "flat"}[i/12], i%7, i%10, i%9, i%7, i*7%13-6, i%10, i%7, i%5, i%3, 3+i%6)
	}
	p.upload(fileOf(t, "club.csv", rows))
	p.understood("club.csv")
	p.tap("#accept-file")
	p.until("the balls", `document.body.dataset.saved > 0`)
	p.still() // a file that is accepted turns the page by itself
	p.follow("/choose", "choose")
	p.answered()
	p.tap("#patterns .taps [data-shot]")
	p.until("the ball", `document.activeElement?.id === "slip-title"`)
	seen()
	for word := range left {
		t.Errorf("%s has a drawing, and no button shows it", word)
	}
	p.goTo("/")
	p.page("home")
	p.example()
	p.follow("/club", "club")
	p.unfold("weights")
	p.tap("#weight1-mass-ask")
	p.until("the drawing of the weight", `document.activeElement?.id === "slip-title" && document.querySelector("#slip .word-drawing path")`)
	p.check()
}
