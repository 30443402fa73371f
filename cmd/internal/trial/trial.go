// Package trial sends invented golfers through ways of choosing a setting and
// measures what each way costs them: regret, coverage of intervals, promises
// kept, and winners named where there is none.
//
// The players, their strikes, flights and random numbers come from package
// invent, which shares no code with the engine. Known to both sides are the
// published physics of impact (the engine as its prior, the players as the
// middle about which a world scatters or bends them), the strokes baseline,
// and the hole, which a player types in. Not known to the engine: the flight's
// coefficients, each player's gains, the bends, interactions and deviations of
// settings, the device's errors, drift, and mis-hits to one side.
//
// Main types: Config, Engine, Cell; Run does it.
package trial

import (
	"math"
	"sync"

	"ferrule/cmd/internal/invent"
)

// Interval is a central interval of a difference to setting 0 in strokes.
type Interval struct{ Mean, Lo50, Hi50, Lo80, Hi80, Lo95, Hi95 float64 }

// Answer is what the engine under trial says.
type Answer struct {
	Choice     int // index into invent.Settings80
	Keep       bool
	Verdict    string     // "clear", "likely", "leaning", "cannot tell"
	Gain       float64    // [strokes] promised against setting 0
	Difference []Interval // [80] strokes against setting 0, negative = better
}

// Engine answers a session of one player.
type Engine func(balls []invent.Ball, level invent.Level, hole invent.Hole, seed uint64) (Answer, error)

// Config is one run.
type Config struct {
	Players int
	Worlds  []invent.World
	Levels  []invent.Level
	Balls   []int // with each of the six tested settings
	Seed    uint64
	Workers int
	Swings  int  // of the truth; 0 = 256
	Tested  int  // settings hit, number 0 among them; 0 = 6
	From    int  // number of the first player
	Bayes   bool // the choice of one who knows the world is made too
	Fixed   bool // players aim at the middle whatever the ball does
}

// Estimate is a mean with its Monte-Carlo standard error by players.
type Estimate struct {
	Mean  float64 `json:"mean"`
	Error float64 `json:"error"`
}

// The ways of choosing, in the order of printing.
var Methods = []string{"keep", "raw", "additive", "additive-all", "engine", "bayes", "oracle-tested", "oracle"}

// Cell is one world, level and number of balls.
type Cell struct {
	World    string              `json:"world"`
	Level    string              `json:"level"`
	Balls    int                 `json:"balls_per_setting"`
	Players  int                 `json:"players"`
	Failed   int                 `json:"failed"`            // sessions that the engine refused
	Regret   map[string]Estimate `json:"regret_strokes"`    // against the best of 80
	Promise  map[string]Estimate `json:"promise_less_true"` // [strokes]
	Tested   [3]Estimate         `json:"coverage_tested_50_80_95"`
	Untested [3]Estimate         `json:"coverage_untested_50_80_95"`
	Verdicts map[string]Estimate `json:"verdicts"`             // shares of players
	Moved    Estimate            `json:"moved"`                // share told to change the club
	Clear    Estimate            `json:"false_clear"`          // share told "clear" of a change that gains nothing
	Worse    Estimate            `json:"worse"`                // share whose club got worse by more than .005 strokes
	Follow   Estimate            `json:"correlation"`          // of estimated with true differences over the 79 settings
	Miss     Estimate            `json:"difference_rms_error"` // [strokes]
	Size     Estimate            `json:"difference_rms"`       // [strokes] of the true differences
	First    string              `json:"first_error,omitempty"`
}

// one is what one player's session taught.
type one struct {
	regret, promise  map[string]float64
	tested, untested [3]float64
	verdict          string
	moved, clear     float64
	worse            float64
	follow           float64
	miss, size       float64
	err              error
}

