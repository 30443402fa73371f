package browsertest

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What people bring in: files of all clubs, blocks and then the whole, sheets,
// headers that nobody knows, no settings at all. Taps are counted. The numbers
// are invented by a formula: what is asked here is how files come in.

const importHead = "Club,Setting,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Carry (yd),Offline (yd),Apex (ft)"

// importRows are n invented drives of one seed; speed is the ball's, in mph.
func importRows(seed uint64, n int, club, setting string, speed, launch, spin float64) string {
	r := rand.New(rand.NewPCG(seed, 3))
	var b strings.Builder
	for range n {
		v, l, s, d := speed+2*r.NormFloat64(), launch+r.NormFloat64(), spin+250*r.NormFloat64(), 2*r.NormFloat64()
		carry := 1.62*v + 1.5*l - .006*(s-2600) + 2*r.NormFloat64() - 20
		fmt.Fprintf(&b, "%s,%s,%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.1f\n", club, setting, v, l, d, s, carry, carry*.0175*d+3*r.NormFloat64(), 40+4*l)
	}
	return b.String()
}

// shown waits for a file as understood.
func (p *tab) understood(name string) {
	p.t.Helper()
	p.until("the file "+name+" as understood", fmt.Sprintf(`document.querySelector("#accept-file") && document.querySelector("#file-h")?.innerText.includes(%q)`, name))
	p.still()
}

// listedBalls are the balls of the list: those that a tap would list are counted
// by its button, those that are left out are not.
const listedBalls = `document.querySelectorAll(".ball").length + Number((document.querySelector("#balls-more")?.innerText.match(/\d+/) ?? ["0"])[0])`

// TestAllClubsToAnAnswer: a file of twelve clubs, opened on the first page, to
// an answer for the driver: the other 132 balls are folded away.
func TestAllClubsToAnAnswer(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	text := importHead + "\n"
	for i, club := range []string{"PW", "9 Iron", "8 Iron", "7 Iron", "6 Iron", "5 Iron", "4 Hybrid", "SW (54)", "60", "3 Wood", "5 Wood"} {
		text += importRows(uint64(i), 12, club, "", 110, 18, 5500)
	}
	text += importRows(90, 12, "Driver", "flat", 150, 11, 2500) + importRows(91, 12, "Driver", "up", 150, 14, 2900)
	p.upload(fileOf(t, "bag.csv", text))
	p.understood("bag.csv")
	if said := p.text("#file"); !strings.Contains(said, "24 balls") || !strings.Contains(said, "SW (54)") {
		t.Errorf("the file's card says %q", said)
	}
	p.tap("#accept-file") // the one tap
	p.until("the drives", listedBalls+" === 24")
	p.goByLink("/choose", "choose")
	p.until("an answer", `document.querySelector("#verdict, .headline, #answer-h, .answer")`)
	t.Log("12 clubs to an answer for the driver: 1 tap on the import screen, 1 to the answer")
	p.check()
}

// TestBlocksAndThenTheWhole: five files of blocks, then the device's cumulative
// one: only what is new is added.
func TestBlocksAndThenTheWhole(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	all := importHead + "\n"
	taps := 0
	for k := range 5 {
		rows := importRows(uint64(20+k), 8, "Driver", "flat", 150, 12, 2600)
		all += rows
		name := fmt.Sprintf("block%d.csv", k+1)
		p.upload(fileOf(t, name, importHead+"\n"+rows))
		p.understood(name)
		p.tap("#accept-file")
		taps++
		p.until("the block's balls", fmt.Sprintf(listedBalls+" === %d", 8*(k+1)))
		p.still()
	}
	p.upload(fileOf(t, "all.csv", all+importRows(30, 3, "Driver", "flat", 150, 12, 2600)))
	p.understood("all.csv")
	if said := p.text("#file"); !strings.Contains(said, "40 balls") {
		t.Errorf("the file's card says %q", said)
	}
	p.tap("#accept-file")
	taps++
	p.until("three more", listedBalls+" === 43")
	t.Logf("five blocks and the cumulative file: %d taps", taps)
	p.check()
}

