package browsertest

import (
	"fmt"
	"strings"
	"testing"
)

// aVoice plants a recogniser as the draft of the Web Speech API has it. What it says of
// itself is put before it; voice.say has it hear.
const aVoice = `
window.voice = Object.assign({ status: "available", after: "available", asked: [], installed: 0, started: [], ended: 0 }, window.voice);
window.SpeechRecognition = class {
	static available(o) { voice.asked.push(o.langs.join() + " " + o.processLocally); if (voice.broken) { return Promise.reject(new DOMException("no", "NotAllowedError")); } return Promise.resolve(o.processLocally ? voice.status : "available"); }
	static install(o) { voice.installed++; voice.status = voice.after; return Promise.resolve(voice.after === "available"); }
	constructor() { voice.now = this; if (!voice.remote) { let on = false; Object.defineProperty(this, "processLocally", { get: () => on, set: (v) => { on = v && !voice.deaf; }, configurable: true }); } }
	start() { voice.started.push(this.lang + " " + this.processLocally); }
	stop() { this.onend(new Event("end")); }
	abort() { voice.ended++; }
};
delete window.webkitSpeechRecognition;
voice.result = (...pieces) => voice.now.onresult && voice.now.onresult({ resultIndex: 0, results: Object.assign(pieces.map(([transcript, isFinal]) => Object.assign([{ transcript, confidence: .9 }], { isFinal })), {}) });
voice.say = (text) => { voice.result([text, true]); voice.now.onend(new Event("end")); return true; };
voice.fail = (error) => { voice.now.onerror({ error, message: "" }); voice.now.onend(new Event("end")); return true; };
`

// speaking opens the example's shots with a recogniser, in a language.
func speaking(t *testing.T, s *server, tags, of string) *tab {
	t.Helper()
	p := startBrowser(t, s).open("/", script(fmt.Sprintf(`Object.defineProperty(navigator, "languages", { get: () => [%s] }); window.voice = {%s};`, tags, of)), script(aVoice))
	p.show(smallest, smallest.height)
	p.reload()
	p.example()
	p.goByLink("/shots", "shots")
	p.still()
	return p
}

// languages are two: what the browser is asked for, and how it is said.
var languages = []struct{ name, tags, tag, ball, bare, odd, junk, piece, none, denied string }{
	{"English", `"en-GB", "en"`, "en-GB", "two four five right twelve", "231 7", "twenty three right five", "what a drive", "two four", "Nothing was understood", "microphone"},
	{"German", `"de"`, "de", "zweihundertfünfundvierzig rechts 12", "231 7", "dreiundzwanzig rechts fünf", "was für ein Schlag", "zweihundert", "Es wurde nichts verstanden", "Mikrofon"},
}

