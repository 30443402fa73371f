package act

import (
	"context"
	"maps"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ferrule/app/kept"
	"ferrule/core/club"
	"ferrule/core/message"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/typed"
	"ferrule/core/wire"
)

// Reader has the file that was read and what the person says of it.
type Reader struct {
	loop   *Loop
	editor *Editor
	keeper *Keeper
	bay    *Bay
	files  *Files

	state Reading
	reads int // a late answer of an older one is dropped
}

// begin reads the first of the waiting files.
func (rd *Reader) begin(f File) {
	rd.state = Reading{Phase: Working, Name: f.Name, Fresh: f.Fresh, bay: f.Bay, from: f.From, bytes: f.Bytes, kept: f.kept}
	rd.wait()
	switch {
	case len(f.Bytes) > maxFile:
		rd.state.Phase, rd.state.Error = Failed, message.New("error.file-large")
		rd.loop.changed()
	case store.IsFile(f.Bytes):
		rd.stored(f.Bytes)
	default:
		rd.read()
	}
}

// wait lists the files that come after it, for the screen.
func (rd *Reader) wait() { rd.state.Waiting = rd.files.names() }

// leave forgets the file and hands out what was read of it.
func (rd *Reader) leave() Reading {
	g := rd.state
	rd.reads++
	rd.state = Reading{}
	return g
}

// file is the one that is looked at, as it came; none where it failed.
func (rd *Reader) file() []File {
	g := rd.state
	if g.Phase != Working && g.Phase != Ready {
		return nil
	}
	return []File{{Name: g.Name, Bytes: g.bytes, Fresh: g.Fresh, Bay: g.bay, From: g.from, kept: g.kept}}
}

// onceRead does what takes a file over, after it is read anew where it is: what
// is taken is what was said last.
func (rd *Reader) onceRead(do func()) {
	if g := &rd.state; g.Phase == Working && g.Table != nil {
		g.then = do
		return
	}
	do()
}

// stored says what a file of the store holds. Nothing of it is kept before
// the person says so.
func (rd *Reader) stored(file []byte) {
	g := &rd.state
	g.Phase = Ready
	in, err := store.Contents(file)
	switch {
	case err != nil:
		g.Phase, g.Error = Failed, reason(err)
	case len(in.Sessions) == 1 && in.Damaged+in.Records == 0:
		g.Own = &in.Sessions[0]
	default:
		g.Backup = &Backup{Sessions: len(in.Sessions), Clubs: in.Clubs, Shots: in.Shots, Records: in.Records}
	}
	rd.loop.changed()
}

// FixColumn corrects what one column of the file means and reads it again. The
// correction is kept for files of the same shape.
func (rd *Reader) FixColumn(c shot.Column) {
	rd.remind()
	cols := slices.Clone(rd.state.columns)
	if i := slices.IndexFunc(cols, func(o shot.Column) bool { return o.Header == c.Header }); i >= 0 {
		cols[i] = c
	} else {
		cols = append(cols, c)
	}
	rd.state.columns = cols
	rd.remember(rd.state.shape, cols, rd.state.answers)
	rd.read()
}

// ForgetColumns reads the file as if no column had ever been corrected.
func (rd *Reader) ForgetColumns() {
	rd.remind()
	rd.remember(rd.state.shape, nil, nil)
	rd.state.columns, rd.state.answers, rd.state.Remembered = nil, nil, false
	rd.read()
}

func (rd *Reader) read() {
	rd.reads++
	serial := rd.reads
	r := &wire.Read{Name: rd.state.Name, Bytes: rd.state.bytes, Columns: rd.state.columns, Answers: rd.state.answers}
	if rd.editor.session != nil {
		r.Hand = string(rd.editor.session.Player.Hand)
		h := rd.editor.session.Head
		r.Kind, r.Club, r.Labels = h.Kind, h.Name, rd.editor.session.Labels()
		if rd.editor.session.Several() {
			for _, c := range rd.editor.session.All() {
				r.Bag = append(r.Bag, [2]string{c.Name, c.KindOf()})
			}
		}
		if !rd.editor.session.Conditions.Indoors {
			r.Air = rd.editor.session.AirNumber(rd.editor.session.AirNow())
		}
	}
	rd.state.Phase, rd.state.then = Working, nil
	rd.loop.changed()
	rd.loop.elsewhere(func() func() {
		res, err := wrong(rd.loop.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Read: r}))
		return func() {
			if serial != rd.reads {
				return
			}
			g := &rd.state
			switch {
			case err != nil:
				g.Phase, g.Error = Failed, err
			case res.Table == nil:
				g.Phase, g.Error = Failed, message.New("error.file-empty")
			default:
				if g.shape == "" {
					g.shape = typed.Shape(res.Table.Columns)
					if c := rd.remembered(g.shape); len(c.Columns)+len(c.Answers) > 0 {
						g.columns, g.answers, g.Remembered = c.columns(), c.answers(), true
						rd.read()
						return
					}
				}
				g.Phase, g.Error, g.Table, g.Own, g.Given = Ready, nil, res.Table, res.Session, res.Given
				rd.name()
				switch then := g.then; {
				case g.bay && rd.plain():
					rd.files.Accept()
				case then != nil && g.Open == 0:
					g.then = nil
					then()
				}
			}
			rd.loop.changed()
		}
	})
}

