package shotfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// The bed: one invented session of 24 drives at three settings, written in
// some hundred ways that share no table with the reader. A way is wrong in
// silence when what would be taken over differs from what was hit and nothing
// was asked. What was asked is then answered as its golfer would, and must be
// right after that.

// way is one manner of writing the session.
type way struct {
	name    string
	file    string
	data    []byte
	want    []bedBall         // what belongs to the session, in order
	cols    []shot.Quantity   // what the file holds of each
	say     map[string]string // answers by the beginning of a question's id
	refused string            // the file as a whole is refused with this word
	kind    string            // of the session's club, "" = driver
	labels  []string          // of the described head
	asks    bool              // it can't be known: asking is right, not asking is wrong
}

// bedBall is one ball and what stands beside its numbers.
type bedBall struct {
	v                                   shot.Values
	set, club, day, clock, player, word string
}

var bedColumns = []shot.Quantity{shot.ClubSpeed, shot.BallSpeed, shot.Smash, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis, shot.Carry, shot.Offline, shot.Apex}

var bedSets = [3]string{"Standard", "Loft up", "Loft down"}

// bedDrives are the 24 drives, eight a setting; the loft moves launch and spin.
func bedDrives(seed uint64) []bedBall {
	r := rand.New(rand.NewPCG(seed, 4242))
	var out []bedBall
	for i := range 24 {
		d := bedBall{v: ball(r, 45+2*r.Float64(), .99), set: bedSets[i/8], club: "Driver", day: "2026-05-0" + fmt.Sprint(1+i/8), clock: fmt.Sprintf("%02d:%02d", 10+i/8, 2*(i%8)), player: "Ada", word: "Fairway"}
		if d.v[shot.Offline] < -8 {
			d.word = "Left"
		} else if d.v[shot.Offline] > 8 {
			d.word = "Right"
		}
		out = append(out, d)
	}
	return out
}

// bedOthers are n balls with other clubs, from the names given.
func bedOthers(n int, names ...string) []bedBall {
	r := rand.New(rand.NewPCG(77, 11))
	var out []bedBall
	for i := range n {
		d := bedBall{v: ball(r, 36, .97), club: names[i%len(names)], day: "2026-05-01", clock: fmt.Sprintf("09:%02d", i%60), player: "Ada", word: "Fairway"}
		d.v[shot.Launch] += 8 * units.Degree
		d.v[shot.Spin] *= 2
		d.v[shot.Carry] *= .75
		d.v[shot.BallSpeed] *= .9
		d.v[shot.Smash] = d.v[shot.BallSpeed] / d.v[shot.ClubSpeed]
		out = append(out, d)
	}
	return out
}

// pen writes numbers: units, decimals, marks.
type pen struct {
	unit  map[shot.Quantity]units.Unit
	comma bool
	heads map[shot.Quantity]string
	bare  bool // headers without units
}

var bedUnits = map[shot.Quantity]units.Unit{shot.ClubSpeed: units.UnitMPH, shot.BallSpeed: units.UnitMPH, shot.Smash: units.UnitOne, shot.Launch: units.UnitDeg, shot.LaunchDirection: units.UnitDeg,
	shot.Spin: units.UnitRPM, shot.SpinAxis: units.UnitDeg, shot.Carry: units.UnitYd, shot.Total: units.UnitYd, shot.Offline: units.UnitYd, shot.Curve: units.UnitYd, shot.Apex: units.UnitFt, shot.Face: units.UnitDeg, shot.Path: units.UnitDeg, shot.FaceToPath: units.UnitDeg}

var bedHeads = map[shot.Quantity]string{shot.ClubSpeed: "Club Speed", shot.BallSpeed: "Ball Speed", shot.Smash: "Smash Factor", shot.Launch: "Launch Angle", shot.LaunchDirection: "Launch Direction",
	shot.Spin: "Spin Rate", shot.SpinAxis: "Spin Axis", shot.Carry: "Carry", shot.Total: "Total", shot.Offline: "Offline", shot.Curve: "Curve", shot.Apex: "Apex", shot.Face: "Face Angle", shot.Path: "Club Path", shot.FaceToPath: "Face to Path"}

