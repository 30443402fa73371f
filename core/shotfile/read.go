// Package shotfile reads any tabular file of shots: it finds headers among
// title lines, delimiter, units and decimal marks, drops averages, turns sides
// that the flights contradict, and says how it understood each column and why.
// It knows trade words, units and values, and no device.
//
// Read is the door; Options correct what it guesses. In the order of work:
// decode.go (encodings), grid.go, json.go, xlsx.go (cells), sections.go and
// header.go (headers, blocks), column.go and words.go (what a column is),
// cells.go (numbers, sides, non-reads), repeats.go (each ball once), averages.go,
// blocks.go, airs.go, units.go and signs.go (the audits), shots.go. Our own exports (package export) come back as they were.
//
// Encodings beyond Unicode come from golang.org/x/text: Windows-1252 always,
// Shift-JIS and EUC-KR where the browser has no tables of its own to lend.
package shotfile

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/export"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// MaxBytes is the largest file that is read. [bytes]
const MaxBytes = maxBytes

// Options correct or help a reading.
type Options struct {
	Hand    frame.Hand        // of the player: words such as "open" depend on it
	Columns []shot.Column     // corrections by header: quantity or role, unit, flipped
	Answers map[string]string // to the questions of an earlier reading, by their ids
	Kind    string            // of the session's club: "driver" ("" too), "fairway", "hybrid"
	Club    string            // what the session's club is called, "" = not said
	Labels  []string          // of everything that can be set on the described head
	Bag     []Club            // the clubs of a session that compares several; each ball is given its own
	Air     shot.Air          // typed for the balls to come; its wind, if any, is a belief about theirs
}

// kind is that of the session's club.
func (o *Options) kind() string {
	if o.Kind == "" {
		return kindDriver
	}
	return o.Kind
}

// Read returns what a file holds. Values are SI and right-positive for every
// golfer. Rows that cannot be used stand in Table.Errors, all at once; a file
// that holds nothing usable is an error that says what was read.
func Read(name string, data []byte, opt Options) (shot.Table, error) {
	switch {
	case len(data) == 0:
		return shot.Table{}, refuse(1, 1, message.Of("problem.empty"), wantHeaders)
	case len(data) > maxBytes:
		return shot.Table{}, refuse(1, 1, message.Of("problem.megabytes", len(data)>>20), message.Of("problem.want-megabytes", maxBytes>>20))
	}
	if f, ours, err := export.Read(data); ours {
		if err != nil {
			return shot.Table{}, err
		}
		return OwnTable(f.Session), nil
	}
	lx := lexicon{}
	gs, notes, err := lx.grids(name, data)
	if err != nil {
		return shot.Table{}, err
	}
	for _, g := range gs {
		for _, l := range g.lines {
			for i, c := range l.cells {
				l.cells[i] = bareCell(c)
			}
		}
	}
	r := reader{dialogue: dialogue{opt: opt}, name: name, lx: lx, keys: map[string]int{}}
	for _, l := range opt.Labels {
		if r.labels == nil {
			r.labels = map[string]bool{}
		}
		r.labels[club.Plain(l)] = true
	}
	for _, n := range notes {
		r.add(n)
	}
	if err := r.read(gs); err != nil {
		return shot.Table{}, err
	}
	return r.table, nil
}

// bareCell is a cell without the marks that nobody sees, and without those by which a
// spreadsheet is told to keep a text: '12.3 and ="12.3".
func bareCell(c string) string {
	if strings.ContainsFunc(c, typed.Unseen) {
		c = strings.Map(func(r rune) rune {
			if typed.Unseen(r) {
				return -1
			}
			return r
		}, c)
	}
	if inner, ok := strings.CutPrefix(c, `="`); ok && strings.HasSuffix(inner, `"`) {
		return strings.TrimSuffix(inner, `"`)
	}
	if len(c) > 1 && (c[0] == '\'' || c[0] == '=') && strings.IndexByte(c[1:], c[0]) < 0 && isNumeric(c[1:]) {
		return c[1:]
	}
	return c
}

