package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"

	"ferrule/cmd/internal/invent"
	"ferrule/cmd/internal/rough"
	"ferrule/cmd/internal/trial"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/pipeline"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

func init() { commands["simulate"] = runSimulate }

const simulateUsage = `usage: ferrule simulate [-players 50] [-world all] [-level all] [-balls 3,5,10] [-aim free]
       [-from 0] [-seed 1] [-bayes] [-workers N] [-json]
       ferrule simulate -bench rough|sequence|clubs|visits|record [-players 50] [-balls 3,5,10] [-seed 1] [-records FILE]
       [-by balls,device] [-world W] [-device D] [-order O] [-aim A] [-wind W] [-level L] [-deviation .2] [-json]

Invents golfers, lets each hit six of the 80 settings of a club in mirrored
order, and compares ways of choosing a setting by regret: strokes a drive lost
against the truly best of the 80.

  -world   right     the settings do what physics says, players scatter about it
           weak      .3 of it, with 1.5 times the scatter
           reversed  -.5 of it
           null      no setting does anything: who is told "clear"?
           all       all four
  -level   low, mid, high (handicap 4, 14, 24) or all
  -balls   with each setting, several separated by commas
  -aim     free     each setting is played along its best line, up to 6 degrees
                    off: a setting gets no credit for what aiming does
           fixed    every player aims at the middle whatever the ball does
  -from    number of the first player: 0 to 99 and 100 to 199 together are the
           200 players of one longer run
  -bayes   also the choice of one who knows the world that the player was drawn
           from, the swing and the ball: what can be known at all

  -bench rough  other golfers, drawn trait by trait: other flights and impacts,
           devices that lack columns, form that wanders, odd settings, wind,
           mis-hits of 10 to 20 %. A golfer is the number -seed, the next one
           -seed + 1. A trait that is named is held, the others are drawn:
           -world   expected, weak, reversed, strange, one axis, interacting, null
           -device  full, no axis, no spin, carry and side, estimated spin
           -order   blocks, round, today first, mirrored
           -aim     free, part, middle
           -wind    none, told, untold, wrong
           -level   low, mid, high
           -flight  saturating, power;  -impact plane, statistical
           -deviation  of a setting beyond its features, in ball-to-ball scatter
  -bench sequence  the same golfers: nine balls, three with each of three
           settings, then fifteen by Ferrule's own next test or going round six
  -bench clubs  the same golfers with a bag: the own club, which cannot be set, two
           heads of 80 settings with its shaft, the same heads with another shaft;
           differences drawn. -balls are those of a visit (13 visits); -mixed
           cmd/proof/clubs.R judges a mixed model of R (lme4) on the same balls
  -bench visits  the same golfers: 18 balls today, and 0, 1, 2 and 4 earlier days of
           18 balls, each with its own level, wind and device zeros, one in five
           with another swing
  -bench record  heads of the worlds expected, weak, reversed and strange; eight
           golfers each with 18 balls, and a record of the head by 0, 10, 30 and
           100 other players of 18 balls
  -records FILE  one session a line; those that it holds are not made again, and
           the tables are of all that it holds: long runs are made in parts, and
           parts are joined by cat. -players 0 prints the tables alone
  -by      what the tables are grouped by, several separated by commas, several
           groupings by semicolons ("balls;balls,device"): all, balls, world,
           device, order, aim, wind, level, hand, impact, flight, deviation

What is shared with the engine and what is not stands in package
cmd/internal/trial. A player takes about .2 s of a processor for the truth and
as much for each number of balls.
`

// simulateJSON is the documented output of simulate -json; keys may be added.
type simulateJSON struct {
	Version int          `json:"version"`
	Seed    uint64       `json:"seed"`
	Aim     string       `json:"aim"` // "free" or "fixed"
	Cells   []trial.Cell `json:"cells"`
}

// within tells whether each of the words of list is one of known.
func within(list string, known []string) bool {
	for _, w := range strings.Split(list, ",") {
		if !slices.Contains(known, w) {
			return false
		}
	}
	return true
}

// simulateFlags is what simulate can be told.
type simulateFlags struct {
	set                                                 *flag.FlagSet
	players, from, workers                              int
	seed                                                uint64
	world, level, balls, aim, bench, records, mixed, by string
	bayes, asJSON                                       bool
	held                                                rough.Fixed // what the other benches do not draw
	counts                                              []int       // -balls
}

