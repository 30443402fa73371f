package main

import (
	"strings"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// The JSON of `ferrule fit -json`, version 1. Keys may be added, not changed.
// Lengths are metres, angles radians, spins rad/s, differences strokes a
// drive against the current setting after re-aiming (negative = better).

type jsonInterval struct {
	Mean float64 `json:"mean"`
	Lo50 float64 `json:"lo50"`
	Hi50 float64 `json:"hi50"`
	Lo80 float64 `json:"lo80"`
	Hi80 float64 `json:"hi80"`
	Lo95 float64 `json:"lo95"`
	Hi95 float64 `json:"hi95"`
}

type jsonFinding struct {
	Line   int     `json:"line,omitempty"`
	Kind   string  `json:"kind"`
	Text   string  `json:"text"`
	Weight float64 `json:"weight"`
}

type jsonSetting struct {
	Sleeve     string                   `json:"sleeve"`
	Weights    []string                 `json:"weights"`
	Tested     bool                     `json:"tested"`
	Balls      int                      `json:"balls"`
	Mishits    int                      `json:"mis_hits"`
	Strokes    jsonInterval             `json:"strokes"`
	Difference jsonInterval             `json:"difference"`
	Carry      *jsonInterval            `json:"carry_m,omitempty"`
	Offline    *jsonInterval            `json:"offline_m,omitempty"`
	Apex       *jsonInterval            `json:"apex_m,omitempty"`
	PBest      float64                  `json:"p_best"`
	PBetter    float64                  `json:"p_better"`
	PRight     float64                  `json:"p_right"`
	PLeft      float64                  `json:"p_left"`
	PFairway   float64                  `json:"p_fairway"`
	AimRad     float64                  `json:"aim_rad"`
	Feasible   bool                     `json:"feasible"`
	Measured   float64                  `json:"measured_share"`
	Quantities map[string]*jsonInterval `json:"quantities"`
	Against    map[string]*jsonInterval `json:"differences"`
	Club       string                   `json:"club,omitempty"` // named where the session has several
}

type jsonChoice struct {
	Sleeve   string       `json:"sleeve"`
	Weights  []string     `json:"weights"`
	Verdict  string       `json:"verdict"`
	Keep     bool         `json:"keep"`
	Sure     float64      `json:"p_better"`
	Gain     jsonInterval `json:"gain_strokes"`
	Headline string       `json:"headline"`
	Why      []string     `json:"why"`
	Flips    []string     `json:"would_change"`
	Club     string       `json:"club,omitempty"` // named where the session has several
}

// jsonWorth is an amount of what is aimed for: unit is strokes (a round), carry
// ([m] a drive), fairways or window (of 20 drives).
type jsonWorth struct {
	Unit  string       `json:"unit"`
	Value jsonInterval `json:"value"`
}

type jsonCounts struct {
	Fairway int `json:"fairway"`
	Rough   int `json:"rough"`
	Trouble int `json:"trouble"`
	Window  int `json:"window"` // -1 = there is none
	Short   int `json:"short"`  // -1 = there is none
}

type jsonPlace struct {
	Carry  float64    `json:"carry_m"`
	Side   float64    `json:"side_m"`
	Height float64    `json:"height_m"`
	Aim    float64    `json:"aim_m"`
	Counts jsonCounts `json:"of_20_drives"`
}

// jsonAnswer is the one result; other is the setting that it compares with
// today's: the choice, or the nearest rival when the advice is to keep.
type jsonAnswer struct {
	Sleeve      string    `json:"other_sleeve"`
	Weights     []string  `json:"other_weights"`
	Chance      float64   `json:"p_better"`
	AimShare    float64   `json:"aim_share"`
	Gain        jsonWorth `json:"gain"`
	Moved       jsonWorth `json:"gain_aim_moved"`
	Still       jsonWorth `json:"gain_aim_left"`
	Prize       jsonWorth `json:"prize"`
	PrizeCarry  float64   `json:"prize_carry_m"`
	PrizeDrives float64   `json:"prize_drives_of_20"`
	Aiming      jsonWorth `json:"aiming_gives"`
	Limits      float64   `json:"p_limits"`
	Today       jsonPlace `json:"today"`
	Then        jsonPlace `json:"then"`
	State       string    `json:"state"` // go on, check, enough
	Club        string    `json:"other_club,omitempty"`
}

func answerJSON(r report.Report) *jsonAnswer {
	a := r.Answer
	if a.Other < 0 || a.Other >= len(r.Settings) {
		return nil
	}
	s := r.Settings[a.Other].Setting
	worth := func(w report.Worth) jsonWorth { return jsonWorth{string(w.Unit), jsonInterval(w.Value)} }
	place := func(p report.Place) jsonPlace {
		return jsonPlace{p.Carry, p.Side, p.Height, p.Aim, jsonCounts(p.Counts)}
	}
	return &jsonAnswer{s.Sleeve, list(s.Weights), a.Chance, a.Reaim, worth(a.Gain), worth(a.Moved), worth(a.Still), worth(a.Prize.Gain),
		a.Prize.Carry, a.Prize.Drives, worth(a.Prize.Aiming), a.Meets, place(a.Today), place(a.Then), string(r.Todo.State), s.Club}
}

type jsonNext struct {
	Sleeve  string   `json:"sleeve"`
	Weights []string `json:"weights"`
	Balls   int      `json:"balls"`
	Value   float64  `json:"value_strokes"`
	Minutes float64  `json:"minutes"`
	Why     string   `json:"why"`
	Club    string   `json:"club,omitempty"` // named where the session has several
}

type jsonVisit struct {
	Sleeve  string   `json:"sleeve"`
	Weights []string `json:"weights"`
	Balls   int      `json:"balls"`
	Done    int      `json:"done"`
	Why     string   `json:"why"`
	Club    string   `json:"club,omitempty"` // named where the session has several
}

type jsonStop struct {
	Stop bool    `json:"stop"`
	Risk float64 `json:"risk_strokes"`
	Why  string  `json:"why"`
}

// jsonMove is what one step of an adjustment does; each effect by its key, SI a step.
type jsonMove struct {
	Adjustment string                `json:"adjustment"`
	Step       string                `json:"step"`
	Tried      bool                  `json:"tried"`
	Effects    map[string]jsonEffect `json:"effects"`
	Text       string                `json:"text"`
}

type jsonEffect struct {
	Value    jsonInterval `json:"value"`
	Textbook jsonInterval `json:"textbook"`
	Measured float64      `json:"measured_share"`
}

// jsonVaried is the advice under other conditions (-vary).
type jsonVaried struct {
	Conditions string       `json:"conditions"`
	Sleeve     string       `json:"sleeve"`
	Weights    []string     `json:"weights"`
	Verdict    string       `json:"verdict"`
	Keep       bool         `json:"keep"`
	Sure       float64      `json:"p_better"`
	Gain       jsonInterval `json:"gain_strokes"`
	Same       bool         `json:"same"`
	Club       string       `json:"club,omitempty"` // named where the session has several
}

func withVariations(r jsonReport, vs []report.Variation, to text.Reader) jsonReport {
	for _, v := range vs {
		r.Varied = append(r.Varied, jsonVaried{to.Say(v.Text), v.Setting.Sleeve, list(v.Setting.Weights), string(v.Verdict), v.Keep, v.Sure, jsonInterval(v.Gain), v.Same, v.Setting.Club})
	}
	return r
}

type jsonDoubt struct {
	Text    string   `json:"text"`
	Sleeve  string   `json:"sleeve,omitempty"`
	Weights []string `json:"weights,omitempty"`
	Balls   int      `json:"balls,omitempty"`
	Club    string   `json:"club,omitempty"` // named where the session has several
}

type jsonReport struct {
	Version  int           `json:"version"`
	Seed     uint64        `json:"seed"`
	Balls    int           `json:"balls"`
	Findings []jsonFinding `json:"findings"`
	Settings []jsonSetting `json:"settings"`
	Choice   jsonChoice    `json:"choice"`
	Answer   *jsonAnswer   `json:"answer"`
	Next     *jsonNext     `json:"next"`
	Others   []jsonNext    `json:"next_others"`
	Stop     jsonStop      `json:"stop"`
	Plan     []jsonVisit   `json:"plan"`
	Conflict float64       `json:"prior_conflict"`
	Resquare jsonInterval  `json:"resquare_share"`
	Notes    []string      `json:"notes"`
	Moves    []jsonMove    `json:"moves"`
	Against  []string      `json:"contradictions"`
	Doubts   []jsonDoubt   `json:"doubts"`
	Varied   []jsonVaried  `json:"varied,omitempty"`
	Earlier  []jsonEarlier `json:"earlier_visits,omitempty"`
	Record   *jsonRecord   `json:"record,omitempty"` // the first of them
	Records  []jsonRecord  `json:"records,omitempty"`
	Clubs    []jsonOfClub  `json:"clubs,omitempty"`
	Given    bool          `json:"given,omitempty"` // as it came with the session; only today's and the other setting have numbers
	Anew     []string      `json:"anew,omitempty"`  // what is otherwise worked out anew
}

// jsonOfClub is one of several clubs at the setting that is best for the aim,
// against the player's own club, the first of the list, at its best.
type jsonOfClub struct {
	Club    string    `json:"club"`
	Sleeve  string    `json:"best_sleeve"`
	Weights []string  `json:"best_weights"`
	Balls   int       `json:"balls"`
	Gain    jsonWorth `json:"gain"`
	Carry   float64   `json:"carry_more_m"`
	PBetter float64   `json:"p_better"`
	PBest   float64   `json:"p_best"`
	Verdict string    `json:"verdict,omitempty"`
}

// contract turns a report into the documented JSON.
func contract(r report.Report, to text.Reader) jsonReport {
	out := jsonReport{Version: 1, Seed: r.Seed, Balls: r.Balls, Conflict: r.Conflict, Resquare: jsonInterval(r.Resquare),
		Findings: []jsonFinding{}, Settings: []jsonSetting{}, Others: []jsonNext{}, Plan: []jsonVisit{}, Notes: say(to, r.Notes),
		Moves: []jsonMove{}, Against: say(to, r.Against), Doubts: []jsonDoubt{}}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, jsonFinding{f.Line, f.Kind, to.Say(f.Text), f.Weight})
	}
	for _, s := range r.Settings {
		out.Settings = append(out.Settings, settingJSON(s))
	}
	if c := r.Choice; c.Setting >= 0 && c.Setting < len(r.Settings) {
		s := r.Settings[c.Setting].Setting
		out.Choice = jsonChoice{s.Sleeve, list(s.Weights), string(c.Verdict), c.Keep, c.Sure, jsonInterval(c.Gain), to.Say(c.Headline), say(to, c.Why), say(to, c.Flips), s.Club}
	}
	out.Answer = answerJSON(r)
	for i, n := range r.Next {
		s := r.Settings[n.Setting].Setting
		j := jsonNext{s.Sleeve, list(s.Weights), n.Balls, n.Value, n.Minutes, to.Say(n.Why), s.Club}
		if i == 0 {
			out.Next = &j
		} else {
			out.Others = append(out.Others, j)
		}
	}
	out.Stop = jsonStop{r.Stop.Stop, r.Stop.Risk, to.Say(r.Stop.Why)}
	for _, v := range r.Plan {
		s := r.Settings[v.Setting].Setting
		out.Plan = append(out.Plan, jsonVisit{s.Sleeve, list(s.Weights), v.Balls, v.Done, to.Say(v.Why), s.Club})
	}
	for _, m := range r.Moves {
		j := jsonMove{strings.TrimPrefix(m.Feature, "feature."), to.Word(m.Feature + ".step"), m.Tried, map[string]jsonEffect{}, to.Say(m.Text)}
		for _, e := range m.Effects {
			j.Effects[e.Quantity.Key()] = jsonEffect{jsonInterval(e.Value), jsonInterval(e.Textbook), e.Measured}
		}
		out.Moves = append(out.Moves, j)
	}
	for _, d := range r.Doubts {
		j := jsonDoubt{Text: to.Say(d.Text), Balls: d.Balls}
		if d.Setting >= 0 {
			j.Sleeve, j.Weights, j.Club = r.Settings[d.Setting].Setting.Sleeve, r.Settings[d.Setting].Setting.Weights, r.Settings[d.Setting].Setting.Club
		}
		out.Doubts = append(out.Doubts, j)
	}
	for _, c := range r.Clubs {
		s := r.Settings[c.Setting].Setting
		out.Clubs = append(out.Clubs, jsonOfClub{c.Name, s.Sleeve, list(s.Weights), c.Balls, jsonWorth{string(c.Gain.Unit), jsonInterval(c.Gain.Value)}, c.Carry, c.PBetter, c.PBest, string(c.Verdict)})
	}
	return out
}