// looksJSON tells JSON from a table whose first line begins with a bracket,
// such as "[mph];[deg]".
func looksJSON(t string) bool {
	if strings.HasPrefix(t, "{") {
		return true
	}
	if !strings.HasPrefix(t, "[") {
		return false
	}
	rest := strings.TrimLeft(t[1:], " \t\r\n")
	return rest != "" && strings.ContainsRune("[{\"]0123456789-nt", rune(rest[0])) && !strings.Contains(strings.SplitN(t, "\n", 2)[0], "];") && !strings.Contains(strings.SplitN(t, "\n", 2)[0], "]\t")
}

// OwnTable is the table of one of our exports: nothing in it is guessed.
func OwnTable(s shot.Session) shot.Table {
	t := shot.Table{Shots: s.Shots, Notes: []message.Message{message.Of("problem.own-export")}}
	used := map[shot.Quantity]bool{}
	for _, x := range s.Shots {
		for q := range x.Values {
			used[q] = true
		}
	}
	for _, k := range shot.Kinds {
		if used[k.Quantity] {
			t.Columns = append(t.Columns, shot.Column{Header: k.Title, Quantity: k.Quantity, Unit: k.Dim.SI().Symbol, Evidence: []message.Message{message.Of("problem.own-column")}})
		}
	}
	return t
}

// dialogue is what a reading says and asks, and what it was told.
type dialogue struct {
	opt   Options
	sheet string // of a workbook or archive, whose rows are read now
	table shot.Table
}

// spot is whose a ball is and where it stands: why says why a block begins with it, "" =
// none does.
type spot struct{ club, player, sheet, why string }

// reader holds one reading.
type reader struct {
	dialogue
	name string
	lx   lexicon
	keys map[string]int // columns by header, over all sections

	headed bool              // a known header was found
	labels map[string]bool   // of the described head, as a club compares them
	kinds  map[string]string // of clubs, by their names
	spots  []spot            // by shot
	atOdds int               // shots whose columns of clubs contradict each other

	clubsAreSettings bool // the column of clubs names settings of one head
}

// unique tells columns with the same header apart, so that each can be corrected
// on its own: the second "Curve" of a file is "Curve (2)".
func (r *reader) unique(header string) string {
	r.keys[header]++
	if n := r.keys[header]; n > 1 {
		return fmt.Sprintf("%s (%d)", header, n)
	}
	return header
}

// addOnce appends a message that is not in the list yet.
func addOnce(list []message.Message, m message.Message) []message.Message {
	if len(list) >= maxSaid || slices.ContainsFunc(list, func(o message.Message) bool { return o.String() == m.String() }) {
		return list
	}
	return append(list, m)
}

func (r *dialogue) note(key string, places ...any) { r.add(message.Of(key, places...)) }

func (r *dialogue) add(m message.Message) { r.table.Notes = addOnce(r.table.Notes, m) }

// maxErrors bounds the list; a file with more is wrong as a whole.
const maxErrors = 2000

func (r *dialogue) reject(n int, column string, read, expected any) {
	if len(r.table.Errors) < maxErrors {
		r.table.Errors = append(r.table.Errors, shot.RowError{Line: n, Column: column, Message: message.Of("problem.read", read, expected)})
	} else {
		r.note("problem.errors-many", maxErrors)
	}
}

// table is one of a file: a sheet, what stands on it: its parts, whose cells are read and nothing more.
type table struct {
	name  string
	how   message.Message
	parts []*part
	err   error // why it holds no ball
}

// read reads every grid of a file: the sheets of a workbook, the tables of an
// archive. One that holds no shots is passed over when another does.
func (r *reader) read(gs []grid) error {
	var sheets []table
	for _, whole := range gs {
		for _, g := range r.apart(whole) {
			r.sheet, r.keys = g.name, map[string]int{}
			parts, err := r.parts(g)
			sheets = append(sheets, table{g.name, g.how, parts, err})
		}
	}
	r.judge(sheets)
	if len(r.table.Shots) == 0 && (r.headed || !r.byHand(gs)) {
		for _, s := range sheets {
			if s.err != nil {
				return s.err
			}
		}
	}
	r.finish()
	return nil
}

