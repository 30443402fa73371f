// Package export writes a session as files that other programs open and reads
// the same session back, exactly: CSV with the unit in each header, and JSON.
// It links no numerics and no encodings, so that the page may write with it;
// package shotfile reads every other file.
//
// Begin with CSV and its example.
package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ferrule/core/club"
	"ferrule/core/jsontext"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// version is the version of both exports. A reader refuses higher ones.
const version = 2

// versionOf is the first version that can read a session: 2 has several clubs.
func versionOf(s shot.Session) int {
	if s.Several() {
		return 2
	}
	return 1
}

// File is what an export holds.
type File struct {
	Session shot.Session
	Answer  string // to the session as it was given, as package share writes it (Given.Text); empty = none
}

// envelope wraps a session in JSON, with or without its shots.
type envelope struct {
	Ferrule string        `json:"ferrule"` // "session"
	Version int           `json:"version"`
	Session *shot.Session `json:"session"`
	Answer  string        `json:"answer"` // written only where there is one: see plain
}

// plain is an envelope without an answer.
type plain struct {
	Ferrule string        `json:"ferrule"`
	Version int           `json:"version"`
	Session *shot.Session `json:"session"`
}

// wrapped is f as what is written.
func (f *File) wrapped(version int) any {
	if f.Answer == "" {
		return plain{"session", version, &f.Session}
	}
	return envelope{"session", version, &f.Session, f.Answer}
}

// JSON exports a whole session as JSON: SI, signs of package frame, names
// of the fields of shot.Session. Read gives the same session back.
func JSON(f File) ([]byte, error) {
	b, err := jsontext.MarshalIndent(f.wrapped(versionOf(f.Session)), " ")
	if err != nil {
		return nil, fmt.Errorf("the session can't be written: %w", err)
	}
	return append(b, '\n'), nil
}

// sessionMark begins the last line of a CSV export; what follows is the
// session without its shots.
const sessionMark = "# ferrule session "

// Names of the columns that are no quantity, in both directions.
const (
	colID, colLine, colSource  = "Shot ID", "Line", "Source"
	colSleeve, colWeight       = "Sleeve", "Weight"
	colClub                    = "Club"
	colBall, colSession        = "Ball", "Session"
	colClock, colTag, colNote  = "Clock", "Tag", "Note"
	colAssumed, colAir         = "Assumed", "Air Number"
	explicitEmpty, noBreakMark = `\e`, "'"
)

// CSV exports the shots as CSV in the units of system (empty = imperial),
// with the unit in each header, and the rest of the session in a last line
// that begins with '#'. Right is positive. Numbers have as many digits as it
// takes to come back exactly; Read gives the same session back, and
// any program that opens CSV can read the table.
func CSV(f File, system units.System) []byte {
	s := f.Session
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	var kinds []shot.Kind
	weights := 0
	used := map[shot.Quantity]bool{}
	for _, x := range s.Shots {
		weights = max(weights, len(x.Setting.Weights))
		for q := range x.Values {
			used[q] = true
		}
	}
	for _, k := range shot.Kinds {
		if used[k.Quantity] {
			kinds = append(kinds, k)
		}
	}
	header := []string{colID, colSleeve}
	for i := range weights {
		header = append(header, weightTitle(i))
	}
	header = append(header, colBall, colSession, colClock, colTag)
	for _, k := range kinds {
		t := k.Title
		if u := system.Unit(k.Dim); u.Symbol != "" {
			t += " (" + u.Symbol + ")"
		}
		header = append(header, t)
	}
	header = append(header, colAssumed, colNote, colSource, colLine)
	if len(s.Airs) > 0 {
		header = append(header, colAir)
	}
	if s.Several() {
		header = append(header, colClub)
	}
	for i, h := range header {
		header[i] = escape(h)
	}
	w.Write(header)
	for _, x := range s.Shots {
		row := []string{escape(x.ID), escape(x.Setting.Sleeve)}
		for i := range weights {
			switch {
			case i >= len(x.Setting.Weights):
				row = append(row, "")
			case x.Setting.Weights[i] == "":
				row = append(row, explicitEmpty)
			default:
				row = append(row, escape(x.Setting.Weights[i]))
			}
		}
		row = append(row, escape(x.Ball), escape(x.Session), escape(x.Clock), escape(string(x.Tag)))
		for _, k := range kinds {
			v, ok := x.Values[k.Quantity]
			if !ok {
				row = append(row, "")
				continue
			}
			row = append(row, exact(v, system.Unit(k.Dim), k.Dim))
		}
		names := make([]string, len(x.Assumed))
		for i, q := range x.Assumed {
			names[i] = string(q)
		}
		row = append(row, escape(strings.Join(names, " ")), escape(x.Note), escape(x.Source), strconv.Itoa(x.Line))
		if len(s.Airs) > 0 {
			row = append(row, strconv.Itoa(x.Air))
		}
		if s.Several() {
			row = append(row, escape(x.Setting.Club))
		}
		w.Write(row)
	}
	version := versionOf(s)
	f.Session.Shots = nil
	if raw, err := jsontext.Marshal(f.wrapped(version)); err == nil {
		w.Write([]string{sessionMark + string(raw)})
	}
	w.Flush()
	return b.Bytes()
}

