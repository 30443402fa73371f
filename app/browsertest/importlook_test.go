package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// importFiles are the files whose import screens are looked at: twelve clubs, headers
// that nobody knows and that are mapped by hand, and open questions.
func importFiles(t *testing.T) map[string]string {
	bag := importHead + "\n"
	for i, club := range []string{"PW", "9 Iron", "8 Iron", "7 Iron", "6 Iron", "5 Iron", "4 Hybrid", "SW (54)", "60", "3 Wood", "5 Wood"} {
		bag += importRows(uint64(i), 12, club, "", 110, 18, 5500)
	}
	bag += importRows(90, 12, "Driver", "flat", 150, 11, 2500) + importRows(91, 12, "Driver", "up", 150, 14, 2900)
	strange := strings.ReplaceAll(importHead, importHead, "Qa,Qb,Qc,Qd,Qe,Qf,Qg,Qh,Qi") + "\n" + importRows(50, 10, "x", "y", 150, 12, 2600)
	open := "Club,Position,Ball Speed,Launch Angle,Launch Direction,Whirl,Distance,Offline,Spin Axis\n"
	for k, club := range []string{"Aurora 9", "Aurora 10"} {
		for i, l := range strings.Split(strings.TrimSpace(importRows(uint64(70+k), 12, club, []string{"ring one", "ring two"}[k], 150, 12, 2600)), "\n") {
			cells := strings.Split(l, ",")
			open += strings.Join(append(cells[:8:8], fmt.Sprintf("%.1f", 3*float64(i%5-2))), ",") + "\n"
		}
	}
	return map[string]string{"bag.csv": fileOf(t, "bag.csv", bag), "strange.csv": fileOf(t, "strange.csv", strange), "open.csv": fileOf(t, "open.csv", open)}
}

// bringIn opens one of them and does what a person does first.
func (p *tab) bringIn(name, path string) {
	p.t.Helper()
	p.follow("/shots", "shots")
	p.upload(path)
	p.understood(name)
	if name == "strange.csv" {
		for _, c := range [][3]string{{"2", "ball_speed", "mph"}, {"6", "carry", "yd"}, {"7", "offline", "yd"}} {
			p.pick("#column-"+c[0], c[1])
			p.still()
			p.until("the column as said", fmt.Sprintf(`document.querySelector("#column-%s")?.value === %q && document.querySelector("#unit-%s")`, c[0], c[1], c[0]))
			p.pick("#unit-"+c[0], c[2])
			p.still()
		}
		p.until("balls to take over", `!document.querySelector("#accept-file").disabled`)
	}
}

// TestImportScreens looks at what is shown of a file before it is taken over, as
// TestEveryScreen looks at every other screen: small, dark, in languages of long words
// and of wide letters, and in letters of twice the size.
func TestImportScreens(t *testing.T) {
	files := importFiles(t)
	look := func(p *tab, languages []string, sizes []size, themes []string) {
		for _, lang := range languages {
			if lang != "" {
				p.speak(lang)
			}
			for name, path := range files {
				p.bringIn(name, path)
				for _, z := range sizes {
					p.show(z, z.height)
					for _, theme := range themes {
						p.inspect(z, strings.TrimSpace("import "+name+" "+lang), theme)
					}
					p.unfoldAll()
					p.inspect(z, strings.TrimSpace("import "+name+" "+lang)+", all unfolded", "")
				}
				p.tap("#drop-file")
				p.until("no file", `!document.querySelector("#file-h")`)
			}
		}
		p.check()
	}
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", theme("light"))
	p.enter("demo")
	js[bool](p, axeSource(t)+"\n"+inspectJS+"\n;true")
	look(p, []string{"en", "de", "ja"}, []size{smallest}, []string{"light", "dark"})
	large := startBrowser(t, s, chromedp.Flag("blink-settings", "defaultFontSize=32")).open("/", theme("light"))
	large.enter("demo")
	js[bool](large, inspectJS+"\n;true")
	look(large, []string{"de"}, []size{{"smallest phone, large letters", 360, 740, true}, {"narrowest phone, large letters", 320, 640, true}}, []string{""})
}
