package browsertest

import (
	"fmt"
	"strings"
	"testing"
)

// ownFolder gives the page a folder of the origin's private file system instead of
// the browser's dialogue, and writes files into it.
const ownFolder = `
window.showDirectoryPicker = async () => (await navigator.storage.getDirectory()).getDirectoryHandle("bay", { create: true });
window.writeFile = async (name, text) => {
	const dir = await window.showDirectoryPicker(), file = await dir.getFileHandle(name, { create: true }), w = await file.createWritable();
	await w.write(text);
	await w.close();
	return true;
};`

// bayFile is a device's file of n balls of the day.
func bayFile(n int) string {
	var b strings.Builder
	b.WriteString("Ball Speed (mph),Launch Angle (deg),Spin (rpm),Carry (yd),Offline (yd)\n")
	for i := range n {
		fmt.Fprintf(&b, "%d.%d,%d.%d,%d,%d.%d,%d.%d R\n", 135+i%7, i%10, 12+i%3, (3*i)%10, 2700+31*i, 205+(i*5)%17, (7*i)%10, 1+i%9, i%10)
	}
	return b.String()
}

// TestABlockByAWatchedFolder: after the folder was chosen a block of balls costs
// no tap. What lay in the folder stays out, a file that grows brings its new balls
// to the setting that is set, each once; one tap moves them.
func TestABlockByAWatchedFolder(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", script(ownFolder))
	p.show(size{"tablet", 1024, 768, false}, 768)
	p.example()
	p.follow("/live", "live")
	const tally = `[...document.querySelectorAll(".live-count tbody tr")].reduce((n, r) => n + Number(r.lastElementChild.innerText), 0)`
	p.until("the tally", `document.querySelector("#tally")`)
	p.unfold("tally")
	p.until("its lines", tally+" > 0")
	before := js[int](p, tally)
	js[bool](p, fmt.Sprintf(`writeFile("day.csv", %q)`, bayFile(6)))
	p.tap("#bay-folder")
	p.until("the folder", `document.querySelector("#bay-folder").getAttribute("aria-pressed") === "true"`)
	p.still()
	took := js[float64](p, fmt.Sprintf(`(async () => {
		await writeFile("day.csv", %q);
		const written = performance.now();
		while (!document.querySelector(".answer .spin") && performance.now() - written < 60000) { await new Promise((go) => setTimeout(go, 10)); }
		return performance.now() - written;
	})()`, bayFile(10)))
	t.Logf("from the file's end to the answer's beginning: %.0f ms, 0 taps", took)
	p.until("the four new balls", fmt.Sprintf(tally+" === %d", before+4))
	p.until("the word of it", `document.querySelector("#notice")?.innerText.includes("4 balls to")`)
	p.still()

	// Cut in the middle of a number it is still being written; then it is whole.
	whole := bayFile(11)
	js[bool](p, fmt.Sprintf(`writeFile("day.csv", %q)`, whole[:len(whole)-9]))
	js[bool](p, fmt.Sprintf(`writeFile("day.csv", %q)`, whole))
	p.until("the eleventh ball", fmt.Sprintf(tally+" === %d", before+5))
	p.until("where it could go", `document.querySelector("#move-0")`)
	to := p.text("#move-0")
	p.tap("#move-0")
	p.until("the ball moved", fmt.Sprintf(`document.querySelector("#live-last-h").innerText.includes(%q)`, to))
	p.saved()
	p.check()
}

// TestTheBayOnOneScreen: on a tablet of 1024 x 768 all that a fitter looks at
// between two balls stands on the screen without scrolling.
func TestTheBayOnOneScreen(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	p.show(size{"tablet", 1024, 768, false}, 768)
	p.example()
	p.follow("/live", "live")
	p.until("the picture", `document.querySelector("#live-landing svg")`)
	p.inView("#bay-clock", "#live-last", "#live-type", "#live-mishit", "#live-remove", "#recent", "#live-setting", "#live-next", "#answer", "#live-landing svg")
	if over := js[float64](p, `document.querySelector(".live").getBoundingClientRect().bottom - innerHeight`); over > 0 {
		t.Errorf("the bay ends %.0f px below the screen", over)
	}
	p.check()
}

// TestASecondWindowForThePlayer follows the big view of the first: numbers and
// patterns, no name, no title, nothing to touch; the next player's shows nothing
// of the one before.
func TestASecondWindowForThePlayer(t *testing.T) {
	b := startBrowser(t, startServer(t, *site))
	p := b.open("/", theme("light"))
	p.show(size{"tablet", 1024, 768, false}, 768)
	p.example()
	p.follow("/live", "live")
	p.until("the way to it", `document.querySelector("#client-open")`)
	q := b.another("/client", theme("light"))
	q.show(size{"screen", 1280, 800, false}, 800)
	q.page("client")
	q.until("the ball that was hit before it opened", `document.querySelectorAll(".live-number").length === 4`)
	q.until("the patterns", `document.querySelector(".client svg .pattern-today")`)
	if n := js[int](q, `document.querySelectorAll("main button, main a, main input, main select").length`); n != 0 {
		t.Errorf("%d controls in the player's window", n)
	}
	if said := q.text("main"); strings.Contains(said, "Demo player") || strings.Contains(said, "Example") {
		t.Errorf("the player's window tells a name: %q", said)
	}
	if out := js[float64](q, `document.documentElement.scrollHeight - innerHeight`); out > 0 {
		t.Errorf("the player's window is %.0f px too high", out)
	}
	p.tap("#live-type")
	p.typeBall("222")
	q.until("the new ball", `document.querySelector(".live-number")?.innerText.startsWith("222")`)
	p.tap("#new-player")
	p.page("club")
	q.until("an empty window", `document.querySelectorAll(".live-number").length === 0 && document.querySelector("h1").innerText.includes("next ball")`)
	p.check()
	q.check()
}