// columnsKey keeps the corrected column maps, the last used first.
const columnsKey = "ferrule.columns"

// maxShapes bounds how many are kept.
const maxShapes = 40

type columnMap struct {
	Shape   string       `json:"shape"`
	Columns []correction `json:"columns"`

	Answers []answered `json:"answers"`
}

// correction is what a person said of a column: all that is kept of it.
type correction struct {
	Header     string
	Quantity   shot.Quantity
	Role, Unit string
	Flipped    bool
}

func corrections(columns []shot.Column) (out []correction) {
	for _, c := range columns {
		out = append(out, correction{c.Header, c.Quantity, c.Role, c.Unit, c.Flipped})
	}
	return out
}

func (c columnMap) columns() (out []shot.Column) {
	for _, k := range c.Columns {
		out = append(out, shot.Column{Header: k.Header, Quantity: k.Quantity, Role: k.Role, Unit: k.Unit, Flipped: k.Flipped})
	}
	return out
}

// answered is one answer, in a list: what is kept holds no maps.
type answered struct {
	ID    string `json:"id"`
	Value string `json:"value"`
}

func listed(answers map[string]string) []answered {
	var out []answered
	for id, v := range answers {
		if !ofLines(id) {
			out = append(out, answered{id, v})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].ID < out[j].ID })
	return out
}

func (c columnMap) answers() map[string]string {
	out := map[string]string{}
	for _, a := range c.Answers {
		out[a.ID] = a.Value
	}
	return out
}

func (rd *Reader) columnMaps() (all []columnMap) {
	_ = kept.Read(rd.loop.deps.Pocket.Load(columnsKey), &all) // damaged ones count as none
	return all
}

func (rd *Reader) remembered(shape string) columnMap {
	for _, c := range rd.columnMaps() {
		if c.Shape == shape {
			return c
		}
	}
	return columnMap{}
}

func (rd *Reader) remember(shape string, cols []shot.Column, answers map[string]string) {
	if shape == "" {
		return
	}
	all := slices.DeleteFunc(rd.columnMaps(), func(c columnMap) bool { return c.Shape == shape })
	if kept := listed(answers); len(cols)+len(kept) > 0 {
		all = append([]columnMap{{shape, corrections(cols), kept}}, all...)
	}
	if text, err := kept.Write(all[:min(len(all), maxShapes)]); err == nil {
		rd.keeper.note(columnsKey, text)
	}
}

// name lists the settings that the file names and matches them with the head.
func (rd *Reader) name() {
	g := &rd.state
	for i := range g.Table.Shots {
		if h := &g.Table.Shots[i]; h.Source == "" {
			h.Source = g.Name
		}
	}
	g.Known, g.Out, g.Open, g.Into = 0, 0, g.open(), false
	g.Lines = g.lines()
	for _, h := range g.Table.Shots {
		if h.Tag == shot.TagOut {
			g.Out++
		}
	}
	if rd.editor.session != nil && !rd.editor.readOnly {
		g.Into = len(rd.editor.session.Shots) > 0
		for _, at := range shot.Repeats(rd.editor.session.Shots, g.Table.Shots) {
			if at >= 0 {
				g.Known++
			}
		}
	}
	old := g.Settings
	g.Settings = nil
	all := Settings(rd.editor.session)
	for _, h := range g.Table.Shots {
		label := h.Setting.Key()
		i := slices.IndexFunc(g.Settings, func(n Named) bool { return n.Label == label })
		if i >= 0 {
			g.Settings[i].Shots++
			continue
		}
		use, same := -1, ""
		if label == "" { // hit as the club is set now
			use = max(indexOf(all, Now(State{Session: rd.editor.session, Next: rd.bay.next})), 0)
		} else if set, err := rd.editor.findSetting(label); err == nil {
			use = indexOf(all, set)
		}
		if j := slices.IndexFunc(old, func(n Named) bool { return n.Label == label }); j >= 0 {
			use, same = old[j].Use, old[j].Same
		}
		g.Settings = append(g.Settings, Named{Label: label, Shots: 1, Use: use, Same: same})
	}
}

func indexOf(all []club.Setting, s club.Setting) int {
	return slices.IndexFunc(all, s.Equal)
}

