package shotfile

import (
	"archive/zip"
	"bytes"
	"cmp"
	"fmt"
	"io"
	"path"
	"slices"
	"sort"
	"strings"

	"ferrule/core/message"
)

// grids takes a file apart into its tables: one of a text, the visible sheets of
// a workbook, the tables of an archive.
func (lx lexicon) grids(name string, data []byte) (gs []grid, notes []message.Message, err error) {
	if what := noTable(data); what.Key != "" {
		return nil, nil, refuse(1, 1, what, wantTable)
	}
	if !bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return lx.textGrids(data)
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, nil, refuse(1, 1, message.Of("problem.torn-workbook"), wantTable)
	}
	a := &archive{left: maxUnpacked}
	has := func(name string) *zip.File {
		for _, f := range z.File {
			if f.Name == name {
				return f
			}
		}
		return nil
	}
	switch {
	case has("xl/workbook.xml") != nil || hasPrefix(z, "xl/worksheets/"):
		gs, err = lx.splitXLSX(z, a)
	case has("content.xml") != nil && has("word/document.xml") == nil:
		gs, err = splitODS(has("content.xml"), a)
	case hasPrefix(z, "word/"), hasPrefix(z, "ppt/"):
		return nil, nil, refuse(1, 1, message.Of("problem.document"), message.Of("problem.want-saved-table"))
	case hasPrefix(z, "Index/") || has("Index.zip") != nil:
		return nil, nil, refuse(1, 1, message.Of("problem.own-form"), message.Of("problem.want-exported"))
	default:
		gs, notes, err = lx.zipped(z, a)
	}
	return gs, notes, err
}

func hasPrefix(z *zip.Reader, prefix string) bool {
	return slices.ContainsFunc(z.File, func(f *zip.File) bool { return strings.HasPrefix(f.Name, prefix) })
}

// archive bounds what an archive unpacks to.
type archive struct{ left int64 }

// open reads one part of it.
func (a *archive) open(f *zip.File, read func(io.Reader) (row int, err error)) error {
	rc, err := f.Open()
	if err != nil {
		return refuse(1, 1, message.Of("problem.torn-part", f.Name), wantTable)
	}
	defer rc.Close()
	part := &io.LimitedReader{R: rc, N: a.left}
	row, err := read(part)
	if a.left = part.N; a.left <= 0 {
		return tooBig(row, 1, message.Of("problem.bytes"), maxUnpacked)
	}
	if _, located := err.(*FileError); err != nil && !located {
		return refuse(row, 1, whyNot("problem.torn-part", "problem.part-limit", err, f.Name), wantTable)
	}
	return err
}

// maxFiles bounds the tables that are read of an archive.
const maxFiles = 64

// zipped reads the tables of an archive, by their names; what is no table there
// is passed over.
func (lx lexicon) zipped(z *zip.Reader, a *archive) (gs []grid, notes []message.Message, err error) {
	files := append([]*zip.File(nil), z.File...)
	sort.SliceStable(files, func(i, j int) bool { return natural(files[i].Name) < natural(files[j].Name) })
	var first error
	read, lines := 0, 0
	for _, f := range files {
		base := path.Base(f.Name)
		if f.FileInfo().IsDir() || strings.HasPrefix(base, ".") || strings.HasPrefix(f.Name, "__MACOSX") {
			continue
		}
		if f.Flags&1 != 0 {
			return nil, nil, refuse(1, 1, message.Of("problem.locked"), message.Of("problem.want-unlocked"))
		}
		if read++; read > maxFiles {
			return nil, nil, tooBig(1, 1, message.Of("problem.files"), maxFiles)
		}
		var raw []byte
		if err := a.open(f, func(r io.Reader) (int, error) {
			raw, err = io.ReadAll(io.LimitReader(r, maxBytes+1))
			return 1, err
		}); err != nil {
			return nil, nil, err
		}
		some, said, err := lx.grids(f.Name, raw)
		if err != nil {
			if first == nil {
				first = err
			}
			continue
		}
		notes = append(notes, said...)
		for _, g := range some {
			if lx.gridScore(g) < 10 && tableOf(g) == nil {
				continue
			}
			g.name = cmp.Or(g.name, strings.TrimSuffix(base, path.Ext(base)))
			if lines += len(g.lines); lines > maxLines {
				return nil, nil, tooBig(1, 1, message.Of("problem.lines"), maxLines)
			}
			gs = append(gs, g)
		}
	}
	switch {
	case len(gs) > 0:
		return gs, notes, nil
	case first != nil && read == 1 && tableEnding(files):
		return nil, nil, first
	}
	return nil, nil, refuse(1, 1, message.Of("problem.no-spreadsheet"), wantTable)
}

