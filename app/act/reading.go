package act

import (
	"context"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ferrule/app/kept"
	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/typed"
	"ferrule/core/wire"
)

// maxFile is the largest file that is handed to the worker; a range session
// is a few hundred kilobytes at most. The reader takes no larger one either.
const maxFile = 12 << 20

// File is one that came in: opened, shared with the app, or pasted.
type File struct {
	Name  string
	Bytes []byte
	Fresh bool   // from the first page: it makes a session of its own
	Bay   bool   // its balls go to the setting that is set, unless it leaves a question
	From  int    // lines that were there before the bay was opened: their balls are nobody's here
	kept  string // its key in the journal, empty = not kept there
}

// filesKey is before the keys of the files that wait: a file is there from when
// it comes in until it is taken over or left.
const filesKey = "ferrule.files/"

// keepFiles writes the files that are not in the journal to it. It returns when
// the journal was told; note says when it is on the disk.
func (m *Model) keepFiles() {
	for i := range m.waiting {
		f := &m.waiting[i]
		if f.kept == "" && len(f.Bytes) <= maxFile {
			m.fileNo++
			f.kept = filesKey + strconv.FormatInt(m.deps.Now().UnixMilli(), 36) + "-" + strconv.Itoa(1000+m.fileNo)
			m.note(f.kept, f.Name+"\x00"+string(f.Bytes))
		}
	}
}

// left forgets a file that was taken over or left.
func (m *Model) left(f string) {
	if f != "" {
		m.note(f, "")
	}
}

// filesBack takes the files up again that waited when the page went.
func (m *Model) filesBack() {
	if len(m.waiting) > 0 || m.s.Reading.Phase != Idle {
		return
	}
	for _, key := range m.deps.Pocket.Keys(filesKey) {
		name, data, _ := strings.Cut(m.deps.Pocket.Load(key), "\x00")
		m.waiting = append(m.waiting, File{Name: name, Bytes: []byte(data), kept: key})
	}
	if len(m.waiting) > 0 {
		m.nextFile()
	}
}

// WhenKept calls then, away from the screen, once the files that came in are on
// the disk.
func (m *Model) WhenKept(then func()) {
	m.elsewhere(func() func() { m.wait(); then(); return func() {} })
}

// ReadFile asks what a file or a pasted text holds. The session stays as it
// is until Accept.
func (m *Model) ReadFile(name string, data []byte) { m.ReadFiles([]File{{Name: name, Bytes: data}}) }

// ReadFiles reads files one after the other: the next is shown once the one
// before it has been taken over or left. A file that is being looked at comes
// again after them.
func (m *Model) ReadFiles(files []File) {
	m.waiting = append(slices.Clone(files), m.unread()...)
	m.s.Reading.kept = "" // it waits again
	m.keepFiles()
	m.nextFile()
}

// AddFile reads a file after those that came before it; a fresh one makes a
// session of its own.
func (m *Model) AddFile(name string, data []byte, fresh bool) {
	m.addFile(File{Name: name, Bytes: data, Fresh: fresh})
}

func (m *Model) addFile(f File) {
	m.waiting = append(slices.Clone(m.waiting), f)
	m.keepFiles()
	if g := m.s.Reading; g.Phase == Working || g.Phase == Ready {
		m.names()
		m.changed()
		return
	}
	m.nextFile()
}

// unread are the files that were neither taken over nor left, the one that is
// shown first.
func (m *Model) unread() []File {
	if g := m.s.Reading; g.Phase == Working || g.Phase == Ready {
		return slices.Insert(slices.Clone(m.waiting), 0, File{Name: g.Name, Bytes: g.bytes, Fresh: g.Fresh, Bay: g.bay, From: g.from, kept: g.kept})
	}
	return m.waiting
}

