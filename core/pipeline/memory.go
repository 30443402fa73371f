package pipeline

import (
	"fmt"
	"hash/fnv"
	"math"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/impact"
	"ferrule/core/message"
	"ferrule/core/record"
	"ferrule/core/report"
	"ferrule/core/response"
	"ferrule/core/seed"
	"ferrule/core/share"
	"ferrule/core/shot"
)

// Memory is what was learned before a session.
type Memory struct {
	Visits  []shot.Session           // of the same player with the same head
	Records []*record.Record         // of heads, by other players
	unread  map[*record.Record]error // why one that was given could not be read
}

// withoutOwn leaves the balls of today and of the earlier visits out of the records:
// they would count twice.
func (m Memory) withoutOwn(today shot.Session) Memory {
	if len(m.Records) == 0 {
		return m
	}
	marks := []uint64{Mark(today)}
	for _, v := range m.Visits {
		marks = append(marks, Mark(v))
	}
	given := m.Records
	m.Records = nil
	for _, r := range given {
		m.Records = append(m.Records, r.Without(marks))
	}
	return m
}

// recall adds what is remembered to the input of the fit. What cannot be used is
// left out, and a.visits and a.record say why.
func (a *analysis) recall(in *response.Input) {
	known := append([]shot.Shot(nil), a.s.Shots...)
	for i := range known { // as measured: level has brought them to another air
		known[i].Values = a.seen[i]
	}
	for _, v := range a.memory.Visits {
		e := report.Earlier{ID: v.ID, Title: v.Title, When: v.Created, Balls: len(v.Shots)}
		visit, why := a.visit(v, &known)
		if e.Why = why; why.Key == "" {
			e.Balls, e.Used = len(visit.Shots), true
			in.Earlier = append(in.Earlier, visit)
		}
		a.visits = append(a.visits, e)
	}
	in.Record = a.beliefs(in.Prior)
}

// visit prepares an earlier visit as a session by itself, in the air that today's
// answer is for. Of balls that today or another visit holds already, known, none
// is taken again.
func (a *analysis) visit(s shot.Session, known *[]shot.Shot) (out response.Visit, why report.Message) {
	if x, y := a.s.Player.Hand.OrRight(), s.Player.Hand.OrRight(); x != y {
		return out, report.Say("memory.other-hand")
	}
	if x, y := a.s.Player.Name, s.Player.Name; x != "" && y != "" && x != y {
		return out, report.Say("memory.other-player")
	}
	s = rightHanded(s)
	again := shot.Repeats(*known, s.Shots)
	shots := s.Shots
	s.Shots = nil
	names := a.callings(s)
	var diff message.Message
	for i, h := range shots {
		if again[i] < 0 {
			if h.Setting, diff = names(h.Setting); diff.Key == "" {
				s.Shots = append(s.Shots, h)
			}
		}
	}
	*known = append(*known, s.Shots...)
	switch {
	case len(s.Shots) == 0 && diff.Key != "":
		return out, message.Of("memory.other-head", diff)
	case len(s.Shots) == 0:
		return out, report.Say("memory.known")
	}
	s.Head, s.Clubs, s.Own, s.Aim = a.s.Head, a.s.Clubs, a.s.Own, a.s.Aim
	b := analysis{s: s, seed: a.seed}
	if err := b.balls(); err != nil {
		return out, message.Of("memory.unusable", err)
	}
	b.calibrate()
	b.env.Air = a.env.Air
	b.level()
	b.observe()
	if len(b.obs) == 0 {
		return out, message.Of("memory.unusable", b.noShots())
	}
	b.base = b.baseline()
	out = response.Visit{Shots: b.obs, Blocks: b.offsets()}
	if s.Created > 0 && a.s.Created > 0 {
		out.Days = math.Abs(float64(a.s.Created-s.Created)) / share.Day
	}
	return out, why
}

