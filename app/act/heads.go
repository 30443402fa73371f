package act

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"hash/crc32"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/wire"
)

// Heads has the records of heads: what many players' balls say of one.
type Heads struct {
	loop    *Loop
	notices *Notices
	editor  *Editor
	keeper  *Keeper
	library *Library
	answers *Answers
	memory  *Memory
	prefs   *Preferences

	state   Records
	records map[string]*HeadRecord // by their keys in the journal
}

// taken are the records of heads for a backup: what was taken from files.
// What this device's own players say is learned again from their sessions.
func (hs *Heads) taken() (out [][]byte) {
	for _, key := range hs.loop.deps.Pocket.Keys(recordsKey) {
		r := hs.records[key]
		if r == nil || len(r.Taken) == 0 {
			continue
		}
		if b, err := msgpack.Marshal(&HeadRecord{Head: r.Head, Taken: r.Taken, Theirs: r.Theirs}); err == nil {
			out = append(out, b)
		}
	}
	return out
}

// HasTaken reports whether a record of a head was taken from a file, which a backup
// holds beside the sessions.
func (hs *Heads) HasTaken() bool {
	for _, r := range hs.records {
		if len(r.Taken) > 0 {
			return true
		}
	}
	return false
}

// take adds the records of a backup to what is kept of their heads, one
// after the other, and says how many said something new. One that cannot be added is
// put aside and said.
func (hs *Heads) take(n store.Imported, added int) {
	if len(n.Records) == 0 {
		if added > 0 && !hs.notices.now.Alert {
			hs.notices.Tell("notice.restored-records", false, countArg(n.Added+n.Beside), countArg(added))
		}
		return
	}
	var in HeadRecord
	err := msgpack.Unmarshal(n.Records[0], &in)
	if err == nil {
		err = in.Head.Bounded()
	}
	have := hs.recordOf(in.Head)
	then := func(l *wire.Learned, err error) {
		now := hs.recordOf(in.Head)
		switch {
		case err != nil:
			hs.aside(string(n.Records[0]), err)
		case !bytes.Equal(now.Taken, have.Taken): // another was taken meanwhile
			hs.take(n, added)
			return
		case l.New > 0:
			now.Taken, now.Theirs = l.Record, l.Players
			hs.keep(now)
			added++
		}
		n.Records = n.Records[1:]
		hs.take(n, added)
	}
	if err != nil {
		then(nil, err)
		return
	}
	hs.learning(wire.Learn{OfHead: wire.OfHead{Head: have.Head, Record: have.Taken}, Other: in.Taken}, then)
}

// learning asks the worker and hands its answer, or why there is none, to then.
func (hs *Heads) learning(q wire.Learn, then func(*wire.Learned, error)) {
	hs.loop.elsewhere(func() func() {
		res, err := wrong(hs.loop.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Learn: &q}))
		return func() { then(res.Learned, err) }
	})
}

// aside keeps what cannot be used of a head, once, and says why.
func (hs *Heads) aside(record string, why error) {
	hs.keeper.note(spoiltKey+fmt.Sprint(crc32.ChecksumIEEE([]byte(record))), record)
	hs.notices.Warn("error.record-spoilt", Reason(why))
}

// recordsKey keeps what was learned of heads in the journal, a head each; what of
// it cannot be read is put aside under spoiltKey.
const (
	recordsKey = "ferrule.record/"
	spoiltKey  = "ferrule.spoilt-record/"
)

// HeadRecord is what is kept of one head.
type HeadRecord struct {
	Head   club.Head
	Taken  []byte   // from files, as one record; empty = none was taken
	Theirs float64  // players in it
	People []Person // of this device
}

// Person is one player of this device: what his sessions with the head say, by
// their ids, without a name.
type Person struct {
	Sessions map[string]int // revision of each when it was read
	Part     wire.Part      // empty = they say nothing
}

// Records is the work on the record of the open session's head.
type Records struct {
	Phase Phase
	Error error
	Offer *Offer // a file that was opened and waits for the person's word
}

