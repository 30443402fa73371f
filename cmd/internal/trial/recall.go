package trial

import (
	"fmt"
	"io"
	"sort"

	"ferrule/cmd/internal/invent"
	"ferrule/cmd/internal/rough"
)

// Outing is what a golfer hit on one day.
type Outing struct {
	Golfer *rough.Golfer
	Seen   []rough.Seen
}

// Recaller is the engine with a memory.
type Recaller interface {
	// Ask answers today's session with earlier ones and what Teach was told.
	Ask(today Outing, earlier []Outing) (Said, error)
	// Teach adds another player's session to the record of the head; Forget begins
	// a new one.
	Teach(o Outing) error
	Forget()
}

// Recall is one golfer answered in several ways: "alone", "1 visit", "30 players".
type Recall struct {
	Seed  uint64 `json:"seed"`
	World string `json:"world"`
	Part  string `json:"part"` // of the golfers: with or without a visit of another swing, or the world
	Ways  []Way  `json:"ways"`
	// Known is what one loses who has all that a record could tell, 0 = not asked.
	Known float64 `json:"regret_known_strokes,omitempty"`
}

// Way is one answer, judged.
type Way struct {
	Name   string          `json:"name"`
	Regret float64         `json:"regret_strokes"`
	Width  float64         `json:"width_80_strokes"` // mean over the settings
	Cover  map[string]Hits `json:"cover"`
}

func judgeWay(name string, s Said, t rough.Truth) Way {
	strokes := t.Strokes[:]
	if s.Keep {
		s.Choice = 0
	}
	w := Way{Name: name, Regret: strokes[s.Choice] - strokes[least(strokes, nil)], Cover: map[string]Hits{}}
	for _, q := range []string{"strokes", "carry", "side", "height"} {
		of, _ := truths(t, q)
		h := w.Cover[q]
		for i := 1; i < 80; i++ {
			v := s.Of[q][i]
			h.add(v, of(i))
			if q == "strokes" {
				w.Width += (v.Hi80 - v.Lo80) / 79
			}
		}
		w.Cover[q] = h
	}
	return w
}

// VisitCounts are the numbers of earlier visits that are tried.
var VisitCounts = []int{0, 1, 2, 4}

// Visits answers each golfer's day of 18 balls, three with each of six settings,
// with earlier days of as many.
func Visits(cfg RoughConfig, engine Recaller, told func(Recall)) error {
	cfg = cfg.filled()
	for g, truth := range cfg.golfers() {
		out := Recall{Seed: g.Seed, World: g.World, Part: "one swing"}
		var earlier []Outing
		for v := 1; v <= VisitCounts[len(VisitCounts)-1]; v++ {
			e := g.Earlier(v)
			if e.Changed {
				out.Part = "a swing changed"
			}
			earlier = append(earlier, Outing{e, e.Session(e.Tested(cfg.Tested), 3)})
		}
		today := Outing{g, g.Session(g.Tested(cfg.Tested), 3)}
		for _, n := range VisitCounts {
			s, err := engine.Ask(today, earlier[:n])
			if err != nil {
				return fmt.Errorf("golfer %d: %w", g.Seed, err)
			}
			out.Ways = append(out.Ways, judgeWay(fmt.Sprintf("%d earlier", n), s, truth))
		}
		told(out)
	}
	return nil
}

// PlayerCounts are the sizes of the records that are tried.
var PlayerCounts = []int{0, 10, 30, 100}

// perHead golfers are answered with the record of each head.
const perHead = 8

