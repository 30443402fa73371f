package act

import (
	"context"
	"slices"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// Sessions opens a session, begins one and closes it: all other rooms then show
// that one.
type Sessions struct {
	loop    *Loop
	notices *Notices
	editor  *Editor
	keeper  *Keeper
	drafts  *Drafts
	balls   *Balls
	bay     *Bay
	files   *Files
	reader  *Reader
	answers *Answers
	memory  *Memory
	sheet   *Sheet
	prefs   *Preferences

	fetching string // the example that is on its way
}

// open shows a session that is stored at the given revision.
func (ss *Sessions) open(s shot.Session, revision int) { ss.openWith(s, revision, nil, false) }

// openWith is open, with the answer where it is worked out already or, given, comes
// with the session.
func (ss *Sessions) openWith(s shot.Session, revision int, worked *report.Report, given bool) {
	ss.keeper.flush()
	ss.answers.stop()
	ss.files.shut()
	shown, paper := Answer{}, Paper{}
	if was := ss.editor.session; was != nil && was.ID == s.ID && len(s.Shots) > 0 { // another tab's change: what is shown stays until it is worked out anew
		shown, paper = ss.answers.state.older(), ss.sheet.paper
		paper.Edition = shown.Edition
	}
	ss.editor.show(&s)
	ss.answers.show(shown)
	ss.sheet.paper = paper
	ss.drafts.show(s)
	ss.bay.show(s.ID)
	ss.keeper.show(s, revision)
	ss.prefs.Set(func(p *Prefs) { p.Last = s.ID })
	ss.balls.giveBack()
	switch {
	case given || !ss.answers.answerable() || !ss.prefs.now.Auto:
	case worked != nil && ss.memory.recall(s) == nil: // what was learned before is not in it
		worked.Made = s.Changed
		ss.answers.show(Answer{Phase: Ready, Value: worked, Edition: ss.editor.edition})
	default:
		ss.answers.Analyse()
	}
	if len(ss.files.waiting) > 0 {
		ss.files.next()
	}
	ss.loop.changed()
}

// Open opens a stored session.
func (ss *Sessions) Open(id string) { ss.stored(id, ss.open) }

// stored fetches a stored session, with its revision, or says that it cannot.
func (ss *Sessions) stored(id string, then func(s shot.Session, rev int)) {
	ss.keeper.flush()
	ss.loop.elsewhere(func() func() {
		s, rev, err := ss.keeper.kept().Get(context.Background(), id)
		return func() {
			if err != nil {
				ss.notices.Warn("error.open", Reason(err))
				return
			}
			then(s, rev)
		}
	})
}

// blank is a session with the documented defaults and a club that does not
// move yet.
func (ss *Sessions) blank() shot.Session {
	return shot.Session{
		Player: shot.Player{Hand: frame.Right},
		Head: club.Head{
			Kind: "driver",
			Loft: 10.5 * units.Degree,
			Lie:  58 * units.Degree,
			Mass: 200 * units.Gram,
			Hold: "between",
		},
	}
}

// New starts an empty session with the player, the aim and the club of
// the one before: a player seldom changes them on the same day.
func (ss *Sessions) New() {
	ss.anew(ss.follow, func() {})
}

// follow makes s the session after before, of the same player.
func (ss *Sessions) follow(s *shot.Session, before shot.Session) {
	sameDay(s, before)
	adopted(s, before)
	if ss.editor.day(before) != "" { // the wind of another day is nobody's
		s.Conditions.SetAir(shot.Air{Altitude: s.Conditions.Altitude})
	}
}

func sameDay(s *shot.Session, before shot.Session) {
	if before.Player.Invented() { // an example: nobody's name, aim or air
		clubOf(s, before)
		return
	}
	before.Aim.BallsLeft, before.Aim.MinutesLeft, before.Aim.Seen = 0, 0, 0 // of that session
	s.Player, s.Aim, s.Conditions, s.Ball = before.Player, before.Aim, before.Conditions, before.Ball
	s.Head, s.Clubs, s.Own = before.Head, before.Clubs, before.Own
	s.Conditions.SetAir(before.AirNumber(before.AirNow()))
}

// NewPlayer starts an empty session for somebody else, with the club of the one
// before: who waits for his turn at a fitter's hits the same. Nothing else is
// carried along: no name, no air, indoors or out.
func (ss *Sessions) NewPlayer() {
	ss.anew(clubOf, func() {})
}

// clubOf has s take the ball of the session before and its clubs; of several, not
// that player's own.
func clubOf(s *shot.Session, before shot.Session) {
	all := before.All()
	if own := before.OwnAt(); before.Several() {
		all = slices.Delete(all, own, own+1)
	}
	s.Head, s.Clubs, s.Ball = all[0], all[1:], before.Ball
}

// anew starts a session that keeps something of the one before. That is the
// open one, or the one that was open last: a person who is faster than the
// store, or who looks at somebody's link, does not begin with a blank club.
// then is done once the session is there.
func (ss *Sessions) anew(keep func(s *shot.Session, before shot.Session), then func()) {
	from := func(before shot.Session) {
		s := ss.blank()
		keep(&s, Clone(before))
		ss.begin(s)
		then()
	}
	blank := func() { ss.begin(ss.blank()); then() }
	last := ss.prefs.now.Last
	switch {
	case ss.editor.session != nil && !ss.editor.readOnly:
		from(*ss.editor.session)
	case last == "":
		blank()
	default:
		ss.loop.elsewhere(func() func() {
			before, _, err := ss.keeper.kept().Get(context.Background(), last)
			if err != nil { // removed, or not to be read
				return blank
			}
			return func() { from(before) }
		})
	}
}

// begin makes s a new session of this device.
func (ss *Sessions) begin(s shot.Session) { ss.beginWith(s, nil) }

func (ss *Sessions) beginWith(s shot.Session, worked *report.Report) {
	s.ID = ss.loop.deps.NewID()
	s.Created = ss.loop.deps.Now().Unix()
	s.Changed = s.Created
	ss.openWith(s, 0, worked, false)
	ss.keeper.markDirty()
}

// Example opens an invented session as a new one, with the answer that the site
// carries of it, or else the worker's. Of several taps before it is there one opens
// it; of two examples the one tapped last is opened.
func (ss *Sessions) Example(name string) {
	ss.fetching = name
	ss.answers.show(Answer{Phase: Working})
	ss.loop.changed()
	ss.loop.elsewhere(func() func() {
		res, err := ss.worked(name)
		return func() {
			if ss.fetching != name {
				return
			}
			ss.fetching = ""
			ss.answers.idle()
			switch {
			case err != nil:
				ss.notices.Warn("error.example", Reason(err))
			default:
				ss.beginWith(*res.Session, res.Report)
			}
			ss.loop.changed()
		}
	})
}

// worked is an example with its answer, as the site carries it; where it does not
// come, or is of another version, the example alone, from the worker.
func (ss *Sessions) worked(name string) (wire.Result, error) {
	if ss.loop.deps.Worked != nil {
		if res, err := wire.Unpack(ss.loop.deps.Worked(name), ss.loop.deps.Rest); err == nil && res.Version == wire.Version && res.Session != nil {
			return res, nil
		}
	}
	return wrong(ss.loop.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Example: &wire.Example{Name: name}}))
}