// Offer is a record in a file: what it would add.
type Offer struct {
	Players float64
	New     int // sessions that are not here yet
	merged  []byte
	players float64 // in merged
	head    club.Head
}

func holds(s shot.Session, h club.Head) bool {
	return slices.ContainsFunc(s.All(), func(o club.Head) bool { return sameHead(h, o) })
}

// sameHead reports whether two heads are one by what is written on them; the
// analysis looks at what their settings do, and says so where they differ.
func sameHead(a, b club.Head) bool {
	kind := func(h club.Head) string { return cmp.Or(h.Kind, "driver") }
	return called(a.Name, b.Name) && kind(a) == kind(b) && math.Abs(a.Loft-b.Loft) < 1e-3 && len(a.Settings()) == len(b.Settings())
}

// Learnable are the heads of a session of which something can be learned, each once: the
// player's own first, which is there whatever it is.
func Learnable(s shot.Session) []club.Head {
	out := []club.Head{s.OwnClub()}
	for _, h := range s.All() {
		if len(h.Settings()) > 1 && !slices.ContainsFunc(out, func(o club.Head) bool { return sameHead(o, h) }) {
			out = append(out, h)
		}
	}
	return out
}

// Others is how many players of this device the record holds beside that of s.
func (hs *Heads) Others(r *HeadRecord) int {
	if hs.editor.session == nil {
		return 0
	}
	return len(r.others(*hs.editor.session, hs.memory.SamePlayer()))
}

// Of is what is kept of a head, and its key in the journal; nil = nothing.
func (hs *Heads) Of(h club.Head) (string, *HeadRecord) {
	for _, key := range hs.loop.deps.Pocket.Keys(recordsKey) {
		if r := hs.records[key]; r != nil && sameHead(r.Head, h) {
			return key, r
		}
	}
	return "", nil
}

// load reads the records of heads; one that cannot be read is put aside.
func (hs *Heads) load() {
	hs.records = map[string]*HeadRecord{}
	for _, key := range hs.loop.deps.Pocket.Keys(recordsKey) {
		r := new(HeadRecord)
		text := hs.loop.deps.Pocket.Load(key)
		if err := msgpack.Unmarshal([]byte(text), r); err != nil {
			hs.aside(text, err)
			hs.keeper.note(key, "")
			continue
		}
		hs.records[key] = r
	}
}

// keep stores what is known of a head and answers anew.
func (hs *Heads) keep(r HeadRecord) {
	key, _ := hs.Of(r.Head)
	if key == "" {
		key = recordsKey + hs.loop.deps.NewID()
	}
	if text, err := msgpack.Marshal(&r); err == nil {
		hs.records[key] = &r
		hs.keeper.note(key, string(text))
	}
	if s := hs.editor.session; s != nil && hs.editor.given == nil && holds(*s, r.Head) {
		hs.answers.anew()
	}
}

// recordOf is what is kept of a head, made where there is nothing.
func (hs *Heads) recordOf(h club.Head) HeadRecord {
	if _, r := hs.Of(h); r != nil {
		return *r
	}
	return HeadRecord{Head: h}
}

