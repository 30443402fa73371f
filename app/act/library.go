package act

import (
	"context"
	"slices"
	"sort"
	"strings"

	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/store"
)

// Library is the list of stored sessions and what is done with them as a whole.
type Library struct {
	loop     *Loop
	notices  *Notices
	editor   *Editor
	keeper   *Keeper
	sessions *Sessions
	memory   *Memory
	heads    *Heads
	prefs    *Preferences

	state   Listing
	booted  bool
	offline bool
	gone    []deleted // since the page was opened
}

// Found lists the stored sessions whose title, player or club holds what is looked
// for, in the order of the list.
func (l *Library) Found(what string) (out []store.Head) {
	what = strings.ToLower(strings.TrimSpace(what))
	for _, h := range l.state.Entries {
		if strings.Contains(strings.ToLower(h.Title+"\n"+h.Player+"\n"+strings.Join(h.Clubs, "\n")), what) {
			out = append(out, h)
		}
	}
	return out
}

// KnownClub is a club that was described in a stored session.
type KnownClub struct{ Name, ID string }

// KnownClubs are the clubs that were described and that the open session does not
// hold, by name, each as it was described last.
func (l *Library) KnownClubs() (out []KnownClub) {
	seen := map[string]bool{}
	for _, h := range l.editor.session.All() {
		seen[strings.ToLower(h.Name)] = true
	}
	for _, e := range l.state.Entries { // the last changed first
		for _, name := range e.Clubs {
			if !seen[strings.ToLower(name)] {
				seen[strings.ToLower(name)] = true
				out = append(out, KnownClub{name, e.ID})
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// TakeClub adds a club as a stored session describes it, set as it was then; in place
// of a club that nobody has described or hit yet. mine is what the first one is
// called where it has no name.
func (l *Library) TakeClub(k KnownClub, mine string) {
	l.loop.elsewhere(func() func() {
		from, _, err := l.keeper.kept().Get(context.Background(), k.ID)
		return func() {
			at := from.ClubAt(k.Name)
			if err != nil || at < 0 {
				l.notices.Warn("error.open", Reason(store.ErrNotFound))
				return
			}
			h := Clone(from).All()[at]
			l.editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
				if b := s.Head; len(s.Shots) == 0 && !s.Several() && b.Name == "" && len(b.Sleeve.Rings)+len(b.Sleeve.Table)+len(b.Weights) == 0 {
					s.Head = h
					return
				}
				s.Front(s.AddClub(h, mine))
			})
		}
	})
}

type deleted struct{ id, title string }

// Listing is the list of stored sessions.
type Listing struct {
	Phase   Phase
	Entries []store.Head
	Error   report.Arg
	Health  store.Health
	Damaged []store.Blob // that cannot be read

	Unbacked int // sessions that no backup holds, when it is time to say so
}

// A backup is asked for when so many sessions changed since the last one, or one
// did so long ago: a browser may clear what is not installed after seven days
// without a visit.
const (
	manyUnbacked = 10
	longUnbacked = 7 * share.Day // [s]
)

// unbacked counts the sessions that changed since the last backup (both in
// seconds of Unix time); 0 while it is too early to say so.
func unbacked(list []store.Head, last, now int64) int {
	n, oldest := 0, now
	for _, h := range list {
		if h.Changed > last {
			n++
			oldest = min(oldest, h.Changed)
		}
	}
	if n < manyUnbacked && now-oldest < longUnbacked {
		return 0
	}
	return n
}

// sessionRemoved is the notice whose Undo is no edit's.
const sessionRemoved = "notice.session-removed"

func (l *Library) listed(list []store.Head, err error) {
	if err != nil {
		l.state.Phase, l.state.Error = Failed, Reason(err)
		return
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].Changed > list[j].Changed })
	l.state.Phase, l.state.Entries, l.state.Error = Ready, list, report.Arg{}
	l.state.Unbacked = unbacked(list, l.prefs.now.Backed, l.loop.deps.Now().Unix())
	l.memory.follow()
}

// healthy takes note of how things are kept.
func (l *Library) healthy(h store.Health) {
	l.state.Health, l.offline = h, !h.Lasting
	if h.Quarantined != len(l.state.Damaged) {
		l.Quarantine()
	}
}

