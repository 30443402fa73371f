package main

import (
	"flag"
	"fmt"
	"os"
	"strings"

	"ferrule/core/pipeline"
	"ferrule/core/record"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// memoryFlags name what was learned before: -visits FILE... and -record FILE, a head each.
type memoryFlags struct {
	visits  []string
	records []string
}

func (m *memoryFlags) register(fs *flag.FlagSet) {
	fs.Func("visits", "`FILE...`: earlier visits of the same player with the same head, up to the next flag", func(string) error { return nil }) // take has them
	fs.Func("record", "`RECORD` of a head, as ferrule learn makes it from other players' sessions; one for each head", func(path string) error {
		m.records = append(m.records, path)
		return nil
	})
}

// take takes -visits and the files after it, up to the next flag, out of args.
func (m *memoryFlags) take(args []string) (rest []string) {
	taking := false
	for _, a := range args {
		switch {
		case a == "-visits" || a == "--visits":
			taking = true
		case strings.HasPrefix(a, "-visits=") || strings.HasPrefix(a, "--visits="):
			_, v, _ := strings.Cut(a, "=")
			m.visits, taking = append(m.visits, v), true
		case taking && !strings.HasPrefix(a, "-"):
			m.visits = append(m.visits, a)
		default:
			taking = false
			rest = append(rest, a)
		}
	}
	return rest
}

// load reads the earlier visits, each as fit reads a session, and the record of
// the head of s.
func (m *memoryFlags) load(s shot.Session, f fitFlags, std streams) (out pipeline.Memory, err error) {
	for _, path := range m.visits {
		g := f
		g.input.sets = nil // lines of today's files
		v, err := loadSession([]string{path}, g, std)
		if err != nil {
			return out, err
		}
		v.Title = path
		if v.Player.Hand == "" {
			v.Player = s.Player
		}
		out.Visits = append(out.Visits, v.Session)
	}
	for _, path := range m.records {
		data, err := os.ReadFile(path)
		if err != nil {
			return out, err
		}
		r, err := record.Decode(data)
		if err == nil {
			err = r.OfAny(s.All())
		}
		if err != nil {
			return out, fmt.Errorf("%s: %w", path, err)
		}
		out.Records = append(out.Records, r)
	}
	return out, nil
}

// remembered lists what the visits and the record were worth.
func remembered(r report.Report, to text.Reader) (lines []string) {
	for _, v := range r.Earlier {
		lines = append(lines, v.Title+": "+to.Say(v.Why))
	}
	for _, m := range r.Records {
		line := to.Say(m.Why)
		if len(r.Records) > 1 {
			line = m.Head + ": " + line
		}
		lines = append(lines, line)
	}
	return lines
}

// jsonEarlier is one earlier visit: used or not and why, its balls, and what they
// are worth in balls of today.
type jsonEarlier struct {
	Title string  `json:"title"`
	Used  bool    `json:"used"`
	Balls int     `json:"balls"`
	Adds  float64 `json:"adds_balls"`
	Why   string  `json:"why"`
}

// jsonRecord is what a record of a head was worth.
type jsonRecord struct {
	Head    string  `json:"head"`
	Players float64 `json:"players"`
	Before  float64 `json:"weight_before"`
	After   float64 `json:"weight_after"`
	Why     string  `json:"why"`
}

func withMemory(j jsonReport, r report.Report, to text.Reader) jsonReport {
	for _, v := range r.Earlier {
		j.Earlier = append(j.Earlier, jsonEarlier{v.Title, v.Used, v.Balls, v.Adds, to.Say(v.Why)})
	}
	for _, m := range r.Records {
		j.Records = append(j.Records, jsonRecord{m.Head, m.Players, m.Before, m.After, to.Say(m.Why)})
	}
	if len(j.Records) > 0 {
		j.Record = &j.Records[0]
	}
	return j
}