// nextFile takes the first of the waiting files, if there is one.
func (m *Model) nextFile() {
	m.reads++
	m.left(m.s.Reading.kept)
	m.s.Reading = Reading{}
	m.DropDraft(SplitField)
	if len(m.waiting) == 0 {
		m.changed()
		return
	}
	f := m.waiting[0]
	m.waiting = m.waiting[1:]
	m.s.Reading = Reading{Phase: Working, Name: f.Name, Fresh: f.Fresh, bay: f.Bay, from: f.From, bytes: f.Bytes, kept: f.kept}
	m.names()
	switch {
	case len(f.Bytes) > maxFile:
		m.s.Reading.Phase, m.s.Reading.Error = Failed, "error.file-large"
		m.changed()
	case store.IsFile(f.Bytes):
		m.showStored(f.Bytes)
	default:
		m.read()
	}
}

// names lists the files that wait, for the screen.
func (m *Model) names() {
	m.s.Reading.Waiting = nil
	for _, f := range m.waiting {
		m.s.Reading.Waiting = append(m.s.Reading.Waiting, f.Name)
	}
}

// FixColumn corrects what one column of the file means and reads it again. The
// correction is kept for files of the same shape.
func (m *Model) FixColumn(c shot.Column) {
	m.remind()
	cols := slices.Clone(m.s.Reading.columns)
	if i := slices.IndexFunc(cols, func(o shot.Column) bool { return o.Header == c.Header }); i >= 0 {
		cols[i] = c
	} else {
		cols = append(cols, c)
	}
	m.s.Reading.columns = cols
	m.remember(m.s.Reading.shape, cols, m.s.Reading.answers)
	m.read()
}

// ForgetColumns reads the file as if no column had ever been corrected.
func (m *Model) ForgetColumns() {
	m.remind()
	m.remember(m.s.Reading.shape, nil, nil)
	m.s.Reading.columns, m.s.Reading.answers, m.s.Reading.Remembered = nil, nil, false
	m.read()
}

func (m *Model) read() {
	m.reads++
	serial := m.reads
	r := &wire.Read{Name: m.s.Reading.Name, Bytes: m.s.Reading.bytes, Columns: m.s.Reading.columns, Answers: m.s.Reading.answers}
	if m.s.Session != nil {
		r.Hand = string(m.s.Session.Player.Hand)
		h := m.s.Session.Head
		r.Kind, r.Club, r.Labels = h.Kind, h.Name, m.s.Session.Labels()
		if m.s.Session.Several() {
			for _, c := range m.s.Session.All() {
				r.Bag = append(r.Bag, [2]string{c.Name, c.KindOf()})
			}
		}
		if !m.s.Session.Conditions.Indoors {
			r.Air = m.s.Session.AirNumber(m.s.Session.AirNow())
		}
	}
	m.s.Reading.Phase, m.s.Reading.then = Working, nil
	m.changed()
	m.elsewhere(func() func() {
		res, err := m.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Read: r})
		return func() {
			if serial != m.reads {
				return
			}
			g := &m.s.Reading
			switch {
			case err != nil:
				g.Phase, g.Error = Failed, err.Error()
			case res.Error != "" && res.Table == nil:
				g.Phase, g.Error = Failed, res.Error
			case res.Table == nil:
				g.Phase, g.Error = Failed, "error.file-empty"
			default:
				if g.shape == "" {
					g.shape = typed.Shape(res.Table.Columns)
					if c := m.remembered(g.shape); len(c.Columns)+len(c.Answers) > 0 {
						g.columns, g.answers, g.Remembered = c.Columns, c.answers(), true
						m.read()
						return
					}
				}
				g.Phase, g.Error, g.Table, g.Own, g.Given = Ready, "", res.Table, res.Session, res.Given
				m.name()
				switch then := g.then; {
				case g.bay && m.plain():
					m.Accept()
				case then != nil && g.Open == 0:
					g.then = nil
					then()
				}
			}
			m.changed()
		}
	})
}

// columnsKey keeps the corrected column maps, the last used first.
const columnsKey = "ferrule.columns"