// relisted brings the list's line of a session that was just saved up to date.
func (l *Library) relisted(s shot.Session, revision int) {
	i := slices.IndexFunc(l.state.Entries, func(h store.Head) bool { return h.ID == s.ID })
	if i < 0 {
		return
	}
	list := slices.Clone(l.state.Entries)
	h := &list[i]
	*h = store.HeadOf(s, revision, h.Size)
	l.listed(list, nil)
}

// Relist reads the list of sessions again.
func (l *Library) Relist() {
	l.loop.elsewhere(func() func() {
		ctx := context.Background()
		list, err := l.keeper.kept().List(ctx)
		health := l.keeper.kept().Health(ctx)
		return func() {
			l.listed(list, err)
			l.healthy(health)
			l.loop.changed()
		}
	})
}

// Delete removes a stored session. Undelete brings it back until the page is
// closed.
func (l *Library) Delete(id string) {
	if l.editor.session != nil && l.editor.session.ID == id {
		l.keeper.flush()
	}
	l.loop.elsewhere(func() func() {
		ctx := context.Background()
		s, _, err := l.keeper.kept().Get(ctx, id)
		if err == nil {
			err = l.keeper.kept().Delete(ctx, id)
		}
		return func() {
			if err != nil {
				l.notices.Warn("error.delete", Reason(err))
				return
			}
			l.gone = append(l.gone, deleted{id, s.Title})
			if l.editor.session != nil && l.editor.session.ID == id {
				l.sessions.close()
			}
			l.notices.Tell(sessionRemoved, true, textArg("", s.Title))
			l.Relist()
		}
	})
}

// CanUndelete reports whether a removed session can be brought back.
func (l *Library) CanUndelete() bool { return len(l.gone) > 0 }

// Undelete brings the last removed session back.
func (l *Library) Undelete() {
	n := len(l.gone)
	if n == 0 {
		return
	}
	d := l.gone[n-1]
	l.gone = l.gone[:n-1]
	l.loop.elsewhere(func() func() {
		err := l.keeper.kept().Restore(context.Background(), d.id)
		return func() {
			if err != nil {
				l.gone = append(l.gone, d)
				l.notices.Warn("error.save", Reason(err))
				return
			}
			l.notices.Tell("notice.session-back", false, textArg("", d.title))
			l.Relist()
		}
	})
}

// Backup hands all sessions to take as one file.
func (l *Library) Backup(take func(file []byte)) {
	l.keeper.flush()
	records := l.heads.taken()
	l.loop.elsewhere(func() func() {
		b, err := l.keeper.kept().Export(context.Background(), records...)
		return func() {
			if err != nil {
				l.notices.Warn("error.backup", Reason(err))
				return
			}
			take(b)
			l.prefs.Set(func(p *Prefs) { p.Backed = l.loop.deps.Now().Unix() })
			l.listed(l.state.Entries, nil)
			l.notices.Tell("notice.backup", false)
		}
	})
}

// Restore adds the sessions of a backup; none that is stored is lost.
func (l *Library) Restore(file []byte) {
	l.loop.elsewhere(func() func() {
		n, err := l.keeper.kept().Import(context.Background(), file)
		return func() {
			if err != nil {
				l.notices.Warn("error.restore", Reason(err))
				return
			}
			l.restored(n)
			l.Relist()
		}
	})
}

// restored says what came out of a file: what is new, what was here, and what
// of it is damaged. Its records of heads are added.
func (l *Library) restored(n store.Imported) {
	switch {
	case n.Damaged > 0:
		l.notices.Warn("error.restored", countArg(n.Added+n.Beside), countArg(n.Damaged))
	case n.Same > 0:
		l.notices.Tell("notice.restored-same", false, countArg(n.Added+n.Beside), countArg(n.Same))
	default:
		l.notices.Tell("notice.restored", false, countArg(n.Added+n.Beside))
	}
	l.heads.take(n, 0)
}

// Quarantine reads the blobs that cannot be read into Sessions.Damaged.
func (l *Library) Quarantine() {
	l.loop.elsewhere(func() func() {
		bad, err := l.keeper.kept().Quarantine(context.Background())
		return func() {
			if err == nil {
				l.state.Damaged = bad
				l.loop.changed()
			}
		}
	})
}

// Discard forgets one blob of the quarantine, by its key.
func (l *Library) Discard(key string) {
	l.loop.elsewhere(func() func() {
		err := l.keeper.kept().Discard(context.Background(), key)
		return func() {
			if err != nil {
				l.notices.Warn("error.delete", Reason(err))
			}
			l.Relist()
		}
	})
}
