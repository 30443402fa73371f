package shotfile

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// maxUnpacked bounds the parts of a workbook once unpacked: a small archive can
// hold a huge one. [bytes]
const maxUnpacked = 32 << 20

// maxSheets bounds the sheets that are read: each takes a reader of its own,
// were it empty.
const maxSheets = 256

// splitXLSX reads the sheet with the most known headers of a workbook.
func (lx lexicon) splitXLSX(data []byte) (grid, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return grid{}, refuse(1, 1, fmt.Sprintf("a workbook that can't be opened: %v", err), wantTable)
	}
	var shared []string
	var best grid
	bestScore := -1.0
	left := int64(maxUnpacked)
	open := func(f *zip.File, read func(io.Reader) (row int, err error)) error {
		rc, err := f.Open()
		if err != nil {
			return refuse(1, 1, fmt.Sprintf("a part of the workbook, %s, that can't be unpacked: %v", f.Name, err), wantTable)
		}
		defer rc.Close()
		part := &io.LimitedReader{R: rc, N: left}
		row, err := read(part)
		if left = part.N; left <= 0 {
			return tooBig(row, 1, "bytes unpacked up to "+f.Name, maxUnpacked)
		}
		if _, located := err.(*FileError); err != nil && !located {
			return refuse(row, 1, fmt.Sprintf("a part of the workbook, %s, that can't be read on: %v", f.Name, err), wantTable)
		}
		return err
	}
	for _, f := range z.File {
		if f.Name == "xl/sharedStrings.xml" {
			if err := open(f, func(r io.Reader) (n int, err error) {
				shared, err = sharedStrings(r)
				return 1, err
			}); err != nil {
				return grid{}, err
			}
		}
	}
	sheets := 0
	for _, f := range z.File {
		if !strings.HasPrefix(f.Name, "xl/worksheets/") || !strings.HasSuffix(f.Name, ".xml") {
			continue
		}
		if sheets++; sheets > maxSheets {
			return grid{}, tooBig(1, 1, "sheets in a workbook", maxSheets)
		}
		var g grid
		if err := open(f, func(r io.Reader) (row int, err error) {
			g, row, err = sheet(r, shared)
			return row, err
		}); err != nil {
			return grid{}, err
		}
		if s := lx.gridScore(g); s > bestScore {
			best, bestScore = g, s
		}
	}
	if bestScore < 0 {
		return grid{}, refuse(1, 1, "a ZIP archive without a spreadsheet in it", wantTable)
	}
	best.how = "from a workbook"
	if len(best.lines) == 0 {
		return grid{}, refuse(1, 1, "a workbook with no filled sheet", wantHeaders)
	}
	return best, nil
}

// maxNested bounds the elements inside each other: the decoder remembers each.
const maxNested = 64

var errNested = fmt.Errorf("elements nested more than %d deep", maxNested)

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
	d := xml.NewDecoder(part)
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
					return nil, tooBig(1, 1, "texts in the workbook", maxCells)
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
	d := xml.NewDecoder(part)
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
					return g, row, tooBig(row, len(cells), "cells", maxCells)
				}
				if len(g.lines) > maxLines {
					return g, row, tooBig(row, 1, "lines", maxLines)
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
