package main

import (
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"ferrule/core/pipeline"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

func init() {
	commands["fit"] = runFit
	commands["version"] = runVersion
}

// fitFlags are the flags that fit and sheet share.
type fitFlags struct {
	aim, language string
	units         units.System
	clubs         clubFlag
	seed          uint64
	json, anew    bool
	input
}

func (f *fitFlags) register(fs *flag.FlagSet) {
	f.input.register(fs)
	fs.Var(&f.clubs, "club", "`CLUB.json`: a club and what can be adjusted on it, or a list of clubs; may be given again: the first is the player's own")
	fs.StringVar(&f.aim, "aim", "", "`AIM.json`: hand, trouble, fairway, hole, height window (optional)")
	f.units = units.Imperial
	fs.Func("units", "`units` of the text: imperial, metric or metric-mps (default imperial)", func(s string) error {
		f.units = units.System(s)
		return oneOf(s, string(units.Imperial), string(units.Metric), string(units.MetricMPS))
	})
	languageFlag(fs, &f.language, "the text")
	fs.Uint64Var(&f.seed, "seed", 1, "fixes every random number; the same input and seed give the same answer")
	fs.BoolVar(&f.json, "json", false, "print the documented JSON instead of text")
}

func languageFlag(fs *flag.FlagSet, to *string, of string) {
	fs.Func("lang", "`language` of "+of+": en, es, de, ja or ko (default en)", func(s string) error {
		if !text.Has(text.Language(s)) {
			return fmt.Errorf("read %q, expected one of %v", s, text.Languages)
		}
		*to = s
		return nil
	})
}

func (f *fitFlags) registerAnew(fs *flag.FlagSet) {
	fs.BoolVar(&f.anew, "anew", false, "work the answer out anew where a file or a link brings the one that was given")
}

func (f *fitFlags) reader() text.Reader {
	return text.Reader{Language: text.Language(f.language), System: f.units}
}

// parseMixed parses flags wherever they stand, so that "fit FILE -club C" and
// "fit -club C FILE" are the same, and returns the rest.
func parseMixed(fs *flag.FlagSet, args []string) ([]string, error) {
	var rest []string
	for {
		if err := fs.Parse(args); err != nil {
			return nil, err
		}
		if fs.NArg() == 0 {
			return rest, nil
		}
		rest = append(rest, fs.Arg(0))
		args = fs.Args()[1:]
	}
}

// loaded is a session and, where it came with one, the answer that was given.
type loaded struct {
	shot.Session
	given *share.Given
	exact bool // it came by a file, which rounds nothing
}

// loadSession reads the shot files, the club and the aim into one session. A
// session of the app, by file or link, brings its own club, aim, air and answer;
// CLUB.json and AIM.json take their place.
func loadSession(paths []string, f fitFlags, std streams) (loaded, error) {
	var s loaded
	var aim []byte
	if f.aim != "" {
		var err error
		if aim, err = os.ReadFile(f.aim); err != nil {
			return s, err
		}
		if err := s.AimFromJSON(aim); err != nil {
			return s, fmt.Errorf("%s: %w", f.aim, err)
		}
	}
	bag, err := loadClubs(f.clubs)
	if err != nil {
		return s, err
	}
	own, err := loadShots(&s.Session, paths, &f.input, bag, f.reader(), aim == nil, std)
	if err != nil {
		return s, err
	}
	if aim != nil {
		if err := s.AirsFromJSON(aim); err != nil {
			return s, fmt.Errorf("%s: %w", f.aim, err)
		}
	}
	switch {
	case len(f.clubs) > 0:
		s.Head, s.Clubs, s.Own = bag.Head, bag.Clubs, bag.Own
		if err := bind(&s.Session); err != nil {
			return s, err
		}
	case own != nil:
		s.Head, s.Clubs, s.Own = own.Head, own.Clubs, own.Own
		if len(paths) == 1 && aim == nil && len(f.sets) == 0 && !f.anew {
			s.given, s.exact = own.given, own.exact
		}
		if own.given == nil && !s.Several() && len(s.Head.Settings()) < 2 {
			s.Head = pipeline.HeadFromShots(s.Shots)
		}
	default:
		s.Head = pipeline.HeadFromShots(s.Shots)
		fmt.Fprintf(std.err, "%s: no -club given: what each setting does is unknown, so only settings that were hit can be compared\n", paths[0])
	}
	return s, nil
}

// answer is the answer to a session: as it was given where it came with one,
// and then what is otherwise when it is worked out anew.
func (s loaded) answer(memory pipeline.Memory, seed uint64) (r report.Report, anew []report.Message, err error) {
	if s.given == nil {
		r, err = pipeline.AnalyseWith(s.Session, memory, seed, nil)
		return r, nil, err
	}
	if r, err = pipeline.Given(s.Session, *s.given); err != nil {
		return r, nil, err
	}
	again, err := pipeline.Analyse(s.Session, s.given.Seed, nil)
	if anew = s.given.Differs(again, s.exact); len(anew) == 0 {
		anew = []report.Message{report.Say("shared.same")}
	}
	return r, anew, err
}

// asGiven says of which day a given answer is and what is otherwise anew.
func asGiven(r report.Report, anew []report.Message, to text.Reader) []string {
	said := to.Word("shared.given-undated")
	if r.Made > 0 {
		said = to.Fill("shared.given", to.Day(r.Made))
	}
	return append([]string{said}, say(to, anew)...)
}

func readInput(path string, std streams) ([]byte, error) {
	if path == "-" {
		data, err := io.ReadAll(io.LimitReader(std.in, pipeline.MaxFile+1))
		if err == nil && len(data) > pipeline.MaxFile {
			err = fmt.Errorf("the input: read more than %d MB, expected a shot file of at most that", pipeline.MaxFile>>20)
		}
		return data, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if info.Size() > pipeline.MaxFile {
		return nil, fmt.Errorf("%s: read %d MB, expected a shot file of at most %d MB", path, info.Size()>>20, pipeline.MaxFile>>20)
	}
	return os.ReadFile(path)
}

func runFit(args []string, std streams) int {
	fs := flag.NewFlagSet("fit", flag.ContinueOnError)
	fs.SetOutput(std.err)
	var f fitFlags
	f.register(fs)
	f.registerAnew(fs)
	var past memoryFlags
	past.register(fs)
	vary := fs.Bool("vary", false, "ask for the advice in other winds, air, ground and with other balls as well")
	rest, err := parseMixed(fs, past.take(args))
	if err != nil || len(rest) == 0 {
		fmt.Fprintln(std.err, "usage: ferrule fit (FILE... | LINK) [-club CLUB.json...] [-aim AIM.json] [-visits FILE...] [-record RECORD...] [-set RANGE=SETTING] [-answer ID=ANSWER] [-anew] [-vary] [-json]")
		return exitUsage
	}
	s, err := loadSession(rest, f, std)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule fit:", err)
		return exitInput
	}
	memory, err := past.load(s.Session, f, std)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule fit:", err)
		return exitInput
	}
	if len(memory.Visits) > 0 || len(memory.Records) > 0 {
		s.given = nil // it was given without them
	}
	r, anew, err := s.answer(memory, f.seed)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule fit:", err)
		return exitInput
	}
	var others []report.Variation
	if *vary {
		if others, err = pipeline.Vary(s.Session, memory, f.seed, nil); err != nil {
			fmt.Fprintln(std.err, "ferrule fit:", err)
			return exitInput
		}
	}
	if f.json {
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		out := withMemory(withVariations(contract(r, f.reader()), others, f.reader()), r, f.reader())
		out.Given, out.Anew = r.Given, say(f.reader(), anew)
		if err := enc.Encode(out); err != nil {
			fmt.Fprintln(std.err, "ferrule fit:", err)
			return exitInput
		}
		return exitDone
	}
	if r.Given {
		fmt.Fprintln(std.out, strings.Join(asGiven(r, anew, f.reader()), "\n")+"\n")
	}
	printReport(std.out, r, f.reader())
	if len(others) > 0 {
		fmt.Fprintln(std.out, "\nThe advice in other conditions, aimed best in each")
	}
	for _, v := range others {
		fmt.Fprintf(std.out, "  - %-30s %-34s %s\n", f.reader().Say(v.Text), v.Setting.Key(), v.Verdict)
	}
	return exitDone
}

