package trial

import (
	"fmt"
	"io"
	"math"

	"ferrule/cmd/internal/invent"
	"ferrule/cmd/internal/rough"
)

// ClubsSaid is the engine's answer about a bag, in a right-hander's world.
type ClubsSaid struct {
	Club, Setting int         // chosen; the own club where the advice is to keep
	Best          [5]int      // of each club
	Chance        [5]float64  // that each club's best beats the own club's best
	Gain          [5]Interval // of it in strokes a drive, positive is better
	Today         [5]map[string]Interval
}

// ClubsAsk is the engine under trial.
type ClubsAsk func(g *rough.Golfer, seen []rough.Seen, of []int) (ClubsSaid, error)

// ClubsCell sums the sessions with one number of balls a visit.
type ClubsCell struct {
	Balls    int                `json:"balls_a_visit"`
	Sessions int                `json:"sessions"`
	Failed   int                `json:"failed"`
	Regret   map[string]float64 `json:"regret_strokes"`
	SE       map[string]float64 `json:"se"`
	Against  float64            `json:"engine_less_averages"`
	AgainstE float64            `json:"engine_less_averages_se"`
	Promise  float64            `json:"promise_less_true"` // of the best other club's gain, where it is chosen
	Moved    int                `json:"moved"`
	Cover    map[string]Hits    `json:"cover"`
	Chance   [4][2]float64      `json:"chance_said_true"` // by quarter of the chance: mean said, share true
	Chances  [4]int             `json:"chances"`
}

// Means are the expected carry and side of each golfer's club and setting by
// another program.
type Means map[[3]int][2]float64

// ClubsBalls writes the balls that Clubs judges, for another program: golfer, club,
// setting, visit, carry and side. [m]
func ClubsBalls(w io.Writer, seed uint64, golfers, balls int, fixed rough.Fixed) {
	fmt.Fprintln(w, "golfer,club,setting,visit,carry,side")
	for i := range golfers {
		g := rough.New(seed+uint64(i), fixed)
		seen, of := g.BagSession(g.Bag(), balls)
		visit := 0
		for k, s := range seen {
			if k > 0 && (of[k] != of[k-1] || s.Setting != seen[k-1].Setting) {
				visit++
			}
			if !s.WarmUp {
				fmt.Fprintf(w, "%d,%d,%d,%d,%.9g,%.9g\n", i, of[k], s.Setting, visit, s.Carry, s.Offline)
			}
		}
	}
}

// Clubs runs golfers seed, seed+1, ... with their bags; rival is another program's
// answer to ClubsBalls, nil = none.
func Clubs(seed uint64, golfers, balls int, fixed rough.Fixed, rival Means, ask ClubsAsk) ClubsCell {
	swings := invent.Swings(256)
	cell := ClubsCell{Balls: balls, Regret: map[string]float64{}, SE: map[string]float64{}, Cover: map[string]Hits{}}
	sums := map[string][2]float64{}
	for i := range golfers {
		g := rough.New(seed+uint64(i), fixed)
		bag := g.Bag()
		seen, of := g.BagSession(bag, balls)
		said, err := ask(g, seen, of)
		if err != nil {
			cell.Failed++
			continue
		}
		var truth [5]rough.Truth
		for c := range bag {
			truth[c] = bag[c].Truth(swings)
		}
		cell.judge(g, truth, said, seen, of, rival.of(i), sums)
	}
	n := float64(cell.Sessions)
	for who, s := range sums {
		m := s[0] / n
		se := math.Sqrt(math.Max(0, s[1]/n-m*m) / n)
		if who == "engine less averages" {
			cell.Against, cell.AgainstE = m, se
			continue
		}
		cell.Regret[who], cell.SE[who] = m, se
	}
	if cell.Moved > 0 {
		cell.Promise /= float64(cell.Moved)
	}
	for k := range cell.Chance {
		if c := float64(cell.Chances[k]); c > 0 {
			cell.Chance[k][0] /= c
			cell.Chance[k][1] /= c
		}
	}
	return cell
}

// of is what a rival says of one golfer; nil = there is none.
func (m Means) of(golfer int) func(club, setting int) (carry, side float64) {
	if m == nil {
		return nil
	}
	return func(club, setting int) (float64, float64) {
		v := m[[3]int{golfer, club, setting}]
		return v[0], v[1]
	}
}