// parts reads the cells of a grid, those under headers that read alike together.
func (r *reader) parts(g grid) (ps []*part, err error) {
	secs := r.sections(g)
	if len(secs) == 0 {
		at, first := firstCells(g)
		return nil, refuse(at, 1, message.Of("problem.no-column-in", first, len(g.lines)), wantHeaders)
	}
	r.headed = true
	titled := r.settingTitles(secs)
	var headers []string
	rows := 0
	for _, sec := range secs {
		if rows += len(sec.rows); len(sec.rows) == 0 {
			continue
		}
		p := &part{r: r, sec: sec}
		p.understand()
		if !p.useful() {
			headers = append(headers, sec.names...)
			continue
		}
		askUnknown(&r.dialogue, sec.rows, p.cols)
		p.readWords(titled)
		p.readCells()
		ps = append(ps, p)
	}
	switch {
	case rows == 0:
		err = refuse(secs[0].headLine, 1, message.Of("problem.header-only"), message.Of("problem.want-row"))
	case len(ps) == 0:
		err = refuse(secs[0].headLine, 1, message.Of("problem.no-numbers", strconv.Quote(clip(strings.Join(headers, ", ")))), wantHeaders)
	}
	return ps, err
}

// judge decides units and signs of what was read, each ball where it stands first, and
// makes the shots.
func (r *reader) judge(sheets []table) {
	r.once(sheets)
	for k := range sheets {
		s := &sheets[k]
		r.sheet = s.name
		from, rows := len(r.table.Shots), 0
		for _, p := range s.parts {
			if rows += len(p.sec.rows); len(p.sec.rows) > 0 {
				p.judge()
				p.shots()
				r.listColumns(p)
			}
		}
		sort.Stable(byLine{r.table.Shots[from:], r.spots[from:]})
		switch {
		case len(r.table.Shots) > from && (s.how.Key == "problem.from-workbook" || s.how.Key == "problem.from-page"):
			r.note("problem.columns-how", s.how)
		case len(r.table.Shots) == from && s.err == nil:
			e := r.firstError(r.table.Columns)
			s.err = refuse(e.Line, e.cell, message.Of("problem.none-usable", rows, strconv.Quote(e.Column)), message.Of("problem.want-ball"))
		}
	}
}

// judged is what is judged of a section once its cells are read.
type judged struct {
	*dialogue
	rows   []row
	cols   columns
	blocks blocks
}

// judge decides the units and signs of a section.
func (p *part) judge() {
	d := &p.r.dialogue
	p.zeros()
	p.out = findAverages(d, p.sec.rows, p.cols)
	p.blocks = findBlocks(p.sec.rows, p.cols, len(p.clubs) > 0)
	p.altitude()
	p.air = readAir(d, p.sec, p.cols)
	j := judged{d, p.sec.rows, p.cols, p.blocks}
	auditUnits(j, p.words, p.language)
	p.filledIn()
	p.tracked()
	p.sideQuestions(auditSigns(j, p.air))
}

// listColumns adds the columns of a section to the table, those of the same
// header in an earlier sheet aside.
func (r *reader) listColumns(p *part) {
	for _, c := range p.cols {
		col := shot.Column{Header: c.key, Quantity: c.quantity, Role: c.role, Unit: c.symbol(), Flipped: c.flipped, Evidence: c.evidence}
		for _, a := range p.air.cols {
			if a.column == c && a.use {
				col.Unit = a.u.Symbol
			}
		}
		col.Written, col.Read = p.samples(c)
		if !slices.ContainsFunc(r.table.Columns, func(o shot.Column) bool {
			return o.Header == col.Header && o.Quantity == col.Quantity && o.Role == col.Role && o.Unit == col.Unit
		}) {
			r.table.Columns = append(r.table.Columns, col)
		}
	}
}