// Run does every cell; told hears of each finished player.
func Run(cfg Config, engine Engine, told func(done, all int)) []Cell {
	if cfg.Swings == 0 {
		cfg.Swings = 256
	}
	if cfg.Tested == 0 {
		cfg.Tested = 6
	}
	swings := invent.Swings(cfg.Swings)
	type job struct{ w, l, p int }
	jobs := make(chan job)
	results := make([][][][]one, len(cfg.Worlds)) // world, level, player, balls
	all := len(cfg.Worlds) * len(cfg.Levels) * cfg.Players
	for w := range cfg.Worlds {
		results[w] = make([][][]one, len(cfg.Levels))
		for l := range cfg.Levels {
			results[w][l] = make([][]one, cfg.Players)
		}
	}
	var wait sync.WaitGroup
	var mutex sync.Mutex
	done := 0
	for range max(1, cfg.Workers) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for j := range jobs {
				results[j.w][j.l][j.p] = player(cfg, j.w, j.l, cfg.From+j.p, swings, engine)
				mutex.Lock()
				done++
				if told != nil {
					told(done, all)
				}
				mutex.Unlock()
			}
		}()
	}
	for w := range cfg.Worlds {
		for l := range cfg.Levels {
			for p := range cfg.Players {
				jobs <- job{w, l, p}
			}
		}
	}
	close(jobs)
	wait.Wait()
	var cells []Cell
	for w := range cfg.Worlds {
		for l := range cfg.Levels {
			for b, n := range cfg.Balls {
				column := make([]one, cfg.Players)
				for p := range column {
					column[p] = results[w][l][p][b]
				}
				c := collect(column)
				c.World, c.Level, c.Balls = cfg.Worlds[w].Name, cfg.Levels[l].Name, n
				cells = append(cells, c)
			}
		}
	}
	return cells
}

// player is one golfer with every number of balls. The same number of a player
// is the same golfer but for the world's bend, whatever else is run.
func player(cfg Config, w, l, p int, swings [][invent.Dims]float64, engine Engine) []one {
	level := cfg.Levels[l]
	id := uint64(p)*8 + uint64(len(level.Name)) // levels draw apart
	truth := invent.NewPlayer(invent.NewRand(cfg.Seed, 1000+id), level, cfg.Worlds[w])
	hole := invent.BenchmarkHole(level.Handicap)
	hole.Fixed = cfg.Fixed
	settings := invent.Settings80()
	plain := make([]invent.Setting, len(settings))
	for i, s := range settings {
		plain[i] = s.Setting
	}
	strokes := truth.StrokesOf(plain, hole, swings)
	r := invent.NewRand(cfg.Seed, 2000000+id)
	tested := []int{0}
	others := make([]int, 0, len(settings)-1)
	for i := 1; i < len(settings); i++ {
		others = append(others, i)
	}
	invent.Shuffle(r, others)
	tested = append(tested, others[:cfg.Tested-1]...)
	out := make([]one, len(cfg.Balls))
	for b, n := range cfg.Balls {
		balls := truth.Session(invent.NewRand(cfg.Seed, 4000000+id*64+uint64(n)), tested, n)
		out[b] = judge(strokes, tested, balls, level, hole, cfg.Seed+id, engine)
		if cfg.Bayes && out[b].err == nil {
			i := truth.BayesChoice(balls, hole, level, cfg.Worlds[w], cfg.Seed+id)
			out[b].regret["bayes"] = strokes[i] - strokes[least(strokes, nil)]
		}
	}
	return out
}

