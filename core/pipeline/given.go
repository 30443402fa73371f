package pipeline

import (
	"strconv"

	"ferrule/core/decide"
	"ferrule/core/export"
	"ferrule/core/message"
	"ferrule/core/record"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
)

// Given is the report of a session as it was given: the settings and the balls
// are the session's, every number of the answer is that of g. Nothing is worked
// out anew. The error says why session and answer do not belong together.
func Given(s shot.Session, g share.Given) (report.Report, error) {
	if err := s.Bounded(); err != nil {
		return report.Report{}, err
	}
	hand := s.Player.Hand
	a := analysis{s: rightHanded(s)}
	if err := a.prepare(); err != nil {
		return report.Report{}, err
	}
	a.place()
	r := report.Report{Version: int(g.Model), Given: true, Made: int64(g.Day) * share.Day, Request: hash(s, g.Seed), Seed: g.Seed, Title: s.Title,
		Goal: a.course.Goal, Head: a.head.Name, Balls: int(g.Balls), Ground: decide.GroundOf(a.course, a.s.Aim), Air: statedAir(a.env, a.s)}
	r.Answer.Setting, r.Answer.Other = -1, -1
	for i, st := range a.settings {
		r.Settings = append(r.Settings, report.Setting{Setting: st, Change: a.changes[i], PApex: 1, PCarry: 1, PLimits: 1, Feasible: true})
		if st.Key() == g.Today.Label {
			r.Reference = i
			r.Answer.Setting = i
		}
		if !g.Alone && st.Key() == g.Other.Label {
			r.Answer.Other = i
		}
	}
	if r.Answer.Setting < 0 || !g.Alone && r.Answer.Other < 0 {
		return report.Report{}, message.New("problem.answer-settings", strconv.Quote(g.Today.Label), strconv.Quote(g.Other.Label))
	}
	const most = record.MaxSeen
	counted(&r, int(min(g.Before[0], most)), int(min(g.Before[1], most)))
	a.judged(&r, g)
	r.Choice = report.Choice{Setting: r.Reference, Verdict: g.Verdict, Keep: g.Keep, Sure: g.Answer.Chance, RunnerUp: r.Answer.Other}
	if !g.Keep && !g.Alone {
		r.Answer.Setting, r.Choice.Setting, r.Choice.RunnerUp = r.Answer.Other, r.Answer.Other, -1
	}
	for _, v := range g.Visits {
		if v.Balls > 0 && v.Setting < uint64(len(r.Settings)) {
			r.Todo.Visits = append(r.Todo.Visits, report.Visit{Setting: int(v.Setting), Balls: int(v.Balls)})
		}
	}
	r.Todo.State = g.State
	handedBack(&r, hand)
	g.Apply(&r)
	return r, nil
}

// GivenIn is the answer that an export carries, nil if none. An answer that
// cannot be read is an error that says so; the session is good without it.
func GivenIn(f export.File) (*share.Given, error) {
	if f.Answer == "" {
		return nil, nil
	}
	g, err := share.ReadText(f.Answer, len(f.Session.Shots))
	if err == nil {
		_, err = Given(f.Session, *g) // a session that somebody changed no longer fits
	}
	if err != nil {
		return nil, message.New("problem.answer-unread")
	}
	return g, nil
}

// judged lists the balls with the judgements of g: what was not counted then is
// not counted now.
func (a *analysis) judged(r *report.Report, g share.Given) {
	for i, sh := range a.s.Shots {
		row := a.placed[i]
		row.ID, row.Line, row.Setting, row.Status, row.Weight = sh.ID, sh.Line, a.at[i], a.review.Rows[i].Status, 1
		if len(g.Status) == len(a.s.Shots) {
			row.Status = g.Status[i]
		}
		r.Shots = append(r.Shots, row)
		if row.Setting < 0 || row.Status == report.Impossible || row.Status == report.LeftOut {
			continue
		}
		st := &r.Settings[row.Setting]
		st.Tested = true
		st.Balls++
		if row.Status == report.Mishit {
			st.Mishits++
		}
	}
}
