// Package shotfile reads any tabular file of shots: it finds the header among
// title lines, the delimiter, the units and the decimal mark, drops averages,
// repairs signs, and says how it understood each column and why. It knows
// trade words, units and values, and no device.
//
// Read is the door; Options correct what it guesses. Encodings beyond UTF-8
// come from golang.org/x/text.
package shotfile

import (
	"errors"
	"fmt"
	"strings"

	"ferrule/core/frame"
	"ferrule/core/shot"
)

// MaxBytes is the largest file that is read. [bytes]
const MaxBytes = maxBytes

// Options correct or help a reading.
type Options struct {
	Hand    frame.Hand    // of the player: words such as "open" depend on it
	Columns []shot.Column // corrections by header: quantity or role, unit, flipped
}

// ErrNoShots is wrapped by the errors of files that hold no usable column.
var ErrNoShots = errors.New("no shots found")

// Read returns what a file holds. Values are SI and right-positive for every
// golfer. Rows that cannot be used stand in Table.Errors, all at once; a file
// that holds nothing usable is an error that says what was read.
func Read(name string, data []byte, opt Options) (shot.Table, error) {
	switch {
	case len(data) == 0:
		return shot.Table{}, fmt.Errorf("%w: the file is empty, expected rows of shots under a line of headers", ErrNoShots)
	case len(data) > maxBytes:
		return shot.Table{}, fmt.Errorf("the file has %d MB, expected at most %d MB; save the session of one day", len(data)>>20, maxBytes>>20)
	}
	var g grid
	var notes []string
	var err error
	switch what := picture(data); {
	case what != "":
		return shot.Table{}, fmt.Errorf("%w: this is %s, expected a table of shots (CSV, text, XLSX or JSON)", ErrNoShots, what)
	case strings.HasPrefix(string(data[:min(len(data), 4)]), "PK\x03\x04"):
		if g, err = splitXLSX(data); err != nil {
			return shot.Table{}, err
		}
	default:
		text, encoding, derr := decodeText(data)
		if derr != nil {
			return shot.Table{}, derr
		}
		if encoding != "" && encoding != "UTF-8" {
			notes = append(notes, "text read as "+encoding)
		}
		if t := strings.TrimSpace(text); strings.HasPrefix(t, "[") || strings.HasPrefix(t, "{") {
			if g, err = splitJSON([]byte(t)); err != nil {
				return shot.Table{}, err
			}
		} else if g, err = splitText(text); err != nil {
			return shot.Table{}, err
		}
	}
	if g.how != "" {
		notes = append(notes, "columns "+strings.TrimPrefix(g.how, "columns "))
	}
	r := reader{name: name, opt: opt}
	r.table.Notes = notes
	if err := r.read(g); err != nil {
		return shot.Table{}, err
	}
	return r.table, nil
}

// reader holds one reading.
type reader struct {
	name  string
	opt   Options
	cols  []column
	rows  []line // data rows
	table shot.Table
}

func (r *reader) note(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	for _, n := range r.table.Notes {
		if n == text {
			return
		}
	}
	r.table.Notes = append(r.table.Notes, text)
}

func (r *reader) reject(n int, column, format string, args ...any) {
	r.table.Errors = append(r.table.Errors, shot.RowError{Line: n, Column: column, Message: fmt.Sprintf(format, args...)})
}

// headerRow finds the line with the most known headers. -1 when there is none.
func headerRow(g grid) int {
	best, most := -1, 0
	for i, l := range g.lines {
		if i > 200 {
			break
		}
		if numbersIn(l.cells) > len(l.cells)/2 {
			continue
		}
		if k := knownIn(l.cells); k > most {
			best, most = i, k
		}
	}
	return best
}

