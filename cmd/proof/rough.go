package main

import (
	"fmt"
	"math"
	"path/filepath"
	"sort"
	"strings"

	"ferrule/cmd/internal/trial"
)

// keptRough is what ferrule simulate -bench rough -json and -bench sequence
// -json wrote.
type keptRough struct {
	Command string            `json:"command"`
	Cells   []trial.RoughCell `json:"cells"`
}

func (k keptRough) made() string { return k.Command }

// roughs are the golfers of testdata/proof/rough.json: what each way of choosing
// loses, what intervals hold, what words are worth, beside the goals.
func roughs(root string) ([]table, error) {
	k, err := load[keptRough](filepath.Join(root, "testdata/proof/rough.json"))
	if k == nil || err != nil {
		return nil, err
	}
	out := []table{roughRegret(k), roughCover(k), roughWords(k), roughReference(k)}
	for _, more := range []struct {
		file string
		of   func(*keptRough) table
	}{{"winds.json", roughWinds}, {"sequence.json", roughSequence}} {
		k, err := load[keptRough](filepath.Join(root, "testdata/proof", more.file))
		if err != nil {
			return out, err
		}
		if k != nil {
			out = append(out, more.of(k))
		}
	}
	return out, nil
}

func thousandths(e trial.Estimate) string {
	return fmt.Sprintf("%.1f ± %.1f", 1e3*e.Mean, 1e3*e.Error)
}

func roughRegret(k *keptRough) table {
	t := table{name: "rough-regret", title: "Rough golfers: thousandths of a stroke a drive lost against the truly best of 80 settings", command: k.Command,
		note: "second flights and impacts, devices that lack columns, wandering form, odd settings, wind, mis-hits of 10 to 20 %; six settings hit; mean ± Monte-Carlo error; " +
			"goal at 3 balls: .85 of the better of ridge and averages, .75 of keeping; nowhere worse than ridge by more than the error",
		head: []string{"golfers", "sessions", "keep", "averages", "ridge, those hit", "ridge, all", "hierarchical model by Gibbs", "Ferrule", "its own first", "truly best of those hit", "Ferrule over the better of averages and ridge", "over keeping", "Ferrule less ridge"}}
	for _, c := range k.Cells {
		r := []string{c.Group, fmt.Sprint(c.Sessions)}
		for _, m := range []string{"keep", "averages", "ridge hit", "ridge all", "reference", "engine", "engine top", "oracle hit"} {
			r = append(r, thousandths(c.Regret[m]))
		}
		e := c.Regret["engine"].Mean
		t.rows = append(t.rows, append(r, ratio(e, math.Min(c.Regret["averages"].Mean, c.Regret["ridge hit"].Mean)), ratio(e, c.Regret["keep"].Mean), thousandths(c.Less["ridge hit"])))
	}
	return t
}

func ratio(a, b float64) string {
	if b < 1e-9 {
		return "none to lose"
	}
	return fmt.Sprintf("%.2f", a/b)
}

func roughCover(k *keptRough) table {
	t := table{name: "rough-coverage", title: "Rough golfers: share of 50/80/95 % intervals of differences to today's setting that hold the truth", command: k.Command,
		note: "goal: within .03 of what is said; the last two columns are the hierarchical model's on the same balls", head: []string{"golfers"}}
	quantities := []string{"strokes", "carry", "side", "height", "reference carry", "reference side"}
	for _, q := range quantities[:4] {
		t.head = append(t.head, q+", hit", q+", not hit")
	}
	t.head = append(t.head, "carry by Gibbs, hit", "side by Gibbs, hit")
	for _, c := range k.Cells {
		r := []string{c.Group}
		for _, q := range quantities {
			for j, v := range c.Cover[q] {
				if j == 0 || !strings.HasPrefix(q, "reference") {
					r = append(r, fmt.Sprintf("%.2f / %.2f / %.2f", v[0], v[1], v[2]))
				}
			}
		}
		t.rows = append(t.rows, r)
	}
	return t
}

