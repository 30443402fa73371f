package shotfile

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"ferrule/core/frame"
)

// TestAWorkbookOfAttributesIsRefused packs two million attributes into the tag of
// one cell, plain and with ">" between quotes: refused before the decoder keeps
// them.
func TestAWorkbookOfAttributesIsRefused(t *testing.T) {
	for _, value := range []string{"", ">", "'"} {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		w, err := z.Create("xl/worksheets/sheet1.xml")
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprint(w, `<worksheet><sheetData><row><c `)
		for i := range 2_000_000 {
			fmt.Fprintf(w, `a%x="%s" `, i, value)
		}
		fmt.Fprint(w, `/></row></sheetData></worksheet>`)
		z.Close()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err = Read("x.xlsx", b.Bytes(), Options{Hand: frame.Right})
		runtime.ReadMemStats(&after)
		if err == nil || !strings.Contains(err.Error(), "tag") {
			t.Errorf("%q: %v", value, err)
		}
		if mb := (after.TotalAlloc - before.TotalAlloc) >> 20; mb > 64 {
			t.Errorf("%q: %d MB of memory", value, mb)
		}
	}
}

// What is no attribute may be long: texts, comments, and apostrophes in them.
func TestLongTextsAreNoTags(t *testing.T) {
	long := strings.Repeat("it's > 5 ", 20_000)
	for _, text := range []string{"<a>" + strings.Repeat("x", 200_000) + "</a>", "<!-- " + long + " --><a/>", `<a b="x>y"/>` + strings.Repeat(" ", 100_000), "<?x " + long + "?>"} {
		if _, err := io.Copy(io.Discard, &tags{r: strings.NewReader(text)}); err != nil {
			t.Errorf("%.20q...: %v", text, err)
		}
	}
}
