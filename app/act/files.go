package act

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/store"
)

// Files takes files in, one after the other, and what is in them into a session.
// What is said of the file that is read is the Reader's.
type Files struct {
	loop     *Loop
	notices  *Notices
	editor   *Editor
	keeper   *Keeper
	drafts   *Drafts
	bay      *Bay
	reader   *Reader
	library  *Library
	sessions *Sessions
	heads    *Heads

	waiting []File // after the one that is read
	number  int    // of files that came in
	shown   string // key in the journal of the file whose session is shown
}

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

// TakeIn takes the balls of a file into the open session, to the setting that is
// set. What the file leaves open is asked, as of any file.
func (fs *Files) TakeIn(name string, data []byte, from int) {
	fs.add(File{Name: name, Bytes: data, Bay: fs.editor.session != nil && !fs.editor.readOnly && from >= 0, From: max(0, from)})
}

// keep writes the files that are not in the journal to it. It returns when
// the journal was told; note says when it is on the disk.
func (fs *Files) keep() {
	for i := range fs.waiting {
		f := &fs.waiting[i]
		if f.kept == "" && len(f.Bytes) <= maxFile {
			fs.number++
			f.kept = filesKey + strconv.FormatInt(fs.loop.deps.Now().UnixMilli(), 36) + "-" + strconv.Itoa(1000+fs.number)
			fs.keeper.note(f.kept, f.Name+"\x00"+string(f.Bytes))
		}
	}
}

// left forgets a file that was taken over or left.
func (fs *Files) left(f string) {
	if f != "" {
		fs.keeper.note(f, "")
	}
}

// takeUp takes the files up again that waited when the page went.
func (fs *Files) takeUp() {
	if len(fs.waiting) > 0 || fs.reader.state.Phase != Idle {
		return
	}
	for _, key := range fs.loop.deps.Pocket.Keys(filesKey) {
		name, data, _ := strings.Cut(fs.loop.deps.Pocket.Load(key), "\x00")
		fs.waiting = append(fs.waiting, File{Name: name, Bytes: []byte(data), kept: key})
	}
	if len(fs.waiting) > 0 {
		fs.next()
	}
}

// WhenKept calls then, away from the screen, once the files that came in are on
// the disk.
func (fs *Files) WhenKept(then func()) {
	fs.loop.elsewhere(func() func() { fs.keeper.wait(); then(); return func() {} })
}

// Open asks what a file or a pasted text holds. The session stays as it
// is until Accept.
func (fs *Files) Open(name string, data []byte) { fs.OpenAll([]File{{Name: name, Bytes: data}}) }

// OpenAll reads files one after the other: the next is shown once the one
// before it has been taken over or left. A file that is being looked at comes
// again after them.
func (fs *Files) OpenAll(files []File) {
	fs.waiting = append(slices.Clone(files), fs.unread()...)
	fs.reader.leave() // it waits again
	fs.keep()
	fs.next()
}

// Add reads a file after those that came before it; a fresh one makes a
// session of its own.
func (fs *Files) Add(name string, data []byte, fresh bool) {
	fs.add(File{Name: name, Bytes: data, Fresh: fresh})
}

func (fs *Files) add(f File) {
	fs.waiting = append(slices.Clone(fs.waiting), f)
	fs.keep()
	if g := fs.reader.state; g.Phase == Working || g.Phase == Ready {
		fs.reader.wait()
		fs.loop.changed()
		return
	}
	fs.next()
}

// unread are the files that were neither taken over nor left, the one that is
// shown first.
func (fs *Files) unread() []File {
	return append(fs.reader.file(), fs.waiting...)
}

// shut has the file that is looked at wait again, and leaves one whose session was
// shown.
func (fs *Files) shut() {
	fs.waiting = fs.unread()
	fs.left(fs.shown)
	fs.shown = ""
	fs.reader.leave()
}

// next takes the first of the waiting files, if there is one.
func (fs *Files) next() {
	fs.left(fs.reader.leave().kept)
	fs.drafts.Drop(SplitField)
	if len(fs.waiting) == 0 {
		fs.loop.changed()
		return
	}
	f := fs.waiting[0]
	fs.waiting = fs.waiting[1:]
	fs.reader.begin(f)
}

// names lists the files that wait, for the screen.
func (fs *Files) names() (out []string) {
	for _, f := range fs.waiting {
		out = append(out, f.Name)
	}
	return out
}

// Accept puts the shots that were read at the end of the session.
func (fs *Files) Accept() { fs.reader.onceRead(fs.accept) }

