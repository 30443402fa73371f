package shotfile

import (
	"archive/zip"
	"encoding/xml"
	"io"
	"sort"
	"strconv"
	"strings"

	"ferrule/core/message"
)

// maxUnpacked bounds the parts of a workbook once unpacked: a small archive can
// hold a huge one. [bytes]
const maxUnpacked = 32 << 20

// maxSheets bounds the sheets that are read: each takes a reader of its own,
// were it empty.
const maxSheets = 256

// splitXLSX reads the visible sheets of a workbook, in its order (ECMA-376).
func (lx lexicon) splitXLSX(z *zip.Reader, a *archive) ([]grid, error) {
	var shared []string
	book := map[string]sheetEntry{}
	for _, f := range z.File {
		var err error
		switch f.Name {
		case "xl/sharedStrings.xml":
			err = a.open(f, func(r io.Reader) (n int, err error) {
				shared, err = sharedStrings(r)
				return 1, err
			})
		case "xl/workbook.xml", "xl/_rels/workbook.xml.rels":
			err = a.open(f, func(r io.Reader) (int, error) { return 1, listSheets(r, book) })
		}
		if err != nil {
			return nil, err
		}
	}
	type placed struct {
		grid
		at int
	}
	var out []placed
	sheets := 0
	for _, f := range z.File {
		if !strings.HasPrefix(f.Name, "xl/worksheets/") || !strings.HasSuffix(f.Name, ".xml") {
			continue
		}
		if sheets++; sheets > maxSheets {
			return nil, tooBig(1, 1, message.Of("problem.sheets"), maxSheets)
		}
		e, known := entryOf(book, strings.TrimPrefix(f.Name, "xl/"))
		if known && e.hidden {
			continue
		}
		var g grid
		if err := a.open(f, func(r io.Reader) (row int, err error) {
			g, row, err = sheet(r, shared)
			return row, err
		}); err != nil {
			return nil, err
		}
		g.how, g.name = message.Of("problem.from-workbook"), e.name
		if len(g.lines) > 0 {
			out = append(out, placed{g, e.at*maxSheets + sheets})
		}
	}
	if len(out) == 0 {
		return nil, refuse(1, 1, message.Of("problem.no-sheet"), wantHeaders)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].at < out[j].at })
	var gs []grid
	for _, p := range out {
		gs = append(gs, p.grid)
	}
	return gs, nil
}

// sheetEntry is a sheet as the workbook lists it.
type sheetEntry struct {
	name, file string
	hidden     bool
	at         int
}

// listSheets reads names, order and visibility of the sheets, or the files that
// their ids stand for; both by the id of the relation.
func listSheets(part io.Reader, book map[string]sheetEntry) error {
	d := xml.NewDecoder(&tags{r: part})
	for depth := 0; ; {
		t, err := d.Token()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if depth += nesting(t); depth > maxNested {
			return errNested
		}
		x, ok := t.(xml.StartElement)
		if !ok || x.Name.Local != "sheet" && x.Name.Local != "Relationship" || len(book) > maxSheets {
			continue
		}
		attr := map[string]string{}
		for _, a := range x.Attr {
			name := a.Name.Local
			if name == "id" && a.Name.Space != "" {
				name = "Id"
			}
			attr[name] = a.Value
		}
		e := book[attr["Id"]]
		if x.Name.Local == "sheet" {
			e.name, e.hidden, e.at = attr["name"], attr["state"] == "hidden" || attr["state"] == "veryHidden", len(book)+1
		} else {
			e.file = strings.TrimPrefix(strings.TrimPrefix(attr["Target"], "/"), "xl/")
		}
		book[attr["Id"]] = e
	}
}

func entryOf(book map[string]sheetEntry, file string) (sheetEntry, bool) {
	for _, e := range book {
		if e.file == file {
			return e, true
		}
	}
	return sheetEntry{}, false
}

