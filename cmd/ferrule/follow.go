package main

import (
	"encoding/json"
	"flag"
	"fmt"

	"ferrule/core/pipeline"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

func init() { commands["follow"] = runFollow }

// runFollow compares two visits: two shot files of one player and one club.
func runFollow(args []string, std streams) int {
	fs := flag.NewFlagSet("follow", flag.ContinueOnError)
	fs.SetOutput(std.err)
	var f fitFlags
	f.register(fs)
	aimThen := fs.String("aim-then", "", "`AIM.json` of the earlier visit, when its air or ball was another; otherwise that of -aim")
	rest, err := parseMixed(fs, args)
	if err != nil || len(rest) != 2 {
		fmt.Fprintln(std.err, "usage: ferrule follow BEFORE NOW -club CLUB.json [-aim AIM.json] [-aim-then AIM.json] [-json]")
		return exitUsage
	}
	var visits [2]shot.Session
	for i, path := range rest {
		g := f
		if i == 0 && *aimThen != "" {
			g.aim = *aimThen
		}
		s, err := loadSession([]string{path}, g, std)
		if err != nil {
			fmt.Fprintln(std.err, "ferrule follow:", err)
			return exitInput
		}
		visits[i] = s.Session
		visits[i].Title = path
	}
	r, err := pipeline.Follow(visits[0], visits[1], f.seed, nil)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule follow:", err)
		return exitInput
	}
	to := f.reader()
	if f.json {
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		if err := enc.Encode(followContract(r, to)); err != nil {
			fmt.Fprintln(std.err, "ferrule follow:", err)
			return exitInput
		}
		return exitDone
	}
	fmt.Fprintf(std.out, "%s, then %s\n", r.Before, r.Now)
	for _, m := range r.Said {
		fmt.Fprintln(std.out, "  -", to.Say(m))
	}
	return exitDone
}

// The JSON of `ferrule follow -json`, version 1. Keys may be added, not
// changed. Values are SI, with the key of the quantity naming the unit.
type jsonFollow struct {
	Version int             `json:"version"`
	Before  string          `json:"before"`
	Now     string          `json:"now"`
	Retest  []string        `json:"retest"`
	Said    []string        `json:"said"`
	Common  []jsonFollowRow `json:"common"`
	Rows    []jsonFollowRow `json:"rows"`
}

type jsonFollowRow struct {
	Sleeve   string       `json:"sleeve,omitempty"`
	Weights  []string     `json:"weights,omitempty"`
	Quantity string       `json:"quantity"`
	Balls    [2]int       `json:"balls"`
	Then     float64      `json:"then"`
	Now      float64      `json:"now"`
	Air      float64      `json:"air"`
	Change   jsonInterval `json:"change"`
}

func followContract(f report.FollowUp, to text.Reader) jsonFollow {
	rows := func(rs []report.FollowRow) []jsonFollowRow {
		out := []jsonFollowRow{}
		for _, r := range rs {
			out = append(out, jsonFollowRow{r.Setting.Sleeve, r.Setting.Weights, r.Quantity.Key(), r.Balls, r.Then.Mean, r.Now.Mean, r.Air, jsonInterval(r.Change)})
		}
		return out
	}
	return jsonFollow{1, f.Before, f.Now, say(to, f.Retest), say(to, f.Said), rows(f.Common), rows(f.Rows)}
}
