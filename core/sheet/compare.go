package sheet

import (
	"math"
	"strconv"
	"strings"

	"ferrule/core/chart"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// compared are the quantities of the before-and-after table, in this order.
var compared = []shot.Quantity{shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Offline, shot.Apex, shot.Descent}

// compare is the table of before and after: estimate, its range, the spread
// from shot to shot and the difference, with the balls that stand behind it.
func (m maker) compare(choice int) chart.Table {
	// A club that stays as it is gets compared with its nearest rival.
	after, head := m.r.Settings[choice], "paper.compare.after"
	if rival := m.r.Choice.RunnerUp; choice == m.r.Reference && rival >= 0 && rival < len(m.r.Settings) && rival != choice {
		choice, after, head = rival, m.r.Settings[rival], "paper.compare.rival"
	}
	before := m.r.Settings[m.r.Reference]
	st := chart.Style{Reader: m.rd}
	t := chart.Table{Caption: m.w("paper.compare"), Head: []string{
		"", m.fill("paper.compare.before", m.name(before), m.balls(before)),
	}}
	same := choice == m.r.Reference
	if !same {
		t.Head = append(t.Head, m.fill(head, m.name(after), m.balls(after)), m.w("paper.compare.difference"))
	}
	t.Head = append(t.Head, m.w("paper.compare.spread"))
	for _, q := range compared {
		b, ok1 := before.Of(q)
		a, ok2 := after.Of(q)
		if !ok1 || !ok2 {
			continue
		}
		row := []string{st.Quantity(q), st.Estimate(b.Value, q)}
		if !same {
			row = append(row, st.Estimate(a.Value, q), st.Change(a.Difference, q))
		}
		spread := "–"
		if b.Spread > 0 {
			spread = m.spread(b.Spread, q)
			if s := m.spread(a.Spread, q); !same && a.Spread > 0 && s != spread {
				spread += " → " + s
			}
		}
		t.Rows = append(t.Rows, append(row, spread))
	}
	return t
}

func (m maker) spread(v float64, q shot.Quantity) string {
	k, _ := shot.KindOf(q)
	return "±" + m.rd.Number(v, k.Dim, -1)
}

// balls says how many balls were hit with a setting.
func (m maker) balls(s report.Setting) string {
	if !s.Tested || s.Balls == 0 {
		return m.w("paper.predicted")
	}
	return m.fill("paper.balls", strconv.Itoa(s.Balls))
}

// expect says what twenty drives should look like, so that it can be counted.
func (m maker) expect() []string {
	now, then := m.r.Answer.Today, m.r.Answer.Today
	if m.r.Choice.Setting != m.r.Reference {
		then = m.r.Answer.Then
	}
	var list []string
	for _, c := range []struct {
		key         string
		then, today int
	}{{"fairway", then.Counts.Fairway, now.Counts.Fairway}, {"trouble", then.Counts.Trouble, now.Counts.Trouble},
		{"window", then.Counts.Window, now.Counts.Window}, {"short", then.Counts.Short, now.Counts.Short}} {
		if c.then >= 0 && c.today >= 0 {
			list = append(list, m.fill("paper.expect."+c.key, strconv.Itoa(c.then), strconv.Itoa(c.today)))
		}
	}
	at := m.rd.System.Unit(units.Length).SI(200)
	if off := at * then.Aim / max(then.Carry, 1); math.Abs(off) >= at*math.Tan(0.1*units.Degree) {
		side := "paper.aim.right"
		if off < 0 {
			side = "paper.aim.left"
		}
		list = append(list, m.fill(side, m.rd.Number(math.Abs(off), units.Length, 0), m.rd.Number(at, units.Length, 0)))
	}
	return append(list, m.w("paper.expect.estimate"))
}

// behind says which shots stand behind the answer.
func (m maker) behind() []string {
	counted, weak, unused, computed := 0, 0, 0, 0
	for _, s := range m.r.Shots {
		switch s.Status {
		case report.Impossible, report.LeftOut:
			unused++
			continue
		case report.Mishit, report.Suspect:
			weak++
		}
		counted++
		if s.Computed {
			computed++
		}
	}
	tested := 0
	var tried []string
	for _, s := range m.r.Settings {
		if s.Tested {
			tested++
			tried = append(tried, m.name(s)+" ("+strconv.Itoa(s.Balls)+")")
		}
	}
	list := []string{m.fill("paper.behind", strconv.Itoa(counted), strconv.Itoa(tested), strconv.Itoa(weak), strconv.Itoa(unused))}
	if len(tried) > 0 {
		list = append(list, m.fill("paper.behind.tried", strings.Join(tried, "; ")))
	}
	if n := m.r.Answer.Seen; n > 0 {
		list = append(list, m.fill("aim.seen", strconv.Itoa(n)))
	}
	if computed > 0 {
		list = append(list, m.fill("paper.behind.computed", strconv.Itoa(computed)))
	}
	return list
}

// notTried names what nobody hit: settings, and what the tool cannot change.
func (m maker) notTried() []string {
	var untested []string
	for _, s := range m.r.Settings {
		if !s.Tested {
			untested = append(untested, m.name(s))
		}
	}
	var list []string
	if n := len(untested); n > 0 {
		const most = 4
		if n > most {
			untested = append(untested[:most:most], m.fill("paper.nottried.more", strconv.Itoa(n-most)))
		}
		list = append(list, m.fill("paper.nottried.settings", strconv.Itoa(n), strconv.Itoa(len(m.r.Settings)), strings.Join(untested, "; ")))
	}
	for _, d := range m.r.Doubts {
		list = append(list, m.rd.Say(d.Text))
	}
	return append(list, m.w("paper.nottried.club"))
}

func (m maker) next() []string {
	var list []string
	for i, n := range m.r.Next {
		if i < 2 && n.Setting >= 0 && n.Setting < len(m.r.Settings) {
			line := m.fill("paper.next", strconv.Itoa(n.Balls), m.name(m.r.Settings[n.Setting]))
			if n.Why.Key != "" {
				line += " " + m.rd.Say(n.Why)
			}
			list = append(list, line)
		}
	}
	return list
}

// check is how to find out on the course whether the setting holds.
// Rounds and number of drives: common practice, no source.
func (m maker) check(s report.Setting) []string {
	list := []string{m.w("paper.check.rounds")}
	if !s.Tested {
		list = append([]string{m.w("paper.check.untested")}, list...)
	}
	return append(list, m.w("paper.check.alternate"), m.w("paper.check.sum"))
}

// again is when to look at the club and test anew. Times and limits: common
// practice, no source.
func (m maker) again() []string {
	soon := m.w("paper.again.soon")
	if d := m.weeksOn(3); d != "" {
		soon = m.fill("paper.again.date", d)
	}
	var since []string
	if m.r.Since != nil {
		since = m.say(m.r.Since.Said)
	}
	return append(since, soon, m.w("paper.again.year"), m.fill("paper.again.if", m.rd.Number(4*units.MPH, units.Speed, 0)))
}

// cautions are those of the report, which the analysis always writes; a sheet
// without one prints its own, so that no sheet goes out without them.
func (m maker) cautions() []string {
	list := m.say(m.r.Cautions)
	if len(list) == 0 {
		for _, key := range []string{"rule", "tool", "loose", "area", "body", "estimate"} {
			list = append(list, m.w("paper.caution."+key))
		}
	}
	return append(list, m.w("paper.caution.conform"))
}