// maxShapes bounds how many are kept.
const maxShapes = 40

type columnMap struct {
	Shape   string        `json:"shape"`
	Columns []shot.Column `json:"columns"`

	Answers []answered `json:"answers"`
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

func (m *Model) columnMaps() (all []columnMap) {
	_ = kept.Read(m.deps.Pocket.Load(columnsKey), &all) // damaged ones count as none
	return all
}

func (m *Model) remembered(shape string) columnMap {
	for _, c := range m.columnMaps() {
		if c.Shape == shape {
			return c
		}
	}
	return columnMap{}
}

func (m *Model) remember(shape string, cols []shot.Column, answers map[string]string) {
	if shape == "" {
		return
	}
	all := slices.DeleteFunc(m.columnMaps(), func(c columnMap) bool { return c.Shape == shape })
	if kept := listed(answers); len(cols)+len(kept) > 0 {
		all = slices.Insert(all, 0, columnMap{shape, cols, kept})
	}
	if text, err := kept.Write(all[:min(len(all), maxShapes)]); err == nil {
		m.note(columnsKey, text)
	}
}

// name lists the settings that the file names and matches them with the head.
func (m *Model) name() {
	g := &m.s.Reading
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
	if m.s.Session != nil && !m.s.ReadOnly {
		g.Into = len(m.s.Session.Shots) > 0
		for _, at := range shot.Repeats(m.s.Session.Shots, g.Table.Shots) {
			if at >= 0 {
				g.Known++
			}
		}
	}
	old := g.Settings
	g.Settings = nil
	all := m.HeadSettings()
	for _, h := range g.Table.Shots {
		label := h.Setting.Key()
		i := slices.IndexFunc(g.Settings, func(n Named) bool { return n.Label == label })
		if i >= 0 {
			g.Settings[i].Shots++
			continue
		}
		use, same := -1, ""
		if label == "" { // hit as the club is set now
			use = max(m.indexOf(all, Now(m.s)), 0)
		} else if set, err := m.findSetting(label); err == nil {
			use = m.indexOf(all, set)
		}
		if j := slices.IndexFunc(old, func(n Named) bool { return n.Label == label }); j >= 0 {
			use, same = old[j].Use, old[j].Same
		}
		g.Settings = append(g.Settings, Named{Label: label, Shots: 1, Use: use, Same: same})
	}
}

func (m *Model) indexOf(all []club.Setting, s club.Setting) int {
	return slices.IndexFunc(all, s.Equal)
}

// UseSetting says which of the head's settings a name in the file stands for;
// -1 keeps the file's words.
func (m *Model) UseSetting(label string, use int) {
	s := slices.Clone(m.s.Reading.Settings)
	for i := range s {
		if s[i].Label == label {
			s[i].Use, s[i].Same = use, ""
		}
	}
	m.s.Reading.Settings = s
	m.changed()
}

// SameSetting says that a name in the file means the setting that another name
// in it stands for: a slip of the pen, most often. What was said to be the
// same as label follows it.
func (m *Model) SameSetting(label, as string) {
	s := slices.Clone(m.s.Reading.Settings)
	for i := range s {
		if s[i].Label == label || s[i].Same == label {
			s[i].Use, s[i].Same = -1, as
		}
	}
	m.s.Reading.Settings = s
	m.changed()
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

// onceRead does what takes a file over, after it is read anew where it is: what
// is taken is what was said last.
func (m *Model) onceRead(do func()) {
	if g := &m.s.Reading; g.Phase == Working && g.Table != nil {
		g.then = do
		return
	}
	do()
}

// Accept puts the shots that were read at the end of the session.
func (m *Model) Accept() { m.onceRead(m.accept) }

func (m *Model) accept() {
	g := m.s.Reading
	if g.Table == nil && g.Own != nil { // a file of the store: its balls, into the open session
		g.Table = &shot.Table{Shots: Clone(*g.Own).Shots}
	}
	if g.Table == nil || len(g.Table.Shots) == 0 {
		return
	}
	waiting := m.waiting
	m.left(g.kept)
	m.s.Reading, m.waiting = Reading{}, nil
	if m.s.Session == nil || m.s.ReadOnly {
		m.anew(sameDay, func() { m.take(g, waiting) })
		return
	}
	m.take(g, waiting)
}

// take puts the shots of g into the open session and goes on to the files that
// wait.
func (m *Model) take(g Reading, waiting []File) {
	all := m.HeadSettings()
	known := shot.Repeats(m.s.Session.Shots, g.Table.Shots)
	added, arrived, day := 0, []string{}, m.day(*m.s.Session)
	if g.bay && !fresh(g, known) { // a cumulative file without a new ball
		m.waiting = waiting
		m.nextFile()
		return
	}
	m.Edit(Change{Key: "edit.file-added"}, func(s *shot.Session) {
		settleHead(s, g)
		line, lines := 0, g.lines()
		airs := s.TakeAirs(g.Table.Airs)
		fresh := make([]*shot.Shot, len(known))
		ids := freshIDs(s.Shots)
		for i, h := range g.Table.Shots {
			if known[i] >= 0 || g.from > 0 && h.Line <= g.from {
				continue
			}
			added++
			if meant := g.meant(h.Setting.Key(), all); meant != nil {
				h.Setting = cloneSetting(*meant)
			}
			for lines[line].From+lines[line].Balls <= i {
				line++
			}
			if use := lines[line].Use; use >= 0 && use < len(all) {
				h.Setting = cloneSetting(all[use])
			}
			if h.Session == "" {
				h.Session = day
			}
			h.ID = ids()
			h.Air += airs
			fresh[i] = &h
			arrived = append(arrived, h.ID)
		}
		countDown(s, added)
		s.Shots = placed(s.Shots, known, fresh)
		if s.Title == "" {
			s.Title = g.Name
		}
	})
	if n := len(g.Table.Shots); added > 0 && g.Table.Shots[n-1].Setting.Key() != "" {
		m.s.Next = nil // the file says how the last ball was hit
		m.keepNext()
	}
	m.came(g, arrived)
	m.waiting = waiting
	m.nextFile()
}

// fresh reports whether a file has a ball that is neither known nor older than
// the bay.
func fresh(g Reading, known []int) bool {
	for i, h := range g.Table.Shots {
		if known[i] < 0 && (g.from == 0 || h.Line > g.from) {
			return true
		}
	}
	return false
}

// placed puts new balls where they belong: each behind the known ball that
// stands before it in the file; those before the first known one in front of
// it; all at the end where none is known.
func placed(have []shot.Shot, known []int, fresh []*shot.Shot) []shot.Shot {
	first, behind := -1, map[int][]*shot.Shot{} // of indexes of have
	for _, k := range known {
		if k >= 0 {
			first = k
			break
		}
	}
	at := first - 1
	if first < 0 {
		at = len(have) - 1
	}
	for i, h := range fresh {
		if known[i] >= 0 {
			at = known[i]
		} else if h != nil {
			behind[at] = append(behind[at], h)
		}
	}
	out := make([]shot.Shot, 0, len(have)+len(fresh))
	for k := -1; k < len(have); k++ {
		if k >= 0 {
			out = append(out, have[k])
		}
		for _, h := range behind[k] {
			out = append(out, *h)
		}
	}
	return out
}

// OpenOwn opens the session that an export of this program holds as it was,
// beside what is stored. One with an answer was sent by somebody: it is shown
// as it was given until it is kept.
func (m *Model) OpenOwn() {
	own := m.s.Reading.Own
	if own == nil {
		return
	}
	if given := m.s.Reading.Given; given != nil {
		file := m.s.Reading.kept
		m.s.Reading = Reading{}
		m.Show(*own, given, true)
		m.shown = file // until it is kept or left: a reload finds it again
		return
	}
	if store.IsFile(m.s.Reading.bytes) {
		m.takeStored(m.s.Reading.bytes)
		return
	}
	file, err := store.Encode(*own)
	if err != nil {
		m.alert("error.restore", textArg("", err.Error()))
		return
	}
	m.takeStored(file)
}

// showStored says what a file of the store holds. Nothing of it is kept before
// the person says so.
func (m *Model) showStored(file []byte) {
	g := &m.s.Reading
	g.Phase = Ready
	in, err := store.Contents(file)
	switch {
	case err != nil:
		g.Phase, g.Error = Failed, err.Error()
		if key := store.Key(err); key != "" {
			g.Error = key
		}
	case len(in.Sessions) == 1 && in.Damaged+in.Records == 0:
		g.Own = &in.Sessions[0]
	default:
		g.Backup = &Backup{Sessions: len(in.Sessions), Clubs: in.Clubs, Shots: in.Shots, Records: in.Records}
	}
	m.changed()
}

// TakeBackup keeps all that the backup holds that is being looked at.
func (m *Model) TakeBackup() {
	if m.s.Reading.Backup != nil {
		m.takeStored(m.s.Reading.bytes)
	}
}

// takeStored adds what a file of the store holds and opens it when it is one
// session.
func (m *Model) takeStored(file []byte) {
	m.flush()
	m.elsewhere(func() func() {
		ctx := context.Background()
		n, err := m.kept().Import(ctx, file)
		var s shot.Session
		rev := 0
		if ids := append(n.IDs, n.Here...); err == nil && len(ids) == 1 {
			s, rev, err = m.kept().Get(ctx, ids[0])
		}
		return func() {
			m.left(m.s.Reading.kept)
			m.s.Reading = Reading{}
			if err == nil && rev > 0 {
				m.open(s, rev) // goes on to the next file
				m.say("notice.session-opened", false, textArg("", s.Title))
				m.takeRecords(n, 0)
				m.Relist()
				return
			}
			if err != nil {
				m.alert("error.restore", m.reason(err))
			} else {
				m.restored(n)
			}
			m.nextFile()
			m.Relist()
		}
	})
}

// settleHead gives a head that nobody described a table with the settings that
// the file names, so that an unknown club can be compared at once. What they do
// in degrees is left for the person to fill in. A table that an earlier file
// made grows; its names that no ball bears, as after another club, go.
func settleHead(s *shot.Session, g Reading) {
	h := &s.Head
	if s.Several() { // each of several clubs is described by hand, or cannot be set
		return
	}
	if len(h.Weights) > 0 || len(h.Sleeve.Rings) > 0 || slices.ContainsFunc(h.Sleeve.Table, func(p club.Position) bool { return !p.Unknown }) {
		return
	}
	names, used := []string{}, map[string]bool{}
	for _, n := range g.Settings {
		if n.Use < 0 && n.Label != "" && n.Same == "" {
			names = append(names, n.Label)
		}
		if n.Use >= 0 {
			used[g.meant(n.Label, h.Settings()).Key()] = true
		}
	}
	if len(names) == 0 {
		return
	}
	for _, x := range s.Shots {
		used[x.Setting.Key()] = true
	}
	h.Sleeve.Table = slices.DeleteFunc(h.Sleeve.Table, func(p club.Position) bool { return !used[p.Label] })
	for _, n := range names {
		h.Sleeve.Table = append(h.Sleeve.Table, club.Position{Label: n, Unknown: true})
	}
	if !used[h.Current.Sleeve] || h.Current.Sleeve == "" {
		h.Current = club.Setting{Sleeve: h.Sleeve.Table[0].Label}
	}
	for i := range g.Table.Shots {
		x := &g.Table.Shots[i]
		if k := x.Setting.Key(); k != "" {
			x.Setting = club.Setting{Sleeve: k}
		}
	}
}

// DropReading forgets the file that was read and goes on to the next.
func (m *Model) DropReading() { m.nextFile() }