// splitODS reads the visible tables of an open document (ISO/IEC 26300).
func splitODS(f *zip.File, a *archive) (gs []grid, err error) {
	err = a.open(f, func(r io.Reader) (row int, err error) {
		gs, row, err = splitTables(r)
		return row, err
	})
	if err == nil && len(gs) == 0 {
		err = refuse(1, 1, message.Of("problem.no-sheet"), wantHeaders)
	}
	return gs, err
}

// openTables are the tables of an OpenDocument as far as they are read; a cell's text
// stands before its value, which is written without marks.
type openTables struct {
	gs     []grid
	g      grid
	hidden map[string]bool // styles of tables that are not shown
	style  string
	out    bool // the table is not shown
	sheets int

	row, rowAgain int
	cells         []string
	total         int // cells
	text          strings.Builder
	value         string
	again         int // columns that the cell stands in
	inCell        bool
	note          int // depth of annotations
}

// splitTables reads the rows of each table.
func splitTables(part io.Reader) (gs []grid, row int, err error) {
	d := xml.NewDecoder(&tags{r: part})
	o := &openTables{hidden: map[string]bool{}, rowAgain: 1, again: 1}
	depth := 0
	for {
		t, err := d.Token()
		if err == io.EOF {
			return o.gs, o.row, nil
		}
		if err != nil {
			return o.gs, o.row, err
		}
		if depth += nesting(t); depth > maxNested {
			return o.gs, o.row, errNested
		}
		switch x := t.(type) {
		case xml.StartElement:
			err = o.start(x)
		case xml.CharData:
			if o.inCell && o.note == 0 && o.text.Len() < maxCell {
				o.text.Write(x[:min(len(x), maxCell)])
			}
		case xml.EndElement:
			err = o.end(x.Name.Local)
		}
		if err != nil {
			return o.gs, o.row, err
		}
	}
}

func (o *openTables) start(x xml.StartElement) error {
	attr := func(name string) string { return attribute(x, name) }
	count := func(name string) int {
		n, err := strconv.Atoi(attr(name))
		if err != nil || n < 1 {
			return 1
		}
		return n
	}
	switch x.Name.Local {
	case "style":
		o.style = attr("name")
	case "table-properties":
		o.hidden[o.style] = o.hidden[o.style] || attr("display") == "false"
	case "table":
		if o.sheets++; o.sheets > maxSheets {
			return tooBig(1, 1, message.Of("problem.sheets"), maxSheets)
		}
		o.g, o.row, o.out = grid{name: attr("name"), how: message.Of("problem.from-workbook")}, 0, o.hidden[attr("style-name")]
	case "table-row":
		o.cells, o.rowAgain = nil, count("number-rows-repeated")
		o.row++
	case "table-cell", "covered-table-cell":
		o.inCell, o.value, o.again = true, attr("value"), count("number-columns-repeated")
		if attr("value-type") == "date" {
			o.value = attr("date-value")
		}
		o.text.Reset()
	case "annotation":
		o.note++
	case "s":
		o.text.WriteByte(' ')
	}
	return nil
}

func (o *openTables) end(name string) error {
	switch name {
	case "annotation":
		o.note--
	case "table-cell", "covered-table-cell":
		o.cells, o.inCell = openCell(o.cells, strings.TrimSpace(o.text.String()), o.value, o.again), false
	case "table-row":
		if filled(o.cells) > 0 {
			for len(o.cells) > 0 && o.cells[len(o.cells)-1] == "" {
				o.cells = o.cells[:len(o.cells)-1]
			}
			o.g.lines = append(o.g.lines, line{o.row, o.cells})
			if o.total += len(o.cells); o.total > maxCells {
				return tooBig(o.row, len(o.cells), message.Of("problem.cells"), maxCells)
			}
			if len(o.g.lines) > maxLines {
				return tooBig(o.row, 1, message.Of("problem.lines"), maxLines)
			}
		}
		o.row += o.rowAgain - 1
	case "table":
		if len(o.g.lines) > 0 && !o.out {
			o.gs = append(o.gs, o.g)
		}
	}
	return nil
}

