package browsertest

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
)

var tables = map[string]encoding.Encoding{"Shift-JIS": japanese.ShiftJIS, "EUC-KR": korean.EUCKR}

// TestTheBrowserReadsTheSameLetters: the analysis program asks the browser for
// the Japanese and the Korean set, the command line carries tables. Both follow
// the WHATWG Encoding Standard; every pair of bytes that is a letter to the
// tables must be the same letter to the browser.
func TestTheBrowserReadsTheSameLetters(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/how")
	for name, table := range tables {
		letters, differ := 0, 0
		for first := range 256 {
			got := js[[]string](p, fmt.Sprintf(`(() => { const d = new TextDecoder(%q); return [...Array(256).keys()].map((second) => d.decode(new Uint8Array([%d, second]))); })()`, name, first))
			for second, letter := range got {
				want, err := table.NewDecoder().Bytes([]byte{byte(first), byte(second)})
				if err != nil {
					t.Fatal(err)
				}
				if strings.ContainsRune(string(want), '\ufffd') {
					continue
				}
				letters++
				if letter != string(want) {
					if differ++; differ <= 5 {
						t.Errorf("%s %02x %02x: %q, want %q", name, first, second, letter, want)
					}
				}
			}
		}
		t.Logf("%s: %d pairs are letters, %d differ", name, letters, differ)
		if letters < 20000 {
			t.Errorf("%s has only %d pairs of letters", name, letters)
		}
	}
}

// TestFilesInOldCharacterSets: the page opens them by the browser's tables.
func TestFilesInOldCharacterSets(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	p.goByLink("/shots", "shots")
	for name, header := range map[string]string{
		"Shift-JIS": "ボール初速 (m/s),キャリー (m),打ち出し角",
		"EUC-KR":    "볼 스피드 (m/s),캐리 (m),발사각",
	} {
		var text bytes.Buffer
		if _, err := tables[name].NewEncoder().Writer(&text).Write([]byte(header + "\n67.5,215,12.1\n66.9,211,13.0\n68.2,219,11.4\n")); err != nil {
			t.Fatal(err)
		}
		p.upload(fileOf(t, "old.csv", text.String()))
		last := header[strings.LastIndex(header, ",")+1:] // the one without a unit, of which the page says how it was read
		p.until(name+"'s header", fmt.Sprintf(`document.body.innerText.includes(%q) && document.body.innerText.includes("read as %s")`, last, name))
		p.tap("#drop-file")
		p.still()
	}
	p.check()
}
