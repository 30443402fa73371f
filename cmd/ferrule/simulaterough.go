package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"time"

	"ferrule/cmd/internal/rough"
	"ferrule/cmd/internal/trial"
	"ferrule/core/frame"
	"ferrule/core/pipeline"
	"ferrule/core/shot"
)

// roughSession is what a golfer of package rough would type and what the device
// printed, in the golfer's own world.
func (e *trialEngine) roughSession(g *rough.Golfer, seen []rough.Seen) shot.Session {
	handicap := g.Handicap
	s := shot.Session{ID: "rough", Ball: "own", Head: e.head, Player: shot.Player{Hand: frame.Right, Handicap: &handicap},
		Aim: shot.Aim{Goal: shot.GoalStrokes, Trouble: frame.SideRight, TroubleAt: g.Hole.Water, TroubleKind: "penalty",
			FairwayWidth: 2 * g.Hole.Half, HoleLength: g.Hole.Length, Reaim: &g.Share}}
	mirror := 1.
	if g.Hand == "left" {
		mirror, s.Player.Hand, s.Aim.Trouble = -1, frame.Left, frame.SideLeft
	}
	if g.Told.Head != 0 || g.Told.Right != 0 {
		s.Conditions.Wind = math.Hypot(g.Told.Head, g.Told.Right)
		s.Conditions.WindFrom = math.Atan2(mirror*g.Told.Right, g.Told.Head)
	}
	for i, b := range seen {
		one := shot.Shot{ID: strconv.Itoa(i + 1), Setting: e.labels[b.Setting], Values: shot.Values{}}
		for q, v := range map[shot.Quantity]float64{shot.ClubSpeed: b.Club, shot.BallSpeed: b.Speed, shot.Launch: b.Angle,
			shot.LaunchDirection: mirror * b.Direction, shot.Spin: b.Spin, shot.SpinAxis: mirror * b.Axis, shot.Carry: b.Carry,
			shot.Offline: mirror * b.Offline, shot.Apex: b.Apex, shot.Descent: b.Descent, shot.FlightTime: b.FlightTime} {
			if !math.IsNaN(v) {
				one.Values[q] = v
			}
		}
		if b.WarmUp {
			one.Tag = shot.TagWarmup
		}
		s.Shots = append(s.Shots, one)
	}
	return s
}

// said is the answer to a rough session with what is remembered.
func (e *trialEngine) said(g *rough.Golfer, seen []rough.Seen, m pipeline.Memory) (trial.Said, error) {
	r, err := pipeline.AnalyseWith(e.roughSession(g, seen), m, g.Seed, nil)
	if err != nil {
		return trial.Said{}, err
	}
	a := trial.Said{Keep: r.Choice.Keep, Verdict: string(r.Choice.Verdict), Sure: r.Choice.Sure, Gain: r.Choice.Gain.Mean, Rival: -1,
		Of: map[string][80]trial.Interval{}}
	at := make([]int, len(r.Settings))
	of := map[string]*[80]trial.Interval{}
	for _, q := range trial.Quantities {
		of[q] = &[80]trial.Interval{}
	}
	low := math.Inf(1)
	for i, s := range r.Settings {
		k, ok := e.index[s.Setting.Key()]
		if !ok {
			return a, fmt.Errorf("the report names a setting %q that the club has not", s.Setting.Key())
		}
		at[i] = k
		of["strokes"][k] = interval(s.Difference)
		if s.Difference.Mean < low {
			low, a.Top = s.Difference.Mean, k
		}
		for name, q := range map[string]shot.Quantity{"carry": shot.Carry, "side": shot.Offline, "height": shot.Apex} {
			v, ok := s.Of(q)
			if !ok {
				return a, fmt.Errorf("the report has no %s of setting %q", name, s.Setting.Key())
			}
			d, value := v.Difference, v.Value
			if q == shot.Offline && g.Hand == "left" {
				d, value = d.Minus(), value.Minus()
			}
			of[name][k], of[name+" at"][k] = interval(d), interval(value)
		}
	}
	for q, v := range of {
		a.Of[q] = *v
	}
	a.Choice = at[r.Choice.Setting]
	if r.Choice.RunnerUp >= 0 {
		a.Rival = at[r.Choice.RunnerUp]
	}
	for _, n := range r.Next {
		a.Next = append(a.Next, [2]int{at[n.Setting], n.Balls})
	}
	return a, nil
}

// roughJSON is the documented output of simulate -bench rough -json: cells of
// package trial's RoughCell by group. Keys may be added.
type roughJSON struct {
	Version int               `json:"version"`
	Command string            `json:"command"`
	Date    string            `json:"date"`
	Seeds   [2]uint64         `json:"seeds"` // first and last
	Cells   []trial.RoughCell `json:"cells"`
}

