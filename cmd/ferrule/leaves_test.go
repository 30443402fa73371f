package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/export"
	"ferrule/core/pipeline"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/share"
	"ferrule/core/sheet"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// -leaves 500 sends five hundred sessions, as published; -leaves-from continues.
var (
	leaving     = flag.Int("leaves", 12, "how many invented sessions are sent")
	leavingFrom = flag.Int("leaves-from", 0, "the first of them")
)

// sentSession is a session of the contradiction test with what happens on a
// range: a file read twice, balls left out, balls of another club, warm-up, and
// a wind that turns.
func sentSession(t *testing.T, i int) shot.Session {
	s := agreeSession(t, i)
	rng := seed.Seed(i + 77001).Stream("leaves")
	s.Created, s.Title, s.Player.Name = 1_780_000_000+int64(i)*share.Day, "a day", "A. Player"
	for k := range s.Shots {
		switch rng.IntN(12) {
		case 0:
			s.Shots[k].Tag = shot.TagOut
		case 1:
			s.Shots[k].Tag = shot.TagWarmup
		case 2:
			s.Shots[k].Tag = shot.TagHeel
		}
		s.Shots[k].ID = fmt.Sprintf("b%d", k)
	}
	if i%2 == 0 { // the same rows again, as from a cumulative file
		n := len(s.Shots)
		for range 1 + rng.IntN(4) {
			b := s.Shots[rng.IntN(n)]
			b.ID, b.Source = fmt.Sprintf("again%d", len(s.Shots)), "again.csv"
			s.Shots = append(s.Shots, b)
		}
	}
	if i%3 == 0 {
		s.Conditions.Wind, s.Conditions.WindFrom = 4*rng.Float64(), 2*math.Pi*rng.Float64()
		for range 1 + rng.IntN(2) {
			s.Airs = append(s.Airs, shot.Air{Wind: 6 * rng.Float64(), WindFrom: 2 * math.Pi * rng.Float64()})
			s.BeginAir(rng.IntN(len(s.Shots)))
		}
	}
	return s
}

// TestWhatLeavesSaysTheSame: the page, the sheet, a link opened afresh, the sent
// file, the table that carries a session and the command line say one setting,
// verdict, chance and gain of a session, to the last printed digit.
func TestWhatLeavesSaysTheSame(t *testing.T) {
	dir := t.TempDir()
	for i := *leavingFrom; i < *leavingFrom+*leaving; i++ {
		s := sentSession(t, i)
		page := throughTheWorker(t, s)
		given, err := share.GiveOf(page)
		if err != nil {
			t.Fatal(i, err)
		}
		link, err := share.Encode(s, &given, share.Options{})
		if err != nil {
			t.Fatal(i, err)
		}
		answer, err := given.Text(len(s.Shots))
		if err != nil {
			t.Fatal(i, err)
		}
		file, err := export.JSON(export.File{Session: s, Answer: answer})
		if err != nil {
			t.Fatal(i, err)
		}
		l := &leaves{T: t, i: i, s: s, page: page}
		for name, data := range map[string][]byte{"session.json": file, "table.csv": export.CSV(export.File{Session: s, Answer: answer}, units.Metric)} {
			path := filepath.Join(dir, name)
			if err := os.WriteFile(path, data, 0o644); err != nil {
				t.Fatal(err)
			}
			l.arrives(name, path)
		}
		l.arrives("the link", "https://example.invalid/shared#"+share.Prefix+link)
		if i%12 == 5 { // the whole command, which works it out anew as well
			l.command(filepath.Join(dir, "session.json"))
		}
	}
}

