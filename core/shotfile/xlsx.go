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

// maxUnpacked bounds each part of a workbook once unpacked: a small archive can
// hold a huge one. [bytes]
const maxUnpacked = 48 << 20

// splitXLSX reads the sheet with the most known headers of a workbook.
func (lx lexicon) splitXLSX(data []byte) (grid, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return grid{}, fmt.Errorf("%w: the workbook can't be opened: %v", ErrNoShots, err)
	}
	var shared []string
	var best grid
	bestScore := -1.0
	open := func(f *zip.File) ([]byte, error) {
		rc, err := f.Open()
		if err != nil {
			return nil, err
		}
		defer rc.Close()
		raw, err := io.ReadAll(io.LimitReader(rc, maxUnpacked+1))
		if len(raw) > maxUnpacked {
			return nil, errTooBig("bytes unpacked", len(raw), maxUnpacked)
		}
		return raw, err
	}
	for _, f := range z.File {
		if f.Name == "xl/sharedStrings.xml" {
			raw, err := open(f)
			if err != nil {
				return grid{}, err
			}
			if shared, err = sharedStrings(raw); err != nil {
				return grid{}, err
			}
		}
	}
	for _, f := range z.File {
		if !strings.HasPrefix(f.Name, "xl/worksheets/") || !strings.HasSuffix(f.Name, ".xml") {
			continue
		}
		raw, err := open(f)
		if err != nil {
			return grid{}, err
		}
		g, err := sheet(raw, shared)
		if err != nil {
			return grid{}, fmt.Errorf("%w: the sheet %s of the workbook can't be read: %v", ErrNoShots, f.Name, err)
		}
		if s := lx.gridScore(g); s > bestScore {
			best, bestScore = g, s
		}
	}
	if bestScore < 0 {
		return grid{}, fmt.Errorf("%w: a ZIP archive without a spreadsheet in it", ErrNoShots)
	}
	best.how = "from a workbook"
	if len(best.lines) == 0 {
		return grid{}, fmt.Errorf("%w: the workbook has no filled sheet", ErrNoShots)
	}
	return best, nil
}

func sharedStrings(raw []byte) ([]string, error) {
	var out []string
	var b strings.Builder
	d := xml.NewDecoder(bytes.NewReader(raw))
	inText, phonetic := false, false
	for {
		t, err := d.Token()
		if err == io.EOF {
			return out, nil
		}
		if err != nil {
			return nil, err
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
				out = append(out, b.String())
			}
			inText = false
		case xml.CharData:
			if inText {
				b.Write(x)
			}
		}
	}
}

// sheet reads the cells of one worksheet: shared, inline and plain values.
func sheet(raw []byte, shared []string) (grid, error) {
	var g grid
	d := xml.NewDecoder(bytes.NewReader(raw))
	var cells []string
	row, at, kind, inValue, total := 0, 0, "", false, 0
	var text strings.Builder
	for {
		t, err := d.Token()
		if err == io.EOF {
			return g, nil
		}
		if err != nil {
			return g, err
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
			if inValue {
				text.Write(x)
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
					return g, errTooBig("cells or more", total, maxCells)
				}
				if len(g.lines) > maxLines {
					return g, errTooBig("lines", len(g.lines), maxLines)
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