// UseSetting says which of the head's settings a name in the file stands for;
// -1 keeps the file's words.
func (rd *Reader) UseSetting(label string, use int) {
	s := slices.Clone(rd.state.Settings)
	for i := range s {
		if s[i].Label == label {
			s[i].Use, s[i].Same = use, ""
		}
	}
	rd.state.Settings = s
	rd.loop.changed()
}

// SameSetting says that a name in the file means the setting that another name
// in it stands for: a slip of the pen, most often. What was said to be the
// same as label follows it.
func (rd *Reader) SameSetting(label, as string) {
	s := slices.Clone(rd.state.Settings)
	for i := range s {
		if s[i].Label == label || s[i].Same == label {
			s[i].Use, s[i].Same = -1, as
		}
	}
	rd.state.Settings = s
	rd.loop.changed()
}

// meant is the setting that a name in the file stands for, nil where the file
// names none and nothing was said. all are the head's settings before the file
// was taken over.
func (g Reading) meant(label string, all []club.Setting) *club.Setting {
	for _, n := range g.Settings {
		switch {
		case n.Label != label:
		case n.Same != "" && n.Same != label:
			if i := slices.IndexFunc(g.Settings, func(o Named) bool { return o.Label == n.Same && o.Same == "" }); i >= 0 {
				return g.meant(n.Same, all)
			}
		case n.Use >= 0 && n.Use < len(all):
			return &all[n.Use]
		}
	}
	for i := range g.Table.Shots {
		if s := &g.Table.Shots[i].Setting; label != "" && s.Key() == label {
			return s
		}
	}
	return nil
}

// Reading is a file that has been read and waits for the person's word.
type Reading struct {
	Phase    Phase
	Name     string
	Error    error
	Table    *shot.Table
	Settings []Named       // the settings that the file names, in order of first use
	Waiting  []string      // names of the files that come after it
	Own      *shot.Session // the whole session, when the file is an export of this program
	Given    *share.Given  // the answer that came with Own
	Backup   *Backup       // what the file holds, when it is a backup

	Known      int  // shots of the file that are in the session already
	Remembered bool // columns are corrected as they were for the last file of this shape

	Fresh bool   // opened from the first page: it makes a session of its own
	Into  bool   // the open session holds balls: adding to it is the person's choice
	Open  int    // questions that are not answered yet
	Out   int    // balls that are left out: other clubs, other players
	Undo  int    // words on the file that can be taken back
	Lines []Line // the time line

	bytes   []byte
	kept    string            // key of the file in the journal
	columns []shot.Column     // corrections
	answers map[string]string // to the file's questions
	marks   map[int]int       // settings from a ball on
	before  []said            // what was said before each change
	then    func()            // asked for while the file is read anew, as it was said last
	bay     bool              // as in File, likewise the next
	from    int
	shape   string // of the columns as they stand in the file
}

// Backup is what a backup holds that is not kept yet.
type Backup struct{ Sessions, Clubs, Shots, Records int }

// Named is a setting as a file names it, and the head's setting it stands for.
type Named struct {
	Label string // as in the file; empty = the file names none
	Shots int
	Use   int // index into the head's settings, -1 = keep the words of the file

	Same string // another name in the file that means the same setting, "" = none
}

// Line is one line of a file's time line: balls that follow each other without a
// break.
type Line struct {
	shot.FilePart
	Use  int // index of the head's setting they were hit with, -1 = as the file says
	Kept int // balls that are not left out
}

// said is all that a person has said of a file that is being read.
type said struct {
	columns []shot.Column
	answers map[string]string
	marks   map[int]int
}

// plain reports whether the file that was read leaves nothing to ask: balls of one
// player, and no name of a setting that the club does not have.
func (rd *Reader) plain() bool {
	g := rd.state
	return g.Table != nil && g.Own == nil && g.Backup == nil && g.Open == 0 && len(g.Table.Shots) > 0 && len(g.Table.Errors) == 0 && len(g.Table.Players) < 2 &&
		rd.editor.session != nil && !rd.editor.readOnly && !slices.ContainsFunc(g.Settings, func(n Named) bool { return n.Use < 0 })
}

func (rd *Reader) said() said {
	g := rd.state
	return said{g.columns, g.answers, g.marks}
}

// remind keeps what was said before a change, so that it is undone by one tap.
func (rd *Reader) remind() {
	rd.state.before = append(slices.Clone(rd.state.before), rd.said())
	rd.state.Undo = len(rd.state.before)
}

// Undo takes the last word on the file back.
func (rd *Reader) Undo() {
	g := &rd.state
	n := len(g.before)
	if n == 0 {
		return
	}
	last := g.before[n-1]
	g.before, g.Undo = g.before[:n-1], n-1
	g.columns, g.answers, g.marks = last.columns, last.answers, last.marks
	rd.remember(g.shape, g.columns, g.answers)
	rd.read()
}