func attribute(x xml.StartElement, name string) string {
	for _, a := range x.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// openCell adds a cell that stands again times in its row: its value where it
// has one, which is written without marks.
func openCell(cells []string, text, value string, again int) []string {
	if value != "" && (text == "" || isNumeric(text)) {
		text = value
	}
	for ; again > 0 && len(cells) < maxWidth; again-- {
		cells = append(cells, text)
	}
	return cells
}

// maxNested bounds the elements inside each other: the decoder remembers each.
const maxNested = 64

var errNested = message.New("problem.nested", maxNested)

func nesting(t xml.Token) int {
	switch t.(type) {
	case xml.StartElement:
		return 1
	case xml.EndElement:
		return -1
	}
	return 0
}

// sharedStrings reads the texts that the cells of all sheets refer to.
func sharedStrings(part io.Reader) ([]string, error) {
	var out []string
	var b strings.Builder
	d := xml.NewDecoder(&tags{r: part})
	inText, phonetic, depth := false, false, 0
	for {
		t, err := d.Token()
		if err == io.EOF {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		if depth += nesting(t); depth > maxNested {
			return nil, errNested
		}
		switch x := t.(type) {
		case xml.StartElement:
			if x.Name.Local == "si" {
				b.Reset()
			}
			phonetic = phonetic || x.Name.Local == "rPh" // how a Japanese text is spoken: no part of it
			inText = x.Name.Local == "t" && !phonetic
		case xml.EndElement:
			if x.Name.Local == "rPh" {
				phonetic = false
			}
			if x.Name.Local == "si" {
				if out = append(out, b.String()); len(out) > maxCells {
					return nil, tooBig(1, 1, message.Of("problem.cells"), maxCells)
				}
			}
			inText = false
		case xml.CharData:
			if inText && b.Len() < maxCell {
				b.Write(x[:min(len(x), maxCell)])
			}
		}
	}
}

// sheet reads the cells of one worksheet: shared, inline and plain values; row is
// the last that was begun.
func sheet(part io.Reader, shared []string) (g grid, row int, err error) {
	d := xml.NewDecoder(&tags{r: part})
	var cells []string
	at, kind, inValue, total, depth := 0, "", false, 0, 0
	var text strings.Builder
	for {
		t, err := d.Token()
		if err == io.EOF {
			return g, row, nil
		}
		if err != nil {
			return g, row, err
		}
		if depth += nesting(t); depth > maxNested {
			return g, row, errNested
		}
		switch x := t.(type) {
		case xml.StartElement:
			switch x.Name.Local {
			case "row":
				cells, at = nil, 0
				row++
				for _, a := range x.Attr {
					if n, err := strconv.Atoi(a.Value); a.Name.Local == "r" && err == nil {
						row = n
					}
				}
			case "c":
				kind = ""
				for _, a := range x.Attr {
					switch a.Name.Local {
					case "t":
						kind = a.Value
					case "r":
						at = columnIndex(a.Value)
					}
				}
				text.Reset()
			case "v", "t":
				inValue = true
			}
		case xml.CharData:
			if inValue && text.Len() < maxCell {
				text.Write(x[:min(len(x), maxCell)])
			}
		case xml.EndElement:
			switch x.Name.Local {
			case "v", "t":
				inValue = false
			case "c":
				v := text.String()
				if kind == "s" {
					if i, err := strconv.Atoi(v); err == nil && i >= 0 && i < len(shared) {
						v = shared[i]
					}
				}
				if at < maxWidth {
					for len(cells) <= at {
						cells = append(cells, "")
					}
					cells[at] = v
				}
				at++
			case "row":
				g.lines = append(g.lines, line{row, cells})
				if total += len(cells); total > maxCells {
					return g, row, tooBig(row, len(cells), message.Of("problem.cells"), maxCells)
				}
				if len(g.lines) > maxLines {
					return g, row, tooBig(row, 1, message.Of("problem.lines"), maxLines)
				}
			}
		}
	}
}

// columnIndex turns "AB12" into 27.
func columnIndex(ref string) int {
	n := 0
	for _, r := range ref {
		if r < 'A' || r > 'Z' {
			break
		}
		if n = n*26 + int(r-'A') + 1; n > maxWidth {
			break
		}
	}
	return max(n-1, 0)
}
