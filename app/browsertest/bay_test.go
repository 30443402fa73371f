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

// TestABlockDroppedOrPasted: at the bay a file that is dropped anywhere, and rows
// that are pasted, go to the setting that is set, each ball once; a note of an
// earlier ball is given to the newest by one tap.
func TestABlockDroppedOrPasted(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	p.show(size{"tablet", 1024, 768, false}, 768)
	p.example()
	p.follow("/live", "live")
	number := func() int {
		return js[int](p, `Number(/\d+/.exec(document.querySelector("#live-last-h").innerText)[0])`)
	}
	before := number()
	hand := func(event, member string, fill string) {
		t.Helper()
		js[bool](p, fmt.Sprintf(`(() => {
			const data = new DataTransfer();
			%s
			const e = new Event(%q, { bubbles: true, cancelable: true });
			e[%q] = data;
			document.querySelector("#live-next").dispatchEvent(e);
			return e.defaultPrevented;
		})()`, fill, event, member))
	}
	file := func(n int) string {
		return fmt.Sprintf(`data.items.add(new File([%q], "block.csv", { type: "text/csv" }));`, bayFile(n))
	}
	hand("drop", "dataTransfer", file(4))
	p.until("the four balls that were dropped", fmt.Sprintf(`document.querySelector("#live-last-h")?.innerText.includes("%d")`, before+4))
	p.until("the word of it", `document.querySelector("#notice")?.innerText.includes("4 balls to")`)
	p.still()
	hand("drop", "dataTransfer", file(6)) // the file has grown
	p.until("the two new ones", fmt.Sprintf(`document.querySelector("#live-last-h")?.innerText.includes("%d")`, before+6))
	p.still()
	hand("paste", "clipboardData", fmt.Sprintf(`data.setData("text/plain", %q);`, bayFile(7)))
	p.until("the one that was pasted", fmt.Sprintf(`document.querySelector("#live-last-h")?.innerText.includes("%d")`, before+7))
	p.still()

	p.follow("/shots", "shots")
	chip := func(note string) string {
		return fmt.Sprintf(`[...document.querySelectorAll("#thoughts button")].find((e) => e.innerText === %q)`, note)
	}
	pressed := func(note string, want bool) {
		t.Helper()
		p.until(note, fmt.Sprintf(chip(note)+`?.getAttribute("aria-pressed") === "%v"`, want))
	}
	p.tap("#thought-0") // the first note needs no typing
	pressed("easy swing", true)
	p.tap("#thought-0")
	pressed("easy swing", false)
	p.tap(".balls .ball-line")
	p.until("the note's field", `document.querySelector("[id^=note-]")`)
	p.types("[id^=note-]", "slow back")
	pressed("slow back", true)
	p.tap("#last-remove")
	p.until("the ball before it", fmt.Sprintf(`document.querySelector("#last-is").innerText.includes("%d")`, before+6))
	if js[bool](p, chip("slow back")+` !== undefined`) {
		t.Error("a note of no ball is offered")
	}
	p.tap("#notice-undo")
	pressed("slow back", true)
	p.tap("#key-2")
	p.tap("#key-0")
	p.tap("#key-5")
	p.tap("#key-9")
	p.tap("#key-right")
	pressed("slow back", false) // of the new ball
	p.tap("#" + js[string](p, chip("slow back")+`.id`))
	pressed("slow back", true)
	p.saved()
	p.check()
}