func (r *reader) read(g grid) error {
	h := headerRow(g)
	if h < 0 {
		return fmt.Errorf("%w: no known column in %d lines; expected a header line with words such as \"Ball Speed\", \"Launch Angle\", \"Carry\"%s", ErrNoShots, len(g.lines), firstCells(g))
	}
	if h > 0 {
		r.note("the header stands in line %d; the lines above it are passed over", g.lines[h].n)
	}
	headers := append([]string(nil), g.lines[h].cells...)
	var above []string
	if h > 0 && len(g.lines[h-1].cells) == len(headers) && knownIn(g.lines[h-1].cells) > 0 {
		above = g.lines[h-1].cells // a second header line: group names or the missing half
	}
	body := g.lines[h+1:]
	if len(body) > 0 && numbersIn(body[0].cells) == 0 && !isUnitRow(body[0].cells) && !isSummary(body[0].cells) {
		if joined := join(headers, body[0].cells); knownIn(joined) >= knownIn(headers) && knownIn(joined) > 1 {
			r.note("the header runs over lines %d and %d", g.lines[h].n, body[0].n)
			headers, above, body = joined, nil, body[1:]
		}
	}
	unitRow := []string(nil)
	if len(body) > 0 && isUnitRow(body[0].cells) {
		unitRow = body[0].cells
		r.note("line %d holds the units", body[0].n)
		body = body[1:]
	}
	r.split(headers, body)
	if len(r.rows) == 0 {
		return fmt.Errorf("%w: a header in line %d and no shot below it", ErrNoShots, g.lines[h].n)
	}
	r.understand(headers, above, unitRow)
	used := 0
	for _, c := range r.cols {
		if c.quantity != "" {
			used++
		}
	}
	if used == 0 {
		return fmt.Errorf("%w: no column of numbers understood; expected headers such as \"Ball Speed\", \"Launch Angle\", \"Carry\"%s", ErrNoShots, firstCells(g))
	}
	r.shots()
	if len(r.table.Shots) == 0 {
		return fmt.Errorf("%w: %d rows below the header and none with a usable number (line %d: %s)", ErrNoShots, len(r.rows), r.firstError().Line, r.firstError().Message)
	}
	r.audit()
	for _, c := range r.cols {
		r.table.Columns = append(r.table.Columns, shot.Column{Header: c.header, Quantity: c.quantity, Role: c.role, Unit: c.unit.Symbol, Flipped: c.flipped, Evidence: c.evidence})
	}
	return nil
}

// join puts two header lines into one: "Ball" over "Speed" is "Ball Speed".
func join(upper, lower []string) []string {
	out := make([]string, max(len(upper), len(lower)))
	for i := range out {
		var parts []string
		for _, l := range [][]string{upper, lower} {
			if i < len(l) && strings.TrimSpace(l[i]) != "" {
				parts = append(parts, strings.TrimSpace(l[i]))
			}
		}
		out[i] = strings.Join(parts, " ")
	}
	return out
}

func (r *reader) firstError() shot.RowError {
	if len(r.table.Errors) > 0 {
		return r.table.Errors[0]
	}
	return shot.RowError{Message: "empty"}
}

// firstCells quotes the beginning of a file for an error.
func firstCells(g grid) string {
	for _, l := range g.lines {
		if t := strings.TrimSpace(strings.Join(l.cells, " ")); t != "" {
			if len(t) > 60 {
				t = strings.ToValidUTF8(t[:60], "") + "..."
			}
			return fmt.Sprintf("; read %q", t)
		}
	}
	return ""
}

// split sorts the lines below the header into shots and what is none:
// summaries, repeated headers, units, blanks.
func (r *reader) split(headers []string, body []line) {
	summaries := 0
	for _, l := range body {
		filled := 0
		first := ""
		for _, c := range l.cells {
			if c = strings.TrimSpace(c); c != "" {
				filled++
				if first == "" {
					first = c
				}
			}
		}
		switch {
		case filled == 0:
		case isSummary(l.cells):
			summaries++
		case isUnitRow(l.cells):
		case sameCells(l.cells, headers):
			r.note("the header is repeated in line %d", l.n)
		case filled == 1 && len(headers) > 2 && numbersIn(l.cells) == 0: // a title between blocks
		default:
			r.rows = append(r.rows, l)
		}
	}
	if summaries > 0 {
		r.note("%d rows of averages or other summaries are left out", summaries)
	}
}

// isSummary reports whether a row is an average or the like: a summary word
// stands in one of its first filled cells.
func isSummary(cells []string) bool {
	seen := 0
	for _, c := range cells {
		if c = strings.TrimSpace(c); c == "" {
			continue
		}
		if summaryWords[squeeze(c)] {
			return true
		}
		if seen++; seen == 3 {
			return false
		}
	}
	return false
}

func sameCells(a, b []string) bool {
	same, filled := 0, 0
	for i, x := range b {
		if strings.TrimSpace(x) == "" {
			continue
		}
		filled++
		if i < len(a) && squeeze(a[i]) == squeeze(x) {
			same++
		}
	}
	return filled > 0 && same*10 >= filled*8
}
