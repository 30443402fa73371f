package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"ferrule/cmd/internal/trial"
)

// kept is a result that takes too long to make on every build: who made it,
// how, when and where stands in it.
type kept struct {
	Command string             `json:"command"`
	Date    string             `json:"date"`
	Machine string             `json:"machine"`
	Cells   []trial.Cell       `json:"cells,omitempty"`
	Figures map[string]float64 `json:"figures,omitempty"`
}

func (k kept) made() string { return k.Command }

// load reads a kept result, which says by which command it was made; there is
// none when the file is not there.
func load[K interface{ made() string }](path string) (*K, error) {
	raw, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var k K
	if err := json.Unmarshal(raw, &k); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if k.made() == "" {
		return nil, fmt.Errorf("%s does not say which command made it (key \"command\")", path)
	}
	return &k, nil
}

var ways = map[string]string{"keep": "keep the club as it is", "raw": "raw average, pick of those hit", "additive": "additive least squares, pick of those hit",
	"additive-all": "additive least squares, pick of the 80", "engine": "Ferrule", "bayes": "one who knows the world", "oracle-tested": "truly best of those hit", "oracle": "truly best of the 80"}

// players are the invented golfers of testdata/proof/simulate.json, who aim
// anew with each setting, and of simulate-fixed.json, who aim at the middle.
func players(root string) ([]table, error) {
	free, err := golfers(root, "simulate.json", "", "re-aimed")
	if err != nil {
		return nil, err
	}
	fixed, err := golfers(root, "simulate-fixed.json", "-fixed", "all aimed at the middle")
	return append(free, fixed...), err
}

func golfers(root, file, mark, aim string) ([]table, error) {
	k, err := load[kept](filepath.Join(root, "testdata/proof", file))
	if k == nil || err != nil {
		return nil, err
	}
	regret := table{name: "regret" + mark, title: "Invented golfers: strokes a drive lost against the truly best of 80 settings, " + aim, command: k.Command,
		note: "mean ± Monte-Carlo error", head: []string{"world", "level", "balls a setting", "players"}}
	cover := table{name: "coverage" + mark, title: "Invented golfers: share of 50/80/95 % intervals that hold the true difference, and what was told, " + aim, command: k.Command,
		head: []string{"world", "level", "balls a setting", "tested", "not tested", "told to change", "clear, and wrong", "made worse"}}
	for _, m := range trial.Methods {
		if m != "oracle" {
			regret.head = append(regret.head, ways[m])
		}
	}
	regret.head = append(regret.head, "promised less true, raw", "promised less true, Ferrule")
	for _, c := range k.Cells {
		at := []string{c.World, c.Level, fmt.Sprint(c.Balls)}
		r := append(at[:3:3], fmt.Sprint(c.Players))
		for _, m := range trial.Methods {
			if m != "oracle" {
				if e, ok := c.Regret[m]; ok {
					r = append(r, estimate(e))
				} else {
					r = append(r, "not made")
				}
			}
		}
		regret.rows = append(regret.rows, append(r, estimate(c.Promise["raw"]), estimate(c.Promise["engine"])))
		cover.rows = append(cover.rows, append(at[:3:3], shares(c.Tested), shares(c.Untested), estimate(c.Moved), estimate(c.Clear), estimate(c.Worse)))
	}
	return []table{regret, cover}, nil
}

func estimate(e trial.Estimate) string { return fmt.Sprintf("%.4f ± %.4f", e.Mean, e.Error) }

func shares(e [3]trial.Estimate) string {
	return fmt.Sprintf("%.2f / %.2f / %.2f", e[0].Mean, e[1].Mean, e[2].Mean)
}

// keep writes the times of a file and what the programs of a built site weigh
// as a kept result.
func keep(times, site, path string) error {
	raw, err := os.ReadFile(times)
	if err != nil {
		return err
	}
	k := kept{Command: "make speed-write", Date: time.Now().Format("2006-01-02"), Machine: kind()}
	if err := json.Unmarshal(raw, &k.Figures); err != nil {
		return fmt.Errorf("%s: %w", times, err)
	}
	for name, v := range k.Figures {
		k.Figures[name] = math.Round(v)
	}
	for name, file := range map[string]string{"program of the screens, brotli 11 [bytes]": "page.wasm.br", "program of the analysis, brotli 11 [bytes]": "worker.wasm.br",
		"program of the analysis as a difference to the screens', brotli 11 [bytes]": "worker.wasm.*.dcb"} {
		found, err := filepath.Glob(filepath.Join(site, file))
		if err != nil || len(found) != 1 {
			return fmt.Errorf("%s: found %q %v, want one", file, found, err)
		}
		info, err := os.Stat(found[0])
		if err != nil {
			return err
		}
		k.Figures[name] = float64(info.Size())
	}
	out, err := json.MarshalIndent(k, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(path, append(out, '\n'), 0o644)
}

// machine are sizes and speeds as measured once: testdata/proof/machine.json.
func machine(root string) ([]table, error) {
	k, err := load[kept](filepath.Join(root, "testdata/proof/machine.json"))
	if k == nil || err != nil {
		return nil, err
	}
	t := table{name: "machine", title: "Size and speed", command: k.Command, note: "measured " + k.Date + " on " + k.Machine +
		"; visits at 1.6 Mbit/s, 150 ms a round trip and a quarter of the processor, analyses in the browser's worker", head: []string{"what", "measured"}}
	var names []string
	for n := range k.Figures {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		t.rows = append(t.rows, []string{n, strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", k.Figures[n]), "0"), ".")})
	}
	return []table{t}, nil
}
