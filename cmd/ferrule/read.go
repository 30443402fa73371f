package main

import (
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/text"
	"ferrule/core/units"
)

func init() { commands["read"] = runRead }

type jsonColumn struct {
	Header   string `json:"header"`
	Quantity string `json:"quantity"`
	Unit     string `json:"unit"`
	Flipped  bool   `json:"flipped"`
	Evidence string `json:"evidence"`

	Written []string `json:"written,omitempty"`
	Read    []string `json:"read,omitempty"`
}

type jsonError struct {
	Line    int    `json:"line"`
	Column  string `json:"column"`
	Message string `json:"message"`
}

// readJSON is the JSON of `ferrule read -json`, version 2: of several files a
// list. A shot's values stand under Quantity.Key() in SI; spins stand in rpm
// too. What was not read is absent; "left_out" marks a ball that is not counted.
type readJSON struct {
	Version   int              `json:"version"`
	File      string           `json:"file"`
	Columns   []jsonColumn     `json:"columns"`
	Clubs     []jsonClub       `json:"clubs"`
	Parts     []jsonPart       `json:"parts"`
	Shots     []map[string]any `json:"shots"`
	Errors    []jsonError      `json:"errors"`
	Notes     []string         `json:"notes"`
	Questions []jsonQuestion   `json:"questions"`
	Ask       []string         `json:"ask"`
}

type jsonClub struct {
	Name  string `json:"name"`
	Balls int    `json:"balls"`
	Kept  bool   `json:"kept"`
}

type jsonPart struct {
	Sheet string `json:"sheet,omitempty"`
	Day   string `json:"day,omitempty"`
	Title string `json:"title,omitempty"`
	From  int    `json:"from"`
	Balls int    `json:"balls"`
	Why   string `json:"why,omitempty"`
}

type jsonQuestion struct {
	ID      string   `json:"id"`
	Text    string   `json:"text"`
	Choices []string `json:"choices"`
	Answer  string   `json:"answer,omitempty"`
	Open    bool     `json:"open"`
	Taken   bool     `json:"taken,omitempty"` // a contradiction of the file, read as answer says
}

func shotJSON(s shot.Shot) map[string]any {
	m := map[string]any{"line": s.Line}
	for key, text := range map[string]string{"setting": s.Setting.Key(), "sleeve": s.Setting.Sleeve, "ball": s.Ball, "session": s.Session, "clock": s.Clock, "tag": string(s.Tag), "note": s.Note} {
		if text != "" {
			m[key] = text
		}
	}
	if s.Tag == shot.TagOut {
		m["left_out"] = true
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
	hand := "right"
	fs.Func("hand", "`hand` of the player: right or left (default right)", func(s string) error {
		hand = s
		return oneOf(s, "right", "left")
	})
	var described clubFlag
	fs.Var(&described, "club", "`CLUB.json`: the club, whose labels and kind tell settings and clubs; may be given again, or hold a list")
	language := "en"
	languageFlag(fs, &language, "notes and questions")
	var in input
	in.register(fs)
	paths, err := parseMixed(fs, args)
	if err != nil || len(paths) == 0 {
		fmt.Fprintln(std.err, "usage: ferrule read FILE... [-json] [-hand right|left] [-club CLUB.json] [-kind KIND] [-set RANGE=SETTING] [-answer ID=ANSWER] [-lang LANGUAGE]")
		return exitUsage
	}
	bag, err := loadClubs(described)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule read:", err)
		return exitInput
	}
	to := text.Reader{Language: text.Language(language)}
	open := 0
	var all []readJSON
	for _, path := range paths {
		t, err := readTable(path, &in, in.options(frame.Hand(hand), bag), std)
		if err != nil {
			fmt.Fprintf(std.err, "ferrule read: %s: %s\n", clipPath(path), to.Say(message.From(err)))
			return exitInput
		}
		for _, q := range t.Questions {
			if q.Open {
				open++
				fmt.Fprintf(std.err, "ferrule read: %s: open: %s\n", clipPath(path), howToAnswer(q, to))
			}
		}
		if *asJSON {
			all = append(all, tableJSON(path, t, to))
			continue
		}
		if len(paths) > 1 {
			fmt.Fprintln(std.out, path)
		}
		printTable(std.out, t, to)
	}
	if *asJSON {
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		var out any = all
		if len(all) == 1 {
			out = all[0]
		}
		if enc.Encode(out) != nil {
			return exitInput
		}
	}
	if err := in.missed(); err != nil {
		fmt.Fprintln(std.err, "ferrule read:", err)
		return exitInput
	}
	if open > 0 {
		return exitOpen
	}
	return exitDone
}

