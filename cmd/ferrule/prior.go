package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/text"
	"ferrule/core/units"
)

func init() { commands["prior"] = runPrior }

const priorUsage = `ferrule prior prints what physics expects of each adjustment before a ball is
hit, with its doubt, beside what is published and what practice says.

  ferrule prior [-club CLUB.json] [-json] [-seed N]
                [-club-speed MPH] [-attack DEG] [-path DEG] [-face DEG] [-loft DEG]
  ferrule prior ... -ball-speed MPH -launch DEG -spin RPM [-direction DEG] [-axis DEG]

The first form takes a delivery (95 mph, level, delivered loft 14 unless said);
the second a player's typical ball.
`

// priorJSON is the output of prior -json; keys may be added, not changed.
type priorJSON struct {
	Version int            `json:"version"`
	Seed    uint64         `json:"seed"`
	Rows    []priorRowJSON `json:"rows"`
}

type priorRowJSON struct {
	Key      string            `json:"key"`
	Effect   string            `json:"effect"`
	Unit     string            `json:"unit"`
	Mean     float64           `json:"mean"`
	SD       float64           `json:"sd"`
	Disputed bool              `json:"disputed,omitempty"`
	Figures  []priorFigureJSON `json:"figures"`
}

type priorFigureJSON struct {
	Lo     float64  `json:"lo"`
	Hi     *float64 `json:"hi,omitempty"` // absent: a sign alone
	Status string   `json:"status"`
	Source string   `json:"source,omitempty"`
	Held   bool     `json:"held"`
}

func runPrior(args []string, std streams) int {
	set := flag.NewFlagSet("prior", flag.ContinueOnError)
	set.SetOutput(std.err)
	set.Usage = func() { fmt.Fprint(std.err, priorUsage) }
	path := set.String("club", "", "")
	asJSON := set.Bool("json", false, "")
	n := set.Uint64("seed", 1, "")
	value := map[string]*float64{}
	for name, usual := range map[string]float64{"club-speed": 95, "attack": 0, "path": 0, "face": 0, "loft": 14, "ball-speed": 0, "launch": 0, "spin": 0, "direction": 0, "axis": 0} {
		value[name] = set.Float64(name, usual, "")
	}
	if err := set.Parse(args); err != nil {
		return exitUsage
	}
	if set.NArg() > 0 {
		fmt.Fprintf(std.err, "ferrule prior: read %q, expected flags only\n%s", set.Arg(0), priorUsage)
		return exitUsage
	}
	given := map[string]bool{}
	set.Visit(func(f *flag.Flag) { given[f.Name] = true })
	h := club.Head{Kind: club.Driver, Loft: 10.5 * units.Degree, Lie: 58 * units.Degree, Mass: 200 * units.Gram}
	if *path != "" {
		raw, err := os.ReadFile(*path)
		if err == nil {
			h, err = club.FromJSON(raw)
		}
		if err != nil {
			fmt.Fprintf(std.err, "%s: %v\n", *path, err)
			return exitInput
		}
	}
	base, err := priorBase(h, value, given)
	if err != nil {
		fmt.Fprintf(std.err, "ferrule prior: %v\n", err)
		return exitInput
	}
	rows, err := impact.PriorTable(base, h, flight.Env{}, seed.Seed(*n))
	if err != nil {
		fmt.Fprintf(std.err, "ferrule prior: %v\n", err)
		return exitInput
	}
	if *asJSON {
		return priorAsJSON(rows, *n, std)
	}
	printPrior(rows, base, h, std)
	return exitDone
}

// priorBase is the player: a typical ball if one was given, else a delivery.
func priorBase(h club.Head, value map[string]*float64, given map[string]bool) (impact.Baseline, error) {
	deg := func(name string) float64 { return *value[name] * units.Degree }
	var b impact.Baseline
	if given["club-speed"] || !given["ball-speed"] {
		v := *value["club-speed"] * units.MPH
		b.ClubSpeed = &v
	}
	if given["attack"] || !given["ball-speed"] {
		v := deg("attack")
		b.Attack = &v
	}
	if given["ball-speed"] {
		if !given["launch"] || !given["spin"] {
			return b, fmt.Errorf("read -ball-speed, expected -launch and -spin with it")
		}
		b.Launch = flight.Launch{Speed: *value["ball-speed"] * units.MPH, Angle: deg("launch"), Spin: *value["spin"] * units.RPM, Direction: deg("direction"), Axis: deg("axis")}
		return b, b.Launch.Validate()
	}
	for _, name := range []string{"launch", "spin", "direction", "axis"} {
		if given[name] {
			return b, fmt.Errorf("read -%s, expected -ball-speed with it", name)
		}
	}
	l, err := impact.Strike(impact.Delivery{ClubSpeed: *b.ClubSpeed, Attack: *b.Attack, Path: deg("path"), Face: deg("face"), DynamicLoft: deg("loft")}, impact.DefaultParams(h))
	b.Launch = l
	return b, err
}