// Answer answers a question of the file and reads it again.
func (rd *Reader) Answer(id, value string) {
	rd.remind()
	answers := map[string]string{}
	maps.Copy(answers, rd.state.answers)
	answers[id] = value
	rd.state.answers = answers
	rd.remember(rd.state.shape, rd.state.columns, answers)
	rd.read()
}

// KeepClub says whether the balls of one club of the file belong to the session.
func (rd *Reader) KeepClub(name string, keep bool) {
	g := rd.state
	if g.Table == nil {
		return
	}
	open := slices.ContainsFunc(g.Table.Questions, func(q shot.Question) bool { return q.ID == "clubs" && q.Open })
	var names []string
	for _, c := range g.Table.Clubs {
		on := c.Kept && !open // nothing is chosen before somebody says so
		if c.Name == name {
			on = keep
		}
		if on {
			names = append(names, c.Name)
		}
	}
	if len(names) == 0 {
		return
	}
	rd.Answer("clubs", strings.Join(names, "\n"))
}

// SetFrom says with which of the head's settings the balls from one on were hit,
// up to the next of which the same was said; -1 is as the file says.
func (rd *Reader) SetFrom(ball, use int) { rd.mark(map[int]int{ball: use}) }

// Split begins lines of the time line at balls, counted from 1: "7", "7-12" or
// several of these. It reports whether the text could be used.
func (rd *Reader) Split(text string) bool {
	g := rd.state
	marks := map[int]int{}
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '、' }) {
		from, to, ranged := strings.Cut(strings.ReplaceAll(part, "–", "-"), "-")
		a, err := strconv.Atoi(from)
		b := a
		if ranged && err == nil {
			b, err = strconv.Atoi(to)
			b++
		}
		if err != nil || g.Table == nil || a < 1 || b < a || b > len(g.Table.Shots)+1 || a > len(g.Table.Shots) {
			return false
		}
		for _, at := range []int{a - 1, b - 1} {
			if _, said := g.marks[at]; !said && at < len(g.Table.Shots) {
				marks[at] = asBefore
			}
		}
	}
	if len(marks) > 0 {
		rd.mark(marks)
	}
	return true
}

func (rd *Reader) mark(more map[int]int) {
	rd.remind()
	marks := map[int]int{}
	maps.Copy(marks, rd.state.marks)
	maps.Copy(marks, more)
	rd.state.marks = marks
	rd.state.Lines = rd.state.lines()
	rd.loop.changed()
}

// lines cuts a file where it breaks and where the person said so.
func (g Reading) lines() []Line {
	if g.Table == nil || len(g.Table.Shots) == 0 {
		return nil
	}
	starts := []int{0}
	for _, p := range g.Table.Parts {
		starts = append(starts, p.From)
	}
	starts = append(slices.AppendSeq(starts, maps.Keys(g.marks)), len(g.Table.Shots))
	sort.Ints(starts)
	starts = slices.Compact(starts)
	var out []Line
	now, part := -1, 0
	for k, from := range starts[:len(starts)-1] {
		if use, said := g.marks[from]; said && use != asBefore {
			now = use
		}
		l := Line{Use: now}
		for part+1 < len(g.Table.Parts) && g.Table.Parts[part+1].From <= from {
			part++
		}
		if part < len(g.Table.Parts) {
			l.FilePart = g.Table.Parts[part]
		}
		if l.From != from {
			l.From, l.Why = from, ""
		}
		l.Balls = starts[k+1] - from
		for _, h := range g.Table.Shots[from:starts[k+1]] {
			if h.Tag != shot.TagOut {
				l.Kept++
			}
		}
		out = append(out, l)
	}
	return out
}

// open reports whether a question is open whose answer says which balls count.
func (g Reading) open() int {
	n := 0
	for _, q := range g.Table.Questions {
		if q.Open {
			n++
		}
	}
	return n
}

// ofLines reports an answer about lines of one file: it is not for the next.
func ofLines(id string) bool {
	k := strings.LastIndex(id, " in ")
	return k > 0 && strings.IndexAny(strings.TrimPrefix(id[k+4:], "lines "), "0123456789") == 0
}

// SplitField is the draft of the balls at which the time line is cut.
const SplitField = "file-split"

// asBefore begins a line of the time line and says nothing of its setting.
const asBefore = -2

// Days are the days that shots name, as written, in their order, at most a few.
func Days(shots []shot.Shot) []string {
	var out []string
	for _, h := range shots {
		day, _, _ := strings.Cut(strings.ReplaceAll(h.Clock, "T", " "), " ")
		if day == "" || strings.Contains(day, ":") || slices.Contains(out, day) {
			continue
		}
		if out = append(out, day); len(out) == 4 {
			break
		}
	}
	return out
}
