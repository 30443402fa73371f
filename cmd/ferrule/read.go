package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"sort"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/units"
)

func init() { commands["read"] = runRead }

type jsonColumn struct {
	Header   string `json:"header"`
	Quantity string `json:"quantity"`
	Unit     string `json:"unit"`
	Flipped  bool   `json:"flipped"`
	Evidence string `json:"evidence"`
}

type jsonError struct {
	Line    int    `json:"line"`
	Column  string `json:"column"`
	Message string `json:"message"`
}

// readJSON is the JSON of `ferrule read -json`, version 1. A shot's values
// stand under Quantity.Key() in SI; spins stand in rpm too. What was not read
// is absent.
type readJSON struct {
	Version int              `json:"version"`
	Columns []jsonColumn     `json:"columns"`
	Shots   []map[string]any `json:"shots"`
	Errors  []jsonError      `json:"errors"`
	Notes   []string         `json:"notes"`
	Ask     []string         `json:"ask"`
}

func shotJSON(s shot.Shot) map[string]any {
	m := map[string]any{"line": s.Line}
	for key, text := range map[string]string{"setting": s.Setting.Key(), "sleeve": s.Setting.Sleeve, "ball": s.Ball, "session": s.Session, "clock": s.Clock, "tag": string(s.Tag), "note": s.Note} {
		if text != "" {
			m[key] = text
		}
	}
	if len(s.Setting.Weights) > 0 {
		m["weights"] = s.Setting.Weights
	}
	for q, v := range s.Values {
		m[q.Key()] = v
		if k, ok := shot.KindOf(q); ok && k.Dim == units.Spin {
			m[string(q)+"_rpm"] = v / units.RPM
		}
	}
	return m
}

func runRead(args []string, std streams) int {
	fs := flag.NewFlagSet("read", flag.ContinueOnError)
	fs.SetOutput(std.err)
	asJSON := fs.Bool("json", false, "print the documented JSON")
	hand := fs.String("hand", "right", "hand of the player: right or left")
	rest, err := parseMixed(fs, args)
	if err != nil || len(rest) != 1 || *hand != "right" && *hand != "left" {
		fmt.Fprintln(std.err, "usage: ferrule read FILE [-json] [-hand right|left]")
		return exitUsage
	}
	data, err := readInput(rest[0], std)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule read:", err)
		return exitInput
	}
	t, err := shotfile.Read(rest[0], data, shotfile.Options{Hand: frame.Hand(*hand)})
	if err != nil {
		fmt.Fprintf(std.err, "ferrule read: %s: %v\n", rest[0], err)
		return exitInput
	}
	if *asJSON {
		out := readJSON{Version: 1, Columns: []jsonColumn{}, Shots: []map[string]any{}, Errors: []jsonError{}, Notes: list(t.Notes), Ask: list(t.Ask)}
		for _, c := range t.Columns {
			what := string(c.Quantity)
			if what == "" {
				what = c.Role
			}
			out.Columns = append(out.Columns, jsonColumn{c.Header, what, c.Unit, c.Flipped, c.Evidence})
		}
		for _, s := range t.Shots {
			out.Shots = append(out.Shots, shotJSON(s))
		}
		for _, e := range t.Errors {
			out.Errors = append(out.Errors, jsonError(e))
		}
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		if enc.Encode(out) != nil {
			return exitInput
		}
		return exitDone
	}
	fmt.Fprintf(std.out, "%d shots, %d columns\n", len(t.Shots), len(t.Columns))
	for _, c := range t.Columns {
		what := string(c.Quantity)
		if what == "" {
			what = c.Role
		}
		if what == "" {
			what = "(not used)"
		}
		turned := ""
		if c.Flipped {
			turned = " turned over"
		}
		fmt.Fprintf(std.out, "  %-28s %-18s %-5s%s  %s\n", c.Header, what, c.Unit, turned, c.Evidence)
	}
	counts := map[string]int{}
	for _, s := range t.Shots {
		counts[s.Setting.Key()]++
	}
	keys := make([]string, 0, len(counts))
	for k := range counts {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		if k == "" {
			fmt.Fprintf(std.out, "  no setting named: %d shots\n", counts[k])
			continue
		}
		fmt.Fprintf(std.out, "  setting %q: %d shots\n", k, counts[k])
	}
	for _, n := range t.Notes {
		fmt.Fprintln(std.out, "note:", n)
	}
	for _, q := range t.Ask {
		fmt.Fprintln(std.out, "unclear:", q)
	}
	for _, e := range t.Errors {
		fmt.Fprintf(std.out, "line %d, %s: %s\n", e.Line, e.Column, e.Message)
	}
	return exitDone
}