// Learn works out what the sessions of this device say of a head, those only that it
// does not know yet.
func (hs *Heads) Learn(h club.Head) {
	if hs.editor.session == nil || hs.state.Phase == Working {
		return
	}
	hs.keeper.flush()
	r := hs.recordOf(h)
	names := map[string][]store.Head{}
	var order []string
	for _, h := range hs.library.state.Entries {
		who := strings.ToLower(strings.TrimSpace(h.Player))
		if who == "" && !hs.prefs.now.Nameless {
			who = "\x00" + h.ID // anybody
		}
		if names[who] == nil {
			order = append(order, who)
		}
		names[who] = append(names[who], h)
	}
	hs.state = Records{Phase: Working}
	hs.loop.changed()
	hs.loop.elsewhere(func() func() {
		ctx := context.Background()
		var people []Person
		var err error
		for _, who := range order {
			p := Person{Sessions: map[string]int{}}
			var sessions []shot.Session
			for _, h := range names[who] {
				s, rev, e := hs.keeper.kept().Get(ctx, h.ID)
				if hs.loop.deps.Rest(); e != nil || !holds(s, r.Head) || len(s.Shots) == 0 {
					continue
				}
				p.Sessions[h.ID] = rev
				sessions = append(sessions, s)
			}
			if len(sessions) == 0 {
				continue
			}
			if k := slices.IndexFunc(r.People, func(o Person) bool { return maps.Equal(o.Sessions, p.Sessions) }); k >= 0 {
				people = append(people, r.People[k])
				continue
			}
			var res wire.Result // one player at a time: an analysis need not wait for all
			if res, err = wrong(hs.loop.deps.Worker.Do(ctx, wire.Request{Version: wire.Version, Learn: &wire.Learn{OfHead: wire.OfHead{Head: r.Head}, Players: [][]shot.Session{sessions}}})); err != nil {
				break
			}
			p.Part = res.Learned.Parts[0]
			people = append(people, p)
		}
		return func() {
			if hs.state.Phase = Ready; err != nil {
				hs.state = Records{Phase: Failed, Error: err}
				hs.loop.changed()
				return
			}
			r.People = people
			hs.keep(r)
		}
	})
}

// Save hands all that is known of a head to take, as a file without names and
// balls.
func (hs *Heads) Save(h club.Head, take func(file []byte)) {
	r := hs.recordOf(h)
	q := wire.Learn{OfHead: wire.OfHead{Head: r.Head, Record: r.Taken}}
	for _, p := range r.People {
		if len(p.Part.Seen) > 0 {
			q.Parts = append(q.Parts, p.Part)
		}
	}
	hs.learnt(q, func(l wire.Learned) { take(l.Record) })
}

// Open reads a record of a head from a file and asks before anything of it is
// kept.
func (hs *Heads) Open(h club.Head, file []byte) {
	if hs.editor.session == nil {
		return
	}
	r := hs.recordOf(h)
	q := wire.Learn{OfHead: wire.OfHead{Head: r.Head, Record: r.Taken}, Other: file}
	hs.learnt(q, func(l wire.Learned) {
		hs.state.Offer = &Offer{Players: l.Theirs, New: l.New, merged: l.Record, players: l.Players, head: r.Head}
		if l.New == 0 {
			hs.state.Offer = nil
			hs.notices.Tell("notice.record-known", false)
		}
	})
}

// AnswerOffer keeps the record that was opened, or leaves it.
func (hs *Heads) AnswerOffer(keep bool) {
	o := hs.state.Offer
	hs.state.Offer = nil
	if o == nil || !keep || hs.editor.session == nil {
		hs.loop.changed()
		return
	}
	r := hs.recordOf(o.head)
	r.Taken, r.Theirs = o.merged, o.players
	hs.keep(r)
	hs.notices.Tell("notice.record-kept", false)
}

// learnt asks the worker and hands its answer to then.
func (hs *Heads) learnt(q wire.Learn, then func(wire.Learned)) {
	hs.state = Records{Phase: Working}
	hs.loop.changed()
	hs.learning(q, func(l *wire.Learned, err error) {
		if hs.state = (Records{Phase: Ready}); err != nil {
			hs.state = Records{Phase: Failed, Error: err}
		} else {
			then(*l)
		}
		hs.loop.changed()
	})
}

// others are the parts of all but the player of s.
func (r *HeadRecord) others(s shot.Session, same []store.Head) (out []wire.Part) {
	for _, p := range r.People {
		_, own := p.Sessions[s.ID]
		for _, h := range same {
			_, too := p.Sessions[h.ID]
			own = own || too
		}
		if !own && len(p.Part.Seen) > 0 {
			out = append(out, p.Part)
		}
	}
	return out
}
