package shotfile

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	units16 "unicode/utf16"

	"ferrule/core/shot"
)

// hostile are files that cost as much as a file can: as large as is read, or
// small and unpacked to more.
func hostile() map[string]func() []byte {
	fill := func(head, unit string) func() []byte {
		return func() []byte { return []byte(head + strings.Repeat(unit, (maxBytes-len(head))/len(unit))) }
	}
	zipped := func(parts ...string) func() []byte {
		return func() []byte {
			var b bytes.Buffer
			z := zip.NewWriter(&b)
			z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestSpeed) })
			for i := 0; i < len(parts); i += 2 {
				w, _ := z.Create(parts[i])
				for range 34 {
					io.WriteString(w, strings.Repeat(parts[i+1], (1<<20)/len(parts[i+1])))
				}
			}
			z.Close()
			return b.Bytes()
		}
	}
	header := make([]string, 0, len(shot.Kinds))
	row := make([]string, 0, len(shot.Kinds))
	for _, k := range shot.Kinds {
		header, row = append(header, k.Quantity.Key()), append(row, "1.25")
	}
	wide := strings.Join(header, ",") + "\n"
	const sheet = "xl/worksheets/sheet1.xml"
	return map[string]func() []byte{
		"as many shots and columns as fit": func() []byte { return []byte(wide + strings.Repeat(strings.Join(row, ",")+"\n", maxLines-2)) },
		"longer than is read":              fill(wide, strings.Join(row, ",")+"\n"),
		"one line of a million columns":    fill("", "1,"),
		"a header of a million columns":    fill("Carry,Ball Speed", ",Carry"),
		"a million empty lines":            fill("Carry (yd),Ball Speed (mph)\n150,200", "\n"),
		"a million short lines":            fill("Carry (yd),Ball Speed (mph)\n", "2\n"),
		"words set apart by spaces":        fill("Carry  Ball Speed\n", "a  "),
		"lines of words":                   fill("Carry  Ball Speed\n", "a  b\n"),
		"quotes that never close":          fill("Carry,Ball Speed\n", "\",a"),
		"nothing but quotes":               fill("Carry,Ball Speed\n", "\""),
		"one cell":                         fill("Carry\n", "9"),
		"other headers in each line": func() []byte {
			var b strings.Builder
			for i := 0; b.Len() < maxBytes-64; i++ {
				fmt.Fprintf(&b, "Carry,Ball Speed,x%d\n200,60,1\n", i)
			}
			return []byte(b.String())
		},
		"a text of its own in each cell": func() []byte {
			var b strings.Builder
			b.WriteString("Carry,Ball Speed,Note,Tag\n")
			for i := 0; b.Len() < maxBytes-64 && i < maxLines-2; i++ {
				fmt.Fprintf(&b, "200,60,%064d,%064d\n", i, i)
			}
			return []byte(b.String())
		},
		"errors in each cell": func() []byte {
			return []byte("Carry,Ball Speed,Spin\n" + strings.Repeat("12 oops,13 oops,14 oops\n", maxLines-2))
		},
		"UTF-16":       func() []byte { return inUTF16(string(fill("Carry,Ball\n", "200,ボ\n")()[:maxBytes/3])) },
		"Shift-JIS":    fill("Carry,Ball\n", "200,\x83\x7b\x81\x5b\n"),
		"bytes beyond": fill("Carry,Ball\n", "\xff\xfe,\xe9\n"),
		"brackets":     fill("", "["),
		"objects":      fill("", `{"a":`),
		"long names": func() []byte {
			return []byte(strings.Repeat(`{"`+strings.Repeat("k", 400<<10)+`":`, 24) + "1" + strings.Repeat("}", 24))
		},
		"one long text":           func() []byte { return []byte(`[{"carry":"` + strings.Repeat("x", maxBytes-16) + `"}]`) },
		"a list of small objects": func() []byte { return []byte("[" + strings.Repeat(`{"carry":200},`, 29_000) + `{"carry":200}]`) },
		"names of their own": func() []byte {
			var b strings.Builder
			for i := 0; b.Len() < maxBytes-64; i++ {
				fmt.Fprintf(&b, `{"carry":200,"k%d":%d}`, i, i)
			}
			return []byte(b.String())
		},
		"much above each record": func() []byte {
			var b strings.Builder
			b.WriteString(`{`)
			for i := range 500 {
				fmt.Fprintf(&b, `"k%d":"%s",`, i, strings.Repeat("v", 1000))
			}
			b.WriteString(`"shots":[` + strings.Repeat(`{"carry":200},`, 29_000) + `{"carry":1}]}`)
			return []byte(b.String())
		},
		"a list of lists":       fill("[", "[1],"),
		"a workbook of cells":   zipped(sheet, "<c/>"),
		"a workbook of rows":    zipped(sheet, "<row/>"),
		"a workbook of texts":   zipped("xl/sharedStrings.xml", "<si/>"),
		"a workbook of letters": zipped(sheet, "aaaaaaaaaaaaaaaa"),
		"one cell of letters":   zipped("xl/sharedStrings.xml", "<si><t>", "xl/worksheets/sheet1.xml", "<v>xxxxxxxxxxx"),
		"wide rows":             zipped(sheet, `<row><c r="SR1"><v>1</v></c></row>`),
		"many sheets": func() []byte {
			var parts []string
			for i := range 60 {
				parts = append(parts, fmt.Sprintf("xl/worksheets/s%d.xml", i), "<row><c/></row>")
			}
			return zipped(parts...)()
		},
		"a workbook of many names": func() []byte {
			var b bytes.Buffer
			z := zip.NewWriter(&b)
			for i := range 60_000 {
				z.CreateHeader(&zip.FileHeader{Name: fmt.Sprintf("xl/worksheets/%d.xml", i)})
			}
			z.Close()
			return b.Bytes()
		},
		"an export cut off": fill(`{"ferrule":"session","version":1,"session":{"Shots":[`, `{"ID":"1","Values":{"carry":2}},`),
		"an export of empty balls": func() []byte {
			head, end := `{"ferrule":"session","version":1,"session":{"Shots":[{}`, `]}}`
			return []byte(head + strings.Repeat(",{}", (maxBytes-100)/3) + end)
		},
		"an export of as many balls as are read": func() []byte {
			head, end := `{"ferrule":"session","version":1,"session":{"Shots":[{}`, `]}}`
			return []byte(head + strings.Repeat(`,{"ID":"1","Setting":{},"Values":{"carry":200,"ball_speed":60,"spin":300,"launch":0.2,"total":210}}`, 29_000) + end)
		},
		"an export of many values": func() []byte {
			var b strings.Builder
			b.WriteString(`{"ferrule":"session","version":1,"session":{"Shots":[{"Values":{"carry":1`)
			for i := 0; b.Len() < maxBytes-100; i++ {
				fmt.Fprintf(&b, `,"%d":1`, i)
			}
			return []byte(b.String() + "}}]}}")
		},
		"an export of weights": func() []byte {
			head, end := `{"ferrule":"session","version":1,"session":{"Shots":[{"Setting":{"Weights":[""`, `]}}]}}`
			return []byte(head + strings.Repeat(`,""`, (maxBytes-200)/3) + end)
		},
		"an export of a million columns": func() []byte {
			end := "\n\"# ferrule session {\"\"ferrule\"\":\"\"session\"\",\"\"version\"\":1,\"\"session\"\":{}}\"\n"
			return []byte("Shot ID,Carry (m)\n" + strings.Repeat(",", maxBytes-200) + end)
		},
		"an export of rows": func() []byte {
			end := "\"# ferrule session {\"\"ferrule\"\":\"\"session\"\",\"\"version\"\":1,\"\"session\"\":{}}\"\n"
			return []byte("Shot ID,Carry (m)\n" + strings.Repeat("1,2\n", (maxBytes-200)/4) + end)
		},
	}
}

