package shotfile

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"

	"ferrule/core/export"
	"ferrule/core/message"
)

// Limits of JSON: how deeply it may be nested, and the length of a joined name.
const (
	maxDepth = 24
	maxName  = 256 // [bytes]
)

// jsonField is one scalar of an object, under its whole name.
type jsonField struct{ key, value string }

// jsonTable gathers the rows of one list of objects.
type jsonTable struct {
	headers []string
	at      map[string]int
	lines   []line
}

func (t *jsonTable) add(fields []jsonField, n int) (cells int) {
	row := make([]string, len(t.headers), len(t.headers)+4)
	for _, f := range fields {
		j, ok := t.at[f.key]
		if !ok {
			if len(t.headers) >= maxWidth {
				continue
			}
			j = len(t.headers)
			t.at[f.key] = j
			t.headers = append(t.headers, f.key)
			row = append(row, "")
		}
		row[j] = f.value
	}
	t.lines = append(t.lines, line{n, row})
	return len(row)
}

// jsonReader walks a document token by token, so that a hostile one costs no
// more memory than its cells.
type jsonReader struct {
	dec    *json.Decoder
	tables map[string]*jsonTable
	order  []string
	cells  int
	rows   int
}

// splitJSON reads a list of objects, wherever it stands in the document, as a
// table whose headers are the keys in the order in which they first appear.
// Nested objects join their names ("ball.speed" is "ball speed"), {"value":
// 150, "unit": "mph"} is "150 mph", and what stands beside a list (a session's
// date) is repeated in its rows. A list of lists is a table as it is. One
// object a line works, too. Lines are counted as records.
func (lx lexicon) splitJSON(data []byte) (grid, error) {
	r := &jsonReader{dec: json.NewDecoder(bytes.NewReader(data)), tables: map[string]*jsonTable{}}
	r.dec.UseNumber()
	for doc := 0; ; doc++ {
		t, err := r.dec.Token()
		if err == io.EOF {
			break
		}
		if err == nil {
			var fields []jsonField
			_, err = r.value(t, "", nil, &fields, 0)
			if err == nil && len(fields) > 0 && doc > 0 || err == nil && len(fields) > 0 && r.dec.More() {
				err = r.emit("", nil, fields)
			}
		}
		if err != nil {
			line, column := export.Place(data, r.dec.InputOffset())
			return grid{}, refuse(line, column, whyNot("problem.torn-json", "problem.json-limit", err), wantJSON)
		}
	}
	var best *jsonTable
	known := -1
	for _, path := range r.order {
		t := r.tables[path]
		if k := lx.knownIn(t.headers)*1000 + min(len(t.lines), 999); k > known {
			best, known = t, k
		}
	}
	if best == nil {
		return grid{}, refuse(1, 1, message.Of("problem.no-list"), wantJSON)
	}
	g := grid{how: message.Of("problem.json-list"), lines: best.lines}
	if best.headers != nil {
		g.lines = append([]line{{0, lx.shorter(best.headers)}}, best.lines...)
	}
	return g, nil
}

func (r *jsonReader) table(path string) *jsonTable {
	t := r.tables[path]
	if t == nil {
		t = &jsonTable{at: map[string]int{}}
		r.tables[path] = t
		r.order = append(r.order, path)
	}
	return t
}

func (r *jsonReader) emit(path string, above, fields []jsonField) error {
	t := r.table(path)
	r.cells += t.add(append(append([]jsonField(nil), above...), fields...), len(t.lines)+1)
	return r.bounded()
}

func (r *jsonReader) bounded() error {
	if r.rows++; r.rows > maxLines {
		return message.New("problem.more-than", maxLines, message.Of("problem.records"))
	}
	if r.cells > maxCells {
		return message.New("problem.more-than", maxCells, message.Of("problem.cells"))
	}
	return nil
}

// value reads the value that begins with token t. Scalars come back as text;
// an object's scalars are added to fields under the name key.
func (r *jsonReader) value(t json.Token, key string, above []jsonField, fields *[]jsonField, depth int) (string, error) {
	if depth > maxDepth {
		return "", message.New("problem.nested", maxDepth)
	}
	switch x := t.(type) {
	case json.Delim:
		if x == '{' {
			return "", r.object(key, above, fields, depth)
		}
		return r.list(key, append(append([]jsonField(nil), above...), *fields...), depth)
	case json.Number:
		return x.String(), nil
	case string:
		return x, nil
	case bool:
		return map[bool]string{true: "true", false: "false"}[x], nil
	}
	return "", nil // null
}

