package shotfile

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"

	"ferrule/core/shot"
)

// layoutWays: delimiters, letters, lines that are no shots.
func layoutWays() []way {
	var out []way
	ds := bedDrives(7)
	head, body := laid(ds, bedColumns, pen{}, wNumber, wSet)
	add := func(name string, data string) { out = append(out, way{name: name, data: []byte(data), want: ds}) }
	for name, sep := range map[string]string{"semicolons": ";", "tabs": "\t", "bars": "|"} {
		add("separated by "+name, csvText(head, body, sep))
	}
	add("titles above the header", "Range report\nPlayer: Ada\n\n"+csvText(head, body, ","))
	add("lines end in CR", strings.ReplaceAll(csvText(head, body, ","), "\n", "\r"))
	// Averages between and below the shots, with and without a word.
	mean := func(rows [][]string, skip int, label string) []string {
		l := make([]string, len(head))
		l[0] = label
		for k := skip; k < len(head); k++ {
			sum := 0.0
			for _, r := range rows {
				var x float64
				fmt.Sscan(r[k], &x)
				sum += x
			}
			l[k] = fmt.Sprintf("%.1f", sum/float64(len(rows)))
		}
		return l
	}
	with := func(label string, each, end bool) string {
		all := [][]string{}
		for k := range 3 {
			all = append(all, body[k*8:k*8+8]...)
			if each {
				all = append(all, mean(body[k*8:k*8+8], 2, label))
			}
		}
		if end {
			all = append(all, mean(body, 2, label))
		}
		return csvText(head, all, ",")
	}
	add("averages with a word after each block", with("Average", true, false))
	add("averages without a word after each block", with("", true, false))
	add("an average without a word at the end", with("", false, true))
	add("averages without a word, each block and all", with("", true, true))
	add("an average in Italian", with("Media", true, true))
	add("an average in Chinese", with("平均值", true, true))
	add("an average in Swedish", with("Medelvärde", true, true))
	{ // the numbering goes on over the average
		h, b := laid(noSets(ds), bedColumns, pen{})
		all := append(slices.Clone(b), func() []string {
			old := head
			head = h
			m := mean(b, 0, "")
			head = old
			m[0] = fmt.Sprintf("%.1f", meanOf(b, 0))
			return m
		}())
		out = append(out, way{name: "an average without a word or a number column", data: []byte(csvText(h, all, ",")), want: noSets(ds)})
	}
	// One value a line, as a page is pasted from a phone.
	var b strings.Builder
	h, plain := laid(noSets(ds), bedColumns, pen{})
	for _, c := range h {
		b.WriteString(c + "\n")
	}
	for _, l := range plain {
		b.WriteString(strings.Join(l, "\n") + "\n")
	}
	out = append(out, way{name: "one value a line", data: []byte(b.String()), want: noSets(ds)})
	b.Reset()
	for i, l := range plain {
		fmt.Fprintf(&b, "Shot %d\n", i+1)
		for k, c := range l {
			b.WriteString(h[k] + "\n" + c + "\n")
		}
	}
	out = append(out, way{name: "name and value in turn, one a line", data: []byte(b.String()), want: noSets(ds)})
	b.Reset()
	for i, l := range plain {
		fmt.Fprintf(&b, "Shot: %d\n", i+1)
		for k, c := range l {
			b.WriteString(h[k] + ": " + c + "\n")
		}
		b.WriteString("\n")
	}
	out = append(out, way{name: "name: value, one a line", data: []byte(b.String()), want: noSets(ds)})
	// Languages and character sets.
	for lang, l := range bedLanguages {
		h, lines := laid(noSets(ds), bedColumns, pen{heads: l.heads}, wNumber)
		text := csvText(h, lines, ",")
		out = append(out, way{name: "headers in " + lang, data: []byte(text), want: noSets(ds)})
		var old []byte
		switch lang {
		case "zh":
			old, _ = simplifiedchinese.GB18030.NewEncoder().Bytes([]byte(text))
		case "ja":
			old, _ = japanese.ShiftJIS.NewEncoder().Bytes([]byte(text))
		case "ko":
			old, _ = korean.EUCKR.NewEncoder().Bytes([]byte(text))
		default:
			old, _ = charmap.Windows1252.NewEncoder().Bytes([]byte(text))
		}
		out = append(out, way{name: "headers in " + lang + ", old character set", data: old, want: noSets(ds)})
	}
	// Headers that nobody knows: mapped by hand.
	strange := make([]string, len(h))
	say := map[string]string{}
	for i, q := range bedColumns {
		strange[i] = fmt.Sprintf("Zq%d", i)
		say["column "+strange[i]] = string(q) + " " + bedUnits[q].Symbol
	}
	out = append(out, way{name: "unknown headers", data: []byte(csvText(strange, plain, ",")), want: noSets(ds), asks: true, say: say})
	empty := map[string]string{}
	for i, q := range bedColumns {
		empty[fmt.Sprintf("column #%d", i+1)] = string(q) + " " + bedUnits[q].Symbol
	}
	out = append(out, way{name: "no header at all", data: []byte(csvText(plain[0], plain[1:], ",")), want: noSets(ds), asks: true, say: empty})
	// Two players.
	two := slices.Clone(noSets(ds))
	for i := range two {
		if i >= 12 {
			two[i].player = "Bo"
		}
	}
	out = append(out, way{name: "two players", data: plainCSV(two, pen{}, wNumber, fixed("Player", func(d bedBall) string { return d.player })), want: two[:12], asks: true, say: map[string]string{"players": "Ada"}})
	return out
}