// callings returns what today's clubs call a setting of an earlier visit, or how
// its head is unlike all of today's. What nobody described keeps its name.
func (a *analysis) callings(s shot.Session) func(club.Setting) (club.Setting, message.Message) {
	type found struct {
		at   int
		diff message.Message
	}
	met := map[int]found{}
	today := a.s.All()
	return func(t club.Setting) (club.Setting, message.Message) {
		k := max(0, s.ClubAt(t.Club))
		h := *s.Club(k)
		f, known := met[k]
		if !known {
			for f.at = range today {
				if !described(h) && len(today) == 1 {
					break
				}
				if f.diff = today[f.at].Unlike(h); f.diff.Key == "" {
					break
				}
			}
			met[k] = f
		}
		if f.diff.Key != "" {
			return t, f.diff
		}
		list, err := today[f.at].Translate(h, []club.Setting{t.Of("")})
		if err != nil {
			return t, message.From(err)
		}
		if len(today) > 1 {
			return list[0].Of(today[f.at].Name), f.diff
		}
		return list[0], f.diff
	}
}

func described(h club.Head) bool {
	return len(h.Sleeve.Rings)+len(h.Sleeve.Table)+len(h.Weights) > 0
}

// beliefs are the records' for this player; physics is what the textbook says of
// the player's own ball. Each record is of one of the heads, whose adjustments do
// alike (response): where there are several, each has its share of what is believed.
func (a *analysis) beliefs(physics impact.Prior) (out []response.Belief) {
	used := 0
	for _, r := range a.memory.Records {
		said := report.Record{Head: r.Head.Name, Players: r.Players}
		list, why := a.believed(r, physics)
		if said.Why = why; why.Key == "" {
			said.Before = r.Trust()
			used++
		}
		for _, b := range list {
			out = append(out, response.Belief{Of: len(a.records), Features: r.Features, Mean: b.Mean, Cov: b.Cov, Weight: b.Weight * r.Trust()})
		}
		a.records = append(a.records, said)
	}
	for i := range out {
		out[i].Weight /= float64(used)
	}
	for i := range a.records {
		a.records[i].Before /= math.Max(1, float64(used))
	}
	return out
}

// believed is what a record says, or why it is left out.
func (a *analysis) believed(r *record.Record, physics impact.Prior) (list []record.Belief, why report.Message) {
	if err := a.memory.unread[r]; err != nil {
		return nil, message.Of("memory.unusable", err)
	}
	heads := a.clubs.heads
	if heads == nil {
		heads = []club.Head{a.head}
	}
	err := r.OfAny(heads)
	if err != nil {
		return nil, message.Of("memory.other-head", err)
	}
	switch {
	case r.Features == nil:
		return nil, report.Say("memory.empty")
	case len(r.Seen) == 0:
		return nil, report.Say("memory.known")
	}
	mean, cov := response.Textbook(physics, r.Features)
	if list, err = r.Beliefs(mean, cov); err != nil {
		return nil, message.Of("memory.unusable", err)
	}
	return list, why
}

// gaveWay is the share of its weight that a record must lose before it is said to
// contradict the player's balls.
const gaveWay = .5

// remembered writes what the earlier visits and the record were worth.
func (a *analysis) remembered(r *report.Report) {
	at := 0
	for i := range a.visits {
		if v := &a.visits[i]; v.Used {
			v.Adds = a.response.Adds[at]
			v.Why = report.Say("memory.adds", report.Count(v.Balls), report.Count(int(math.Round(v.Adds))))
			at++
		}
	}
	r.Earlier = a.visits
	players := 0.0
	met := map[uint64]bool{}
	for i := range a.records {
		m := &a.records[i]
		if m.Before == 0 {
			continue
		}
		fresh := 0.0 // who hit two of the heads counts once
		for _, mark := range a.memory.Records[i].Seen {
			if !met[mark] {
				met[mark] = true
				fresh++
			}
		}
		players += m.Players * fresh / float64(len(a.memory.Records[i].Seen))
		m.After = a.response.Trusted[i]
		key := "memory.record"
		if m.After < gaveWay*m.Before {
			key = "memory.record.gave-way"
		}
		m.Why = report.Say(key, report.Count(int(math.Round(m.Players))))
	}
	counted(r, at, int(math.Round(players)))
	r.Records = a.records
}