// roughWords are the words of all groups by the number of balls and by world.
func roughWords(k *keptRough) table {
	t := table{name: "rough-words", title: "Rough golfers: how often each word was so", command: k.Command,
		note: "goal: true within .03 of what is said; a change promised within 5 thousandths of the truth; clear in at most 2 % of sessions where settings do nothing; clear and wrong in at most 1 %",
		head: []string{"golfers", "said: times, how sure, how often true", "told to change", "promised less true given a change, thousandths", "clear", "clear and wrong", "made worse"}}
	for _, c := range k.Cells {
		var words, names []string
		for w := range c.Words {
			names = append(names, w)
		}
		sort.Strings(names)
		for _, w := range names {
			v := c.Words[w]
			words = append(words, fmt.Sprintf("%s: %d, %.2f, %.2f ± %.2f", w, v.Said, v.Sure, v.True.Mean, v.True.Error))
		}
		percent := func(e trial.Estimate) string { return fmt.Sprintf("%.1f ± %.1f %%", 100*e.Mean, 100*e.Error) }
		t.rows = append(t.rows, []string{c.Group, strings.Join(words, "; "), percent(c.Moved), thousandths(c.Promise), percent(c.Clear), percent(c.Wrong), percent(c.Worse)})
	}
	return t
}

func roughReference(k *keptRough) table {
	t := table{name: "rough-reference", title: "Rough golfers: Ferrule beside the hierarchical model's posterior of the settings hit", command: k.Command,
		note: "goal: means within .2 of a standard deviation, standard deviations within 15 %, the choice within 2 thousandths of a stroke",
		head: []string{"golfers", "sessions", "means apart, in standard deviations", "ratio of standard deviations", "choice costs more, thousandths", "share within 2 thousandths"}}
	for _, c := range k.Cells {
		plain := func(e trial.Estimate) string { return fmt.Sprintf("%.2f ± %.2f", e.Mean, e.Error) }
		t.rows = append(t.rows, []string{c.Group, fmt.Sprint(c.Sessions), plain(c.Apart), plain(c.Ratio), thousandths(c.Costs), plain(c.Agreed)})
	}
	return t
}

// roughWinds are the same golfers in no wind, and in one that is typed, not
// typed, or typed wrong.
func roughWinds(k *keptRough) table {
	t := table{name: "rough-winds", title: "Rough golfers: the same golfers in winds of about 4 m/s from all sides", command: k.Command,
		note: "thousandths of a stroke a drive; the answer is for still air; goal: a wind that is typed or not typed costs no more than the error, one typed wrong makes no clear that is wrong",
		head: []string{"wind", "sessions", "keep", "averages", "Ferrule", "more than in still air", "promised less true given a change", "clear", "clear and wrong", "strokes, hit", "carry, hit", "side, hit"}}
	for _, c := range k.Cells {
		r := []string{c.Group, fmt.Sprint(c.Sessions)}
		for _, m := range []string{"keep", "averages", "engine"} {
			r = append(r, thousandths(c.Regret[m]))
		}
		count := func(e trial.Estimate) string { return fmt.Sprintf("%.0f", e.Mean*float64(c.Sessions)) }
		r = append(r, thousandths(c.Less["still air"]), thousandths(c.Promise), count(c.Clear), count(c.Wrong))
		for _, q := range []string{"strokes", "carry", "side"} {
			v := c.Cover[q][0]
			r = append(r, fmt.Sprintf("%.2f / %.2f / %.2f", v[0], v[1], v[2]))
		}
		t.rows = append(t.rows, r)
	}
	return t
}

func roughSequence(k *keptRough) table {
	t := table{name: "rough-sequence", title: "Rough golfers: from 9 balls to 24 by Ferrule's own next test, and going round six settings", command: k.Command,
		note: "regret of the advice, thousandths of a stroke a drive; goal: at least a third less than going round where there is anything to gain",
		head: []string{"golfers", "sessions", "keep", "after nine balls", "24, own next test", "24, going round", "own less going round"}}
	for _, c := range k.Cells {
		r := []string{c.Group, fmt.Sprint(c.Sessions)}
		for _, m := range []string{"keep", "nine balls", "own advice", "going round"} {
			r = append(r, thousandths(c.Regret[m]))
		}
		t.rows = append(t.rows, append(r, thousandths(c.Less["going round"])))
	}
	return t
}
