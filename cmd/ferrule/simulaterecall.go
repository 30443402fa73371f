package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"

	"ferrule/cmd/internal/rough"
	"ferrule/cmd/internal/trial"
	"ferrule/core/pipeline"
	"ferrule/core/record"
)

// recaller is the engine with its memory.
type recaller struct {
	*trialEngine
	record *record.Record
}

func (e *recaller) Ask(today trial.Outing, earlier []trial.Outing) (trial.Said, error) {
	m := pipeline.Memory{}
	if e.record != nil && e.record.Players > 0 {
		m.Records = []*record.Record{e.record}
	}
	for _, v := range earlier {
		m.Visits = append(m.Visits, e.roughSession(v.Golfer, v.Seen))
	}
	return e.said(today.Golfer, today.Seen, m)
}

func (e *recaller) Teach(o trial.Outing) error {
	return pipeline.Teach(e.record, e.roughSession(o.Golfer, o.Seen))
}

func (e *recaller) Forget() { e.record = record.New(e.head) }

// runRecall runs a bench of what is remembered and prints its table; with a file
// of records, which it adds to, of all that stands in it.
func runRecall(bench string, cfg trial.RoughConfig, records string, asJSON bool, std streams) error {
	engine, err := newTrialEngine()
	if err != nil {
		return err
	}
	var list []trial.Recall
	var keep *os.File
	if records != "" {
		if keep, err = os.OpenFile(records, os.O_APPEND|os.O_CREATE|os.O_RDWR, 0o644); err != nil {
			return err
		}
		defer keep.Close()
		lines := bufio.NewScanner(keep)
		lines.Buffer(nil, 1<<20)
		for lines.Scan() {
			var r trial.Recall
			if err := json.Unmarshal(lines.Bytes(), &r); err != nil {
				return fmt.Errorf("%s: read %.40q, expected a golfer as -records writes it: %w", records, lines.Text(), err)
			}
			list = append(list, r)
		}
	}
	run := trial.Visits
	if bench == "record" {
		run = trial.Heads
	}
	if cfg.Golfers > 0 {
		err = run(cfg, &recaller{trialEngine: engine}, func(r trial.Recall) {
			list = append(list, r)
			if keep != nil {
				json.NewEncoder(keep).Encode(r)
			}
		})
		if err != nil {
			return err
		}
	}
	if asJSON {
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		return enc.Encode(list)
	}
	trial.PrintRecalls(std.out, list)
	return nil
}

// ask answers a rough session through the whole pipeline.
func (e *trialEngine) ask(g *rough.Golfer, seen []rough.Seen) (trial.Said, error) {
	return e.said(g, seen, pipeline.Memory{})
}
