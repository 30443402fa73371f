package shotfile

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"ferrule/core/message"
)

// Names of the character sets besides Unicode that are tried; browsers know
// them by the same (WHATWG Encoding Standard), whatever the case.
const (
	windows1252 = "Windows-1252"
	shiftJIS    = "Shift-JIS"
	eucKR       = "EUC-KR"
	gb18030     = "GB18030"
)

// charset decodes the Japanese and the Korean set by the tables that the
// program carries (charsets.go). Those for the browser are built with the tag
// "fetched" and ask it (UseCharset): it has the same tables.
var charset = func(name string, _ []byte) (string, error) {
	return "", refuse(1, 1, message.Of("problem.no-tables", name), wantTable)
}

// UseCharset has Shift-JIS and EUC-KR decoded by f from now on, which is given
// one of those names. Call it before the first file is read.
func UseCharset(f func(name string, data []byte) (string, error)) { charset = f }

// decoded is the text of data in one of the sets.
func decoded(name string, data []byte) (string, error) {
	if name != windows1252 {
		return charset(name, data)
	}
	text, err := charmap.Windows1252.NewDecoder().Bytes(data)
	return string(text), err
}

var (
	media   = message.Of("problem.media")
	packed  = message.Of("problem.packed")
	machine = message.Of("problem.machine")
)

// magics names files that hold no table, by their first bytes.
var magics = []struct {
	magic string
	what  message.Message
}{
	{"\x89PNG", media},
	{"\xff\xd8\xff", media},
	{"GIF8", media},
	{"RIFF", media},
	{"II*\x00", media},
	{"MM\x00*", media},
	{"BM", media},
	{"%PDF", message.Of("problem.a-pdf")},
	{"\x1f\x8b", packed},
	{"Rar!", packed},
	{"7z\xbc\xaf", packed},
	{"\x7fELF", machine},
	{"MZ", machine},
	{"SQLite format 3", machine},
	{"OggS", media},
	{"ID3", media},
	{"\x00asm", machine},
}

// noTable says what a file is when its first bytes show that it is no table.
func noTable(data []byte) message.Message {
	for _, m := range magics {
		if bytes.HasPrefix(data, []byte(m.magic)) {
			if (m.magic == "BM" || m.magic == "MZ" || m.magic == "RIFF" || m.magic == "ID3") && !binary(data) {
				continue
			}
			return m.what
		}
	}
	if bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")) { // the compound file of older office programs
		if bytes.Contains(data, []byte("E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e")) {
			return message.Of("problem.password")
		}
		return message.Of("problem.old-workbook")
	}
	if len(data) > 12 && string(data[4:8]) == "ftyp" {
		return media
	}
	return message.Message{}
}

// binary reports whether the first bytes hold control characters that no text has.
func binary(data []byte) bool {
	n := min(len(data), 4096)
	odd := 0
	for _, b := range data[:n] {
		if b < 9 || b > 13 && b < 32 && b != 27 {
			odd++
		}
	}
	return odd*50 > n
}

// decodeText turns bytes into text and says which encoding it took and why.
// Without a mark and without valid UTF-8, Windows-1252, Shift-JIS and EUC-KR
// are tried and the one whose words are known, or whose letters are sane, wins.
func (lx lexicon) decodeText(data []byte) (text, encodingName string, err error) {
	bom := []byte("\xef\xbb\xbf")
	if bytes.HasPrefix(data, bom) {
		for bytes.HasPrefix(data, bom) { // doubled marks occur
			data = data[3:]
		}
		if !utf8.Valid(data) {
			return strings.ToValidUTF8(string(data), "\ufffd"), "UTF-8 with damaged characters", nil
		}
		return string(data), "UTF-8", nil
	}
	if len(data) >= 2 && (data[0] == 0xff && data[1] == 0xfe || data[0] == 0xfe && data[1] == 0xff) {
		return utf16(data[2:], data[0] == 0xfe), "UTF-16", nil
	}
	if big, ok := bareUTF16(data); ok {
		return utf16(data, big), "UTF-16 without a mark", nil
	}
	if bytes.IndexByte(data, 0) >= 0 && binary(data) {
		return "", "", refuse(1, 1, message.Of("problem.binary"), wantTable)
	}
	if utf8.Valid(data) {
		return string(data), "UTF-8", nil
	}
	best := -1 << 30
	encodingName = windows1252
	for _, name := range []string{windows1252, shiftJIS, eucKR, gb18030} {
		t, err := decoded(name, data[:min(len(data), 16384)])
		if err != nil {
			continue
		}
		if score := lx.sane(t, name); score > best {
			best, encodingName = score, name
		}
	}
	text, err = decoded(encodingName, data)
	if err != nil {
		return "", "", refuse(1, 1, message.Of("problem.not-of", encodingName), wantTable)
	}
	return text, encodingName, nil
}