func (fs *Files) accept() {
	g := fs.reader.state
	if g.Table == nil && g.Own != nil { // a file of the store: its balls, into the open session
		g.Table = &shot.Table{Shots: Clone(*g.Own).Shots}
	}
	if g.Table == nil || len(g.Table.Shots) == 0 {
		return
	}
	waiting := fs.waiting
	fs.left(fs.reader.leave().kept)
	fs.waiting = nil
	if fs.editor.session == nil || fs.editor.readOnly {
		fs.sessions.anew(sameDay, func() { fs.take(g, waiting) })
		return
	}
	fs.take(g, waiting)
}

// take puts the shots of g into the open session and goes on to the files that
// wait.
func (fs *Files) take(g Reading, waiting []File) {
	all := Settings(fs.editor.session)
	known := shot.Repeats(fs.editor.session.Shots, g.Table.Shots)
	added, arrived, day := 0, []string{}, fs.editor.day(*fs.editor.session)
	if g.bay && !fresh(g, known) { // a cumulative file without a new ball
		fs.waiting = waiting
		fs.next()
		return
	}
	fs.editor.Edit(Change{Key: "edit.file-added"}, func(s *shot.Session) {
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
			h.Session = cmp.Or(h.Session, day)
			h.ID = ids()
			h.Air += airs
			fresh[i] = &h
			arrived = append(arrived, h.ID)
		}
		countDown(s, added)
		s.Shots = placed(s.Shots, known, fresh)
		s.Title = cmp.Or(s.Title, g.Name)
	})
	if n := len(g.Table.Shots); added > 0 && g.Table.Shots[n-1].Setting.Key() != "" {
		fs.bay.setNext(nil) // the file says how the last ball was hit
	}
	fs.bay.came(g, arrived)
	fs.waiting = waiting
	fs.next()
}

// OpenOwn opens the session that an export of this program holds as it was,
// beside what is stored. One with an answer was sent by somebody: it is shown
// as it was given until it is kept.
func (fs *Files) OpenOwn() {
	own := fs.reader.state.Own
	if own == nil {
		return
	}
	if given := fs.reader.state.Given; given != nil {
		file := fs.reader.leave().kept
		fs.sessions.Show(*own, given, true)
		fs.shown = file // until it is kept or left: a reload finds it again
		return
	}
	if store.IsFile(fs.reader.state.bytes) {
		fs.takeStored(fs.reader.state.bytes)
		return
	}
	file, err := store.Encode(*own)
	if err != nil {
		fs.notices.Warn("error.restore", Reason(err))
		return
	}
	fs.takeStored(file)
}

// TakeBackup keeps all that the backup holds that is being looked at.
func (fs *Files) TakeBackup() {
	if fs.reader.state.Backup != nil {
		fs.takeStored(fs.reader.state.bytes)
	}
}

// takeStored adds what a file of the store holds and opens it when it is one
// session.
func (fs *Files) takeStored(file []byte) {
	fs.keeper.flush()
	fs.loop.elsewhere(func() func() {
		ctx := context.Background()
		n, err := fs.keeper.kept().Import(ctx, file)
		var s shot.Session
		rev := 0
		if ids := append(n.IDs, n.Here...); err == nil && len(ids) == 1 {
			s, rev, err = fs.keeper.kept().Get(ctx, ids[0])
		}
		return func() {
			fs.left(fs.reader.leave().kept)
			if err == nil && rev > 0 {
				fs.sessions.open(s, rev) // goes on to the next file
				fs.notices.Tell("notice.session-opened", false, textArg("", s.Title))
				fs.heads.take(n, 0)
				fs.library.Relist()
				return
			}
			if err != nil {
				fs.notices.Warn("error.restore", Reason(err))
			} else {
				fs.library.restored(n)
			}
			fs.next()
			fs.library.Relist()
		}
	})
}

// Drop forgets the file that was read and goes on to the next.
func (fs *Files) Drop() { fs.next() }

// AcceptNew makes a new session of the shots that were read, of the player whom
// the file names, with the club of the session that is open.
func (fs *Files) AcceptNew() { fs.reader.onceRead(fs.acceptNew) }

func (fs *Files) acceptNew() {
	g := fs.reader.state
	if g.Table == nil || len(g.Table.Shots) == 0 {
		return
	}
	waiting := fs.waiting
	fs.left(fs.reader.leave().kept)
	fs.waiting = nil
	who := ""
	if len(g.Table.Players) == 1 {
		who = g.Table.Players[0]
	}
	fs.sessions.anew(func(s *shot.Session, before shot.Session) {
		if other := before.Player.Name; who != "" && !strings.EqualFold(strings.TrimSpace(other), who) && other != "" {
			s.Head, s.Ball = before.Head, before.Ball
		} else {
			sameDay(s, before)
		}
	}, func() {
		if who != "" && fs.editor.session.Player.Name == "" {
			s := *fs.editor.session
			s.Player.Name = who
			fs.editor.hold(s)
		}
		g.Known = 0
		fs.take(g, waiting)
	})
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