func settingJSON(s report.Setting) jsonSetting {
	j := jsonSetting{Club: s.Setting.Club, Sleeve: s.Setting.Sleeve, Weights: list(s.Setting.Weights), Tested: s.Tested, Balls: s.Balls, Mishits: s.Mishits,
		Strokes: jsonInterval(s.Strokes), Difference: jsonInterval(s.Difference), PBest: s.PBest, PBetter: s.PBetter,
		PRight: s.PRight, PLeft: s.PLeft, PFairway: s.PFairway, AimRad: s.Aim, Feasible: s.Feasible, Measured: s.Measured,
		Quantities: map[string]*jsonInterval{}, Against: map[string]*jsonInterval{}}
	for _, a := range s.Quantities {
		v, d := jsonInterval(a.Value), jsonInterval(a.Difference)
		j.Quantities[a.Quantity.Key()], j.Against[a.Quantity.Key()] = &v, &d
	}
	j.Carry, j.Offline, j.Apex = j.Quantities[shot.Carry.Key()], j.Quantities[shot.Offline.Key()], j.Quantities[shot.Apex.Key()]
	return j
}

func list(s []string) []string { return append([]string{}, s...) }

func say(to text.Reader, ms []report.Message) []string {
	out := []string{}
	for _, m := range ms {
		out = append(out, to.Say(m))
	}
	return out
}