func weightTitle(i int) string {
	if i == 0 {
		return colWeight
	}
	return colWeight + " " + strconv.Itoa(i+1)
}

// exact writes v in unit u with the fewest digits that come back as the same
// float; where no number of u does (the grid of u is coarser there), it writes
// SI with its unit in the cell.
func exact(v float64, u units.Unit, d units.Dimension) string {
	x := u.From(v)
	for _, digits := range [...]int{3, 4, 5, 6, 7, 10, 15, 16, 17} {
		s := strconv.FormatFloat(x, 'g', digits, 64)
		if y, err := strconv.ParseFloat(s, 64); err == nil && u.SI(y) == v {
			return strconv.FormatFloat(y, 'f', -1, 64)
		}
	}
	lo, hi := x, x
	for range 4 {
		lo, hi = math.Nextafter(lo, math.Inf(-1)), math.Nextafter(hi, math.Inf(1))
		for _, y := range []float64{lo, hi} {
			if u.SI(y) == v {
				return strconv.FormatFloat(y, 'f', -1, 64)
			}
		}
	}
	return strconv.FormatFloat(v, 'f', -1, 64) + " " + d.SI().Symbol
}

// breakMark stands in the middle of a cell, before what would begin one with a
// formula where a spreadsheet splits the line at a semicolon or tab. A person's
// own backslash is doubled, so it can be no other text.
const breakMark = `\q`

// escape keeps line ends out of cells and formulas out of spreadsheets,
// wherever one may take the beginning of a cell to be.
func escape(s string) string {
	s = strings.NewReplacer(`\`, `\\`, "\n", `\n`, "\r", `\r`).Replace(s)
	var b strings.Builder
	for at := 0; at < len(s); {
		end := strings.IndexAny(s[at:], ";\t")
		if end++; end == 0 {
			end = len(s) - at
		}
		if runs(s[at:]) {
			if at == 0 {
				b.WriteString(noBreakMark)
			} else {
				b.WriteString(breakMark)
			}
		}
		b.WriteString(s[at : at+end])
		at += end
	}
	return b.String()
}

// runs reports whether a spreadsheet may run what s begins with, or take it for
// a remark: the signs that begin a formula, half and full width, with or without
// spaces and what is not seen before them.
func runs(s string) bool {
	s = strings.TrimLeftFunc(s, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) })
	first, _ := utf8.DecodeRuneInString(s)
	return s != "" && strings.ContainsRune("=+-@'|%#＝＋－＠", first)
}

func unescape(s string) string {
	if strings.HasPrefix(s, noBreakMark) && (runs(s[1:]) || len(s) > 1 && s[1] == '\t') {
		s = s[1:]
	}
	return strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\r`, "\r", explicitEmpty, "", breakMark, "").Replace(s)
}