// sane scores a decoding: known headers count most, then letters of the
// language that the encoding is for; damaged and odd characters count against it.
func (lx lexicon) sane(t, name string) int {
	score := 0
	for _, r := range t {
		switch {
		case r == utf8.RuneError:
			score -= 20
		case r < 0x80:
		case name == windows1252 && strings.ContainsRune("áàâäåéèêëíîïóôöúùûüñçßœÁÄÅÉÖÜÑº°’–“”·", r):
			score += 3
		case name == windows1252:
			score -= 6
		case r >= 0x3040 && r <= 0x30ff || r >= 0x4e00 && r <= 0x9fff:
			switch {
			case name == shiftJIS, name == gb18030 && r >= 0x4e00:
				score += 2
			default:
				score -= 3 // hanja and kana in EUC-KR, kana in GB18030: rare
			}
		case r >= 0xac00 && r <= 0xd7a3 && name == eucKR:
			score += 2
		case r >= 0xff61 && r <= 0xff9f:
			score -= 2 // half-width kana: what Western letters look like in Shift-JIS
		}
	}
	for n := 0; n <= 40 && t != ""; n++ {
		l := t
		if k := strings.IndexAny(t, "\r\n"); k >= 0 {
			l, t = t[:k], t[k+1:]
		} else {
			t = ""
		}
		if isASCII(l) {
			continue
		}
		from := 0
		for i := 0; i <= len(l); i++ {
			if i < len(l) && l[i] != ',' && l[i] != ';' && l[i] != '\t' && l[i] != '|' && l[i] != '"' {
				continue
			}
			if lx.foreign(l[from:i]) {
				score += 40
			}
			from = i + 1
		}
		if strings.Contains(l, "  ") {
			for _, c := range cutSpaces(l) {
				if lx.foreign(c) {
					score += 40
				}
			}
		}
	}
	return score
}

// foreign reports whether a cell is a known header with letters beyond ASCII.
func (lx lexicon) foreign(cell string) bool {
	if isASCII(cell) {
		return false
	}
	m, _, _ := lx.meaning(cell)
	return len(m) > 0
}

func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// bareUTF16 recognises UTF-16 without a byte order mark by its zero bytes.
func bareUTF16(data []byte) (bigEndian, ok bool) {
	n := min(len(data), 2000) &^ 1
	if n < 8 {
		return false, false
	}
	var even, odd int
	for i := 0; i < n; i += 2 {
		if data[i] == 0 {
			even++
		}
		if data[i+1] == 0 {
			odd++
		}
	}
	half := n / 2
	switch {
	case odd*10 > half*4 && even*10 < half:
		return false, true
	case even*10 > half*4 && odd*10 < half:
		return true, true
	}
	return false, false
}

// utf16 decodes UTF-16; a lone surrogate becomes U+FFFD.
func utf16(data []byte, big bool) string {
	var b strings.Builder
	b.Grow(len(data) / 2)
	unit := func(i int) rune {
		if big {
			return rune(data[i])<<8 | rune(data[i+1])
		}
		return rune(data[i+1])<<8 | rune(data[i])
	}
	for i := 0; i+1 < len(data); i += 2 {
		r := unit(i)
		if r >= 0xd800 && r < 0xdc00 && i+3 < len(data) {
			if low := unit(i + 2); low >= 0xdc00 && low < 0xe000 {
				r = (r-0xd800)<<10 + (low - 0xdc00) + 0x10000
				i += 2
			}
		}
		if r == 0xfeff {
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}