func meanOf(b [][]string, k int) float64 {
	sum := 0.0
	for _, l := range b {
		var x float64
		fmt.Sscan(l[k], &x)
		sum += x
	}
	return sum / float64(len(b))
}

type sheetOf struct {
	name   string
	hidden bool
	rows   [][]string
}

// bedBook writes sheets as a spreadsheet does (ECMA-376), inline strings.
func bedBook(sheets ...sheetOf) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	put := func(name, text string) { w, _ := z.Create(name); w.Write([]byte(text)) }
	var list, rels strings.Builder
	for i, s := range sheets {
		state := ""
		if s.hidden {
			state = ` state="hidden"`
		}
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d"%s r:id="rId%d"/>`, s.name, i+1, state, 10-i)
		fmt.Fprintf(&rels, `<Relationship Id="rId%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet%d.xml"/>`, 10-i, i+1)
		var x strings.Builder
		x.WriteString(`<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
		for n, r := range s.rows {
			fmt.Fprintf(&x, `<row r="%d">`, n+1)
			for _, c := range r {
				fmt.Fprintf(&x, `<c t="inlineStr"><is><t>%s</t></is></c>`, strings.ReplaceAll(c, "<", "&lt;"))
			}
			x.WriteString(`</row>`)
		}
		x.WriteString(`</sheetData></worksheet>`)
		put(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), x.String())
	}
	put("xl/workbook.xml", `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>`+list.String()+`</sheets></workbook>`)
	put("xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`+rels.String()+`</Relationships>`)
	z.Close()
	return b.Bytes()
}

// openDocument writes sheets as ISO/IEC 26300 has them.
func openDocument(sheets ...sheetOf) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	put := func(name, text string) { w, _ := z.Create(name); w.Write([]byte(text)) }
	put("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
	var x strings.Builder
	x.WriteString(`<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>`)
	for _, s := range sheets {
		fmt.Fprintf(&x, `<table:table table:name="%s">`, s.name)
		for _, r := range s.rows {
			x.WriteString(`<table:table-row>`)
			for _, c := range r {
				if f := 0.0; func() bool { _, err := fmt.Sscan(c, &f); return err == nil && fmt.Sprint(f) == c }() {
					fmt.Fprintf(&x, `<table:table-cell office:value-type="float" office:value="%s"><text:p>%s</text:p></table:table-cell>`, c, c)
				} else {
					fmt.Fprintf(&x, `<table:table-cell office:value-type="string"><text:p>%s</text:p></table:table-cell>`, c)
				}
			}
			x.WriteString(`<table:table-cell table:number-columns-repeated="1000"/></table:table-row>`)
		}
		x.WriteString(`<table:table-row table:number-rows-repeated="100000"><table:table-cell table:number-columns-repeated="1000"/></table:table-row></table:table>`)
	}
	x.WriteString(`</office:spreadsheet></office:body></office:document-content>`)
	put("content.xml", x.String())
	z.Close()
	return b.Bytes()
}

