package act

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/wire"
)

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
	Error string
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

// SamePlayer lists the stored sessions of the open session's player that are
// earlier than it, the newest first. Sessions without a name are one player's only
// where the person said so.
func (m *Model) SamePlayer() []store.Head {
	s := m.s.Session
	if s == nil || s.Player.Name == "" && !m.s.Prefs.Nameless {
		return nil
	}
	return m.earlier(*s, s.Player.Name)
}

// Nameless reports whether earlier sessions without a name might be the player's.
func (m *Model) Nameless() bool {
	s := m.s.Session
	return s != nil && s.Player.Name == "" && len(m.earlier(*s, "")) > 0
}

func (m *Model) earlier(s shot.Session, name string) (out []store.Head) {
	for _, h := range m.s.Sessions.Entries {
		if h.ID != s.ID && h.Shots > 0 && h.Created <= s.Created && called(h.Player, name) {
			out = append(out, h)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Created > out[j].Created })
	return out[:min(len(out), wire.MaxVisits)]
}

func called(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }

// recall returns a function that gathers, away from the screen, what was learned
// before s; nil = nothing was, or it is not wanted.
func (m *Model) recall(s shot.Session) func(ctx context.Context) *wire.Memory {
	out := &wire.Memory{}
	visits := m.visitsCounted()
	m.counted = printOf(visits)
	for _, h := range Heads(s) {
		if _, r := m.RecordOf(h); r != nil && !m.s.ReadOnly && !m.s.Prefs.NoRecord {
			of := wire.OfHead{Head: h, Record: r.Taken, Parts: r.others(s, m.SamePlayer())}
			if len(of.Record)+len(of.Parts) > 0 {
				out.Heads = append(out.Heads, of)
			}
		}
	}
	if len(visits)+len(out.Heads) == 0 {
		return nil
	}
	return func(ctx context.Context) *wire.Memory {
		for _, h := range visits {
			v, _, err := m.kept().Get(ctx, h.ID)
			if err != nil {
				continue // removed meanwhile, or damaged: the list says so
			}
			v.Player.Name = s.Player.Name // by another spelling
			out.Visits = append(out.Visits, v)
			m.deps.Rest()
		}
		return out
	}
}

// visitsCounted are the earlier visits that count.
func (m *Model) visitsCounted() []store.Head {
	if m.s.ReadOnly || m.s.Prefs.Alone {
		return nil
	}
	return m.SamePlayer()
}

// printOf is a text that tells lists of visits apart.
func printOf(visits []store.Head) string {
	text := ""
	for _, h := range visits {
		text += fmt.Sprint(h.ID, " ", h.Revision, "\n")
	}
	return text
}