// Heads lets other players teach a record of a head, then answers golfers of the
// same head who are not in it. Golfers come in eights: one head each.
func Heads(cfg RoughConfig, engine Recaller, told func(Recall)) error {
	cfg = cfg.filled()
	swings := invent.Swings(cfg.Swings)
	for h := 0; h < cfg.Golfers; h += perHead {
		fixed := cfg.Fixed
		fixed.Head = cfg.Seed + uint64(h)
		if fixed.World == "" {
			fixed.World = []string{"expected", "weak", "reversed", "strange"}[h/perHead%4]
		}
		engine.Forget()
		n := min(perHead, cfg.Golfers-h)
		all, today, truth := make([]Recall, n), make([]Outing, n), make([]rough.Truth, n)
		for k := range all {
			g := rough.New(fixed.Head+uint64(k), fixed)
			tested := g.Tested(cfg.Tested)
			today[k], truth[k] = Outing{g, g.Session(tested, 3)}, g.Truth(swings)
			known, strokes := g.Known(tested, 3).Truth(swings), truth[k].Strokes[:]
			all[k] = Recall{Seed: g.Seed, World: g.World, Part: g.World, Known: strokes[least(known.Strokes[:], nil)] - strokes[least(strokes, nil)]}
		}
		taught := 0
		for _, n := range PlayerCounts {
			for ; taught < n; taught++ {
				g := rough.New(fixed.Head+1<<40+uint64(taught), fixed)
				if err := engine.Teach(Outing{g, g.Session(g.Tested(cfg.Tested), 3)}); err != nil {
					return fmt.Errorf("player %d: %w", g.Seed, err)
				}
			}
			for k := range all {
				s, err := engine.Ask(today[k], nil)
				if err != nil {
					return fmt.Errorf("golfer %d: %w", all[k].Seed, err)
				}
				all[k].Ways = append(all[k].Ways, judgeWay(fmt.Sprintf("%d players", n), s, truth[k]))
			}
		}
		for _, r := range all {
			told(r)
		}
	}
	return nil
}

// PrintRecalls writes a table for all golfers and for each part of them: what
// the choice costs, what it costs more than the first way (the same golfers), how
// wide intervals are beside the first way's, and how many hold the truth.
func PrintRecalls(w io.Writer, list []Recall) {
	parts := map[string][]Recall{}
	for _, r := range list {
		parts["all"] = append(parts["all"], r)
		parts[r.Part] = append(parts[r.Part], r)
	}
	var names []string
	for n := range parts {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		of := parts[n]
		fmt.Fprintf(w, "%s: %d golfers\n%-14s %18s %18s %7s  of strokes, carry, side, height, intervals of 50, 80 and 95 %% hold\n", n, len(of), "", "regret x1000", "less the first", "width")
		for k, way := range of[0].Ways {
			var regret, apart, width, first []float64
			cover := map[string]Hits{}
			for _, r := range of {
				x := r.Ways[k]
				regret, apart = append(regret, 1000*x.Regret), append(apart, 1000*(x.Regret-r.Ways[0].Regret))
				width, first = append(width, x.Width), append(first, r.Ways[0].Width)
				for q, h := range x.Cover {
					c := cover[q]
					c.N += h.N
					for i := range c.In {
						c.In[i] += h.In[i]
					}
					cover[q] = c
				}
			}
			m, d := estimated(regret), estimated(apart)
			fmt.Fprintf(w, "%-14s %9.1f +- %5.1f %9.1f +- %5.1f %7.2f ", way.Name, m.Mean, m.Error, d.Mean, d.Error, estimated(width).Mean/estimated(first).Mean)
			for _, q := range []string{"strokes", "carry", "side", "height"} {
				c := cover[q]
				for i := range c.In {
					fmt.Fprintf(w, " %.2f", float64(c.In[i])/float64(max(1, c.N)))
				}
				fmt.Fprint(w, " ")
			}
			fmt.Fprintln(w)
		}
		var known, apart []float64
		for _, r := range of {
			known, apart = append(known, 1000*r.Known), append(apart, 1000*(r.Known-r.Ways[0].Regret))
		}
		if m, d := estimated(known), estimated(apart); m.Mean > 0 {
			fmt.Fprintf(w, "%-14s %9.1f +- %5.1f %9.1f +- %5.1f\n", "who knows all", m.Mean, m.Error, d.Mean, d.Error)
		}
	}
}