// printReport writes the answer for a person at a terminal.
func printReport(w io.Writer, r report.Report, to text.Reader) {
	if r.Choice.Headline.Key != "" {
		fmt.Fprintln(w, to.Say(r.Choice.Headline))
	} else {
		fmt.Fprintf(w, "%s: %s\n", r.Settings[r.Choice.Setting].Setting.Key(), to.Word("verdict."+string(r.Choice.Verdict)))
	}
	for _, m := range r.Choice.Why {
		fmt.Fprintln(w, "  -", to.Say(m))
	}
	for _, m := range r.Choice.Flips {
		fmt.Fprintln(w, "  ?", to.Say(m))
	}
	for _, m := range r.Against {
		fmt.Fprintln(w, "  !", to.Say(m))
	}
	fmt.Fprintf(w, "\n%s counted, %s possible\n\n", many(r.Balls, "shot"), many(len(r.Settings), "setting"))
	printClubs(w, r, to)
	fmt.Fprintf(w, "%-34s %5s  %-36s %6s %9s %9s %8s\n", "setting", "balls", "gain, 80 %", "better", "carry", "offline", "apex")
	for i, s := range r.Settings {
		if !s.Tested && i != r.Choice.Setting && i != r.Reference {
			continue
		}
		mark, name := " ", s.Setting.Key()
		name = cmp.Or(name, to.Word("setting.as-is"))
		if i == r.Choice.Setting {
			mark = "*"
		}
		number := func(q shot.Quantity, d units.Dimension) string {
			if a, ok := s.Of(q); ok {
				return to.Number(a.Value.Mean, d, -1)
			}
			return "-"
		}
		gain, better := "–", "–"
		if i != r.Reference && s.Gain.Unit != "" { // an answer that was given has those of one
			gain, better = to.GainRange(s.Gain), to.Percent(s.PBetter)
		}
		fmt.Fprintf(w, "%s%-33s %5d  %-36s %6s %9s %9s %8s\n", mark, name, s.Balls, gain, better,
			number(shot.Carry, units.Length), number(shot.Offline, units.Length), number(shot.Apex, units.Height))
	}
	if r.Given {
		printAnswer(w, r, to)
		return
	}
	section := func(title string, n int, line func(i int) string) {
		if n == 0 {
			return
		}
		fmt.Fprintf(w, "\n%s\n", title)
		for i := range n {
			fmt.Fprintln(w, "  -", line(i))
		}
	}
	printAnswer(w, r, to)
	section("What each adjustment does to your ball (8 of 10 such intervals hold)", len(r.Moves), func(i int) string { return to.Say(r.Moves[i].Text) })
	section("What these shots cannot tell", len(r.Doubts), func(i int) string { return to.Say(r.Doubts[i].Text) })
	section("Worth hitting next", len(r.Next), func(i int) string {
		n := r.Next[i]
		return to.Fill("paper.next", strconv.Itoa(n.Balls), r.Settings[n.Setting].Setting.Key()) + " " + to.Say(n.Why)
	})
	if r.Stop.Why.Key != "" {
		fmt.Fprintf(w, "\n%s\n", to.Say(r.Stop.Why))
	}
	findings := found(r, to)
	section("Findings", len(findings), func(i int) string { return findings[i] })
	lines := remembered(r, to)
	section("What was learned before", len(lines), func(i int) string { return lines[i] })
	section("Notes", len(r.Notes), func(i int) string { return to.Say(r.Notes[i]) })
	section("Cautions", len(r.Cautions), func(i int) string { return to.Say(r.Cautions[i]) })
}