// followVisits has the answer worked out anew where other visits count by now: one
// was removed, or brought back, or the player has a name.
func (m *Model) followVisits() {
	if a := m.s.Answer; (a.Value != nil || a.Phase == Working) && m.s.Given == nil && m.counted != printOf(m.visitsCounted()) {
		m.recalled()
	}
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

// Others is how many players of this device the record holds beside that of s.
func (m *Model) Others(r *HeadRecord) int {
	if m.s.Session == nil {
		return 0
	}
	return len(r.others(*m.s.Session, m.SamePlayer()))
}

// RecordOf is what is kept of a head, and its key in the journal; nil = nothing.
func (m *Model) RecordOf(h club.Head) (string, *HeadRecord) {
	for _, key := range m.deps.Pocket.Keys(recordsKey) {
		if r := m.records[key]; r != nil && sameHead(r.Head, h) {
			return key, r
		}
	}
	return "", nil
}

// loadRecords reads the records of heads; one that cannot be read is put aside.
func (m *Model) loadRecords() {
	m.records = map[string]*HeadRecord{}
	for _, key := range m.deps.Pocket.Keys(recordsKey) {
		r := new(HeadRecord)
		text := m.deps.Pocket.Load(key)
		if err := msgpack.Unmarshal([]byte(text), r); err != nil {
			m.recordAside(text, err)
			m.note(key, "")
			continue
		}
		m.records[key] = r
	}
}

// keepRecord stores what is known of a head and answers anew.
func (m *Model) keepRecord(r HeadRecord) {
	key, _ := m.RecordOf(r.Head)
	if key == "" {
		key = recordsKey + m.deps.NewID()
	}
	if text, err := msgpack.Marshal(&r); err == nil {
		m.records[key] = &r
		m.note(key, string(text))
	}
	if s := m.s.Session; s != nil && m.s.Given == nil && holds(*s, r.Head) {
		m.recalled()
	}
}

// recalled has the answer worked out anew: what is counted beside today's balls is
// another.
func (m *Model) recalled() {
	m.s.Answer.Edition = -1
	m.s.Edition++
	m.schedule()
	m.changed()
}

// Count says which of what was learned before is counted.
func (m *Model) Count(f func(*Prefs)) {
	m.SetPrefs(f)
	m.recalled()
}

// Heads are those of a session of which something can be learned, each once: the
// player's own first, which is there whatever it is.
func Heads(s shot.Session) []club.Head {
	out := []club.Head{s.OwnClub()}
	for _, h := range s.All() {
		if len(h.Settings()) > 1 && !slices.ContainsFunc(out, func(o club.Head) bool { return sameHead(o, h) }) {
			out = append(out, h)
		}
	}
	return out
}

// recordOf is what is kept of a head, made where there is nothing.
func (m *Model) recordOf(h club.Head) HeadRecord {
	if _, r := m.RecordOf(h); r != nil {
		return *r
	}
	return HeadRecord{Head: h}
}

// Learn works out what the sessions of this device say of a head, those only that it
// does not know yet.
func (m *Model) Learn(h club.Head) {
	if m.s.Session == nil || m.s.Records.Phase == Working {
		return
	}
	m.flush()
	r := m.recordOf(h)
	names := map[string][]store.Head{}
	var order []string
	for _, h := range m.s.Sessions.Entries {
		who := strings.ToLower(strings.TrimSpace(h.Player))
		if who == "" && !m.s.Prefs.Nameless {
			who = "\x00" + h.ID // anybody
		}
		if names[who] == nil {
			order = append(order, who)
		}
		names[who] = append(names[who], h)
	}
	m.s.Records = Records{Phase: Working}
	m.changed()
	m.elsewhere(func() func() {
		ctx := context.Background()
		var people []Person
		var err error
		for _, who := range order {
			p := Person{Sessions: map[string]int{}}
			var sessions []shot.Session
			for _, h := range names[who] {
				s, rev, e := m.kept().Get(ctx, h.ID)
				if m.deps.Rest(); e != nil || !holds(s, r.Head) || len(s.Shots) == 0 {
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
			if res, err = m.deps.Worker.Do(ctx, wire.Request{Version: wire.Version, Learn: &wire.Learn{OfHead: wire.OfHead{Head: r.Head}, Players: [][]shot.Session{sessions}}}); err == nil && res.Learned == nil {
				err = errors.New(res.Error)
			}
			if err != nil {
				break
			}
			p.Part = res.Learned.Parts[0]
			people = append(people, p)
		}
		return func() {
			if m.s.Records.Phase = Ready; err != nil {
				m.s.Records = Records{Phase: Failed, Error: err.Error()}
				m.changed()
				return
			}
			r.People = people
			m.keepRecord(r)
		}
	})
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

// SaveRecord hands all that is known of a head to take, as a file without names and
// balls.
func (m *Model) SaveRecord(h club.Head, take func(file []byte)) {
	r := m.recordOf(h)
	q := wire.Learn{OfHead: wire.OfHead{Head: r.Head, Record: r.Taken}}
	for _, p := range r.People {
		if len(p.Part.Seen) > 0 {
			q.Parts = append(q.Parts, p.Part)
		}
	}
	m.learnt(q, func(l wire.Learned) { take(l.Record) })
}

// OpenRecord reads a record of a head from a file and asks before anything of it is
// kept.
func (m *Model) OpenRecord(h club.Head, file []byte) {
	if m.s.Session == nil {
		return
	}
	r := m.recordOf(h)
	q := wire.Learn{OfHead: wire.OfHead{Head: r.Head, Record: r.Taken}, Other: file}
	m.learnt(q, func(l wire.Learned) {
		m.s.Records.Offer = &Offer{Players: l.Theirs, New: l.New, merged: l.Record, players: l.Players, head: r.Head}
		if l.New == 0 {
			m.s.Records.Offer = nil
			m.say("notice.record-known", false)
		}
	})
}

// AnswerOffer keeps the record that was opened, or leaves it.
func (m *Model) AnswerOffer(keep bool) {
	o := m.s.Records.Offer
	m.s.Records.Offer = nil
	if o == nil || !keep || m.s.Session == nil {
		m.changed()
		return
	}
	r := m.recordOf(o.head)
	r.Taken, r.Theirs = o.merged, o.players
	m.keepRecord(r)
	m.say("notice.record-kept", false)
}

// learnt asks the worker and hands its answer to then.
func (m *Model) learnt(q wire.Learn, then func(wire.Learned)) {
	m.s.Records = Records{Phase: Working}
	m.changed()
	m.learning(q, func(l *wire.Learned, err error) {
		if m.s.Records = (Records{Phase: Ready}); err != nil {
			m.s.Records = Records{Phase: Failed, Error: err.Error()}
		} else {
			then(*l)
		}
		m.changed()
	})
}