// samples are three cells of a column as written and as understood.
func (p *part) samples(c *column) (written, read []string) {
	for i, l := range p.sec.rows {
		t := cellOf(l.line, c.at)
		if isMissing(t) || len(written) == 3 {
			continue
		}
		written = append(written, clip(t))
		if c.quantity == "" || c.read == nil {
			read = append(read, clip(t))
			continue
		}
		if v := c.value(i); c.read[i] == cellRead && c.byBlock != nil {
			digits := 1
			if c.kind.Dim == units.None {
				digits = 2
			} else if c.kind.Dim == units.Spin {
				digits = 0
			}
			read = append(read, strings.TrimSpace(units.Format(c.unit.From(v), digits, '.')+" "+c.unit.Symbol))
		} else {
			read = append(read, "-")
		}
	}
	return
}

func (c *column) symbol() string {
	if c.quantity == "" {
		return ""
	}
	return c.unit.Symbol
}

func (p *part) useful() bool {
	return slices.ContainsFunc(p.cols, func(c *column) bool { return c.quantity != "" })
}

// byLine puts balls, and where they stand, in the order of their lines.
type byLine struct {
	shots []shot.Shot
	spots []spot
}

func (b byLine) Len() int           { return len(b.shots) }
func (b byLine) Less(i, j int) bool { return b.shots[i].Line < b.shots[j].Line }
func (b byLine) Swap(i, j int) {
	b.shots[i], b.shots[j], b.spots[i], b.spots[j] = b.shots[j], b.shots[i], b.spots[j], b.spots[i]
}

// finish settles what only the whole file shows: sheets that are settings,
// clubs, players, ids.
func (r *reader) finish() {
	sort.SliceStable(r.table.Errors, func(i, j int) bool { return r.table.Errors[i].Line < r.table.Errors[j].Line })
	r.sheetSettings()
	r.chooseClubs()
	r.choosePlayer()
	r.fileParts()
	seen := map[string]bool{}
	for i := range r.table.Shots { // an id column that repeats is no id
		s := &r.table.Shots[i]
		for seen[s.ID] {
			s.ID = fmt.Sprintf("%s-%d", s.ID, s.Line)
		}
		seen[s.ID] = true
	}
	r.oneSpelling()
	worded := false
	for _, c := range r.table.Columns {
		worded = worded || c.Flipped
	}
	if r.opt.Hand == frame.Left && !worded {
		r.note("problem.left-right")
	}
}

// oneSpelling gives names of settings that a club compares as equal ("Flat",
// "flat") the spelling that stands first: they are one setting, and no club
// may bear both.
func (r *reader) oneSpelling() {
	type part struct { // of the club: 0 is the sleeve, the weights follow
		at    int
		label string
	}
	first, said := map[part]string{}, map[part]bool{}
	one := func(at int, label string) string {
		k := part{at, club.Plain(label)}
		as, known := first[k]
		if !known {
			first[k] = label
			return label
		}
		if as != label && !said[part{at, label}] {
			said[part{at, label}] = true
			r.note("problem.same-setting", strconv.Quote(clip(label)), strconv.Quote(clip(as)))
		}
		return as
	}
	for i := range r.table.Shots {
		s := &r.table.Shots[i].Setting
		s.Sleeve = one(0, s.Sleeve)
		for k := range s.Weights {
			s.Weights[k] = one(k+1, s.Weights[k])
		}
	}
}

// rowAt is the first row error and the cell that it is about.
type rowAt struct {
	shot.RowError
	cell int
}

func (r *reader) firstError(cols []shot.Column) rowAt {
	if len(r.table.Errors) == 0 {
		return rowAt{shot.RowError{Line: 1}, 1}
	}
	e := rowAt{r.table.Errors[0], 1}
	for i, c := range cols {
		if c.Header == e.Column {
			e.cell = i + 1
		}
	}
	return e
}

// firstCells quotes the beginning of a file for an error, with its line.
func firstCells(g grid) (line int, cells any) {
	for _, l := range g.lines {
		if t := strings.TrimSpace(strings.Join(l.cells, " ")); t != "" {
			return l.n, strconv.Quote(clip(t))
		}
	}
	return 1, message.Of("problem.nothing")
}