// errNotOurs marks for files that are no export of this program.
var errNotOurs = errors.New("not an export of this program")

// Read reads an export back. ours is false, without an error, when the
// file is none of ours; a damaged or newer one of ours is an error.
func Read(data []byte) (f File, ours bool, err error) {
	f, err = readExport(data)
	if err == nil {
		err = f.Session.Bounded()
	}
	switch {
	case errors.Is(err, errNotOurs):
		return File{}, false, nil
	case err != nil:
		return File{}, true, err
	}
	return f, true, nil
}

// Limits of an export that is read: a damaged or hostile one costs no more
// memory than any shot file (package shotfile holds that by a test).
const (
	maxBytes = 12 << 20 // [bytes]
	maxShots = shot.MaxShots
	maxWidth = 4096 // commas in a line
)

// Place turns an offset in data into a line and a column, 1-based.
func Place(data []byte, offset int64) (line, column int) {
	line, column = 1, 1
	for _, b := range data[:min(max(int(offset), 0), len(data))] {
		if column++; b == '\n' {
			line, column = line+1, 1
		}
	}
	return line, column
}

func refuse(line, column int, read, expected any) error {
	return message.New("problem.at-place", line, column, read, expected)
}

func readExport(data []byte) (File, error) {
	if len(data) > maxBytes {
		return File{}, errNotOurs
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if t := bytes.TrimSpace(data); bytes.HasPrefix(t, []byte("{")) {
		if head := t[:min(len(t), 200)]; !bytes.Contains(head, []byte(`"ferrule"`)) {
			return File{}, errNotOurs
		}
		return unwrap(t, 1)
	}
	at := bytes.LastIndex(data, []byte(sessionMark))
	if at < 0 || !bytes.HasPrefix(data, []byte(colID+",")) {
		return File{}, errNotOurs
	}
	for rest := data; len(rest) > 0; { // a line of millions of cells is none of ours
		l, after, _ := bytes.Cut(rest, []byte("\n"))
		if rest = after; !bytes.Contains(l, []byte(sessionMark)) && bytes.Count(l, []byte(",")) > maxWidth {
			return File{}, errNotOurs
		}
	}
	rd := csv.NewReader(bytes.NewReader(data))
	rd.FieldsPerRecord = -1
	var rows [][]string
	var lines []int
	for {
		row, err := rd.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return File{}, errNotOurs // changed by another program: read as any table
		}
		if rows = append(rows, row); len(rows) > maxShots+2 {
			line, _ := rd.FieldPos(0)
			return File{}, refuse(line, 1, message.Of("problem.more-than", maxShots, message.Of("problem.balls")), message.Of("problem.want-fewer"))
		}
		line, _ := rd.FieldPos(0)
		lines = append(lines, line)
	}
	last := rows[len(rows)-1]
	if !strings.HasPrefix(last[0], sessionMark) {
		return File{}, errNotOurs
	}
	f, err := unwrap([]byte(strings.TrimPrefix(last[0], sessionMark)), lines[len(lines)-1])
	if err != nil {
		return f, err
	}
	for i, row := range rows[1 : len(rows)-1] {
		x, err := ownShot(rows[0], row)
		if err != nil {
			return f, message.New("problem.export-line", lines[i+1], err)
		}
		f.Session.Shots = append(f.Session.Shots, x)
	}
	return f, nil
}

