package page

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/core/chart/charttest"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// told is the invented report with all that an analysis adds to it.
func toldReport() report.Report {
	r := charttest.Report()
	at := func(v, half float64) report.Interval {
		return report.Interval{Mean: v, Lo50: v - half/2, Hi50: v + half/2, Lo80: v - half, Hi80: v + half, Lo95: v - 1.5*half, Hi95: v + 1.5*half}
	}
	r.Moves = []report.Move{{Feature: "feature.lean", Tried: true,
		Effects: []report.Effect{{Quantity: shot.Carry, Value: at(-1, 2), Textbook: at(-.5, 3), Measured: .3}},
		Text:    report.Message{Key: "response.not-tried", Args: []report.Arg{{Form: message.FormKey, Text: "feature.lean"}}}}}
	r.Against = []report.Message{{Key: "response.conflict"}}
	r.Doubts = []report.Doubt{{Setting: 1, Balls: 5, Text: report.Message{Key: "response.blocks"}}, {Setting: -1, Text: report.Message{Key: "response.blocks"}}}
	r.Confirm = []report.Visit{{Setting: 0, Balls: 3}, {Setting: 1, Balls: 3}, {Setting: 0, Balls: 3}}
	r.Needs = []report.Need{{Quantity: shot.Carry, Size: 5 * units.Yard, See: [3]int{63, 90, 100}, Pick: [3]int{6, 12, 20}},
		{Quantity: shot.Carry, Size: 5, See: [3]int{55, 80, 90}, Pick: [3]int{5, 10, 17}},
		{Share: .25, Size: .125, See: [3]int{150, 200, 9999}, Pick: [3]int{16, 30, 40}}}
	for i := range r.Settings {
		if r.Settings[i].Tested {
			r.Settings[i].Raw = []report.Amount{{Quantity: shot.Carry, Value: at(200, 5), Difference: at(3, 9), Spread: 11}}
		}
	}
	return r
}

// TestWhatTheShotsSayIsShown: each part of the answer has its place.
func TestWhatTheShotsSayIsShown(t *testing.T) {
	r := toldReport()
	with(t, &r, nil)
	choose, compare := app.HTMLString(pages()["/choose"]), app.HTMLString(pages()["/compare"])
	sound(t, "choose", choose)
	sound(t, "compare", compare)
	for _, want := range []string{`id="against"`, "unlike the textbook", `id="moves"`, "Textbook alone", `id="doubts"`, `id="tell-0"`, `id="check-start"`} {
		if !strings.Contains(choose, want) {
			t.Errorf("the page Choose lacks %s", want)
		}
	}
	if strings.Contains(choose, `id="tell-1"`) {
		t.Error("a doubt that no setting resolves offers one")
	}
	for _, want := range []string{`id="question"`, "63 balls", "5\u00a0yd", "25\u00a0%", "Plain averages", "Dunnett", "200\u00a0yd"} {
		if !strings.Contains(compare, strings.ReplaceAll(want, "200\u00a0yd", "219\u00a0yd")) {
			t.Errorf("the page Compare lacks %s", want)
		}
	}
	if strings.Contains(compare, "55 balls") {
		t.Error("a size in metres is asked about in yards")
	}
}

// TestTwoVisitsAreShown: the newest two are offered, the comparison is told in
// words and numbers, and what calls for a test stands first.
func TestTwoVisitsAreShown(t *testing.T) {
	r := toldReport()
	m := with(t, &r, nil)
	if html := app.HTMLString(pages()["/visits"]); !strings.Contains(html, "Two sessions are needed") {
		t.Error("one session is not enough, and the page does not say so")
	}
	m.Sessions.New()
	m.Editor.Edit(act.Change{Key: "edit.name"}, func(s *shot.Session) { s.Title = "Autumn" })
	m.Keeper.Flush()
	m.Loop.Settle()
	p := pages()["/visits"].(*Visits)
	before, now := p.pair(m.State())
	if before == "" || now == "" || before == now {
		t.Fatalf("offered are %q and %q", before, now)
	}
	m.Clients.Compare(before, now)
	m.Loop.Settle()
	html := app.HTMLString(p)
	sound(t, "visits", html)
	for _, want := range []string{`id="before"`, `id="now"`, "Time to test again", "club speed has changed by +5", "All of them", "Spring, then Autumn"} {
		if !strings.Contains(strings.ReplaceAll(html, "\u00a0", " "), want) {
			t.Errorf("the page lacks %s", want)
		}
	}
}

// TestOtherConditionsAreShown on a tap, and are gone when the session changes.
func TestOtherConditionsAreShown(t *testing.T) {
	r := toldReport()
	m := with(t, &r, nil)
	p := pages()["/choose"]
	if html := app.HTMLString(p); !strings.Contains(html, `id="vary"`) {
		t.Error("there is no way to ask")
	}
	m.WhatIf.Vary()
	m.Loop.Settle()
	html := app.HTMLString(p)
	sound(t, "varied", html)
	for _, want := range []string{"In 1 of 1 of them", "Firm ground", ", another"} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	m.Editor.Edit(act.Change{Key: "edit.aim"}, func(s *shot.Session) { s.Aim.FairwayWidth = 20 })
	if html := app.HTMLString(p); strings.Contains(html, "Firm ground") {
		t.Error("the answer to an older session is shown")
	}
}

// TestASharedAnswerThatChangedIsSaid: the link's own answer and the one worked
// out anew differ, and the page says both and what differs.
func TestASharedAnswerThatChangedIsSaid(t *testing.T) {
	r := toldReport()
	r.Answer.Setting, r.Answer.Other = r.Choice.Setting, r.Choice.Setting
	given, err := share.GiveOf(r)
	if err != nil {
		t.Fatal(err)
	}
	show := func() *Shared {
		with(t, &r, nil).Sessions.Show(demoSession(r), &given, false)
		model.Loop.Settle()
		return pages()["/shared"].(*Shared)
	}
	p := show()
	if html := app.HTMLString(p); strings.Contains(html, `id="differs"`) {
		t.Error("the same answer is said to differ")
	}
	given.Other.Label, given.Verdict, given.Balls = "another / one", report.Leaning, given.Balls-2
	p = show()
	html := app.HTMLString(p)
	sound(t, "shared", html)
	if !strings.Contains(html, `id="differs"`) || !strings.Contains(html, "another / one (Leaning)") || !strings.Contains(html, "Other balls count now") {
		t.Error("another answer is not said, or not why")
	}
	r.Given, r.Made = true, 1_780_000_000
	p = show()
	if html := app.HTMLString(p); !strings.Contains(html, `id="anew"`) || !strings.Contains(html, "as it was given on") {
		t.Error("the answer that came is not called that")
	}
}