func priorAsJSON(rows []impact.PriorRow, n uint64, std streams) int {
	out := priorJSON{Version: 1, Seed: n}
	r := text.Reader{Language: "en"}
	for _, row := range rows {
		j := priorRowJSON{Key: row.Key, Effect: r.Word("prior." + row.Key), Unit: row.Unit, Mean: row.Mean, SD: row.SD, Disputed: row.Disputed}
		for _, f := range row.Figures {
			g := priorFigureJSON{Lo: f.Lo, Status: f.Status, Source: f.Source, Held: row.Holds(f)}
			if !math.IsInf(f.Hi, 0) {
				g.Hi = &f.Hi
			}
			j.Figures = append(j.Figures, g)
		}
		out.Rows = append(out.Rows, j)
	}
	enc := json.NewEncoder(std.out)
	enc.SetIndent("", "  ")
	if err := enc.Encode(out); err != nil {
		fmt.Fprintf(std.err, "ferrule prior: %v\n", err)
		return exitInput
	}
	return exitDone
}

func printPrior(rows []impact.PriorRow, base impact.Baseline, h club.Head, std streams) {
	r := text.Reader{Language: "en"}
	fmt.Fprintln(std.out, r.Word("prior.title"))
	if d, p, err := base.Delivery(h); err == nil {
		fmt.Fprintln(std.out, r.Say(report.Message{Key: "prior.player", Args: []report.Arg{
			{Value: base.Launch.Speed, Dim: units.Speed, Digits: 1}, {Value: base.Launch.Angle, Dim: units.Angle, Digits: 1}, {Value: base.Launch.Spin, Dim: units.Spin, Digits: 0},
			{Value: d.DynamicLoft, Dim: units.Angle, Digits: 1}, {Value: p.Eta, Dim: units.None, Digits: 2}, {Value: p.Restitution, Dim: units.None, Digits: 2}}}))
	}
	fmt.Fprintln(std.out, r.Word("prior.scale"))
	fmt.Fprintln(std.out)
	missed, outside := 0, "NOT HELD"
	if d, _, err := base.Delivery(h); err == nil && math.Abs(d.ClubSpeed/units.MPH-95) > 5 {
		outside = "outside, as told for another speed" // the scale of these figures goes with the speed
	}
	for _, row := range rows {
		fmt.Fprintf(std.out, "%s\n    expected %s ± %s %s, 90 of 100: %s to %s\n", r.Word("prior."+row.Key),
			number(row.Mean), number(row.SD), row.Unit, number(row.Mean-impact.Interval*row.SD), number(row.Mean+impact.Interval*row.SD))
		if row.Disputed {
			fmt.Fprintf(std.out, "    %s\n", r.Word("prior.wide"))
		}
		for _, f := range row.Figures {
			held := "held"
			if !row.Holds(f) {
				held = outside
				missed++
			}
			fmt.Fprintf(std.out, "    %s %s%s: %s (%.1f sd away)\n", f.Status, figure(f), strings.TrimRight(" ["+f.Source, " [")+closing(f.Source), held, row.Away(f))
		}
	}
	fmt.Fprintf(std.out, "\n%d effects; figures outside their interval: %d\n", len(rows), missed)
}

func closing(source string) string {
	if source == "" {
		return ""
	}
	return "]"
}

func figure(f impact.Figure) string {
	switch {
	case math.IsInf(f.Hi, 1):
		return "more than " + number(f.Lo)
	case f.Lo == f.Hi:
		return number(f.Lo)
	}
	return number(f.Lo) + " to " + number(f.Hi)
}

// number writes three digits that count, as far as that needs no more than
// two decimals.
func number(v float64) string {
	decimals := 2
	switch a := math.Abs(v); {
	case a >= 99.5:
		decimals = 0
	case a >= 9.95:
		decimals = 1
	}
	return units.Format(v, decimals, '.')
}