func newSimulateFlags() *simulateFlags {
	o := &simulateFlags{set: flag.NewFlagSet("simulate", flag.ContinueOnError), held: rough.Drawn()}
	fs := o.set
	fs.SetOutput(io.Discard)
	fs.IntVar(&o.players, "players", 50, "")
	fs.StringVar(&o.world, "world", "all", "")
	fs.StringVar(&o.level, "level", "all", "")
	fs.StringVar(&o.balls, "balls", "3,5,10", "")
	fs.IntVar(&o.from, "from", 0, "")
	fs.StringVar(&o.aim, "aim", "free", "")
	fs.Uint64Var(&o.seed, "seed", 1, "")
	fs.BoolVar(&o.bayes, "bayes", false, "")
	fs.StringVar(&o.bench, "bench", "level", "")
	fs.StringVar(&o.records, "records", "", "")
	fs.StringVar(&o.mixed, "mixed", "", "")
	fs.StringVar(&o.by, "by", "balls", "")
	fs.StringVar(&o.held.Device, "device", "", "")
	fs.StringVar(&o.held.Order, "order", "", "")
	fs.StringVar(&o.held.Wind, "wind", "", "")
	fs.StringVar(&o.held.Flight, "flight", "", "")
	fs.StringVar(&o.held.Impact, "impact", "", "")
	fs.Float64Var(&o.held.Deviation, "deviation", -1, "")
	fs.IntVar(&o.workers, "workers", runtime.NumCPU(), "")
	fs.BoolVar(&o.asJSON, "json", false, "")
	return o
}

// check says what is wrong with the flags that every bench takes, and reads -balls.
func (o *simulateFlags) check() (err error) {
	switch {
	case o.aim != "free" && o.aim != "fixed" && o.bench == "level":
		return fmt.Errorf("-aim: read %q, expected free or fixed", o.aim)
	case o.set.NArg() > 0:
		return fmt.Errorf("read %q, expected flags only", o.set.Arg(0))
	case o.players < 1 && o.records == "" || o.players < 0 || o.players > 100000:
		return fmt.Errorf("-players: read %d, expected 1 to 100000", o.players)
	case o.from < 0:
		return fmt.Errorf("-from: read %d, expected 0 or more", o.from)
	}
	if o.counts, err = ballCounts(o.balls); err != nil {
		return err
	}
	if !slices.Contains([]string{"level", "rough", "sequence", "clubs", "visits", "record"}, o.bench) {
		return fmt.Errorf("-bench: read %q, expected level, rough, sequence, clubs, visits or record", o.bench)
	}
	return nil
}

// hold takes from the flags that the benches share what is given, for a bench that
// draws the rest.
func (o *simulateFlags) hold() error {
	o.set.Visit(func(f *flag.Flag) {
		switch f.Name {
		case "world":
			o.held.World = o.world
		case "level":
			o.held.Level = o.level
		case "aim":
			o.held.Aim = o.aim
		}
	})
	return o.held.Check()
}

// other runs a bench other than level.
func (o *simulateFlags) other(std streams) error {
	of := trial.RoughConfig{Seed: o.seed, Golfers: o.players, Balls: o.counts, Fixed: o.held}
	switch o.bench {
	case "clubs":
		return runClubs(o.seed, o.players, o.counts, o.held, o.mixed, o.asJSON, std)
	case "visits", "record":
		return runRecall(o.bench, of, o.records, o.asJSON, std)
	case "sequence":
		of.Balls = []int{24}
		return runRough(of, trial.Sequences, o.records, o.by, o.asJSON, std)
	}
	return runRough(of, trial.Rough, o.records, o.by, o.asJSON, std)
}

// config is what the bench level is run with.
func (o *simulateFlags) config() (cfg trial.Config, err error) {
	o.set.Visit(func(f *flag.Flag) {
		if slices.Contains([]string{"records", "mixed", "by", "device", "order", "wind", "flight", "impact", "deviation"}, f.Name) {
			err = fmt.Errorf("-%s: expected with -bench rough or sequence", f.Name)
		}
	})
	if err != nil {
		return cfg, err
	}
	cfg = trial.Config{Balls: o.counts, Players: o.players, Seed: o.seed, Workers: o.workers, Fixed: o.aim == "fixed", From: o.from, Bayes: o.bayes}
	worlds, levels := []string{"all"}, []string{"all"}
	for _, w := range invent.Worlds {
		worlds = append(worlds, w.Name)
		if o.world == "all" || slices.Contains(strings.Split(o.world, ","), w.Name) {
			cfg.Worlds = append(cfg.Worlds, w)
		}
	}
	for _, l := range invent.Levels {
		levels = append(levels, l.Name)
		if o.level == "all" || slices.Contains(strings.Split(o.level, ","), l.Name) {
			cfg.Levels = append(cfg.Levels, l)
		}
	}
	if !within(o.world, worlds) {
		return cfg, fmt.Errorf("-world: read %q, expected right, weak, reversed, null or all", o.world)
	}
	if !within(o.level, levels) {
		return cfg, fmt.Errorf("-level: read %q, expected low, mid, high or all", o.level)
	}
	return cfg, nil
}

