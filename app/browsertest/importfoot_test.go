package browsertest

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
)

// atFoot notes where the button that takes a file over stands in each frame, and
// whether another thing lies over its middle.
const atFoot = `
window.feet = new Set(); window.covered = 0;
{ const step = () => { const e = document.querySelector("#accept-file"); if (e) { const r = e.getBoundingClientRect(); feet.add([r.left, r.top, r.bottom].map(Math.round).join());
	const on = document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2); if (on !== e) { covered++; } } requestAnimationFrame(step); }; requestAnimationFrame(step); }`

// TestTakingOverStaysInPlace: the button that takes the balls over stands at one
// place of the phone's screen, before, while and after a file is read anew and
// wherever the page is scrolled to; a tap meanwhile takes what was said last.
func TestTakingOverStaysInPlace(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.upload(fileOf(t, "long.csv", rowsOfDays(1500)))
	p.understood("long.csv")
	js[bool](p, `(`+"(() => {"+atFoot+"})()"+`, true)`)
	p.pick("#column-4", "path") // no launch direction: the file is read anew
	p.until("the file read anew", `document.body.dataset.busy === "0" && document.querySelector("#column-4")?.value === "path" && document.querySelector("#undo-file")`)
	for _, y := range []string{"0", "document.documentElement.scrollHeight / 2", "document.documentElement.scrollHeight"} {
		js[bool](p, fmt.Sprintf(`(window.scrollTo(0, %s), true)`, y))
		js[bool](p, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
	}
	feet, covered := js[[]string](p, `[...feet]`), js[int](p, `covered`)
	t.Logf("left, top and bottom of the button over all frames [px]: %q, covered in %d", feet, covered)
	if len(feet) != 1 || covered > 0 {
		t.Errorf("the button stood at %d places %q and was covered in %d frames", len(feet), feet, covered)
	}
	p.pick("#column-4", "launch_direction")
	p.tap("#accept-file")
	p.until("the balls", `document.querySelectorAll(".ball").length > 0`)
	p.check()
}

// TestTheImportScreenOnSmallScreens writes pictures of the screen of a file with
// questions, repairs, clubs and columns: small, dark, with letters twice as large,
// in Japanese; nothing is wider than the screen.
func TestTheImportScreenOnSmallScreens(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	p.goByLink("/shots", "shots")
	text := "Club,Adjusted,Club Speed (mph),Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Carry,Offline,Apex (ft),Total Distance (yd)\n"
	for i := range 24 {
		club := 98 + float64(i*7%9)*.7
		shown := club
		if i >= 4 && i < 11 {
			shown *= 1.60934 // a mile in kilometres, by definition
		}
		name := []string{"Driver", "SW (54)", "4 Hybrid"}[i/20+i/22]
		text += fmt.Sprintf("%s,%s,%.1f,%.1f,%.1f,%.1f,%d,%.1f,%.1f,%d,%.1f\n", name, []string{"up", "flat"}[i/12], shown, 1.45*club, 12+float64(i*5%7)*.3, float64(i%5)-2, 2500+i*37%200, 236+float64(i*7%9)*1.6, 3*(float64(i%5)-2), 90+i%7, 250+float64(i%9))
	}
	p.upload(fileOf(t, "a rather long name of a session on the range, 2026-05-01.csv", text))
	p.until("the file", `document.querySelector("#accept-file")`)
	p.still()
	for _, look := range []struct{ name, theme, lang string }{{"light", "light", "en"}, {"dark", "dark", "en"}, {"japanese", "dark", "ja"}, {"german", "light", "de"}} {
		js[bool](p, fmt.Sprintf(`(document.documentElement.dataset.theme = %q, true)`, look.theme))
		if look.lang != "en" {
			p.show(sizes[0], sizes[0].height)
			p.speak(look.lang)
			p.follow("/shots", "shots")
			p.until("the file", `document.querySelector("#accept-file")`)
		}
		for _, z := range []struct {
			name          string
			width, height int64
			scale         float64
		}{{"360", 360, 740, 1}, {"twice", 360, 740, 2}, {"sideways", 740, 360, 1}} {
			if z.scale == 1 {
				p.show(size{z.name, z.width, z.height, true}, z.height)
			} else { // letters twice as large: half the pixels, each twice as wide
				p.do(chromedp.EmulateViewport(z.width/2, z.height/2, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulateScale(2)))
			}
			if wide := js[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide > 0 {
				t.Errorf("%s %s: %d px wider than the screen", look.name, z.name, wide)
			}
			for k := range 4 {
				js[bool](p, fmt.Sprintf(`(window.scrollTo(0, %d * innerHeight * .8), new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true)))))`, k))
				p.shown(fmt.Sprintf("import-%s-%s-%d", look.name, z.name, k))
			}
		}
	}
	p.check()
}