// unwrap reads the JSON that begins in the given line of an export.
func unwrap(raw []byte, first int) (File, error) {
	var e envelope
	// A ball is three objects and at most forty fields; what has more of them is no
	// session, and decoding it would cost far more than its bytes.
	if bytes.Count(raw, []byte("{")) > 4*maxShots || bytes.Count(raw, []byte(",")) > 40*maxShots {
		return File{}, refuse(first, 1, message.Of("problem.more-than", maxShots, message.Of("problem.balls")), message.Of("problem.want-fewer"))
	}
	if err := json.Unmarshal(raw, &e); err != nil {
		at := int64(len(raw))
		var syntax *json.SyntaxError
		var kind *json.UnmarshalTypeError
		switch {
		case errors.As(err, &syntax):
			at = syntax.Offset
		case errors.As(err, &kind):
			at = kind.Offset
		}
		line, column := Place(raw, at)
		return File{}, refuse(first+line-1, column, message.Of("problem.no-session"), message.Of("problem.want-session"))
	}
	switch {
	case e.Ferrule != "session" || e.Session == nil:
		return File{}, refuse(first, 1, message.Of("problem.export-holds", strconv.Quote(clip(e.Ferrule))), message.Of("problem.a-session"))
	case e.Version > version:
		return File{}, refuse(first, 1, message.Of("problem.export-version", e.Version), message.Of("problem.want-version", version))
	}
	for i, x := range e.Session.Shots {
		for q, v := range x.Values {
			if _, ok := shot.KindOf(q); !ok || math.IsNaN(v) || math.IsInf(v, 0) {
				return File{}, refuse(first, 1, message.Of("problem.ball-value", i+1, strconv.Quote(clip(string(q))), v), message.Of("problem.want-measured"))
			}
		}
	}
	return File{*e.Session, e.Answer}, nil
}

// quantityOf finds a quantity by its title.
var quantityOf = func() map[string]shot.Quantity {
	m := map[string]shot.Quantity{}
	for _, k := range shot.Kinds {
		m[k.Title] = k.Quantity
	}
	return m
}()

// ownShot reads one row of our CSV.
func ownShot(header, row []string) (shot.Shot, error) {
	x := shot.Shot{Values: shot.Values{}}
	var set club.Setting
	for i, h := range header {
		if i >= len(row) {
			break
		}
		cell := row[i]
		switch {
		case h == colID:
			x.ID = unescape(cell)
		case h == colSleeve:
			set.Sleeve = unescape(cell)
		case h == colClub:
			set.Club = unescape(cell)
		case h == colWeight || strings.HasPrefix(h, colWeight+" "):
			if cell != "" {
				set.Weights = append(set.Weights, unescape(cell))
			}
		case h == colBall:
			x.Ball = unescape(cell)
		case h == colSession:
			x.Session = unescape(cell)
		case h == colClock:
			x.Clock = unescape(cell)
		case h == colTag:
			x.Tag = shot.Tag(unescape(cell))
		case h == colNote:
			x.Note = unescape(cell)
		case h == colSource:
			x.Source = unescape(cell)
		case h == colLine || h == colAir:
			n, err := strconv.Atoi(cell)
			if err != nil && cell != "" {
				return x, ownError(h, cell, "problem.whole-number")
			}
			if h == colAir {
				x.Air = n
			} else {
				x.Line = n
			}
		case h == colAssumed:
			for _, q := range strings.Fields(unescape(cell)) {
				x.Assumed = append(x.Assumed, shot.Quantity(q))
			}
		case cell != "":
			if err := ownValue(h, cell, x.Values); err != nil {
				return x, err
			}
		}
	}
	x.Setting = set
	return x, nil
}

func ownError(header, read, expected string) error {
	return message.New("problem.column", strconv.Quote(header), strconv.Quote(clip(read)), message.Of(expected))
}

func ownValue(h, cell string, into shot.Values) error {
	name, unitText, _ := strings.Cut(h, " (")
	q, ok := quantityOf[name]
	if !ok {
		return nil // a column that somebody added
	}
	k, _ := shot.KindOf(q)
	u := k.Dim.SI()
	if unitText != "" {
		if u, ok = typed.Unit(strings.TrimSuffix(unitText, ")")); !ok {
			return ownError(h, unitText, "problem.unit-brackets")
		}
	}
	text, own, has := strings.Cut(cell, " ")
	if has {
		if own != k.Dim.SI().Symbol {
			return ownError(h, cell, "problem.a-number")
		}
		u = k.Dim.SI()
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return ownError(h, cell, "problem.a-number")
	}
	into[q] = u.SI(v)
	return nil
}

func clip(s string) string {
	if len(s) > 60 {
		return strings.ToValidUTF8(s[:60], "") + "..."
	}
	return s
}