func (p pen) of(q shot.Quantity) units.Unit {
	if u, ok := p.unit[q]; ok {
		return u
	}
	return bedUnits[q]
}

func (p pen) head(q shot.Quantity) string {
	h := bedHeads[q]
	if x, ok := p.heads[q]; ok {
		h = x
	}
	if u := p.of(q); u.Symbol != "" && !p.bare {
		h += " (" + u.Symbol + ")"
	}
	return h
}

func (p pen) cell(q shot.Quantity, si float64) string {
	n := 1
	switch bedUnits[q].Dim {
	case units.None:
		n = 2
	case units.Spin:
		n = 0
	}
	s := fmt.Sprintf("%.*f", n, p.of(q).From(si))
	if p.comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// word is a column of words beside the numbers.
type word struct {
	head string
	of   func(i int, d bedBall) string
}

func fixed(head string, of func(d bedBall) string) word {
	return word{head, func(_ int, d bedBall) string { return of(d) }}
}

var (
	wClub   = fixed("Club", func(d bedBall) string { return d.club })
	wSet    = fixed("Setting", func(d bedBall) string { return d.set })
	wDay    = fixed("Date", func(d bedBall) string { return d.day })
	wNumber = word{"Shot", func(i int, _ bedBall) string { return fmt.Sprint(i + 1) }}
)

// laid lays the drives out: words first, numbers after them.
func laid(ds []bedBall, cols []shot.Quantity, p pen, ws ...word) (head []string, body [][]string) {
	for _, w := range ws {
		head = append(head, w.head)
	}
	for _, q := range cols {
		head = append(head, p.head(q))
	}
	for i, d := range ds {
		var l []string
		for _, w := range ws {
			l = append(l, w.of(i, d))
		}
		for _, q := range cols {
			l = append(l, p.cell(q, d.v[q]))
		}
		body = append(body, l)
	}
	return head, body
}

func csvLine(cells []string, sep string) string {
	out := make([]string, len(cells))
	for i, c := range cells {
		if strings.ContainsAny(c, sep+"\"\n") {
			c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		out[i] = c
	}
	return strings.Join(out, sep) + "\n"
}

func csvText(head []string, body [][]string, sep string) string {
	var b strings.Builder
	b.WriteString(csvLine(head, sep))
	for _, l := range body {
		b.WriteString(csvLine(l, sep))
	}
	return b.String()
}

// plainCSV is the usual file of drives with words.
func plainCSV(ds []bedBall, p pen, ws ...word) []byte {
	h, b := laid(ds, bedColumns, p, ws...)
	return []byte(csvText(h, b, ","))
}

// noSets are the drives where no file could know a setting.
func noSets(ds []bedBall) []bedBall {
	out := slices.Clone(ds)
	for i := range out {
		out[i].set = ""
	}
	return out
}

// differs says how what would be taken over differs from what was hit.
func (w way) differs(t shot.Table) string {
	var kept []shot.Shot
	for _, s := range t.Shots {
		if s.Tag != shot.TagOut {
			kept = append(kept, s)
		}
	}
	if len(kept) != len(w.want) {
		return fmt.Sprintf("%d balls would count, %d were hit with the club", len(kept), len(w.want))
	}
	for i, d := range w.want {
		if got := kept[i].Setting.Key(); got != d.set {
			return fmt.Sprintf("ball %d: setting %q, want %q", i+1, got, d.set)
		}
		for _, q := range w.cols {
			x, ok := kept[i].Values[q]
			if !ok {
				return fmt.Sprintf("ball %d: no %s", i+1, q)
			}
			room := .011 * math.Max(1, math.Abs(d.v[q]))
			switch q {
			case shot.Offline, shot.Carry, shot.Apex, shot.Total, shot.Curve:
				room = .3
			case shot.Spin:
				room = 2
			case shot.ClubSpeed, shot.BallSpeed:
				room = .08
			}
			if math.Abs(x-d.v[q]) > room {
				return fmt.Sprintf("ball %d: %s read as %.3f, hit %.3f", i+1, q, x, d.v[q])
			}
		}
	}
	return ""
}

// verdict of one way: what is wrong, and how often it asked.
func (w way) verdict() (silent string, asked int, after string) {
	t, err := Read(w.file, w.data, w.options(nil))
	if err != nil {
		if w.refused != "" && strings.Contains(err.Error(), w.refused) {
			return "", 0, ""
		}
		return "", 0, "refused: " + err.Error()
	}
	if w.refused != "" {
		return "taken, though it is no table", 0, ""
	}
	asked = len(t.Ask)
	msg := w.differs(t)
	if msg != "" && asked == 0 {
		return msg, asked, ""
	}
	if w.asks && asked == 0 {
		return "nothing was asked", 0, ""
	}
	if asked > 0 {
		after = w.answered(t)
	}
	return "", asked, after
}

// TestBed reads every way. Nothing may be wrong in silence, and nothing after
// the answers.
func TestBed(t *testing.T) {
	ways := bed()
	if len(ways) < 200 {
		t.Errorf("%d ways, want at least 200", len(ways))
	}
	silent, asked, questions, unanswered := 0, 0, 0, 0
	names := map[string]bool{}
	for _, w := range ways {
		if names[w.name] {
			t.Errorf("two ways are called %q", w.name)
		}
		names[w.name] = true
		s, n, after := w.verdict()
		if n > 0 {
			asked++
			questions += n
		}
		switch {
		case s != "":
			silent++
			t.Errorf("%s: wrong in silence: %s", w.name, s)
		case after != "":
			unanswered++
			t.Errorf("%s: %s", w.name, after)
		}
	}
	t.Logf("%d ways: %d wrong in silence, %d refused or wrong after the answers, %d ask, %d questions", len(ways), silent, unanswered, asked, questions)
}

func (w way) hand() frame.Hand { return frame.Right }

func (w way) options(answers map[string]string) Options {
	return Options{Hand: w.hand(), Kind: w.kind, Labels: w.labels, Answers: answers}
}

// answered answers what is asked as the golfer would, until nothing is open, and
// says what is wrong then.
func (w way) answered(t shot.Table) string {
	answers := map[string]string{}
	for id, a := range w.say {
		if strings.HasPrefix(id, "column ") {
			answers[id] = a
		}
	}
	for range 4 {
		for _, q := range t.Questions {
			if q.Open {
				if a, ok := w.say[q.ID]; ok {
					answers[q.ID] = a
				}
			}
		}
		var err error
		if t, err = Read(w.file, w.data, w.options(answers)); err != nil {
			return "refused after the answers: " + err.Error()
		}
		if len(t.Ask) == 0 {
			break
		}
	}
	if len(t.Ask) > 0 {
		return fmt.Sprintf("still asks %q (%q)", t.Ask, t.Questions[0].ID)
	}
	if msg := w.differs(t); msg != "" {
		return "wrong after the answers: " + msg
	}
	return ""
}

// TestRepairsAreTakenBack: where a file contradicts itself the repair is shown,
// once for all numbers that it changes, and one tap leaves them as written.
func TestRepairsAreTakenBack(t *testing.T) {
	shown, most := 0, 0
	for _, w := range bed() {
		tab, err := Read(w.file, w.data, w.options(nil))
		if err != nil {
			continue
		}
		here := 0
		for _, q := range tab.Questions {
			if q.Open || q.Answer != asNumbers {
				continue
			}
			here++
			left, err := Read(w.file, w.data, w.options(map[string]string{q.ID: asRead}))
			k := slices.IndexFunc(left.Questions, func(o shot.Question) bool { return o.ID == q.ID })
			switch {
			case err != nil:
				t.Errorf("%s: %v", w.name, err)
			case k < 0 || left.Questions[k].Answer != asRead || left.Questions[k].Open:
				t.Errorf("%s: %q does not stand with its answer", w.name, q.ID)
			case fmt.Sprint(left.Shots) == fmt.Sprint(tab.Shots):
				t.Errorf("%s: %q is left as written, and no number is", w.name, q.Text)
			}
		}
		shown, most = shown+here, max(most, here)
	}
	t.Logf("%d repairs shown, at most %d in a file", shown, most)
	if shown < 20 || most > 3 {
		t.Errorf("%d repairs, at most %d in a file; want at least 20, at most 3", shown, most)
	}
}
