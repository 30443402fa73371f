// Package clean judges the shots of a session. It flags and explains; it
// deletes nothing, and a person's word (shot.Tag) overrules every rule.
//
// Review is the door. For each shot it says how it counts: counted, mis-hit
// (kept in the outcome, weighed down in effects), suspect (kept, the person is
// asked), impossible (a wrong record, not used) or left out; for the session
// it says what a careful fitter would see: drift, warm-up, one block for each
// setting, two things always changed together, mixed balls, shots twice.
//
// One rule holds for all settings alike, and a mis-hit is judged by the strike
// (speed, launch, spin, place on the face), never by where the ball went
// sideways. Limits without a source are trade practice or from memory and say so.
//
// Begin with Review and its example.
package clean

import (
	"cmp"
	"math"
	"slices"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// Flyer computes where a ball with these numbers flies: carry and apex [m].
// ok is false when too little was measured. nil means that nothing is compared
// with a flight model.
type Flyer func(shot.Values) (carry, apex float64, ok bool)

// Row is the judgement of one shot.
type Row struct {
	ID      string
	Line    int // in the file, 0 when typed
	Status  report.Status
	Reasons []report.Message // why it is not simply counted; empty when it is
	Weight  float64          // [1] in estimates of effects: 1 counted, 0 not used
	Vouched bool             // the person said so: counted in spite of the reasons
}

// Result is the judgement of a session.
type Result struct {
	Rows     []Row            // one for each of Session.Shots, in their order
	Findings []report.Finding // of the shots in their order, then of the session
	MainBall string           // the ball that is compared, "" = not named
	Mishits  map[string]int   // by Setting.Key, of the shots that count
	Balls    map[string]int   // by Setting.Key: counted and mis-hit
}

// Used reports whether a shot takes part in the analysis.
func (r Row) Used() bool { return r.Status != report.Impossible && r.Status != report.LeftOut }

// reviewer holds one review.
type reviewer struct {
	s     shot.Session
	key   []string // Setting.Key of each shot
	fly   Flyer
	rows  []Row
	kinds [][]string // the kind of each reason, for findings
	found []report.Finding
	main  string
}

// Review judges every shot of s and the session. It changes nothing in s. It
// needs no club data, no complete launches and no minimum of shots: rules that
// lack their numbers are silent.
func Review(s shot.Session, fly Flyer) Result {
	r := &reviewer{s: s, fly: fly, rows: make([]Row, len(s.Shots)), kinds: make([][]string, len(s.Shots))}
	for i, x := range s.Shots {
		r.key = append(r.key, x.Setting.Key())
		r.rows[i] = Row{ID: x.ID, Line: x.Line, Status: report.Counted, Weight: 1}
	}
	r.unplaced()
	r.balls()
	r.records()
	r.identities()
	r.duplicates()
	r.flights()
	r.mishits()
	r.overrule()
	r.shotFindings()
	r.session()
	out := Result{Rows: r.rows, Findings: r.found, MainBall: r.main, Mishits: map[string]int{}, Balls: map[string]int{}}
	for i, row := range r.rows {
		if row.Used() {
			out.Balls[r.key[i]]++
			if row.Status == report.Mishit {
				out.Mishits[r.key[i]]++
			}
		}
	}
	return out
}

// rank orders the states: a worse one stays.
func rank(s report.Status) int {
	switch s {
	case report.Suspect:
		return 1
	case report.Mishit:
		return 2
	case report.Impossible:
		return 3
	case report.LeftOut:
		return 4
	}
	return 0
}

// mark adds a reason to shot i and raises its state to at least status.
func (r *reviewer) mark(i int, status report.Status, weight float64, kind string, m report.Message) {
	row := &r.rows[i]
	row.Reasons = append(row.Reasons, m)
	r.kinds[i] = append(r.kinds[i], kind)
	if rank(status) > rank(row.Status) {
		row.Status = status
	}
	row.Weight = math.Min(row.Weight, weight)
}

// say adds a finding about the session.
func (r *reviewer) say(kind string, m report.Message) {
	r.found = append(r.found, report.Finding{Kind: kind, Text: m, Weight: 1})
}

// used lists the shots that are neither impossible nor left out; clean ones
// only when mishits is false.
func (r *reviewer) used(mishits bool) []int {
	var out []int
	for i, row := range r.rows {
		if row.Used() && (mishits || row.Status != report.Mishit) {
			out = append(out, i)
		}
	}
	return out
}

// unplaced leaves out the shots whose setting is none of the club's, and says
// so at each: there is nothing to compare them with.
func (r *reviewer) unplaced() {
	all := r.s.Settings()
	if len(all) < 2 {
		return
	}
	has := map[string]bool{}
	for _, s := range all {
		has[s.Key()] = true
	}
	for i, k := range r.key {
		switch {
		case has[k]:
		case k == "":
			r.mark(i, report.LeftOut, 0, "unplaced", report.Say("clean.unset"))
		default:
			r.mark(i, report.LeftOut, 0, "unplaced", report.Say("clean.unplaced", report.Label(k)))
		}
	}
}

// overrule applies what the person said of each shot.
func (r *reviewer) overrule() {
	for i, x := range r.s.Shots {
		row := &r.rows[i]
		switch x.Tag {
		case shot.TagGood:
			if slices.Contains(r.kinds[i], "unplaced") { // good or not, it has nothing to be compared with
				continue
			}
			if len(row.Reasons) > 0 {
				row.Vouched = true
			}
			row.Status, row.Weight = report.Counted, 1
		case shot.TagMishit, shot.TagToe, shot.TagHeel, shot.TagHigh, shot.TagLow:
			row.Status, row.Weight = report.Mishit, math.Min(row.Weight, taggedWeight)
			row.Weight = cmp.Or(row.Weight, taggedWeight)
			row.Reasons = append([]report.Message{report.Say("clean.tag." + string(x.Tag))}, row.Reasons...)
			r.kinds[i] = append([]string{"mis-hit"}, r.kinds[i]...)
		case shot.TagOut, shot.TagWarmup: // nothing else is said of it
			row.Status, row.Weight = report.LeftOut, 0
			row.Reasons, r.kinds[i] = []report.Message{report.Say("clean.tag." + string(x.Tag))}, []string{"left-out"}
		}
	}
}

// taggedWeight is the weight of a shot that the person called a mis-hit: what
// the rule below gives to one about 3.5 spreads away.
const taggedWeight = 0.25

func (r *reviewer) shotFindings() {
	for i, row := range r.rows {
		if t := r.s.Shots[i].Tag; t == shot.TagOut || t == shot.TagWarmup {
			continue // left out by the person or with another club: no finding
		}
		for j, m := range row.Reasons {
			if row.Vouched { // said once
				r.found = append(r.found, report.Finding{ShotID: row.ID, Line: row.Line, Kind: "vouched", Text: report.Say("clean.vouched"), Weight: 1})
				break
			}
			r.found = append(r.found, report.Finding{ShotID: row.ID, Line: row.Line, Kind: r.kinds[i][j], Text: m, Weight: row.Weight})
		}
	}
}

// value is a quantity's number in its own dimension.
func value(q shot.Quantity, v float64) report.Arg {
	k, _ := shot.KindOf(q)
	return report.Number(v, k.Dim, -1)
}