// counted writes how many earlier visits and other players an answer counts.
func counted(r *report.Report, visits, players int) {
	r.Beside = report.Beside{Visits: visits, Players: players}
	switch {
	case visits > 0 && players > 0:
		r.Recalled = []report.Message{report.Say("memory.both", report.Count(visits), report.Count(players))}
	case visits > 0:
		r.Recalled = []report.Message{report.Say("memory.visits", report.Count(visits))}
	case players > 0:
		r.Recalled = []report.Message{report.Say("memory.players", report.Count(players))}
	}
}

// ErrTaught says that a record has a session already.
var ErrTaught = message.New("problem.record-has")

// Teach adds what one player's sessions say to the record of their head, by a
// quick fit of each; the player counts once. Errors: ErrTaught when the record has
// all of them, record.ErrOther, record.ErrFull, or why a session says nothing.
func Teach(r *record.Record, sessions ...shot.Session) error {
	p, err := pooled(r, sessions)
	if err != nil {
		return err
	}
	return r.Add(p)
}

// Player is what a session says of the head of r, which is only read.
func Player(r *record.Record, s shot.Session) (record.Player, error) {
	mark := Mark(s)
	s, err := onlyHead(s, r)
	if err != nil {
		return record.Player{}, err
	}
	k, err := know(s)
	if err == nil && len(k.Features) == 0 {
		err = message.New("problem.no-adjustment")
	}
	return record.Player{Features: k.Features, Info: k.Info, Vec: k.Vec, Seen: []uint64{mark}}, err
}

// onlyHead is the part of a session that was hit with the record's head.
func onlyHead(s shot.Session, r *record.Record) (shot.Session, error) {
	var err error
	for k, h := range s.All() {
		if err = r.Of(h); err != nil {
			continue
		}
		shots := s.Shots
		s.Shots = nil
		for _, x := range shots {
			if s.ClubAt(x.Setting.Club) == k {
				x.Setting.Club = ""
				s.Shots = append(s.Shots, x)
			}
		}
		s.Head, s.Clubs, s.Own = h, nil, ""
		return s, nil
	}
	return s, err
}

// know is what a session says of the effects.
func know(s shot.Session) (response.Knowledge, error) {
	if err := s.Bounded(); err != nil {
		return response.Knowledge{}, err
	}
	a := analysis{s: rightHanded(s), seed: seed.Seed(1)}
	if err := a.balls(); err != nil {
		return response.Knowledge{}, err
	}
	if wholeLaunches(a.s) {
		a.s.Conditions.Indoors = true // no flight stands for a launch number: none is looked at
	}
	in, err := a.input()
	if err != nil {
		return response.Knowledge{}, err
	}
	return response.Summary(in)
}

// wholeLaunches reports whether every ball's launch was measured.
func wholeLaunches(s shot.Session) bool {
	for _, x := range s.Shots {
		if _, has := launchOf(x.Values); has != ([response.K]bool{true, true, true, true, true}) {
			return false
		}
	}
	return true
}

// Mark tells sessions apart by their balls, in whatever order and file they
// stand, without saying anything of them.
func Mark(s shot.Session) uint64 {
	var sum uint64
	for _, x := range s.Shots {
		h := fnv.New64a()
		text, _ := x.Values.Print()
		fmt.Fprint(h, text, "|", x.Setting.Key())
		sum += h.Sum64()
	}
	h := fnv.New64a()
	fmt.Fprint(h, sum, frame.Hand(s.Player.Hand).OrRight())
	return h.Sum64()
}
