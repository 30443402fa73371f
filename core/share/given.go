package share

import (
	"math"
	"sync"

	"ferrule/core/frame"
	"ferrule/core/jsontext"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Given is an answer as it was given: what a link and a file carry of a report
// beside the session, so that whoever opens them reads the same numbers. The
// analysis itself rounds its answer to the steps of answerFields (Round), so
// that a number shown before it was sent and one shown afterwards never differ.
type Given struct {
	Day      uint64 // [days] since 1970 that the analysis was made, 0 = unknown
	Model    uint64 // version of the analysis (report.Version)
	Seed     uint64 // of the analysis
	Left     bool   // left-handed
	Head     string // the user's name of the club
	Verdict  report.Verdict
	Keep     bool // leave the club as it is
	Alone    bool // there is no setting beside today's
	Balls    uint64
	Tested   uint64 // settings hit
	Settings uint64 // settings possible
	Unit     string // report.Unit of every gain of the answer
	Carry    Range  // [m] the other setting's carry against today's

	Answer report.Answer // Setting and Other are 0 and 1: today's and the other
	Today  Side
	Other  Side // the setting advised, or the nearest rival of today's
	State  report.State
	Visits [maxVisits]Visit // the next ones to hit; no balls = no visit
	Before [2]uint64        // earlier visits and other players that it counts

	Status []report.Status // of each shot of the session, as it was judged; nil in old links
}

// Side is one of the two settings that an answer speaks of.
type Side struct {
	Label string  // the user's labels, joined
	Balls uint64  // counted
	Known bool    // Loft, Lie and Face were described
	Loft  float64 // [rad] with the face square, against the untilted sleeve
	Lie   float64 // [rad] upright +
	Face  float64 // [rad] soled, open +
	Stats [len(given)]Stat
}

// Stat is what is expected of one quantity of package shot's, by given.
type Stat struct {
	Known      bool
	Value      Range
	Difference Range   // against today's setting
	Spread     float64 // [SI] from ball to ball, 0 = unknown
}

// Range is an estimate with the range that holds 8 times in 10.
type Range struct {
	Mean float64 // [SI]
	Lo   float64 // [SI]
	Hi   float64 // [SI]
}

// Visit is what to hit next.
type Visit struct {
	Setting uint64 // index in Report.Settings
	Balls   uint64
}

const maxVisits = 3

// Day is the step of dates in a link [s].
const Day = 86400

// given are the quantities of a side, in the order of a link. It only grows.
var given = [...]struct {
	quantity shot.Quantity
	step     float64 // [SI] a tenth of what is shown, or less
	order    int
}{
	{shot.Carry, .2, 10}, {shot.Offline, .2, 5}, {shot.Apex, .1, 8}, {shot.BallSpeed, .1, 9},
	{shot.Launch, .1 * units.Degree, 7}, {shot.Spin, 20 * units.RPM, 7}, {shot.Descent, .2 * units.Degree, 8},
}

func rangeOf(v report.Interval) Range { return Range{v.Mean, v.Lo80, v.Hi80} }

// interval is a range as an interval of which only the 80 % is known.
func (r Range) interval() report.Interval {
	return report.Interval{Mean: r.Mean, Lo50: r.Lo, Hi50: r.Hi, Lo80: r.Lo, Hi80: r.Hi, Lo95: r.Lo, Hi95: r.Hi}
}

// GiveOf takes the answer out of a report. One without settings gives an error.
func GiveOf(r report.Report) (Given, error) {
	today, other := r.Reference, r.Answer.Other
	if today < 0 || today >= len(r.Settings) || other >= len(r.Settings) {
		return Given{}, errNoChoice
	}
	g := Given{Day: uint64(max(r.Made, 0) / Day), Model: report.Version, Seed: r.Seed, Left: r.Hand == frame.Left, Head: r.Head, Verdict: r.Choice.Verdict, Keep: r.Choice.Keep,
		Alone: other < 0 || other == today, Balls: uint64(r.Balls), Settings: uint64(len(r.Settings)), Unit: string(r.Answer.Gain.Unit), Answer: r.Answer, Today: sideOf(r.Settings[today]), State: r.Todo.State}
	if !g.Alone {
		g.Other = sideOf(r.Settings[other])
		if a, ok := r.Settings[other].Of(shot.Carry); ok {
			g.Carry = rangeOf(a.Difference)
		}
	}
	g.Answer.Setting, g.Answer.Other = 0, 1
	if !g.Keep && !g.Alone {
		g.Answer.Setting = 1
	}
	for _, x := range r.Settings {
		if x.Tested {
			g.Tested++
		}
	}
	n := 0
	for _, v := range r.Todo.Visits {
		if n < maxVisits && v.Setting >= 0 && v.Setting < len(r.Settings) && v.Balls > v.Done {
			g.Visits[n] = Visit{uint64(v.Setting), uint64(v.Balls - v.Done)}
			n++
		}
	}
	g.Before = [2]uint64{uint64(r.Beside.Visits), uint64(r.Beside.Players)}
	for _, s := range r.Shots {
		g.Status = append(g.Status, s.Status)
	}
	return g, nil
}

// Differs says what an answer worked out anew says otherwise than g, and why,
// in sentences; none: it says the same. exact: the session came by a file, which
// rounds nothing.
func (g Given) Differs(anew report.Report, exact bool) (out []report.Message) {
	now, err := GiveOf(anew)
	if err != nil {
		return nil
	}
	if was, is := g.Advised(), now.Advised(); was != is || g.Verdict != now.Verdict {
		out = append(out, report.Say("shared.differs", report.Label(was), message.Key("verdict."+string(g.Verdict)), report.Label(is), message.Key("verdict."+string(now.Verdict))))
	}
	was, is := g.Answer, now.Answer
	if !g.Alone && !now.Alone && g.Unit != "" && (g.Other.Label != now.Other.Label || was.Chance != is.Chance || was.Gain.Value.Mean != is.Gain.Value.Mean) {
		out = append(out, report.Say("shared.differs.how", report.Label(g.Other.Label), report.Percent(was.Chance), report.Gained(was.Gain.Value.Mean, report.Unit(g.Unit)),
			report.Label(now.Other.Label), report.Percent(is.Chance), report.Gained(is.Gain.Value.Mean, is.Gain.Unit)))
	}
	switch {
	case len(out) == 0:
	case g.Verdict == report.CannotTell && now.Verdict == report.CannotTell && g.Balls == now.Balls: // whatever moved it
		out = append(out, report.Say("shared.why.even"))
	case g.Before != now.Before:
		out = append(out, report.Say("shared.why.before"))
	case g.Balls != now.Balls:
		out = append(out, report.Say("shared.why.balls", report.Count(int(g.Balls)), report.Count(int(now.Balls))))
	case exact || g.Model != report.Version:
		out = append(out, report.Say("shared.why.version"))
	default:
		out = append(out, report.Say("shared.why.rounded"))
	}
	return out
}

// Advised is the label of the setting advised.
func (g Given) Advised() string {
	if g.Answer.Setting == 1 && !g.Alone {
		return g.Other.Label
	}
	return g.Today.Label
}

func sideOf(s report.Setting) Side {
	out := Side{Label: s.Setting.Key(), Balls: uint64(max(s.Balls, 0)), Known: !s.Change.Unknown, Loft: s.Change.LoftSquare, Lie: s.Change.Upright, Face: s.Change.FaceSoled}
	for i, q := range given {
		if a, ok := s.Of(q.quantity); ok {
			out.Stats[i] = Stat{true, rangeOf(a.Value), rangeOf(a.Difference), a.Spread}
		}
	}
	return out
}

// Steps of an answer's numbers, [SI].
const (
	stepAngle = 0.1 * units.Degree
	stepCarry = 0.2 // [m]
	stepWorth = 0.05
)

// span are the fields of a range: its mean, how far it goes down, and how much
// farther up.
func span(name, from, when string, step float64, mean, side int, at func(*Given, int) *float64) []field {
	one := func(i int, part, from, less string, order int) field {
		return field{name: name + "." + part, form: formNumber, step: step, order: order, when: when, from: from, less: less, twice: less != "", at: func(g *Given) any { return at(g, i) }}
	}
	return []field{one(0, "mean", from, "", mean), one(1, "lo", name+".mean", "", side), one(2, "hi", name+".mean", name+".lo", 2)}
}

func (r *Range) part(i int) *float64 { return [...]*float64{&r.Mean, &r.Lo, &r.Hi}[i] }

// worth are the fields of a gain in the aim's unit.
func worth(name, when string, at func(*Given) *report.Worth) []field {
	return span(name, "", when, stepWorth, 4, 4, func(g *Given, i int) *float64 {
		v := &at(g).Value
		return [...]*float64{&v.Mean, &v.Lo80, &v.Hi80}[i]
	})
}

// amount is the field of a worth without an interval.
func amount(name string, at func(*Given) *report.Worth) field {
	return field{name: name, form: formNumber, step: stepWorth, order: 2, at: func(g *Given) any { return &at(g).Value.Mean }}
}

// counts are the fields of how drives end.
func counts(name, when string, at func(*Given) *report.Counts) []field {
	return []field{
		{name: name + ".fairway", form: formDrives, when: when, at: func(g *Given) any { return &at(g).Fairway }},
		{name: name + ".rough", form: formDrives, when: when, at: func(g *Given) any { return &at(g).Rough }},
		{name: name + ".trouble", form: formDrives, when: when, at: func(g *Given) any { return &at(g).Trouble }},
		{name: name + ".window", form: formDrives, when: when, at: func(g *Given) any { return &at(g).Window }},
		{name: name + ".short", form: formDrives, when: when, at: func(g *Given) any { return &at(g).Short }},
	}
}

// degrees are the fields of what a setting is.
func degrees(name, when string, at func(*Given) *Side) []field {
	known := name + ".known"
	return []field{
		{name: name + ".label", form: formLabel, when: when, at: func(g *Given) any { return &at(g).Label }},
		{name: name + ".balls", form: formCount, order: 3, when: when, at: func(g *Given) any { return &at(g).Balls }},
		{name: known, form: formFlag, when: when, at: func(g *Given) any { return &at(g).Known }},
		{name: name + ".loft", form: formNumber, step: stepAngle, order: 4, when: known, at: func(g *Given) any { return &at(g).Loft }},
		{name: name + ".lie", form: formNumber, step: stepAngle, order: 4, when: known, at: func(g *Given) any { return &at(g).Lie }},
		{name: name + ".face", form: formNumber, step: stepAngle, order: 4, when: known, at: func(g *Given) any { return &at(g).Face }},
	}
}

// stats are the fields of one quantity of both sides. What the other's carry
// is, and what its means differ from today's, follows (complete).
func stats(i int) (out []field) {
	q, step := string(given[i].quantity), given[i].step
	known := "today." + q
	out = append(out, field{name: known, form: formFlag, at: func(g *Given) any { return &g.Today.Stats[i].Known }})
	out = append(out, span(known, "", known, step, given[i].order, 3, func(g *Given, k int) *float64 { return g.Today.Stats[i].Value.part(k) })...)
	out = append(out, field{name: known + ".spread", form: formNumber, step: step, order: 4, when: known, at: func(g *Given) any { return &g.Today.Stats[i].Spread }})
	both := "other." + q
	out = append(out, field{name: both, form: formFlag, when: beside, at: func(g *Given) any { return &g.Other.Stats[i].Known }})
	values := span(both, known+".mean", both, step, 4, 3, func(g *Given, k int) *float64 { return g.Other.Stats[i].Value.part(k) })
	out = append(out, values...)
	out = append(out, field{name: both + ".spread", form: formNumber, step: step, order: 1, when: both, from: known + ".spread", at: func(g *Given) any { return &g.Other.Stats[i].Spread }})
	if given[i].quantity != shot.Carry {
		out = append(out, field{name: both + ".by-lo", form: formNumber, step: step, order: 2, when: both, from: both + ".lo", less: known + ".mean", at: func(g *Given) any { return &g.Other.Stats[i].Difference.Lo }},
			field{name: both + ".by-hi", form: formNumber, step: step, order: 2, when: both, from: both + ".hi", less: known + ".mean", at: func(g *Given) any { return &g.Other.Stats[i].Difference.Hi }})
	}
	return out
}

// complete works out what a link need not say twice.
func (g *Given) complete() {
	a := &g.Answer
	for _, w := range []*report.Worth{&a.Least, &a.Gain, &a.Moved, &a.Still, &a.Prize.Gain, &a.Prize.Aiming} {
		w.Unit = report.Unit(g.Unit)
	}
	for _, w := range []*report.Worth{&a.Least, &a.Prize.Gain, &a.Prize.Aiming} {
		w.Value = Range{w.Value.Mean, w.Value.Mean, w.Value.Mean}.interval()
	}
	if !g.Alone {
		// The carry is that of today's and what it differs by: each is shown.
		g.Other.Stats[0].Difference = g.Carry
		g.Other.Stats[0].Value.Mean = math.Round((g.Today.Stats[0].Value.Mean+g.Carry.Mean)/stepCarry) * stepCarry
		for i, q := range given {
			g.Other.Stats[i].Difference.Mean = math.Round((g.Other.Stats[i].Value.Mean-g.Today.Stats[i].Value.Mean)/q.step) * q.step
		}
	}
	for _, p := range []struct {
		at *report.Place
		of *Side
	}{{&a.Today, &g.Today}, {&a.Then, &g.Other}} {
		p.at.Carry, p.at.Side, p.at.Height = p.of.Stats[0].Value.Mean, p.of.Stats[1].Value.Mean, p.of.Stats[2].Value.Mean
	}
	if g.Alone {
		a.Then = a.Today
	}
}

const beside = "!alone" // written where there is a setting beside today's

// Words of a field; the first also stands for what a reader does not know.
var (
	verdictWords = []string{string(report.CannotTell), string(report.Leaning), string(report.Likely), string(report.Clear)}
	unitWords    = []string{"", string(report.UnitStrokes), string(report.UnitCarry), string(report.UnitFairways), string(report.UnitWindow)}
	stateWords   = []string{"", string(report.GoOn), string(report.Check), string(report.Enough)}
)

func one(name string, f form, order int, when string, at func(*Given) any) field {
	return field{name: name, form: f, order: order, when: when, at: at}
}

func today(g *Given) *Side { return &g.Today }
func other(g *Given) *Side { return &g.Other }

// shownFields are the first fields of an answer: what the small reader of the
// first page shows while the program loads.
func shownFields() []field {
	out := []field{
		one("left", formFlag, 0, "", func(g *Given) any { return &g.Left }),
		{name: "verdict", form: formWord, words: verdictWords, at: func(g *Given) any { return (*string)(&g.Verdict) }},
		one("keep", formFlag, 0, "", func(g *Given) any { return &g.Keep }),
		one("alone", formFlag, 0, "", func(g *Given) any { return &g.Alone }),
		one("day", formCount, 14, "", func(g *Given) any { return &g.Day }),
		one("head", formLabel, 0, "", func(g *Given) any { return &g.Head }),
		one("balls", formCount, 4, "", func(g *Given) any { return &g.Balls }),
		one("tested", formCount, 2, "", func(g *Given) any { return &g.Tested }),
		one("settings", formCount, 4, "", func(g *Given) any { return &g.Settings }),
		one("chance", formChance, 0, "", func(g *Given) any { return &g.Answer.Chance }),
		{name: "round", form: formNumber, step: 1, order: 4, at: func(g *Given) any { return &g.Answer.Round }},
	}
	out = append(out, degrees("today", "", today)...)
	out = append(out, degrees("other", beside, other)...)
	out = append(out, field{name: "unit", form: formWord, words: unitWords, at: func(g *Given) any { return &g.Unit }})
	out = append(out, worth("gain", beside, func(g *Given) *report.Worth { return &g.Answer.Gain })...)
	out = append(out, span("carry", "", beside, stepCarry, 4, 4, func(g *Given, i int) *float64 { return g.Carry.part(i) })...)
	out = append(out, counts("now", "", func(g *Given) *report.Counts { return &g.Answer.Today.Counts })...)
	return append(out, counts("then", beside, func(g *Given) *report.Counts { return &g.Answer.Then.Counts })...)
}

// answerFields are all fields of an answer in a link, made when first asked for:
// a page that sends nothing does not pay for them as it starts.
var answerFields = sync.OnceValue(allFields)

func allFields() []field {
	out := shownFields()
	add := func(more ...field) { out = append(out, more...) }
	add(one("model", formCount, 1, "", func(g *Given) any { return &g.Model }),
		one("seed", formCount, 0, "", func(g *Given) any { return &g.Seed }),
		one("reaim", formChance, 0, "", func(g *Given) any { return &g.Answer.Reaim }),
		one("meets", formChance, 0, "", func(g *Given) any { return &g.Answer.Meets }),
		one("marks", formDrives, 0, "", func(g *Given) any { return &g.Answer.Marks }),
		field{name: "state", form: formWord, words: stateWords, at: func(g *Given) any { return (*string)(&g.State) }})
	for i := range maxVisits {
		add(one("visit.balls", formCount, 1, "", func(g *Given) any { return &g.Visits[i].Balls }), one("visit", formCount, 3, "", func(g *Given) any { return &g.Visits[i].Setting }))
	}
	add(amount("least", func(g *Given) *report.Worth { return &g.Answer.Least }))
	add(worth("moved", beside, func(g *Given) *report.Worth { return &g.Answer.Moved })...)
	add(worth("still", beside, func(g *Given) *report.Worth { return &g.Answer.Still })...)
	add(amount("prize", func(g *Given) *report.Worth { return &g.Answer.Prize.Gain }), amount("aiming", func(g *Given) *report.Worth { return &g.Answer.Prize.Aiming }))
	for _, p := range []struct {
		name string
		step float64
		at   func(*report.Prize) *float64
	}{{"prize.carry", stepCarry, func(p *report.Prize) *float64 { return &p.Carry }}, {"prize.drives", .1, func(p *report.Prize) *float64 { return &p.Drives }}, {"prize.trouble", .1, func(p *report.Prize) *float64 { return &p.Trouble }}} {
		add(field{name: p.name, form: formNumber, step: p.step, order: 3, at: func(g *Given) any { return p.at(&g.Answer.Prize) }})
	}
	add(field{name: "now.aim", form: formNumber, step: stepCarry, order: 4, at: func(g *Given) any { return &g.Answer.Today.Aim }},
		field{name: "then.aim", form: formNumber, step: stepCarry, order: 4, when: beside, at: func(g *Given) any { return &g.Answer.Then.Aim }})
	for i := range given {
		add(stats(i)...)
	}
	for i := range 2 {
		add(one("before", formCount, 0, "", func(g *Given) any { return &g.Before[i] }))
	}
	add(one("seen", formCount, 1, "", func(g *Given) any { return &g.Answer.Seen }))
	return out
}

// bytes are the fields of an answer: three bits that say how many bits at the
// end are filling, the fields, the filling.
func (g *Given) bytes(fields []field) ([]byte, error) {
	bits := &writer{}
	w := out{bits}
	w.put(0, 3)
	if err := writeFields(w, g, fields); err != nil {
		return nil, err
	}
	bits.b[0] |= byte(bits.left) << 5
	return bits.b, nil
}

// readGiven reads what bytes wrote.
func readGiven(b []byte, fields []field) (*Given, error) {
	bits := &reader{b: b}
	r := in{bits}
	filling := int(r.get(3))
	g := &Given{}
	g.Answer.Other = 1
	readFields(r, func() int { return bits.rest() - filling }, g, fields)
	if bits.err != nil {
		return nil, bits.err
	}
	if !g.Keep && !g.Alone {
		g.Answer.Setting = 1
	}
	g.complete()
	return g, nil
}

// statuses in the order of their numbers in a link; it only grows, to eight.
var statuses = []report.Status{report.Counted, report.Mishit, report.Suspect, report.Impossible, report.LeftOut}

// writeStatus writes how each shot was judged: most are counted.
func writeStatus(all []report.Status) []byte {
	f := &flow{w: newRangeWriter()}
	f.statuses(all)
	return f.w.end()
}

func readStatus(b []byte, n int) ([]report.Status, error) {
	f := &flow{r: newRangeReader(b)}
	all := make([]report.Status, n)
	f.statuses(all)
	return all, f.r.err
}

func (f *flow) statuses(all []report.Status) {
	other := make([]bool, len(all))
	for i, s := range all {
		other[i] = s != report.Counted
	}
	f.flags(len(all), other)
	for i := range all {
		at := 0
		if !other[i] {
			all[i] = report.Counted
			continue
		}
		for j, s := range statuses {
			if s == all[i] {
				at = j
			}
		}
		if f.w != nil {
			f.w.put(uint64(at), 3)
		} else if at = int(f.r.get(3)); at < len(statuses) {
			all[i] = statuses[at]
		} else {
			all[i] = report.Suspect // a judgement of a later version
		}
	}
}

// Settle rounds the answer of a report to what a link holds, and returns it. The analysis does so once, at its end: what it shows
// is what it sends. A report without settings stays as it is, with an error.
func Settle(r *report.Report) (*Given, error) {
	g, err := GiveOf(*r)
	if err != nil {
		return nil, err
	}
	b, err := g.bytes(answerFields())
	if err != nil {
		return nil, err
	}
	sent, err := readGiven(b, answerFields())
	if err != nil {
		return nil, err
	}
	sent.Status = g.Status
	sent.Apply(r)
	return sent, nil
}

// Apply writes the answer into a report of the same settings: what the report
// says of today's and the other setting is then what was given.
func (g *Given) Apply(r *report.Report) {
	setting, other := r.Answer.Setting, r.Answer.Other
	a := g.Answer
	for _, w := range []struct{ to, from *report.Worth }{{&a.Gain, &r.Answer.Gain}, {&a.Moved, &r.Answer.Moved}, {&a.Still, &r.Answer.Still},
		{&a.Least, &r.Answer.Least}, {&a.Prize.Gain, &r.Answer.Prize.Gain}, {&a.Prize.Aiming, &r.Answer.Prize.Aiming}} {
		w.to.Value = settled(w.from.Value, rangeOf(w.to.Value))
	}
	r.Answer = a
	r.Answer.Setting, r.Answer.Other = setting, other
	if r.Reference >= 0 && r.Reference < len(r.Settings) {
		g.Today.apply(&r.Settings[r.Reference])
	}
	if !g.Alone && other >= 0 && other < len(r.Settings) {
		g.Other.apply(&r.Settings[other])
	}
}

func (s Side) apply(to *report.Setting) {
	for i, q := range given {
		st := s.Stats[i]
		if !st.Known {
			continue
		}
		at := -1
		for j := range to.Quantities {
			if to.Quantities[j].Quantity == q.quantity {
				at = j
			}
		}
		if at < 0 {
			at = len(to.Quantities)
			to.Quantities = append(to.Quantities, report.Amount{Quantity: q.quantity, BallsMore: -1})
		}
		a := &to.Quantities[at]
		a.Value, a.Difference, a.Spread = settled(a.Value, st.Value), settled(a.Difference, st.Difference), st.Spread
	}
}

// settled is an interval with its mean and its 80 % as they were sent; bounds
// that were not sent stay, or are those of 80 % where nothing else is known.
func settled(v report.Interval, sent Range) report.Interval {
	if v == (report.Interval{}) {
		return sent.interval()
	}
	v.Mean, v.Lo80, v.Hi80 = sent.Mean, sent.Lo, sent.Hi
	return v
}

// Layout is the list of the fields that the small reader of the first page
// shows, as JSON.
func Layout() string {
	type row struct {
		Name  string   `json:"name"`
		Form  string   `json:"form"`
		Step  float64  `json:"step"`
		Order int      `json:"order"`
		Words []string `json:"words"`
		When  string   `json:"when"`
		From  string   `json:"from"`
		Less  string   `json:"less"`
		Twice bool     `json:"twice"`
	}
	var list []row
	for _, f := range shownFields() {
		list = append(list, row{f.name, string(f.form), f.step, f.order, f.words, f.when, f.from, f.less, f.twice})
	}
	b, err := jsontext.MarshalIndent(list, "")
	if err != nil {
		panic(err) // texts and numbers always encode
	}
	return string(b)
}