// TestTwoSheetsAreTwoSettings: each visible sheet is read; its name is the
// setting.
func TestTwoSheetsAreTwoSettings(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	put := func(name, text string) { w, _ := z.Create(name); w.Write([]byte(text)) }
	for i, rows := range []string{importRows(40, 8, "Driver", "", 150, 11, 2500), importRows(41, 8, "Driver", "", 150, 14, 2900)} {
		x := `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`
		for n, l := range strings.Split(strings.TrimSpace(importHead+"\n"+rows), "\n") {
			x += fmt.Sprintf(`<row r="%d">`, n+1)
			for _, c := range strings.Split(l, ",") {
				x += `<c t="inlineStr"><is><t>` + c + `</t></is></c>`
			}
			x += `</row>`
		}
		put(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), x+`</sheetData></worksheet>`)
	}
	put("xl/workbook.xml", `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Loft up" sheetId="1" r:id="rId1"/><sheet name="Loft down" sheetId="2" r:id="rId2"/></sheets></workbook>`)
	put("xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Target="worksheets/sheet2.xml"/></Relationships>`)
	z.Close()
	path := filepath.Join(t.TempDir(), "two.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.upload(path)
	p.understood("two.xlsx")
	if said := p.text("#file-settings"); !strings.Contains(said, "Loft up") || !strings.Contains(said, "Loft down") {
		t.Errorf("settings: %q", said)
	}
	p.tap("#accept-file")
	p.until("all balls", listedBalls+" === 16")
	p.check()
}

// TestUnknownHeadersByHand: a file of headers that nobody knows is mapped column
// by column; nothing is taken over before.
func TestUnknownHeadersByHand(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	text := strings.ReplaceAll(importHead, importHead, "Qa,Qb,Qc,Qd,Qe,Qf,Qg,Qh,Qi") + "\n" + importRows(50, 10, "x", "y", 150, 12, 2600)
	p.upload(fileOf(t, "strange.csv", text))
	p.understood("strange.csv")
	if !js[bool](p, `document.querySelector("#accept-file").disabled`) {
		t.Error("balls can be taken over before anybody said what the columns are")
	}
	choices := 0
	for _, c := range [][3]string{{"2", "ball_speed", "mph"}, {"6", "carry", "yd"}, {"7", "offline", "yd"}} {
		p.pick("#column-"+c[0], c[1])
		p.still()
		p.until("the column as said", fmt.Sprintf(`document.querySelector("#column-%s")?.value === %q && document.querySelector("#unit-%s")`, c[0], c[1], c[0]))
		p.pick("#unit-"+c[0], c[2])
		p.still()
		choices += 2
	}
	p.until("balls to take over", `!document.querySelector("#accept-file").disabled`)
	p.tap("#undo-file")
	p.tap("#accept-file") // while the file is read anew
	p.until("the balls", listedBalls+` === 10`)
	t.Logf("unknown headers mapped by hand: %d choices in lists, 1 tap", choices)
	p.check()
}

// TestTaggingOnTheTimeLine: a file without settings is tagged by at most one tap
// a block.
func TestTaggingOnTheTimeLine(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example() // a club with settings
	p.goByLink("/shots", "shots")
	text := "Time," + importHead + "\n"
	for k := range 4 {
		for i, l := range strings.Split(strings.TrimSpace(importRows(uint64(60+k), 6, "Driver", "", 150, 12, 2600)), "\n") {
			text += fmt.Sprintf("%02d:%02d,%s\n", 9+2*k, i, l)
		}
	}
	p.upload(fileOf(t, "untagged.csv", text))
	p.understood("untagged.csv")
	taps := 0
	for k := range 4 {
		if k == 2 {
			continue // as the block before
		}
		p.tap(fmt.Sprintf("#part-%d-%d", k, k))
		taps++
		p.still()
	}
	p.until("what was tapped", `[0,1,3].every((k) => document.querySelector("#part-" + k + "-" + k).getAttribute("aria-pressed") === "true")`)
	p.tap("#accept-new")
	p.until("the new session's balls", listedBalls+" === 24")
	p.tap("#balls-more")
	p.until("all balls listed", `document.querySelectorAll(".ball").length === 24`)
	if runs := js[int](p, `document.querySelectorAll("[id^=run-]").length`); runs < 3 {
		t.Errorf("%d runs of settings, want 3", runs)
	}
	if taps > 4 {
		t.Errorf("%d taps for 4 blocks", taps)
	}
	t.Logf("4 blocks tagged by %d taps", taps)
	p.check()
}

// shown writes a picture where pictures are asked for.
func (p *tab) shown(name string) {
	if *screens != "" {
		p.picture(*screens, name)
	}
}

// TestARepairIsOneTap: club speeds of seven balls in km/h under mph are read so
// before any ball is judged, and said; one tap leaves them as written, one more
// takes that back.
func TestARepairIsOneTap(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	text := "Club,Club Speed (mph),Ball Speed (mph),Smash Factor,Launch Angle (deg),Spin Rate (rpm),Carry (yd)\n"
	for i := range 16 {
		club := 98 + float64(i*7%9)*.7
		shown := club
		if i >= 4 && i < 11 {
			shown *= 1.60934 // a mile in kilometres, by definition
		}
		text += fmt.Sprintf("Driver,%.1f,%.1f,1.45,%.1f,%d,%.1f\n", shown, 1.45*club, 12+float64(i*5%7)*.3, 2500+i*37%200, 236+float64(i*7%9)*1.6)
	}
	p.upload(fileOf(t, "mixed.csv", text))
	p.understood("mixed.csv")
	if said := p.text("#file-repairs"); !strings.Contains(said, "6-12") || !strings.Contains(said, "Club Speed") {
		t.Errorf("what is repaired is told as %q", said)
	}
	if js[bool](p, `document.querySelector("#accept-file").disabled`) {
		t.Error("a repair asks for an answer")
	}
	pressed := func(what string) {
		t.Helper()
		p.until(what, fmt.Sprintf(`[...document.querySelectorAll("#file-repairs [aria-pressed=true]")].map((b) => b.innerText).join() === %q`, what))
	}
	pressed("as the numbers say")
	p.tap("#answer-0-1")
	pressed("as it was read")
	p.tap("#undo-file")
	pressed("as the numbers say")
	p.shown("a-repair")
	p.tap("#accept-file")
	p.until("the balls", `document.querySelectorAll(".ball").length > 0`)
	p.still()
	if n := js[int](p, `document.querySelectorAll(".ball .flag, .ball.odd").length`); n > 0 {
		t.Errorf("%d balls are judged by speeds that were written in another unit", n)
	}
	t.Log("a block of another unit: no tap to take the repair, 1 to leave it as written")
	p.check()
}

// TestRangesAtOnce: a file without a break is cut by one text and tagged by one
// tap a block.
func TestRangesAtOnce(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	p.goByLink("/shots", "shots")
	p.upload(fileOf(t, "plain.csv", importHead+"\n"+importRows(70, 24, "Driver", "", 150, 12, 2600)))
	p.understood("plain.csv")
	p.types("#file-split", "9-16")
	p.tap("#split")
	p.until("three lines", `document.querySelectorAll(".file-part").length === 3`)
	for k := range 3 {
		p.tap(fmt.Sprintf("#part-%d-%d", k, k))
		p.still()
	}
	p.shown("time-line")
	p.types("#file-split", "30")
	p.tap("#split")
	p.until("a word on 30", `document.querySelector("#file-split-e")?.innerText.includes("24")`)
	p.tap("#accept-new")
	p.until("the balls", `document.querySelectorAll(".ball").length > 0`)
	if runs := js[int](p, `document.querySelectorAll("[id^=run-]").length`); runs < 1 {
		t.Errorf("%d runs of settings", runs)
	}
	t.Log("24 balls without a break in three ranges: 1 text, 4 taps")
	p.check()
}

// rowsOfDays is a file of n drives, 200 a day, with a pause in each.
func rowsOfDays(n int) string {
	var b strings.Builder
	b.WriteString("Date," + importHead + "\n")
	for i, l := range strings.Split(strings.TrimSpace(importRows(80, n, "Driver", "", 150, 12, 2600)), "\n") {
		day, at := i/200, i%200
		fmt.Fprintf(&b, "20%02d-%02d-%02d %02d:%02d,%s\n", 20+day/336, 1+day/28%12, 1+day%28, 8+at/60+at/100*2, at%60, l)
	}
	return b.String()
}

// TestTwelveThousandRows: a file of 12,000 rows makes no longer a screen than one
// of 200, and takes time as its rows do. The times are printed; what is held is a
// count and a ratio.
func TestTwelveThousandRows(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", script(gaps))
	p.example()
	p.goByLink("/shots", "shots")
	read := func(n int) (ms, nodes float64) {
		name := fmt.Sprintf("rows%d.csv", n)
		path := fileOf(t, name, rowsOfDays(n))
		js[bool](p, `(window.asked = performance.now(), window.shown = 0, new MutationObserver(() => { if (!window.shown && document.querySelector("#accept-file")) { window.shown = performance.now(); } }).observe(document.body, { childList: true, subtree: true }), true)`)
		p.upload(path)
		p.understood(name)
		return js[float64](p, `window.shown - window.asked`), js[float64](p, `document.querySelectorAll("main *").length`)
	}
	leave := func() { p.tap("#drop-file"); p.until("no file", `!document.querySelector("#file-h")`) }
	read(200) // the worker is warm
	leave()
	_, small := read(200)
	leave()
	few, _ := read(3000)
	leave()
	many, nodes := read(12000)
	trace := p.tracer()
	scroll := func(what string) {
		t.Helper()
		tasks := trace(func() {
			js[bool](p, `(ferruleGaps.from = performance.now(), ferruleGaps.frame = 0, ferruleGaps.tasks = [], window.scrolled = false, (() => { let y = 0; const step = () => { y += 120; window.scrollTo(0, y); if (y < document.documentElement.scrollHeight) { requestAnimationFrame(step); } else { window.scrolled = true; } }; requestAnimationFrame(step); })(), true)`)
			p.until("the end of "+what, `window.scrolled`)
		})
		t.Logf("%s scrolled through: longest gap %.0f ms, tasks over 50 ms %v; processor time of the longest tasks %.0f ms", what, js[float64](p, `ferruleGaps.frame`), js[[]float64](p, `ferruleGaps.tasks`), tasks[:min(3, len(tasks))])
	}
	t.Logf("3,000 rows: %.0f ms, 12,000 rows: %.0f ms to the import screen; elements on it: %.0f of 200 rows, %.0f of 12,000", few, many, small, nodes)
	scroll("the import screen")
	if nodes > small*1.6 {
		t.Errorf("the screen of 12,000 rows has %.0f elements, that of 200 has %.0f", nodes, small)
	}
	if many > 8*few {
		t.Errorf("12,000 rows take %.0f ms, 3,000 take %.0f", many, few)
	}
	p.tap("#accept-new")
	p.until("the balls", `document.querySelectorAll(".ball").length > 0`)
	listed := js[float64](p, `document.querySelectorAll("main *").length`)
	t.Logf("elements of the page with 12,000 balls: %.0f", listed)
	scroll("the page of 12,000 balls while they are saved")
	p.saved()
	scroll("the page of 12,000 balls")
	p.check()
}