// TestABallIsSpoken: what is heard is shown large and counts after a tap; what is not
// understood, not likely or without a side is asked about; the recogniser is told to
// stay on the device, and nothing is asked of the server.
func TestABallIsSpoken(t *testing.T) {
	s := startServer(t, *site)
	for _, l := range languages {
		t.Run(l.name, func(t *testing.T) {
			p := speaking(t, s, l.tags, "")
			p.offlineReady()
			p.asked()
			count := js[int](p, balls)
			same := func(what string) {
				t.Helper()
				if n := js[int](p, balls); n != count {
					t.Fatalf("%s: %d balls, want %d", what, n, count)
				}
			}
			p.until("the key", `document.querySelector("#speak")`)
			speak := func() {
				t.Helper()
				p.tap("#speak")
				p.until("the ear", `document.querySelector("#voice-said")?.innerText`)
			}
			js[bool](p, `(scrollTo(0, 0), true)`)
			p.inView("#add-shot", "#speak")
			p.shown("voice-key-" + l.name)

			// In pieces: shown, and worth nothing before the end.
			speak()
			js[any](p, fmt.Sprintf(`voice.result([%q, false])`, l.piece))
			p.until("the piece", fmt.Sprintf(`document.querySelector("#voice-said").innerText === %q`, l.piece))
			if !js[bool](p, `document.querySelector("#voice-keep").disabled`) {
				t.Error("a piece can be kept")
			}
			p.shown("voice-listens-" + l.name)
			js[bool](p, fmt.Sprintf(`voice.say(%q)`, l.ball))
			p.until("the echo", `document.querySelector("#voice-ball").innerText.includes("245")`)
			if got := p.text("#voice-ball"); !strings.Contains(got, "12") || !strings.Contains(got, "R") {
				t.Errorf("the echo is %q", got)
			}
			if px := js[float64](p, `parseFloat(getComputedStyle(document.querySelector("#voice-ball")).fontSize)`); px < 28 {
				t.Errorf("the echo is %v px high", px)
			}
			same("before the tap")
			p.shown("voice-echo-" + l.name)
			p.tap("#voice-keep")
			count++
			p.until("the ball", fmt.Sprintf(balls+` === %d && !document.querySelector("#voice-ball")`, count))
			if got := p.text("#last"); !strings.Contains(got, "245") || !strings.Contains(got, "12") || !strings.Contains(got, "R") {
				t.Errorf("the last ball reads %q", got)
			}

			// Not understood: the words, and nothing else.
			speak()
			js[bool](p, fmt.Sprintf(`voice.say(%q)`, l.junk))
			p.until("the words", fmt.Sprintf(`document.querySelector("#voice-said").innerText.includes(%q + "”") || document.querySelector("#voice-said").innerText.includes(%q + "“")`, l.junk, l.junk))
			if !js[bool](p, `document.querySelector("#voice-keep").disabled && document.querySelector("#voice-ball").innerText === "" && document.querySelector("#entry-carry").value === ""`) {
				t.Error("what was not understood can be kept")
			}
			p.shown("voice-unclear-" + l.name)

			// No side: asked for, as of a typed one.
			p.tap("#voice-again")
			js[bool](p, fmt.Sprintf(`voice.say(%q)`, l.bare))
			p.until("the echo", `document.querySelector("#voice-ball").innerText.includes("231")`)
			if got := p.text("#voice-ball"); strings.ContainsAny(got, "LR") {
				t.Errorf("a side that nobody said: %q", got)
			}
			p.tap("#voice-keep")
			p.until("the question for the side", `document.querySelector("#entry-offline-e")`)
			same("without a side")
			p.tap("#key-left")
			count++
			p.until("the ball", fmt.Sprintf(balls+` === %d`, count))

			// Unlikely: asked about.
			speak()
			js[bool](p, fmt.Sprintf(`voice.say(%q)`, l.odd))
			p.until("the echo", `document.querySelector("#voice-ball").innerText.includes("23")`)
			p.tap("#voice-keep")
			p.until("the doubt", `document.querySelector("#odd-keep")`)
			same("an unlikely ball")
			p.tap("#odd-keep")
			count++
			p.until("the ball", fmt.Sprintf(balls+` === %d`, count))

			// A microphone that is refused, and an end in the middle.
			speak()
			js[bool](p, `voice.fail("not-allowed")`)
			p.until("the word of the microphone", fmt.Sprintf(`document.querySelector("#voice-said").innerText.includes(%q)`, l.denied))
			p.tap("#voice-again")
			js[any](p, fmt.Sprintf(`voice.result([%q, true])`, l.ball))
			js[bool](p, `voice.fail("network")`)
			p.until("the word that it was nothing", fmt.Sprintf(`document.querySelector("#voice-said").innerText.includes(%q)`, l.none))
			if !js[bool](p, `document.querySelector("#voice-keep").disabled`) {
				t.Error("half a ball can be kept")
			}

			// Left while it listens.
			p.tap("#voice-again")
			ended := js[int](p, `voice.ended`)
			p.tap("#slip-close")
			p.until("the end of the listening", fmt.Sprintf(`voice.ended > %d && !document.querySelector("#voice-said")`, ended))
			speak()
			ended = js[int](p, `voice.ended`)
			p.goByLink("/compare", "compare")
			p.until("the end of the listening", fmt.Sprintf(`voice.ended > %d`, ended))
			for _, was := range js[[]string](p, `voice.started`) {
				if was != l.tag+" true" {
					t.Errorf("listened in %q, want %q", was, l.tag+" true")
				}
			}
			for _, was := range js[[]string](p, `voice.asked`) {
				if !strings.HasSuffix(was, " true") {
					t.Errorf("asked for %q", was)
				}
			}
			for _, r := range p.asked() {
				if !strings.HasPrefix(r, "GET /worker") && !strings.HasPrefix(r, "GET /wasm_exec.js") {
					t.Errorf("asked for %s", r)
				}
			}
			p.check()
		})
	}
}

// TestWithoutAPromiseNothingIsSpoken: no key where a browser has no recogniser, none
// for the language, one that works elsewhere, one that takes no demand, or an error.
func TestWithoutAPromiseNothingIsSpoken(t *testing.T) {
	s := startServer(t, *site)
	for name, of := range map[string]string{
		"the language is unavailable": `status: "unavailable"`, "it works elsewhere": `remote: true`, "it takes no demand": `deaf: true`, "an unknown word": `status: "soon"`,
		"an error": `broken: true`,
	} {
		for _, l := range languages {
			p := speaking(t, s, l.tags, of)
			p.until("the answer of the browser", `document.querySelector("#add-shot")`)
			p.still()
			if js[bool](p, `!!document.querySelector("#speak")`) {
				t.Errorf("%s: %s, and there is a key", l.name, name)
			}
			p.goTo("/settings")
			p.until("the word why", fmt.Sprintf(`document.querySelector("#working")?.innerText.includes(%q)`, map[string]string{"English": "Speak", "German": "Sprechen"}[l.name]))
			p.check()
		}
	}
}

// TestSpeechIsFetchedByATap: what the browser would have to fetch it fetches after a
// tap, and not before; what it then cannot do is said.
func TestSpeechIsFetchedByATap(t *testing.T) {
	s := startServer(t, *site)
	for _, c := range []struct {
		after string
		key   bool
	}{{"available", true}, {"unavailable", false}} {
		p := speaking(t, s, languages[1].tags, `status: "downloadable", after: "`+c.after+`"`)
		p.until("the offer", `document.querySelector("#speak")`)
		p.shown("voice-offer-" + c.after)
		if n := js[int](p, `voice.installed`); n != 0 {
			t.Error("it was fetched in silence")
		}
		p.tap("#speak")
		if c.key {
			p.until("the key", `document.querySelector("#speak")?.innerText === "Sprechen"`)
			p.tap("#speak")
			p.until("the ear", `voice.started.length === 1`)
		} else {
			p.until("the word", `document.querySelector("#voice-said")?.innerText && !document.querySelector("#speak")`)
		}
		if n := js[int](p, `voice.installed`); n != 1 {
			t.Errorf("it was fetched %d times", n)
		}
		p.check()
	}
}