func zipped(files map[string]string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	var names []string
	for n := range files {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		w, _ := z.Create(n)
		w.Write([]byte(files[n]))
	}
	z.Close()
	return b.Bytes()
}

func htmlTable(head []string, body [][]string) string {
	var b strings.Builder
	b.WriteString("<html><head><meta charset=\"utf-8\"><style>td{mso:1}</style></head><body><table border=1>\n<tr>")
	for _, h := range head {
		b.WriteString("<th>" + h + "</th>")
	}
	b.WriteString("</tr>\n")
	for _, l := range body {
		b.WriteString("<tr>")
		for _, c := range l {
			b.WriteString("<td>" + strings.ReplaceAll(c, " ", "&nbsp;") + "</td>")
		}
		b.WriteString("</tr>\n")
	}
	return b.String() + "</table></body></html>"
}

func objects(head []string, body [][]string) []map[string]any {
	var out []map[string]any
	for _, l := range body {
		m := map[string]any{}
		for i, c := range l {
			m[head[i]] = c
		}
		out = append(out, m)
	}
	return out
}

// formatWays: what a table can be wrapped in.
func formatWays() []way {
	var out []way
	ds := bedDrives(8)
	bare := noSets(ds)
	head, body := laid(ds, bedColumns, pen{}, wNumber, wSet)
	h, plain := laid(ds, bedColumns, pen{}, wNumber)
	add := func(name, file string, data []byte, want []bedBall) {
		out = append(out, way{name: name, file: file, data: data, want: want})
	}
	page := func(h []string, rows [][]string) [][]string { return append([][]string{h}, rows...) }
	add("workbook, one sheet", "a.xlsx", bedBook(sheetOf{"Data", false, page(head, body)}), ds)
	var each []sheetOf
	for k := range 3 {
		each = append(each, sheetOf{bedSets[k], false, page(h, plain[k*8:k*8+8])})
	}
	add("workbook, a sheet a setting", "a.xlsx", bedBook(each...), ds)
	add("workbook, two sheets of two settings", "a.xlsx", bedBook(each[:2]...), ds[:16])
	add("workbook, first sheet hidden", "a.xlsx", bedBook(sheetOf{"Old", true, page(head, body[:5])}, sheetOf{"Data", false, page(head, body)}), ds)
	add("workbook, hidden copy behind", "a.xlsx", bedBook(sheetOf{"Data", false, page(head, body)}, sheetOf{"Copy", true, page(head, body)}), ds)
	add("workbook, cover sheet first", "a.xlsx", bedBook(sheetOf{"Cover", false, [][]string{{"Range report"}, {"Player", "Ada"}}}, sheetOf{"Data", false, page(head, body)}), ds)
	add("workbook, sheets are days", "a.xlsx", bedBook(sheetOf{"2026-05-01", false, page(h, plain[:12])}, sheetOf{"2026-05-02", false, page(h, plain[12:])}), bare)
	add("workbook, sheets are numbered", "a.xlsx", bedBook(sheetOf{"Sheet1", false, page(h, plain[:12])}, sheetOf{"Sheet2", false, page(h, plain[12:])}), bare)
	add("workbook, sheets are clubs", "a.xlsx", func() []byte {
		_, irons := laid(bedOthers(30, "7 Iron"), bedColumns, pen{}, wNumber)
		return bedBook(sheetOf{"7 Iron", false, page(h, irons)}, sheetOf{"Driver", false, page(h, plain)})
	}(), bare)
	add("workbook, a summary sheet", "a.xlsx", bedBook(sheetOf{"Shots", false, page(head, body)}, sheetOf{"Summary", false, [][]string{{"", "Ball Speed (mph)", "Carry (yd)"}, {"Average", "150", "240"}, {"Max", "160", "260"}}}), ds)
	add("open document, one sheet", "a.ods", openDocument(sheetOf{"Data", false, page(head, body)}), ds)
	add("open document, a sheet a setting", "a.ods", openDocument(each...), ds)
	add("web page as workbook", "a.xls", []byte(htmlTable(head, body)), ds)
	add("web page", "a.html", []byte("<!DOCTYPE html>\n"+htmlTable(head, body)), ds)
	add("archive of one table", "a.zip", zipped(map[string]string{"data/shots.csv": csvText(head, body, ",")}), ds)
	add("archive of three tables", "a.zip", zipped(map[string]string{"1.csv": csvText(head, body[:8], ","), "2.csv": csvText(head, body[8:16], ","), "3.csv": csvText(head, body[16:], ",")}), ds)
	add("archive with a read-me", "a.zip", zipped(map[string]string{"shots.csv": csvText(head, body, ","), "readme.txt": "exported by nobody\n"}), ds)
	raw, _ := json.Marshal(objects(head, body))
	add("list of objects", "a.json", raw, ds)
	add("objects behind an assignment", "a.js", []byte("var shots = "+string(raw)+";\n"), ds)
	add("objects behind an export", "a.js", []byte("// data\nexport const data = "+string(raw)), ds)
	add("objects behind a member", "a.js", []byte("window.app.shots="+string(raw)+";"), ds)
	add("objects inside an answer", "a.json", []byte(`{"status":"ok","meta":{"n":24},"data":{"shots":`+string(raw)+`}}`), ds)
	var lines, nested strings.Builder
	for _, o := range objects(head, body) {
		l, _ := json.Marshal(o)
		lines.Write(append(l, '\n'))
	}
	add("one object a line", "a.jsonl", []byte(lines.String()), ds)
	nested.WriteString("[")
	for i, d := range ds {
		if i > 0 {
			nested.WriteString(",")
		}
		p := pen{}
		fmt.Fprintf(&nested, `{"setting":%q,"club":{"speed":{"value":%s,"unit":"mph"}},"ball":{"speed":{"value":%s,"unit":"mph"},"launch":{"angle":%s,"direction":%s},"spin":{"rate":%s,"axis":%s}},"smash_factor":%s,"flight":{"carry":{"value":%s,"unit":"yd"},"offline":{"value":%s,"unit":"yd"},"apex":{"value":%s,"unit":"ft"}}}`,
			d.set, p.cell(shot.ClubSpeed, d.v[shot.ClubSpeed]), p.cell(shot.BallSpeed, d.v[shot.BallSpeed]), p.cell(shot.Launch, d.v[shot.Launch]), p.cell(shot.LaunchDirection, d.v[shot.LaunchDirection]), p.cell(shot.Spin, d.v[shot.Spin]), p.cell(shot.SpinAxis, d.v[shot.SpinAxis]), p.cell(shot.Smash, d.v[shot.Smash]), p.cell(shot.Carry, d.v[shot.Carry]), p.cell(shot.Offline, d.v[shot.Offline]), p.cell(shot.Apex, d.v[shot.Apex]))
	}
	nested.WriteString("]")
	add("nested objects", "a.json", []byte(nested.String()), ds)
	refused := func(name, file string, data []byte, word string) {
		out = append(out, way{name: name, file: file, data: data, refused: word})
	}
	refused("a picture", "a.png", []byte("\x89PNG\r\n\x1a\n"+strings.Repeat("\x00\x01", 400)), "picture")
	refused("a PDF", "a.pdf", []byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"), "PDF")
	refused("an old workbook", "a.xls", append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 2000)...), "save it as")
	locked := append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 2000)...)
	for _, c := range "EncryptedPackage" {
		locked = append(locked, byte(c), 0)
	}
	refused("a workbook with a password", "a.xlsx", append(locked, make([]byte, 1000)...), "password")
	refused("a document", "a.docx", zipped(map[string]string{"word/document.xml": "<w/>"}), "document")
	refused("prose", "a.txt", []byte("Dear coach,\nit went well today.\nAda\n"), "expected")
	return out
}