// found are the findings as sentences; what is said of several lines is said once.
func found(r report.Report, to text.Reader) (said []string) {
	lines := map[string][]string{}
	for _, f := range r.Findings {
		words := to.Say(f.Text)
		if _, seen := lines[words]; !seen {
			said, lines[words] = append(said, words), nil
		}
		if f.Line > 0 {
			lines[words] = append(lines[words], strconv.Itoa(f.Line))
		}
	}
	for i, words := range said {
		switch at := lines[words]; len(at) {
		case 0:
		case 1:
			said[i] = "line " + at[0] + ": " + words
		default:
			said[i] = "lines " + strings.Join(at, ", ") + ": " + words
		}
	}
	return said
}

// printClubs writes how several clubs stand, each set as it is best.
func printClubs(w io.Writer, r report.Report, to text.Reader) {
	if len(r.Clubs) == 0 {
		return
	}
	fmt.Fprintf(w, "%-34s %5s  %-36s %6s %9s\n", "club, set as it is best", "balls", "gain, 80 %", "better", "carry")
	for i, c := range r.Clubs {
		gain, better, carry := "–", "–", "–"
		if i > 0 {
			gain, better, carry = to.GainRange(c.Gain), to.Percent(c.PBetter), to.Difference(c.Carry, units.Length, -1)
		}
		fmt.Fprintf(w, " %-33s %5d  %-36s %6s %9s\n", r.Settings[c.Setting].Setting.Key(), c.Balls, gain, better, carry)
	}
	fmt.Fprintln(w)
}