func (cell *ClubsCell) judge(g *rough.Golfer, truth [5]rough.Truth, said ClubsSaid, seen []rough.Seen, of []int, rival func(club, setting int) (float64, float64), sums map[string][2]float64) {
	cell.Sessions++
	own := truth[0].Strokes[0]
	low, hit := own, own
	for c := 1; c < 5; c++ {
		for _, v := range truth[c].Strokes {
			low = math.Min(low, v)
		}
	}
	for k, s := range seen {
		if of[k] > 0 {
			hit = math.Min(hit, truth[of[k]].Strokes[s.Setting])
		}
	}
	club, setting := averagesOfClubs(g, seen, of, nil)
	loses := map[string]float64{"keep": own - low, "averages": truth[club].Strokes[setting] - low, "oracle hit": hit - low,
		"engine": truth[said.Club].Strokes[said.Setting] - low}
	if rival != nil {
		club, setting := averagesOfClubs(g, seen, of, rival)
		loses["mixed model"] = truth[club].Strokes[setting] - low
		loses["engine less mixed"] = loses["engine"] - loses["mixed model"]
	}
	loses["engine less averages"] = loses["engine"] - loses["averages"]
	for who, v := range loses {
		s := sums[who]
		sums[who] = [2]float64{s[0] + v, s[1] + v*v}
	}
	count := func(name string, v Interval, true float64) {
		h := cell.Cover[name]
		h.add(v, true)
		cell.Cover[name] = h
	}
	for c := 1; c < 5; c++ {
		b := said.Best[c]
		gain := own - truth[c].Strokes[b]
		count("best: strokes", said.Gain[c], gain)
		for q, of := range map[string][2]float64{"strokes": {truth[c].Strokes[0], own}, "carry": {truth[c].Carry[0], truth[0].Carry[0]}, "side": {truth[c].Side[0], truth[0].Side[0]}} {
			count("today: "+q, said.Today[c][q], of[0]-of[1])
		}
		k := min(3, int(4*said.Chance[c]))
		cell.Chances[k]++
		cell.Chance[k][0] += said.Chance[c]
		if gain > 0 {
			cell.Chance[k][1]++
		}
	}
	if said.Club > 0 {
		cell.Moved++
		cell.Promise += said.Gain[said.Club].Mean - (own - truth[said.Club].Strokes[said.Setting])
	}
}

// averagesOfClubs chooses the club and setting whose own balls averaged best: the
// pattern of all balls about their means, moved to the mean of each, or to where a
// rival expects it.
func averagesOfClubs(g *rough.Golfer, seen []rough.Seen, of []int, rival func(club, setting int) (float64, float64)) (club, setting int) {
	type pair struct{ club, setting int }
	type mean struct{ n, x, z float64 }
	at := map[pair]*mean{}
	var order []pair
	for k, s := range seen {
		if s.WarmUp {
			continue
		}
		p := pair{of[k], s.Setting}
		if at[p] == nil {
			at[p] = &mean{}
			order = append(order, p)
		}
		m := at[p]
		m.n, m.x, m.z = m.n+1, m.x+s.Carry, m.z+s.Offline
	}
	var dx, dz []float64
	for k, s := range seen {
		if m := at[pair{of[k], s.Setting}]; !s.WarmUp && m.n > 1 {
			wide := math.Sqrt(m.n / (m.n - 1))
			dx, dz = append(dx, wide*(s.Carry-m.x/m.n)), append(dz, wide*(s.Offline-m.z/m.n))
		}
	}
	least := math.Inf(1)
	x, z := make([]float64, len(dx)), make([]float64, len(dx))
	for _, p := range order {
		mx, mz := at[p].x/at[p].n, at[p].z/at[p].n
		if rival != nil {
			mx, mz = rival(p.club, p.setting)
		}
		run := 1 + 17/math.Max(mx, 50)
		for i := range dx {
			x[i], z[i] = run*(mx+dx[i]), run*(mz+dz[i])
		}
		if cost, _ := g.Cost(x, z); cost < least {
			least, club, setting = cost, p.club, p.setting
		}
	}
	return club, setting
}