func inUTF16(s string) []byte {
	out := []byte{0xff, 0xfe}
	for _, u := range units16.Encode([]rune(s)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return out
}

// most is what one reading may take from the system, the file included. [bytes]
const most = 256 << 20

// hungriest are the files that are read as WebAssembly, where all together take
// more than a minute.
var hungriest = []string{"as many shots and columns as fit", "a workbook of many names", "a workbook of letters", "a workbook of texts",
	"an export of as many balls as are read", "an export of many values"}

// TestMemoryIsBounded reads every hostile file and looks at all that the process
// ever took from the system: the files, the readings and the tests before. As
// WebAssembly it looks at each reading alone: memory never goes back there, and
// forty readings one after the other are not what a page does.
func TestMemoryIsBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("reads hundreds of megabytes")
	}
	only := os.Getenv("FERRULE_ONLY")
	var m runtime.MemStats
	for name, make := range hostile() {
		if !strings.Contains(name, only) || runtime.GOOS == "js" && !slices.Contains(hungriest, name) {
			continue
		}
		data := make()
		debug.FreeOSMemory() // what making the file left behind
		runtime.ReadMemStats(&m)
		before := m.Sys
		tab, err := Read("f", data, Options{})
		runtime.ReadMemStats(&m)
		said := "read"
		if err != nil {
			said = clip(err.Error())
		}
		t.Logf("%-38s %8d bytes, %4d MB more, %5d shots, %s", name, len(data), (m.Sys-before)>>20, len(tab.Shots), said)
		taken := m.Sys
		if runtime.GOOS == "js" {
			taken -= before
		}
		if taken > most {
			t.Fatalf("after %q the process has taken %d MB, at most %d", name, taken>>20, most>>20)
		}
	}
	t.Logf("taken in all: %d MB", m.Sys>>20)
}
