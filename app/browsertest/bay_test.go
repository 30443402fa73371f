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