// throughTheWorker is the report as the page gets it.
func throughTheWorker(t *testing.T, s shot.Session) report.Report {
	q, err := msgpack.Marshal(wire.Request{Version: wire.Version, Analyse: &wire.Analyse{Session: s, Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	res, err := wire.Unpack(pipeline.Serve(q, nil), func() {})
	if err != nil || res.Report == nil {
		t.Fatal(err, res.Error)
	}
	return *res.Report
}

type leaves struct {
	*testing.T
	i    int
	s    shot.Session
	page report.Report
}

// arrives opens what left and compares what is read there with the page.
func (l *leaves) arrives(where, path string) {
	l.Helper()
	var errs bytes.Buffer
	got, err := loadSession([]string{path}, fitFlags{}, streams{nil, &errs, &errs})
	if err != nil || got.given == nil {
		l.Fatalf("session %d, %s: %v, answer %v", l.i, where, err, got.given)
	}
	r, err := pipeline.Given(got.Session, *got.given)
	if err != nil {
		l.Fatalf("session %d, %s: %v", l.i, where, err)
	}
	for _, to := range []text.Reader{{Language: "en", System: units.Imperial}, {Language: "de", System: units.Metric}} {
		was, is := sheet.Make(l.s, l.page, to, sheet.Options{}), sheet.Make(got.Session, r, to, sheet.Options{})
		for _, x := range []struct {
			what     string
			was, is_ any
		}{{"setting", was.Answer, is.Answer}, {"degrees", was.Degrees, is.Degrees}, {"verdict", was.Verdict, is.Verdict}, {"gain", was.Gain, is.Gain}, {"moves", was.Moves, is.Moves},
			{"table", was.Compare.Rows, is.Compare.Rows}, {"counts", l.withoutWinds(was.Expect, to), is.Expect}, {"balls", was.Behind, is.Behind},
			{"numbers", numbers(l.page, to), numbers(r, to)}} {
			if !reflect.DeepEqual(x.was, x.is_) {
				l.Errorf("session %d, %s, %s: %s was\n%v\nand arrives as\n%v", l.i, where, to.Language, x.what, x.was, x.is_)
			}
		}
		var b bytes.Buffer
		printReport(&b, r, to)
		want := []string{to.Word("verdict." + string(l.page.Choice.Verdict)), l.page.Settings[l.page.Choice.Setting].Setting.Key()}
		if l.page.Answer.Other >= 0 { // else nothing stands beside today's that can be recommended
			want = append(want, to.Percent(l.page.Answer.Chance), to.GainRange(l.page.Answer.Gain))
		}
		if missing := wordless.FindString(b.String()); missing != "" {
			l.Errorf("session %d, %s: the command line says %q:\n%s", l.i, where, missing, b.String())
		}
		for _, want := range want {
			if !strings.Contains(b.String(), want) {
				l.Errorf("session %d, %s: the command line lacks %q:\n%s", l.i, where, want, b.String())
			}
		}
	}
}

// wordless is a key that has no words, as package text shows it.
var wordless = regexp.MustCompile(`\[[a-z][a-z0-9.-]*\]`)

// withoutWinds leaves away what the balls say of their own wind: the answer does
// not carry it.
func (l *leaves) withoutWinds(lines []string, to text.Reader) []string {
	return slices.DeleteFunc(lines, func(s string) bool {
		return l.page.Air != nil && slices.ContainsFunc(l.page.Air.Blocks, func(b report.AirBlock) bool { return b.Text.Key != "" && to.Say(b.Text) == s })
	})
}

// numbers are those of an answer as they are printed.
func numbers(r report.Report, to text.Reader) []string {
	a := r.Answer
	return []string{r.Settings[r.Choice.Setting].Setting.Key(), string(r.Choice.Verdict), to.Percent(a.Chance), fmt.Sprint(a.Marks), to.GainRange(a.Gain), to.GainRange(a.Moved), to.GainRange(a.Still),
		to.Number(a.Today.Carry, units.Length, -1), to.Number(a.Then.Carry, units.Length, -1), to.Side(a.Today.Side), to.Side(a.Then.Side), fmt.Sprint(a.Today.Counts, a.Then.Counts),
		to.Gain(a.Prize.Gain.Value.Mean, a.Prize.Gain.Unit), to.Percent(a.Meets), string(r.Todo.State)}
}

// command runs the whole of `ferrule fit` on the sent file.
func (l *leaves) command(path string) {
	var out, errs bytes.Buffer
	if status := runFit([]string{path, "-json"}, streams{nil, &out, &errs}); status != exitDone {
		l.Fatalf("session %d: status %d, %s", l.i, status, errs.String())
	}
	var j jsonReport
	if err := json.Unmarshal(out.Bytes(), &j); err != nil {
		l.Fatal(err)
	}
	if !j.Given || j.Answer.Chance != l.page.Answer.Chance || j.Answer.Gain.Value.Mean != l.page.Answer.Gain.Value.Mean || j.Choice.Verdict != string(l.page.Choice.Verdict) {
		l.Errorf("session %d: ferrule fit says %v %+v", l.i, j.Given, j.Answer)
	}
	// The file rounds nothing, so working it out anew says the same.
	if len(j.Anew) != 1 || j.Anew[0] != (text.Reader{}).Word("shared.same") {
		l.Errorf("session %d: anew %q", l.i, j.Anew)
	}
	page := filepath.Join(l.TempDir(), "sheet.html")
	if status := runSheet([]string{path, "-o", page}, streams{nil, &out, &errs}); status != exitDone {
		l.Fatalf("session %d: status %d, %s", l.i, status, errs.String())
	}
	html, err := os.ReadFile(page)
	if err != nil {
		l.Fatal(err)
	}
	if want := sheet.HTML(l.s, l.page, text.Reader{System: units.Imperial}, sheet.Options{}); !strings.Contains(want, "<p class=\"answer\">") || !sameAnswer(want, string(html)) {
		l.Errorf("session %d: the sheet of the file has another answer than the page", l.i)
	}
}

// sameAnswer compares the setting and the table of two sheets.
func sameAnswer(a, b string) bool {
	cut := func(s, from, to string) string {
		_, s, _ = strings.Cut(s, from)
		s, _, _ = strings.Cut(s, to)
		return s
	}
	return cut(a, `<p class="answer">`, "<figure>") == cut(b, `<p class="answer">`, "<figure>") && cut(a, "<tbody", "</table>") == cut(b, "<tbody", "</table>")
}