// tableEnding reports whether a file of an archive is called like a table.
func tableEnding(files []*zip.File) bool {
	for _, f := range files {
		switch strings.ToLower(path.Ext(f.Name)) {
		case ".csv", ".tsv", ".txt", ".xlsx", ".xls", ".ods", ".json", ".pdf", ".png", ".jpg":
			return true
		}
	}
	return false
}

// natural orders "2.csv" before "10.csv".
func natural(name string) string {
	var b strings.Builder
	for i := 0; i < len(name); {
		j := i
		for j < len(name) && name[j] >= '0' && name[j] <= '9' {
			j++
		}
		if j > i {
			fmt.Fprintf(&b, "%12s", name[i:j])
			i = j
			continue
		}
		b.WriteByte(name[i])
		i++
	}
	return b.String()
}

// textGrids reads what is written in letters: JSON, a web page, a table.
func (lx lexicon) textGrids(data []byte) (gs []grid, notes []message.Message, err error) {
	text, encoding, err := lx.decodeText(data)
	if err != nil {
		return nil, nil, err
	}
	if encoding != "" && encoding != "UTF-8" {
		notes = append(notes, message.Of("problem.text-as", encoding))
	}
	t := strings.TrimSpace(text)
	var g grid
	switch {
	case looksHTML(t):
		gs, err = splitHTML(t)
		return gs, notes, err
	case looksJSON(t):
		g, err = lx.splitJSON([]byte(t))
	default:
		if objects, ok := assigned(t); ok {
			g, err = lx.splitJSON([]byte(objects))
			break
		}
		g, err = lx.splitText(text)
		if err == nil {
			g = lx.oneALine(g)
		}
	}
	if g.how.Key != "" {
		notes = append(notes, message.Of("problem.columns-how", g.how))
	}
	return []grid{g}, notes, err
}

// assigned is the value behind an assignment, as programs write data files:
// "var shots = [{...}];", "export const data = {...}", "window.x = [...]". What
// stands before the sign must be names, what stands behind it a list or object.
func assigned(t string) (string, bool) {
	for { // comments before it
		switch {
		case strings.HasPrefix(t, "//"):
			_, rest, ok := strings.Cut(t, "\n")
			if !ok {
				return "", false
			}
			t = strings.TrimSpace(rest)
			continue
		case strings.HasPrefix(t, "/*"):
			_, rest, ok := strings.Cut(t, "*/")
			if !ok {
				return "", false
			}
			t = strings.TrimSpace(rest)
			continue
		}
		break
	}
	k := strings.IndexAny(t[:min(len(t), 200)], "[{(")
	if k <= 0 {
		return "", false
	}
	name, value := strings.TrimSpace(t[:k]), strings.TrimSpace(t[k:])
	call := strings.HasPrefix(value, "(")
	if !call && !strings.HasSuffix(name, "=") && !strings.HasSuffix(name, "default") && name != "return" {
		return "", false
	}
	for _, r := range strings.TrimSuffix(name, "=") {
		if !(r == '_' || r == '.' || r == '$' || r == ' ' || r == ':' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') {
			return "", false
		}
	}
	value = strings.TrimRight(value, "; \r\n\t")
	if call {
		value = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(value, "("), ")"))
	}
	if !looksJSON(value) {
		return "", false
	}
	return value, true
}

// looksHTML tells a web page: spreadsheets save tables as one.
func looksHTML(t string) bool {
	head := strings.ToLower(t[:min(len(t), 4000)])
	return strings.HasPrefix(head, "<") && (strings.Contains(head, "<table") || strings.Contains(head, "<html") && strings.Contains(strings.ToLower(t), "<table"))
}

