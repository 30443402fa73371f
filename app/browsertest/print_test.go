package browsertest

import (
	"context"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	cdpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// TestThePrintedSheetIsOnePage prints the fitting sheet of the demonstration,
// plain, with its link, with labels as long as people write them, and in five
// languages, on both papers: each is one page
// with no letter under 10 pt and none cut off. With -screens the papers are written
// there, to be looked at.
func TestThePrintedSheetIsOnePage(t *testing.T) {
	dir := t.TempDir()
	const demo = "../../testdata/demo/"
	// Labels as people write them, of 33, 49 and 62 letters for a pair.
	for name, l := range map[string][2]string{"long": {"Fabrikeinstellung+2", "Ferse aussen"}, "longer": {"Werkseinstellung plus zwei", "Ferse aussen 20 Gramm"},
		"longest": {"Werkseinstellung plus zwei Grad", "Gewicht ganz an der Ferse 20 g"}} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o755); err != nil {
			t.Fatal(err)
		}
		for _, file := range []string{"demo.csv", "club.json", "aim.json"} {
			text, err := os.ReadFile(filepath.Join(demo, file))
			if err == nil {
				err = os.WriteFile(filepath.Join(dir, name, file), []byte(strings.NewReplacer("up-upright", l[0], "heel 20", l[1]).Replace(string(text))), 0o644)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	sheets := map[string][]string{
		"plain": nil, "link": {"-link", "https://example.invalid", "-names"}, "metric": {"-units", "metric"},
		"long": {"-lang", "de"}, "longest": {"-lang", "de", "-link", "https://example.invalid", "-names"},
	}
	for _, lang := range []string{"es", "de", "ja", "ko"} {
		sheets[lang], sheets["link-"+lang] = []string{"-lang", lang}, []string{"-lang", lang, "-link", "https://example.invalid", "-names"}
		sheets["longer-"+lang], sheets["longest-"+lang] = sheets[lang], sheets[lang]
	}
	sheets["longer-en"], sheets["longest-en"] = nil, nil
	for name, more := range sheets {
		from, _, _ := strings.Cut(name, "-")
		if from = filepath.Join(dir, from); !strings.HasPrefix(name, "long") {
			from = demo
		}
		args := append([]string{"sheet", filepath.Join(from, "demo.csv"), "-club", filepath.Join(from, "club.json"), "-aim", filepath.Join(from, "aim.json"), "-o", filepath.Join(dir, name+".html")}, more...)
		if out, err := exec.Command(*ferrule, args...).CombinedOutput(); err != nil {
			t.Fatalf("ferrule %s: %v\n%s", strings.Join(args, " "), err, out)
		}
	}
	ts := httptest.NewServer(http.FileServer(http.Dir(dir)))
	t.Cleanup(ts.Close)
	b := startBrowser(t, &server{host: strings.TrimPrefix(local(ts), "http://")})
	ctx, cancel := chromedp.NewContext(b.ctx)
	t.Cleanup(cancel)
	p := &tab{t: t, ctx: ctx, cancel: cancel, host: b.host, offline: true} // there is no icon
	if err := chromedp.Listen(ctx, p.hear); err != nil {                   // starts the browser, which lives as long as this context
		t.Fatal(err)
	}
	for name, size := range map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "Letter": {8.5, 11}} { // [in]
		for _, sheet := range slices.Sorted(maps.Keys(sheets)) {
			p.do(chromedp.Navigate(local(ts) + "/" + sheet + ".html"))
			pdf := p.paper(size[0], size[1])
			for _, wrong := range readPDF(t, pdf).onOnePage() {
				t.Errorf("the %s sheet on %s: %s", sheet, name, wrong)
			}
			if *screens != "" {
				if err := os.WriteFile(filepath.Join(*screens, "sheet-"+sheet+"-"+name+".pdf"), pdf, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	p.check()
}

// TestTheBrowsersOwnPrintIsTheSheet prints the app's page as the browser's menu
// does, on both papers: one page, the letters of the sheet alone, none small or cut.
func TestTheBrowsersOwnPrintIsTheSheet(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	p.goByLink("/sheet", "sheet")
	p.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
	if tall := js[[]float64](p, `(() => { const f = document.querySelector("iframe#sheet"); return [f.clientHeight, f.contentDocument.documentElement.scrollHeight]; })()`); tall[0] < tall[1] {
		t.Errorf("the sheet is scrolled in a box: %.0f px high, %.0f px of it", tall[0], tall[1])
	}
	for name, size := range map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "Letter": {8.5, 11}} { // [in]
		pdf := p.paper(size[0], size[1])
		got := readPDF(t, pdf)
		for _, wrong := range got.onOnePage() {
			t.Errorf("printed by the browser on %s: %s", name, wrong)
		}
		t.Logf("%s: %d pages, %d runs of letters", name, got.pages, len(got.runs))
		if *screens != "" {
			if err := os.WriteFile(filepath.Join(*screens, "app-sheet-"+name+".pdf"), pdf, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	p.check()
}

// paper prints the page on paper of a size [in], with the margins it asks for.
func (p *tab) paper(width, height float64) []byte {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	var pdf []byte
	err := chromedp.Do(ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		r, err := cdp.Call(ctx, t, cdpage.PrintToPDF, cdpage.PrintToPDFParams{PaperWidth: width, PaperHeight: height})
		pdf = r.Data
		return err
	}))
	if err != nil {
		p.t.Fatal(err)
	}
	return pdf
}