// Show opens a session that came by a link or, exact, by a file: it can be looked
// at, printed and kept, and it changes nothing that is stored. The answer that
// came with it is shown as it was given; Analyse works it out anew.
func (ss *Sessions) Show(s shot.Session, given *share.Given, exact bool) {
	last := ss.prefs.now.Last
	ss.openWith(s, 0, nil, given != nil)
	ss.editor.receive(given, exact)
	if given != nil {
		ss.answers.inquire(wire.Request{Version: wire.Version, Given: &wire.Given{Session: Clone(s), Answer: *given}})
	}
	ss.prefs.Set(func(p *Prefs) { p.Last = last }) // it is not stored: one's own opens next time
	ss.loop.changed()
}

// Keep makes a copy of a shown session one's own.
func (ss *Sessions) Keep() {
	if ss.editor.session == nil || !ss.editor.readOnly {
		return
	}
	s := Clone(*ss.editor.session)
	answer, edition, given, exact := ss.answers.state, ss.editor.edition, ss.editor.given, ss.editor.exact
	if s.ID = ss.loop.deps.NewID(); s.Created == 0 { // else it stays of its day
		s.Created, s.Changed = ss.loop.deps.Now().Unix(), ss.loop.deps.Now().Unix()
	}
	ss.open(s, 0)
	ss.keeper.markDirty()
	ss.editor.came(given, exact)                                                 // what is otherwise anew is still said
	if answer.Value != nil && !answer.Value.Given && answer.Edition == edition { // the numbers are the same
		ss.answers.stop()
		answer.Edition = ss.editor.edition
		ss.answers.show(answer)
	}
	ss.notices.Tell("notice.kept", false)
}

func (ss *Sessions) close() {
	ss.answers.stop()
	ss.editor.close()
	ss.answers.show(Answer{})
	ss.reader.leave()
	ss.keeper.close()
}

// NextVisit begins a session of the player of a stored one, with the clubs, the aim
// and what was taken up.
func (ss *Sessions) NextVisit(id string) {
	ss.stored(id, func(before shot.Session, _ int) {
		s := ss.blank()
		ss.follow(&s, before)
		ss.begin(s)
	})
}