// printAnswer writes the one result: both ways of aiming, counts of 20 drives
// and what there is to win.
func printAnswer(w io.Writer, r report.Report, to text.Reader) {
	a := r.Answer
	if a.Other < 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", r.Settings[a.Other].Setting.Key())
	fmt.Fprintf(w, "  better than today's: %s\n", to.Percent(a.Chance))
	fmt.Fprintf(w, "  gain as you aim: %s; with the aim moved: %s; with the aim left alone: %s\n",
		to.GainRange(a.Gain), to.GainRange(a.Moved), to.GainRange(a.Still))
	for _, p := range []struct {
		name string
		of   report.Place
	}{{"today", a.Today}, {"then", a.Then}} {
		c := p.of.Counts
		fmt.Fprintf(w, "  %s: carry %s, %s; of %d drives: fairway %d, rough %d, trouble %d", p.name, to.Number(p.of.Carry, units.Length, -1),
			to.Side(p.of.Side), report.Drives, c.Fairway, c.Rough, c.Trouble)
		if c.Window >= 0 {
			fmt.Fprintf(w, ", in the height window %d", c.Window)
		}
		if c.Short >= 0 {
			fmt.Fprintf(w, ", short of the carry %d", c.Short)
		}
		fmt.Fprintln(w)
	}
	g := a.Prize
	fmt.Fprintf(w, "  what a setting can give you: about %s, carry %s, %.1f of %d drives out of trouble; moving your aim gives %s\n",
		to.Gain(g.Gain.Value.Mean, g.Gain.Unit), to.Difference(g.Carry, units.Length, -1), g.Drives, report.Drives, to.Gain(g.Aiming.Value.Mean, g.Aiming.Unit))
	for _, s := range r.Settings {
		for _, d := range s.Differs {
			fmt.Fprintf(w, "  %s: %s\n", s.Setting.Key(), to.Say(d.Text))
		}
	}
}

// release is the version that `ferrule version` prints.
const release = "0.1.0"

func runVersion(args []string, std streams) int {
	if len(args) > 0 {
		fmt.Fprintf(std.err, "ferrule version: read %q, expected nothing\n", args[0])
		return exitUsage
	}
	fmt.Fprintf(std.out, "ferrule %s, report %d\n", release, report.Version)
	return exitDone
}