// readTable reads one file, a session of the app or a link among them.
func readTable(path string, in *input, opt shotfile.Options, std streams) (shot.Table, error) {
	raw := []byte(path)
	if !strings.Contains(path, "#"+share.Prefix) {
		var err error
		if raw, err = readInput(path, std); err != nil {
			return shot.Table{}, err
		}
	}
	s, err := ownSession(raw, std)
	if err != nil {
		return shot.Table{}, err
	}
	var t shot.Table
	if s != nil {
		t = shotfile.OwnTable(s.Session)
	} else if t, err = shotfile.Read(path, raw, opt); err != nil {
		return t, err
	}
	in.apply(path, t.Shots)
	return t, nil
}

func tableJSON(path string, t shot.Table, to text.Reader) readJSON {
	out := readJSON{Version: 2, File: clipPath(path), Columns: []jsonColumn{}, Clubs: []jsonClub{}, Parts: []jsonPart{}, Shots: []map[string]any{}, Errors: []jsonError{}, Questions: []jsonQuestion{}, Notes: said(to, t.Notes), Ask: said(to, t.Ask)}
	for _, c := range t.Columns {
		what := cmp.Or(string(c.Quantity), c.Role)
		out.Columns = append(out.Columns, jsonColumn{c.Header, what, c.Unit, c.Flipped, strings.Join(said(to, c.Evidence), "; "), c.Written, c.Read})
	}
	for _, c := range t.Clubs {
		out.Clubs = append(out.Clubs, jsonClub(c))
	}
	for _, p := range t.Parts {
		out.Parts = append(out.Parts, jsonPart(p))
	}
	for _, q := range t.Questions {
		j := jsonQuestion{ID: q.ID, Text: to.Say(q.Text), Choices: []string{}, Answer: q.Answer, Open: q.Open, Taken: q.Taken}
		for _, c := range q.Choices {
			j.Choices = append(j.Choices, c.Value)
		}
		out.Questions = append(out.Questions, j)
	}
	for _, s := range t.Shots {
		out.Shots = append(out.Shots, shotJSON(s))
	}
	for _, e := range t.Errors {
		out.Errors = append(out.Errors, jsonError{e.Line, e.Column, to.Say(e.Message)})
	}
	return out
}

func said(to text.Reader, list []message.Message) []string {
	out := make([]string, len(list))
	for i, m := range list {
		out[i] = to.Say(m)
	}
	return out
}

// many is "1 shot", "2 shots".
func many(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// printTable writes for a person what a file holds.
func printTable(w io.Writer, t shot.Table, to text.Reader) {
	left := 0
	for _, s := range t.Shots {
		if s.Tag == shot.TagOut {
			left++
		}
	}
	fmt.Fprintf(w, "%s, %s", many(len(t.Shots), "shot"), many(len(t.Columns), "column"))
	if left > 0 {
		fmt.Fprintf(w, ", %s left out", many(left, "shot"))
	}
	fmt.Fprintln(w)
	for _, c := range t.Clubs {
		mark := " "
		if !c.Kept {
			mark = "-"
		}
		fmt.Fprintf(w, "  %s club %q: %d\n", mark, c.Name, c.Balls)
	}
	for _, c := range t.Columns {
		what := cmp.Or(string(c.Quantity), c.Role, "(not used)")
		turned := ""
		if c.Flipped {
			turned = " turned over"
		}
		fmt.Fprintf(w, "  %-28s %-18s %-5s%s  %s\n", c.Header, what, c.Unit, turned, strings.Join(said(to, c.Evidence), "; "))
		if len(c.Written) > 0 {
			fmt.Fprintf(w, "  %-28s %s = %s\n", "", strings.Join(c.Written, ", "), strings.Join(c.Read, ", "))
		}
	}
	for _, p := range t.Parts {
		fmt.Fprintf(w, "  part from ball %d: %d %s %s %s %s\n", p.From+1, p.Balls, p.Sheet, p.Day, p.Title, p.Why)
	}
	counts := map[string]int{}
	for _, s := range t.Shots {
		if s.Tag != shot.TagOut {
			counts[s.Setting.Key()]++
		}
	}
	for _, k := range slices.Sorted(maps.Keys(counts)) {
		if k == "" {
			fmt.Fprintf(w, "  no setting named: %s\n", many(counts[k], "shot"))
			continue
		}
		fmt.Fprintf(w, "  setting %q: %s\n", k, many(counts[k], "shot"))
	}
	for _, n := range t.Notes {
		fmt.Fprintln(w, "note:", to.Say(n))
	}
	for _, q := range t.Questions {
		switch {
		case q.Taken:
			fmt.Fprintf(w, "contradiction, read %s: %s\n", to.Say(q.Chosen()), howToAnswer(q, to))
			continue
		case !q.Open:
			fmt.Fprintf(w, "answered: %s: %s\n", to.Say(q.Text), strings.ReplaceAll(q.Answer, "\n", ", "))
			continue
		}
		fmt.Fprintf(w, "unclear: %s\n", howToAnswer(q, to))
	}
	for _, e := range t.Errors {
		fmt.Fprintf(w, "line %d, %s: %s\n", e.Line, e.Column, to.Say(e.Message))
	}
}