func runSimulate(args []string, std streams) int {
	usage := func(err error) int {
		fmt.Fprintf(std.err, "ferrule simulate: %v\n\n%s", err, simulateUsage)
		return exitUsage
	}
	failed := func(err error) int {
		fmt.Fprintf(std.err, "ferrule simulate: %v\n", err)
		return exitInput
	}
	o := newSimulateFlags()
	if err := o.set.Parse(args); err == flag.ErrHelp {
		fmt.Fprint(std.out, simulateUsage)
		return exitDone
	} else if err != nil {
		return usage(err)
	}
	if err := o.check(); err != nil {
		return usage(err)
	}
	if o.bench != "level" {
		if err := o.hold(); err != nil {
			return usage(err)
		}
		if err := o.other(std); err != nil {
			return failed(err)
		}
		return exitDone
	}
	cfg, err := o.config()
	if err != nil {
		return usage(err)
	}
	engine, err := newTrialEngine()
	if err != nil {
		return failed(fmt.Errorf("the benchmark's club: %w", err))
	}
	start := time.Now()
	cells := trial.Run(cfg, engine.answer, func(done, all int) {
		if done == all || done%max(1, all/20) == 0 {
			fmt.Fprintf(std.err, "%d of %d players, %s\n", done, all, time.Since(start).Round(time.Second))
		}
	})
	if o.asJSON {
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		if err := enc.Encode(simulateJSON{1, o.seed, o.aim, cells}); err != nil {
			return failed(err)
		}
		return exitDone
	}
	for _, c := range cells {
		printCell(std.out, c, o.aim)
	}
	return exitDone
}

// ballCounts reads "3,5,10".
func ballCounts(text string) (counts []int, err error) {
	for _, t := range strings.Split(text, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(t))
		if err != nil || n < 2 || n > 200 {
			return nil, fmt.Errorf("-balls: read %q, expected whole numbers from 2 to 200, such as 3,5,10", t)
		}
		counts = append(counts, n)
	}
	return counts, nil
}

// trialEngine asks the pipeline as a player would: a typed club, an aim, and
// what the device printed.
type trialEngine struct {
	head   club.Head
	labels []club.Setting // of invent.Settings80
	index  map[string]int // of a label's key
}

func newTrialEngine() (*trialEngine, error) {
	h := club.Head{Name: "Benchmark driver", Kind: club.Driver, Loft: 10.5 * units.Degree, Lie: 58 * units.Degree, Mass: .200}
	e := &trialEngine{index: map[string]int{}}
	w := club.Weight{Name: "track", Mass: .012}
	for i, s := range invent.Settings80() {
		position := fmt.Sprintf("loft %+.1f, lie %+.2f", s.Loft/units.Degree, s.Lie/units.Degree)
		stop := "middle"
		switch {
		case s.Toe > 0:
			stop = fmt.Sprintf("toe %.0f", s.Toe*1e3)
		case s.Toe < 0:
			stop = fmt.Sprintf("heel %.0f", -s.Toe*1e3)
		}
		label := club.Setting{Sleeve: position, Weights: []string{stop}}
		if !slices.ContainsFunc(h.Sleeve.Table, func(p club.Position) bool { return p.Label == position }) {
			h.Sleeve.Table = append(h.Sleeve.Table, club.Position{Label: position, Loft: s.Loft, Lie: s.Lie})
		}
		if !slices.ContainsFunc(w.Stops, func(p club.Stop) bool { return p.Label == stop }) {
			w.Stops = append(w.Stops, club.Stop{Label: stop, Toe: s.Toe})
		}
		e.labels = append(e.labels, label)
		e.index[label.Key()] = i
	}
	h.Weights = []club.Weight{w}
	h.Current = e.labels[0]
	e.head = h
	if err := h.Validate(); err != nil {
		return nil, err
	}
	if n := len(h.Settings()); n != len(e.labels) {
		return nil, fmt.Errorf("it has %d settings, expected %d", n, len(e.labels))
	}
	return e, nil
}