// groupings are what -by may name.
var groupings = map[string]func(trial.Record) string{
	"balls":  func(r trial.Record) string { return fmt.Sprintf("%2d balls", r.Balls) },
	"world":  func(r trial.Record) string { return r.World },
	"device": func(r trial.Record) string { return r.Device },
	"order":  func(r trial.Record) string { return r.Order },
	"aim": func(r trial.Record) string {
		return map[string]string{"free": "re-aimed", "part": "partly re-aimed", "middle": "at the middle"}[r.Aim]
	},
	"wind":      func(r trial.Record) string { return "wind " + r.Wind },
	"level":     func(r trial.Record) string { return r.Level },
	"hand":      func(r trial.Record) string { return r.Hand + "-handed" },
	"impact":    func(r trial.Record) string { return r.Impact },
	"flight":    func(r trial.Record) string { return r.Flight },
	"deviation": func(r trial.Record) string { return fmt.Sprintf("deviation %.1f", r.Deviation) },
	"all":       func(r trial.Record) string { return "all" },
}

// grouping reads "balls,device" into one group by both.
func grouping(by string) (func(trial.Record) string, error) {
	var parts []func(trial.Record) string
	for _, k := range strings.Split(by, ",") {
		f, ok := groupings[k]
		if !ok {
			return nil, fmt.Errorf("-by: read %q, expected balls, world, device, order, aim, wind, level, hand, impact, flight, deviation or all, several separated by commas", k)
		}
		parts = append(parts, f)
	}
	return func(r trial.Record) string {
		var words []string
		for _, f := range parts {
			words = append(words, strings.TrimSpace(f(r)))
		}
		return strings.Join(words, ", ")
	}, nil
}

// readRecords reads what -records wrote: one session a line.
func readRecords(path string) (out []trial.Record, err error) {
	f, err := os.Open(path)
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for n := 1; lines.Scan(); n++ {
		var r trial.Record
		if err := json.Unmarshal(lines.Bytes(), &r); err != nil {
			return nil, fmt.Errorf("%s:%d: read %.40q, expected a session as -records writes it: %w", path, n, lines.Text(), err)
		}
		out = append(out, r)
	}
	return out, lines.Err()
}

// runRough makes the sessions that the file of records does not hold yet, adds
// them to it, and prints tables of all that it holds.
func runRough(cfg trial.RoughConfig, run func(trial.RoughConfig, trial.Ask, func(trial.Record)), records, by string, asJSON bool, std streams) error {
	var tags []func(trial.Record) string
	for _, b := range strings.Split(by, ";") {
		tag, err := grouping(b)
		if err != nil {
			return err
		}
		tags = append(tags, tag)
	}
	engine, err := newTrialEngine()
	if err != nil {
		return fmt.Errorf("the benchmark's club: %w", err)
	}
	var done []trial.Record
	keep := io.Discard
	if records != "" {
		if done, err = readRecords(records); err != nil {
			return err
		}
		f, err := os.OpenFile(records, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
		if err != nil {
			return err
		}
		defer f.Close()
		keep = f
	}
	there := map[[2]uint64]bool{}
	for _, r := range done {
		there[[2]uint64{r.Seed, uint64(r.Balls)}] = true
	}
	enc := json.NewEncoder(keep)
	for i := range cfg.Golfers {
		one := cfg
		one.Seed, one.Golfers, one.Balls = cfg.Seed+uint64(i), 1, nil
		for _, n := range cfg.Balls {
			if !there[[2]uint64{one.Seed, uint64(n)}] {
				one.Balls = append(one.Balls, n)
			}
		}
		if len(one.Balls) == 0 {
			continue
		}
		run(one, engine.ask, func(r trial.Record) {
			if e := enc.Encode(r); e != nil {
				err = e
			}
			done = append(done, r)
		})
		if err != nil {
			return err
		}
		if (i+1)%max(1, cfg.Golfers/10) == 0 {
			fmt.Fprintf(std.err, "%d of %d golfers\n", i+1, cfg.Golfers)
		}
	}
	var cells []trial.RoughCell
	for i, b := range strings.Split(by, ";") {
		for _, c := range trial.Cells(done, tags[i]) {
			c.By = b
			cells = append(cells, c)
		}
	}
	if asJSON {
		out := roughJSON{Version: 1, Command: "ferrule " + strings.Join(os.Args[1:], " "), Date: time.Now().Format("2006-01-02"), Cells: cells}
		for i, r := range done {
			if i == 0 || r.Seed < out.Seeds[0] {
				out.Seeds[0] = r.Seed
			}
			out.Seeds[1] = max(out.Seeds[1], r.Seed)
		}
		j := json.NewEncoder(std.out)
		j.SetIndent("", " ")
		return j.Encode(out)
	}
	for _, c := range cells {
		c.Print(std.out)
	}
	return nil
}
