package trial

import (
	"fmt"
	"io"
	"math"
	"sort"
)

// RoughCell is the records of one group, summed up. Means are over sessions,
// errors are their Monte-Carlo standard errors.
type RoughCell struct {
	By       string                   `json:"by"` // what it is grouped by
	Group    string                   `json:"group"`
	Sessions int                      `json:"sessions"`
	Failed   int                      `json:"failed"`
	First    string                   `json:"first_failed,omitempty"` // seed and message
	Regret   map[string]Estimate      `json:"regret_strokes"`
	Less     map[string]Estimate      `json:"regret_engine_less_rival"` // paired by session; of a sequence: own advice less
	Cover    map[string][2][3]float64 `json:"cover_hit_not_50_80_95"`
	Spread   map[string][2][2]float64 `json:"error_mean_rms_in_sd"` // should be 0 and 1
	Words    map[string]Word          `json:"words"`                // of changes, and "keep: ..." of advice to keep
	Moved    Estimate                 `json:"moved"`
	Promise  Estimate                 `json:"promise_less_true_given_a_change"`
	Clear    Estimate                 `json:"clear"`       // share told that a change is clear
	Wrong    Estimate                 `json:"clear_wrong"` // share told so of a change that gains nothing
	Worse    Estimate                 `json:"worse"`       // share whose club got worse by more than .005 strokes
	Apart    Estimate                 `json:"reference_means_apart_sd"`
	Ratio    Estimate                 `json:"reference_sd_ratio"`
	Costs    Estimate                 `json:"reference_choice_costs"`
	Agreed   Estimate                 `json:"reference_choice_within_002"`
}

// Word is how often a verdict was given, how sure it was said to be and how
// often it was so.
type Word struct {
	Said int      `json:"said"`
	Sure float64  `json:"sure"`
	True Estimate `json:"true"`
}

func estimated(v []float64) Estimate {
	n := float64(len(v))
	if n == 0 {
		return Estimate{}
	}
	var m, ss float64
	for _, x := range v {
		m += x / n
	}
	for _, x := range v {
		ss += (x - m) * (x - m)
	}
	if n < 2 {
		return Estimate{Mean: m}
	}
	return Estimate{m, math.Sqrt(ss / (n - 1) / n)}
}