// pageTables are the tables of a web page as far as they are read.
type pageTables struct {
	gs     []grid
	g      grid
	cells  []string
	text   strings.Builder // of the cell
	inCell bool
	span   int // columns that the cell covers
	row    int
	total  int // cells
}

func (p *pageTables) endCell() {
	if p.inCell && len(p.cells) < maxWidth {
		p.cells = append(p.cells, strings.Join(strings.Fields(unescaped(p.text.String())), " "))
		for k := 1; k < p.span && len(p.cells) < maxWidth; k++ {
			p.cells = append(p.cells, "")
		}
	}
	p.inCell, p.span = false, 1
	p.text.Reset()
}

func (p *pageTables) endRow() {
	p.endCell()
	if filled(p.cells) > 0 {
		p.g.lines = append(p.g.lines, line{p.row, p.cells})
		p.total += len(p.cells)
	}
	p.cells = nil
}

func (p *pageTables) endTable() {
	p.endRow()
	if len(p.g.lines) > 0 {
		p.gs = append(p.gs, p.g)
	}
	p.g = grid{how: p.g.how}
}

// tag takes what stands between < and > in small letters.
func (p *pageTables) tag(name, attrs string) {
	switch name {
	case "td", "th":
		p.endCell()
		p.inCell = true
		if _, after, ok := strings.Cut(attrs, "colspan="); ok {
			fmt.Sscanf(strings.Trim(after, "\"' "), "%d", &p.span)
			p.span = max(1, min(p.span, 64))
		}
	case "/td", "/th":
		p.endCell()
	case "tr":
		p.endRow()
		p.row++
	case "/tr":
		p.endRow()
	case "/table":
		p.endTable()
	case "br", "/p", "/div":
		p.text.WriteByte(' ')
	}
}

// splitHTML reads the rows of the tables of a web page, each a grid.
func splitHTML(t string) (gs []grid, err error) {
	p := &pageTables{g: grid{how: message.Of("problem.from-page")}, span: 1}
	for t != "" {
		k := strings.IndexByte(t, '<')
		if k < 0 {
			break
		}
		if p.inCell && p.text.Len() < maxCell {
			p.text.WriteString(t[:k])
		}
		t = t[k:]
		if strings.HasPrefix(t, "<!--") {
			_, t, _ = strings.Cut(t, "-->")
			continue
		}
		end := strings.IndexByte(t, '>')
		if end < 0 {
			break
		}
		tag := strings.ToLower(t[1:end])
		t = t[end+1:]
		name, attrs, _ := strings.Cut(strings.TrimSpace(tag), " ")
		bare := strings.TrimSuffix(name, "/")
		p.tag(bare, attrs)
		if bare == "script" || bare == "style" {
			if j := strings.Index(strings.ToLower(t), "</"+name); j >= 0 {
				t = t[j:]
			}
		}
		if p.total > maxCells || p.row > maxLines || len(p.gs) > maxSheets {
			return nil, tooBig(p.row, 1, message.Of("problem.lines"), maxLines)
		}
	}
	p.endTable()
	if len(p.gs) == 0 {
		return nil, refuse(1, 1, message.Of("problem.page-no-table"), wantTable)
	}
	return p.gs, nil
}

var entities = strings.NewReplacer("&nbsp;", " ", "&deg;", "°", "&minus;", "-", "&lt;", "<", "&gt;", ">", "&quot;", "\"", "&#39;", "'", "&apos;", "'", "&ndash;", "-", "&#160;", " ", "&#176;", "°",
	"&auml;", "ä", "&ouml;", "ö", "&uuml;", "ü", "&szlig;", "ß", "&eacute;", "é", "&egrave;", "è", "&agrave;", "à", "&aring;", "å", "&Auml;", "Ä", "&Ouml;", "Ö", "&Uuml;", "Ü", "&amp;", "&")

func unescaped(s string) string {
	if strings.IndexByte(s, '&') < 0 {
		return s
	}
	return entities.Replace(s)
}