func (e *trialEngine) session(balls []invent.Ball, level invent.Level, hole invent.Hole) shot.Session {
	handicap := level.Handicap
	s := shot.Session{
		ID: "benchmark", Ball: "own", Head: e.head,
		Player: shot.Player{Hand: frame.Right, Handicap: &handicap},
		Aim: shot.Aim{Goal: shot.GoalStrokes, Trouble: frame.SideRight, TroubleAt: hole.Water, TroubleKind: "penalty",
			FairwayWidth: 2 * hole.Half, HoleLength: hole.Length, Fixed: hole.Fixed},
	}
	for i, b := range balls {
		one := shot.Shot{ID: strconv.Itoa(i + 1), Setting: e.labels[b.Setting], Values: shot.Values{
			shot.ClubSpeed: b.ClubSpeed, shot.BallSpeed: b.BallSpeed, shot.Launch: b.Launch, shot.LaunchDirection: b.Direction,
			shot.Spin: b.Spin, shot.SpinAxis: b.Axis, shot.Carry: b.Carry, shot.Offline: b.Off, shot.Apex: b.Apex}}
		if b.WarmUp {
			one.Tag = shot.TagWarmup
		}
		s.Shots = append(s.Shots, one)
	}
	return s
}

func (e *trialEngine) answer(balls []invent.Ball, level invent.Level, hole invent.Hole, seed uint64) (trial.Answer, error) {
	r, err := pipeline.Analyse(e.session(balls, level, hole), seed, nil)
	if err != nil {
		return trial.Answer{}, err
	}
	a := trial.Answer{Keep: r.Choice.Keep, Verdict: string(r.Choice.Verdict), Gain: r.Choice.Gain.Mean, Difference: make([]trial.Interval, len(e.labels))}
	seen := 0
	for i, s := range r.Settings {
		at, ok := e.index[s.Setting.Key()]
		if !ok {
			return a, fmt.Errorf("the report names a setting %q that the club has not", s.Setting.Key())
		}
		seen++
		a.Difference[at] = interval(s.Difference)
		if i == r.Choice.Setting {
			a.Choice = at
		}
	}
	if seen != len(e.labels) {
		return a, fmt.Errorf("the report holds %d settings of %d", seen, len(e.labels))
	}
	return a, nil
}

func interval(v report.Interval) trial.Interval {
	return trial.Interval{Mean: v.Mean, Lo50: v.Lo50, Hi50: v.Hi50, Lo80: v.Lo80, Hi80: v.Hi80, Lo95: v.Lo95, Hi95: v.Hi95}
}

// methodNames are the ways of choosing as printed.
var methodNames = map[string]string{
	"keep": "keep the club as it is", "raw": "raw average, pick of the 6 hit", "additive": "additive least squares, pick of the 6",
	"additive-all": "additive least squares, pick of the 80", "engine": "Ferrule", "bayes": "one who knows the world", "oracle-tested": "(the truly best of the 6)", "oracle": "(the truly best of the 80)",
}

func printCell(w io.Writer, c trial.Cell, aim string) {
	fmt.Fprintf(w, "\nworld %s, level %s, %d balls with each of 6 settings, %s aim, %d players\n", c.World, c.Level, c.Balls, aim, c.Players)
	if c.Failed > 0 {
		fmt.Fprintf(w, "  %d sessions could not be analysed; the first: %s\n", c.Failed, c.First)
	}
	fmt.Fprintf(w, "  %-40s %-18s %s\n", "strokes a drive, ± Monte-Carlo error", "regret", "promised less true gain")
	for _, m := range trial.Methods {
		r, ok := c.Regret[m]
		if !ok {
			continue
		}
		p := c.Promise[m]
		fmt.Fprintf(w, "  %-40s %.4f ± %.4f    %+.4f ± %.4f\n", methodNames[m], r.Mean, r.Error, p.Mean, p.Error)
	}
	row := func(name string, e [3]trial.Estimate) {
		fmt.Fprintf(w, "  %-40s", name)
		for _, v := range e {
			fmt.Fprintf(w, " %.2f±%.2f", v.Mean, v.Error)
		}
		fmt.Fprintln(w)
	}
	row("coverage of 50/80/95 %, settings hit", c.Tested)
	row("coverage of 50/80/95 %, settings not hit", c.Untested)
	fmt.Fprintf(w, "  differences to the present setting: true size %.4f, error %.4f (root mean squares, strokes), correlation %.2f ± %.2f\n",
		c.Size.Mean, c.Miss.Mean, c.Follow.Mean, c.Follow.Error)
	fmt.Fprintf(w, "  verdicts:")
	for _, v := range []string{"clear", "likely", "leaning", "cannot tell"} {
		fmt.Fprintf(w, "  %s %.0f %%", v, 100*c.Verdicts[v].Mean)
	}
	fmt.Fprintf(w, "\n  told to change %.0f %%; made worse by more than .005 strokes %.1f ± %.1f %%; \"clear\" without a gain %.1f ± %.1f %%\n",
		100*c.Moved.Mean, 100*c.Worse.Mean, 100*c.Worse.Error, 100*c.Clear.Mean, 100*c.Clear.Error)
}
