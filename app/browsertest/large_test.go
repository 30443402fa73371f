package browsertest

import (
	"strings"
	"testing"
	"time"
)

// listening notes the lines of progress that a page showed.
const listening = `
window.ferruleSaid = [];
new MutationObserver(() => { const e = document.querySelector(".working"); if (e && ferruleSaid.at(-1) !== e.innerText) { ferruleSaid.push(e.innerText); } })
	.observe(document, { childList: true, subtree: true, characterData: true });`

// TestSixThousandBalls opens a season's file and goes to the answer: its
// progress is told on the way. What it takes is printed, the machine is shared.
func TestSixThousandBalls(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", script(listening), script(stopwatch))
	text := importHead + "\n"
	for i, setting := range []string{"flat", "up", "down", "draw"} {
		text += importRows(uint64(70+i), 1500, "Driver", setting, 150, 11+float64(i), 2500+100*float64(i))
	}
	began := time.Now()
	p.upload(fileOf(t, "season.csv", text))
	p.understood("season.csv")
	read := time.Since(began)
	p.tap("#accept-file")
	p.until("the balls", `document.body.dataset.saved > 0`)
	p.goByLink("/choose", "choose")
	p.within(5*patience, "an answer", `document.body.dataset.busy === "0" && document.querySelector("#answer")?.innerText.trim()`)
	said := js[[]string](p, `ferruleSaid`)
	t.Logf("6,000 balls: understood after %.1f s, answered after %.1f s; the worker had its questions for %v ms; %d lines of progress: %q", read.Seconds(), time.Since(began).Seconds(), js[[]int](p, `ferruleAnswers.map(Math.round)`), len(said), said)
	if !strings.Contains(strings.Join(said, " "), "%") {
		t.Error("no progress was told")
	}
	p.check()
}
