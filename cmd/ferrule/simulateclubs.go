package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"

	"ferrule/cmd/internal/rough"
	"ferrule/cmd/internal/trial"
	"ferrule/core/club"
	"ferrule/core/pipeline"
	"ferrule/core/shot"
)

// bagOf describes the clubs of package rough's bag: what a golfer knows of them
// is what they are called and the loft on the head.
func (e *trialEngine) bagOf(s *shot.Session) {
	s.Head = club.Head{Name: rough.BagNames[0], Loft: e.head.Loft, Lie: e.head.Lie, Mass: e.head.Mass, Shaft: club.Shaft{Name: "usual"}}
	for c, name := range rough.BagNames[1:] {
		h := e.head
		h.Name, h.Model, h.Shaft.Name = name, []string{"a", "b"}[c%2], "usual"
		if c > 1 {
			h.Shaft.Name = "other"
		}
		s.AddClub(h, "")
	}
}

// askClubs answers a session with a bag through the whole pipeline.
func (e *trialEngine) askClubs(g *rough.Golfer, seen []rough.Seen, of []int) (trial.ClubsSaid, error) {
	var a trial.ClubsSaid
	s := e.roughSession(g, seen)
	shots := s.Shots
	s.Shots = nil
	e.bagOf(&s)
	for i := range shots {
		if of[i] == 0 {
			shots[i].Setting = club.Setting{}
		}
		shots[i].Setting.Club = rough.BagNames[of[i]]
	}
	s.Shots = shots
	r, err := pipeline.Analyse(s, g.Seed, nil)
	if err != nil {
		return a, err
	}
	place := func(i int) (c, setting int) {
		t := r.Settings[i].Setting
		return slices.Index(rough.BagNames[:], t.Club), e.index[t.Labels()]
	}
	a.Club, a.Setting = place(r.Choice.Setting)
	for _, c := range r.Clubs {
		k, b := place(c.Setting)
		a.Best[k], a.Chance[k] = b, c.PBetter
		a.Gain[k] = interval(r.Settings[c.Setting].Difference.Minus())
	}
	for i := range r.Settings {
		k, setting := place(i)
		if setting != 0 || k == 0 {
			continue
		}
		carry, _ := r.Settings[i].Of(shot.Carry)
		side, _ := r.Settings[i].Of(shot.Offline)
		d := side.Difference
		if g.Hand == "left" {
			d = d.Minus()
		}
		a.Today[k] = map[string]trial.Interval{"strokes": interval(r.Settings[i].Difference), "carry": interval(carry.Difference), "side": interval(d)}
	}
	return a, nil
}

// mixed asks a mixed model of R for the same balls.
func mixed(script string, seed uint64, golfers, balls int, fixed rough.Fixed) (trial.Means, error) {
	var in, out bytes.Buffer
	trial.ClubsBalls(&in, seed, golfers, balls, fixed)
	cmd := exec.Command("Rscript", script)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = &in, &out, os.Stderr
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("%s by Rscript: %w", script, err)
	}
	means := trial.Means{}
	for lines := bufio.NewScanner(&out); lines.Scan(); {
		var k [3]int
		var v [2]float64
		if _, err := fmt.Sscanf(lines.Text(), "%d %d %d %g %g", &k[0], &k[1], &k[2], &v[0], &v[1]); err != nil {
			return nil, fmt.Errorf("%s: read %q, expected golfer, club, setting, carry and side: %w", script, lines.Text(), err)
		}
		means[k] = v
	}
	return means, nil
}

// runClubs prints the bench of clubs, beside the mixed model of an R script where
// one is named.
func runClubs(seed uint64, golfers int, balls []int, fixed rough.Fixed, script string, asJSON bool, std streams) error {
	e, err := newTrialEngine()
	if err != nil {
		return err
	}
	var cells []trial.ClubsCell
	for _, n := range balls {
		var rival trial.Means
		if script != "" {
			if rival, err = mixed(script, seed, golfers, n, fixed); err != nil {
				return err
			}
		}
		cells = append(cells, trial.Clubs(seed, golfers, n, fixed, rival, e.askClubs))
	}
	if asJSON {
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		return enc.Encode(map[string]any{"version": 1, "seeds": [2]uint64{seed, seed + uint64(golfers) - 1}, "cells": cells})
	}
	for _, c := range cells {
		printClubsCell(std.out, c)
	}
	return nil
}

func printClubsCell(w io.Writer, c trial.ClubsCell) {
	fmt.Fprintf(w, "%d balls a visit, %d golfers, %d failed\n  regret x1000:", c.Balls, c.Sessions, c.Failed)
	for _, who := range []string{"keep", "averages", "mixed model", "engine", "engine less mixed", "oracle hit"} {
		if _, has := c.Regret[who]; !has {
			continue
		}
		fmt.Fprintf(w, " %s %.1f +- %.1f;", who, 1000*c.Regret[who], 1000*c.SE[who])
	}
	fmt.Fprintf(w, " engine less averages %.1f +- %.1f\n  moved to another club %d times, promised %+.1f more than true\n", 1000*c.Against, 1000*c.AgainstE, c.Moved, 1000*c.Promise)
	for _, q := range []string{"best: strokes", "today: strokes", "today: carry", "today: side"} {
		h := c.Cover[q]
		n := float64(max(h.N, 1))
		fmt.Fprintf(w, "  %-15s 50/80/95 %% hold %.2f %.2f %.2f of %d; errors %+.2f sd, spread %.2f\n", q, float64(h.In[0])/n, float64(h.In[1])/n, float64(h.In[2])/n, h.N, h.Z/n, h.Z2/n)
	}
	for k, said := range c.Chance {
		if c.Chances[k] > 0 {
			fmt.Fprintf(w, "  chance said %.2f, true %.2f of %d\n", said[0], said[1], c.Chances[k])
		}
	}
}