func (r *jsonReader) object(key string, above []jsonField, fields *[]jsonField, depth int) error {
	from := len(*fields)
	for r.dec.More() {
		k, err := r.dec.Token()
		if err != nil {
			return err
		}
		name, _ := k.(string)
		if key != "" {
			name = key + " " + name
		}
		if len(name) > maxName {
			name = name[:maxName]
		}
		t, err := r.dec.Token()
		if err != nil {
			return err
		}
		text, err := r.value(t, name, above, fields, depth+1)
		if err != nil {
			return err
		}
		if text != "" && len(*fields)-from < maxWidth {
			*fields = append(*fields, jsonField{name, text})
		}
	}
	if _, err := r.dec.Token(); err != nil {
		return err
	}
	// {"value": 150, "unit": "mph"}: one cell.
	own := (*fields)[from:]
	if key != "" && len(own) == 2 {
		v, u := own[0], own[1]
		if v.key != key+" value" {
			v, u = u, v
		}
		if v.key == key+" value" && (u.key == key+" unit" || u.key == key+" units") {
			*fields = append((*fields)[:from], jsonField{key, v.value + " " + u.value})
		}
	}
	return nil
}

// list reads an array: objects are rows of a table, arrays too, scalars are
// joined to one text.
func (r *jsonReader) list(key string, above []jsonField, depth int) (string, error) {
	var texts []string
	for r.dec.More() {
		t, err := r.dec.Token()
		if err != nil {
			return "", err
		}
		d, isDelim := t.(json.Delim)
		switch {
		case isDelim && d == '{':
			var fields []jsonField
			if _, err := r.value(t, "", above, &fields, depth+1); err != nil {
				return "", err
			}
			if len(fields) > 0 {
				if err := r.emit(key, above, fields); err != nil {
					return "", err
				}
			}
		case isDelim:
			row, err := r.flat(depth + 1)
			if err != nil {
				return "", err
			}
			if len(row) > 0 {
				tab := r.table(key + " []")
				tab.lines = append(tab.lines, line{len(tab.lines) + 1, row})
				r.cells += len(row)
				if err := r.bounded(); err != nil {
					return "", err
				}
			}
		default:
			text, err := r.value(t, key, nil, &[]jsonField{}, depth+1)
			if err != nil {
				return "", err
			}
			if len(texts) < 16 {
				texts = append(texts, text)
			}
		}
	}
	_, err := r.dec.Token()
	return strings.Join(texts, " / "), err
}

// flat reads the scalars of an inner list.
func (r *jsonReader) flat(depth int) ([]string, error) {
	if depth > maxDepth {
		return nil, message.New("problem.nested", maxDepth)
	}
	var row []string
	for r.dec.More() {
		t, err := r.dec.Token()
		if err != nil {
			return nil, err
		}
		switch x := t.(type) {
		case json.Delim:
			if x == '{' {
				if err := r.object("", nil, &[]jsonField{}, depth+1); err != nil {
					return nil, err
				}
				continue
			}
			if _, err := r.flat(depth + 1); err != nil {
				return nil, err
			}
		case json.Number:
			row = append(row, x.String())
		case string:
			row = append(row, x)
		default:
			row = append(row, "")
		}
		if len(row) > maxWidth {
			return nil, message.New("problem.more-than", maxWidth, message.Of("problem.cells"))
		}
	}
	_, err := r.dec.Token()
	return row, err
}

// shorter takes from the names of nested values the outer ones, where the inner
// ones alone are known and the whole is not: "flight carry" is "carry".
func (lx lexicon) shorter(names []string) []string {
	out := append([]string(nil), names...)
	taken := map[string]bool{}
	for _, n := range names {
		taken[squeeze(n)] = true
	}
	for _, weak := range []bool{false, true} { // words with other meanings too come last
		for i, n := range out {
			if ms, _, _ := lx.meaning(n); len(ms) > 0 {
				continue
			}
			for _, rest, more := strings.Cut(n, " "); more; _, rest, more = strings.Cut(rest, " ") {
				if ms, _, _ := lx.meaning(rest); len(ms) > 0 && ms[0].weak == weak && !(weak && ms[0].quantity == "") && !taken[squeeze(rest)] {
					out[i] = rest
					taken[squeeze(rest)] = true
					break
				}
			}
		}
	}
	return out
}