// judge lets every method choose and says what each choice is worth.
func judge(strokes []float64, tested []int, balls []invent.Ball, level invent.Level, hole invent.Hole, seed uint64, engine Engine) one {
	o := one{regret: map[string]float64{}, promise: map[string]float64{}}
	best := least(strokes, nil)
	choose := func(method string, i int, gain float64) {
		o.regret[method] = strokes[i] - strokes[best]
		o.promise[method] = gain - (strokes[0] - strokes[i])
	}
	choose("keep", 0, 0)
	choose("oracle", best, strokes[0]-strokes[best])
	top := least(strokes, tested)
	choose("oracle-tested", top, strokes[0]-strokes[top])
	raw, gain := rawBest(balls, tested, hole)
	choose("raw", raw, gain)
	fit := additive(balls, hole)
	i := least(fit, tested)
	choose("additive", i, fit[0]-fit[i])
	i = least(fit, nil)
	choose("additive-all", i, fit[0]-fit[i])
	if engine == nil {
		return o
	}
	a, err := engine(balls, level, hole, seed)
	if o.err = err; err != nil {
		return o
	}
	if a.Keep {
		a.Choice, a.Gain = 0, 0
	}
	choose("engine", a.Choice, a.Gain)
	o.verdict = a.Verdict
	if a.Choice != 0 {
		o.moved = 1
		if strokes[a.Choice]-strokes[0] > .005 {
			o.worse = 1
		}
		if a.Verdict == "clear" && strokes[a.Choice] >= strokes[0] {
			o.clear = 1
		}
	}
	hit := map[int]bool{}
	for _, t := range tested {
		hit[t] = true
	}
	o.follow, o.miss, o.size = agreement(strokes, a.Difference)
	for i := 1; i < len(strokes); i++ {
		d, v := strokes[i]-strokes[0], a.Difference[i]
		in := [3]bool{v.Lo50 <= d && d <= v.Hi50, v.Lo80 <= d && d <= v.Hi80, v.Lo95 <= d && d <= v.Hi95}
		for k, yes := range in {
			switch {
			case yes && hit[i]:
				o.tested[k] += 1 / float64(len(tested)-1)
			case yes:
				o.untested[k] += 1 / float64(len(strokes)-len(tested))
			}
		}
	}
	return o
}

// agreement is how estimated differences follow true ones: correlation, root
// mean square of the error and of the truth.
func agreement(strokes []float64, est []Interval) (r, miss, size float64) {
	var n, x, y, xx, yy, xy float64
	for i := 1; i < len(strokes); i++ {
		d, e := strokes[i]-strokes[0], est[i].Mean
		n++
		x += d
		y += e
		xx += d * d
		yy += e * e
		xy += d * e
		miss += (e - d) * (e - d)
	}
	size, miss = math.Sqrt(xx/n), math.Sqrt(miss/n)
	if v := (xx - x*x/n) * (yy - y*y/n); v > 0 {
		r = (xy - x*y/n) / math.Sqrt(v)
	}
	return r, miss, size
}

// least is the index of the smallest value, of all or of those named.
func least(v []float64, of []int) int {
	best := -1
	if of == nil {
		for i := range v {
			if best < 0 || v[i] < v[best] {
				best = i
			}
		}
		return best
	}
	for _, i := range of {
		if best < 0 || v[i] < v[best] {
			best = i
		}
	}
	return best
}

func collect(players []one) Cell {
	c := Cell{Players: len(players), Regret: map[string]Estimate{}, Promise: map[string]Estimate{}, Verdicts: map[string]Estimate{}}
	var good []one
	for _, o := range players {
		if o.err != nil {
			c.Failed++
			if c.First == "" {
				c.First = o.err.Error()
			}
			continue
		}
		good = append(good, o)
	}
	mean := func(f func(o one) float64) Estimate {
		var s, ss float64
		n := float64(len(good))
		if n == 0 {
			return Estimate{}
		}
		for _, o := range good {
			v := f(o)
			s += v / n
			ss += v * v / n
		}
		if n < 2 {
			return Estimate{Mean: s}
		}
		return Estimate{s, math.Sqrt(math.Max(0, ss-s*s) / (n - 1))}
	}
	for _, m := range Methods {
		if len(good) > 0 {
			if _, ok := good[0].regret[m]; !ok {
				continue
			}
		}
		c.Regret[m] = mean(func(o one) float64 { return o.regret[m] })
		c.Promise[m] = mean(func(o one) float64 { return o.promise[m] })
	}
	for k := range 3 {
		c.Tested[k] = mean(func(o one) float64 { return o.tested[k] })
		c.Untested[k] = mean(func(o one) float64 { return o.untested[k] })
	}
	for _, v := range []string{"clear", "likely", "leaning", "cannot tell"} {
		c.Verdicts[v] = mean(func(o one) float64 {
			if o.verdict == v {
				return 1
			}
			return 0
		})
	}
	c.Follow = mean(func(o one) float64 { return o.follow })
	c.Miss = mean(func(o one) float64 { return o.miss })
	c.Size = mean(func(o one) float64 { return o.size })
	c.Moved = mean(func(o one) float64 { return o.moved })
	c.Clear = mean(func(o one) float64 { return o.clear })
	c.Worse = mean(func(o one) float64 { return o.worse })
	return c
}
