package shotfile

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
)

// splitJSON reads an array of objects (or an object that holds one) as a table
// whose headers are the keys, in the order in which they first appear.
func splitJSON(data []byte) (grid, error) {
	var root any
	if err := json.Unmarshal(data, &root); err != nil {
		return grid{}, fmt.Errorf("%w: the file begins like JSON and can't be read as such: %v", ErrNoShots, err)
	}
	list, ok := root.([]any)
	if obj, is := root.(map[string]any); is && !ok {
		keys := make([]string, 0, len(obj))
		for k := range obj {
			keys = append(keys, k)
		}
		sort.Strings(keys)
		for _, k := range keys {
			if l, is := obj[k].([]any); is && len(l) > len(list) {
				list = l
			}
		}
	}
	var headers []string
	at := map[string]int{}
	g := grid{how: "from a list of JSON objects"}
	for i, item := range list {
		obj, is := item.(map[string]any)
		if !is {
			continue
		}
		keys := make([]string, 0, len(obj))
		for k := range obj {
			keys = append(keys, k)
		}
		sort.Strings(keys)
		for _, k := range keys {
			if _, seen := at[k]; !seen && len(headers) < maxWidth {
				at[k] = len(headers)
				headers = append(headers, k)
			}
		}
		cells := make([]string, len(headers))
		for k, v := range obj {
			if j, ok := at[k]; ok {
				switch x := v.(type) {
				case nil:
				case float64:
					cells[j] = strconv.FormatFloat(x, 'f', -1, 64)
				case string:
					cells[j] = x
				case bool:
					cells[j] = strconv.FormatBool(x)
				case []any:
					var parts []string
					for _, p := range x {
						parts = append(parts, fmt.Sprint(p))
					}
					cells[j] = strings.Join(parts, " / ")
				}
			}
		}
		g.lines = append(g.lines, line{i + 2, cells})
	}
	if len(g.lines) == 0 {
		return grid{}, fmt.Errorf("%w: JSON without a list of objects, expected [{\"ball_speed_mph\":150, ...}, ...]", ErrNoShots)
	}
	g.lines = append([]line{{1, headers}}, g.lines...)
	return g, nil
}

// splitXLSX reads the sheet with the most known headers of a workbook.
func splitXLSX(data []byte) (grid, error) {
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
		raw, err := io.ReadAll(io.LimitReader(rc, 4*maxBytes+1))
		if len(raw) > 4*maxBytes {
			return nil, errTooBig("bytes unpacked", len(raw), 4*maxBytes)
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
			return grid{}, fmt.Errorf("%w: %s: %v", ErrNoShots, f.Name, err)
		}
		if s := gridScore(g); s > bestScore {
			best, bestScore = g, s
		}
	}
	if bestScore < 0 {
		return grid{}, fmt.Errorf("%w: a ZIP archive without a spreadsheet in it", ErrNoShots)
	}
	best.how = "from a workbook"
	return best, nil
}

func sharedStrings(raw []byte) ([]string, error) {
	var out []string
	var b strings.Builder
	d := xml.NewDecoder(bytes.NewReader(raw))
	inText := false
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
			inText = x.Name.Local == "t"
		case xml.EndElement:
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
	row, at, kind, inValue := 0, 0, "", false
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