func share(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// Cells groups records by what a tag says of each.
func Cells(records []Record, tag func(Record) string) []RoughCell {
	groups := map[string][]Record{}
	var names []string
	besideStill(records)
	for _, r := range records {
		k := tag(r)
		if _, ok := groups[k]; !ok {
			names = append(names, k)
		}
		groups[k] = append(groups[k], r)
	}
	sort.Strings(names)
	var cells []RoughCell
	for _, k := range names {
		c := summed(groups[k])
		c.Group = k
		cells = append(cells, c)
	}
	return cells
}

// besideStill gives a session in a wind what the engine lost with the same golfer
// in still air, as a rival, where the records hold both.
func besideStill(records []Record) {
	still := map[[2]uint64]float64{}
	for _, r := range records {
		if lost, ok := r.Regret["engine"]; ok && r.Wind == "none" {
			still[[2]uint64{r.Seed, uint64(r.Balls)}] = lost
		}
	}
	for _, r := range records {
		if lost, ok := still[[2]uint64{r.Seed, uint64(r.Balls)}]; ok && r.Failed == "" && r.Wind != "none" {
			r.Regret[stillAir] = lost
		}
	}
}

// stillAir is the engine with the same golfer in no wind.
const stillAir = "still air"

func summed(records []Record) RoughCell {
	c := RoughCell{Regret: map[string]Estimate{}, Less: map[string]Estimate{}, Cover: map[string][2][3]float64{}, Spread: map[string][2][2]float64{}, Words: map[string]Word{}}
	var good []Record
	for _, r := range records {
		if r.Failed != "" {
			if c.Failed++; c.First == "" {
				c.First = fmt.Sprintf("%d: %s", r.Seed, r.Failed)
			}
			continue
		}
		good = append(good, r)
	}
	c.Sessions = len(good)
	over := func(of func(Record) float64, in func(Record) bool) Estimate {
		var v []float64
		for _, r := range good {
			if in == nil || in(r) {
				v = append(v, of(r))
			}
		}
		return estimated(v)
	}
	for _, m := range append(Rivals, "nine balls", "own advice", "going round", stillAir) {
		both := func(who string) func(Record) bool {
			return func(r Record) bool {
				_, there := r.Regret[m]
				_, other := r.Regret[who]
				return there && other
			}
		}
		if v := over(func(r Record) float64 { return r.Regret[m] }, both(m)); v != (Estimate{}) {
			c.Regret[m] = v
		}
		for _, who := range []string{"engine", "own advice"} {
			if v := over(func(r Record) float64 { return r.Regret[who] - r.Regret[m] }, both(who)); v != (Estimate{}) {
				c.Less[m] = v
			}
		}
	}
	c.covered(good)
	moved := func(r Record) bool { return r.Moved }
	c.Moved = over(func(r Record) float64 { return share(r.Moved) }, nil)
	c.Promise = over(func(r Record) float64 { return r.Promise["engine"] }, moved)
	c.Clear = over(func(r Record) float64 { return share(r.Moved && r.Verdict == "clear") }, nil)
	c.Wrong = over(func(r Record) float64 { return share(r.Moved && r.Verdict == "clear" && r.Gain <= 0) }, nil)
	c.Worse = over(func(r Record) float64 { return share(r.Gain < -.005) }, nil)
	c.Apart = over(func(r Record) float64 { return r.Apart }, func(r Record) bool { return r.Ratio > 0 })
	c.Ratio = over(func(r Record) float64 { return r.Ratio }, func(r Record) bool { return r.Ratio > 0 })
	c.Costs = over(func(r Record) float64 { return r.Costs }, nil)
	c.Agreed = over(func(r Record) float64 { return share(r.Costs <= .002) }, nil)
	for _, r := range good {
		word := r.Verdict
		if !r.Moved {
			word = "keep: " + word
		}
		if _, ok := c.Words[word]; !ok && r.Verdict != "" {
			same := func(x Record) bool { return x.Verdict == r.Verdict && x.Moved == r.Moved }
			sure := over(func(x Record) float64 { return x.Sure }, same).Mean
			w := Word{Sure: sure, True: over(func(x Record) float64 { return x.True }, same)}
			for _, x := range good {
				if same(x) {
					w.Said++
				}
			}
			c.Words[word] = w
		}
	}
	return c
}

// covered sums the intervals.
func (c *RoughCell) covered(records []Record) {
	sums := map[string][2]Hits{}
	for _, r := range records {
		for q, h := range r.Cover {
			s := sums[q]
			for k := range s {
				for j := range 3 {
					s[k].In[j] += h[k].In[j]
				}
				s[k].N += h[k].N
				s[k].Z += h[k].Z
				s[k].Z2 += h[k].Z2
			}
			sums[q] = s
		}
	}
	for q, s := range sums {
		var in [2][3]float64
		var sd [2][2]float64
		for k := range s {
			n := math.Max(1, float64(s[k].N))
			for j := range 3 {
				in[k][j] = float64(s[k].In[j]) / n
			}
			sd[k] = [2]float64{s[k].Z / n, math.Sqrt(s[k].Z2 / n)}
		}
		c.Cover[q], c.Spread[q] = in, sd
	}
}

// Print writes a cell for people.
func (c RoughCell) Print(w io.Writer) {
	fmt.Fprintf(w, "\n%s: %d sessions\n", c.Group, c.Sessions)
	if c.Failed > 0 {
		fmt.Fprintf(w, "  %d could not be analysed; the first, %s\n", c.Failed, c.First)
	}
	line := func(title string, of map[string]Estimate, form string) {
		fmt.Fprint(w, "  ", title)
		for _, m := range append(Rivals, "nine balls", "own advice", "going round", stillAir) {
			if r, ok := of[m]; ok {
				fmt.Fprintf(w, form, m, 1e3*r.Mean, 1e3*r.Error)
			}
		}
		fmt.Fprintln(w)
	}
	line("regret, strokes x 1000 a drive:", c.Regret, "  %s %.1f±%.1f")
	line("the engine's less a rival's:", c.Less, "  %s %+.1f±%.1f")
	if len(c.Cover) == 0 {
		return
	}
	var names []string
	for q := range c.Cover {
		names = append(names, q)
	}
	sort.Strings(names)
	for _, q := range names {
		v, s := c.Cover[q], c.Spread[q]
		fmt.Fprintf(w, "  %-18s hit %.2f/%.2f/%.2f (error %+.1f, rms %.1f sd)   not hit %.2f/%.2f/%.2f (error %+.1f, rms %.1f sd)\n", q,
			v[0][0], v[0][1], v[0][2], s[0][0], s[0][1], v[1][0], v[1][1], v[1][2], s[1][0], s[1][1])
	}
	names = nil
	for q := range c.Words {
		names = append(names, q)
	}
	sort.Strings(names)
	for _, q := range names {
		v := c.Words[q]
		fmt.Fprintf(w, "  %-18s said %4d, sure %.2f, true %.2f±%.2f\n", q, v.Said, v.Sure, v.True.Mean, v.True.Error)
	}
	fmt.Fprintf(w, "  moved %.2f; promised less true given a change %+.1f±%.1f; clear %.3f, clear and wrong %.3f; worse %.3f\n",
		c.Moved.Mean, 1e3*c.Promise.Mean, 1e3*c.Promise.Error, c.Clear.Mean, c.Wrong.Mean, c.Worse.Mean)
	fmt.Fprintf(w, "  against the reference: means %.2f sd apart, sd ratio %.2f, its choice costs %.1f more, %.2f within 2\n",
		c.Apart.Mean, c.Ratio.Mean, 1e3*c.Costs.Mean, c.Agreed.Mean)
}
