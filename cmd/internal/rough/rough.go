// Package rough makes up a second set of golfers, dirtier than those of package
// invent and than most real ones, to find what the engine's assumptions hide.
//
// It shares nothing with the engine and, but for the random numbers, the list
// of 80 settings and the hole, nothing with package invent: two laws of drag
// and lift of its own with a random ball a session, a second integrator, two
// impacts (an empirical plane of face and path, and a player who is a
// distribution of launches and nothing else), devices that keep numbers to
// themselves, form that wanders, habits in the order of hitting, settings that
// do what nobody expects, wind that was told, not told or told wrong.
// All numbers are invented; those that name a typical size are from memory.
//
// A golfer is one number: New(seed, Fixed{}) draws all traits of it, and Fixed
// overrides some of them without moving the others.
//
// Main types in reading order: Traits, Fixed, Golfer, Launch, Landing, Seen, Truth.
package rough

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ferrule/cmd/internal/invent"
)

const (
	deg = math.Pi / 180
	rpm = math.Pi / 30
	mph = .44704
	yd  = .9144
	ft  = .3048
)

// Traits say in words what was drawn for a golfer; tables are grouped by them.
type Traits struct {
	Flight    string  `json:"flight"` // "saturating", "power"
	Impact    string  `json:"impact"` // "plane", "statistical"
	World     string  `json:"world"`  // what the settings do, see Worlds
	Device    string  `json:"device"` // see Devices
	Order     string  `json:"order"`  // see Orders
	Aim       string  `json:"aim"`    // "free", "part", "middle"
	Wind      string  `json:"wind"`   // "none", "told", "untold", "wrong"
	Level     string  `json:"level"`  // "low", "mid", "high"
	Hand      string  `json:"hand"`
	Deviation float64 `json:"deviation"` // [1] of a setting beyond its features, of the ball-to-ball scatter
	Mishits   float64 `json:"mishits"`   // [1]
	Wander    float64 `json:"wander"`    // [1] share of the scatter's variance that is slow
	Anchored  bool    `json:"anchored"`  // today's setting has no deviation
}

// Worlds are what settings do: as physics says with the player's own gains; a
// third of it; half of it the other way; sizes as physics says and signs drawn;
// one adjustment or one response alone; weight and loft interacting; nothing.
var Worlds = []string{"expected", "weak", "reversed", "strange", "one axis", "interacting", "null"}

// Devices are what is measured.
var Devices = []string{"full", "no axis", "no spin", "carry and side", "estimated spin"}

// Orders are habits: one block a setting; one ball a setting round and round;
// today's first and then blocks; two half blocks, the second mirrored.
var Orders = []string{"blocks", "round", "today first", "mirrored"}

// Winds are what was said of the day's wind; Aims how much of the best line
// the golfer takes.
var (
	levels  = []string{"low", "mid", "high"}
	flights = []string{"saturating", "power"}
	impacts = []string{"plane", "statistical"}

	Winds = []string{"none", "told", "untold", "wrong"}
	Aims  = []string{"free", "part", "middle"}
)

// Fixed are traits that a run holds; empty and negative ones are drawn. A zero
// Fixed draws all but the deviation, so begin with Drawn.
type Fixed struct {
	World, Device, Order, Aim, Wind, Flight, Impact, Level string
	Deviation                                              float64
	Head                                                   uint64 // whose head: what is drawn for a world is the head's and not the golfer's; 0 = each has one
}

// Drawn holds nothing.
func Drawn() Fixed { return Fixed{Deviation: -1} }

// Check says which held trait is none.
func (f Fixed) Check() error {
	for _, c := range []struct {
		name, got string
		of        []string
	}{{"-world", f.World, Worlds}, {"-device", f.Device, Devices}, {"-order", f.Order, Orders}, {"-aim", f.Aim, Aims}, {"-wind", f.Wind, Winds},
		{"-level", f.Level, levels}, {"-flight", f.Flight, flights}, {"-impact", f.Impact, impacts}} {
		if c.got != "" && !slices.Contains(c.of, c.got) {
			return fmt.Errorf("%s: read %q, expected one of %s", c.name, c.got, strings.Join(c.of, ", "))
		}
	}
	return nil
}

// responses of a golfer to which settings add: speed, loft or launch angle, face
// or direction, backspin, side spin. [m/s, rad, rad, rad/s, rad/s]
const responses = 5

type effect [responses]float64

// Golfer is the truth about one person with one club on one day.
type Golfer struct {
	Traits
	Seed     uint64
	Handicap float64
	Hole     invent.Hole
	Share    float64 // [1] of the best line that the player aims along: 1 free, 0 middle

	ball   ball
	impact impact
	mean   effect
	sd     effect // ball to ball
	at     [80]effect
	odd    [80]effect // of it: what a setting has beyond its features

	Changed bool // an earlier visit with another swing

	form   form
	device device
	head   float64 // [m/s] the day's wind at 10 m against the player, right = from the right
	right  float64
	Told   struct{ Head, Right float64 } // [m/s] what was typed
}

func pick(r *invent.Rand, words []string, weight ...float64) string {
	sum := 0.
	for _, w := range weight {
		sum += w
	}
	u := r.Uniform() * sum
	for i, w := range weight {
		if u -= w; u < 0 {
			return words[i]
		}
	}
	return words[len(words)-1]
}

func held(fixed, drawn string) string {
	if fixed != "" {
		return fixed
	}
	return drawn
}

// New draws golfer number seed.
func New(seed uint64, f Fixed) *Golfer {
	r := invent.NewRand(seed, 11)
	g := &Golfer{Seed: seed}
	t := &g.Traits
	t.Flight = held(f.Flight, pick(r, flights, 1, 1))
	t.Impact = held(f.Impact, pick(r, impacts, 1, 1))
	t.World = held(f.World, pick(r, Worlds, .3, .1, .08, .12, .12, .13, .15))
	t.Device = held(f.Device, pick(r, Devices, .3, .15, .2, .2, .15))
	t.Order = held(f.Order, pick(r, Orders, .3, .2, .2, .3))
	t.Aim = held(f.Aim, pick(r, Aims, .4, .2, .4))
	t.Wind = held(f.Wind, pick(r, Winds, .5, .2, .2, .1))
	t.Level = held(f.Level, pick(r, levels, 1, 1, 1))
	t.Hand = pick(r, []string{"right", "left"}, .8, .2)
	t.Deviation = []float64{.2, .4, .7}[r.Int(3)]
	if f.Deviation >= 0 {
		t.Deviation = f.Deviation
	}
	if t.World == "null" {
		t.Deviation = 0
	}
	t.Mishits = .1 + .1*r.Uniform()
	t.Wander = .35 * r.Uniform()
	t.Anchored = r.Uniform() < .5
	g.Share = map[string]float64{"free": 1, "part": .3 + .4*r.Uniform(), "middle": 0}[t.Aim]

	g.player(invent.NewRand(seed, 12))
	g.settings(invent.NewRand(seed, 13), f.Head)
	g.ball = newBall(invent.NewRand(seed, 14), t.Flight)
	g.form = newForm(invent.NewRand(seed, 15), t.Wander)
	g.device = newDevice(invent.NewRand(seed, 16), t.Device)
	g.weather(invent.NewRand(seed, 17))
	g.Hole = invent.BenchmarkHole(g.Handicap)
	return g
}

// weather draws the day's wind: about 4 m/s in a session that has one.
func (g *Golfer) weather(r *invent.Rand) {
	size, from := 4*math.Sqrt(-math.Log(r.Uniform())), 2*math.Pi*r.Uniform()
	other := 2 * math.Pi * r.Uniform()
	if g.Wind == "none" {
		return
	}
	g.head, g.right = size*math.Cos(from), size*math.Sin(from)
	switch g.Wind {
	case "told": // as people read a wind: near
		g.Told.Head, g.Told.Right = g.head+.7*r.Normal(), g.right+.7*r.Normal()
	case "wrong":
		g.Told.Head, g.Told.Right = size*math.Cos(other), size*math.Sin(other)
	}
}

// player draws what the golfer does with today's setting.
func (g *Golfer) player(r *invent.Rand) {
	k := map[string]int{"low": 0, "mid": 1, "high": 2}[g.Level]
	g.Handicap = []float64{4, 14, 24}[k]
	speed := []float64{104, 95, 86}[k]*mph + 4*mph*r.Normal()
	wide := []float64{.75, 1.1, 1.5}[k] * (.85 + .3*r.Uniform())
	if g.Impact == "plane" {
		path := (-1 + 3*r.Normal()) * deg
		g.mean = effect{speed, (14.8 + 1.8*r.Normal()) * deg, .45*path + (.6+1.3*r.Normal())*deg}
		g.sd = effect{.75 * wide, 1.2 * wide * deg, 1.7 * wide * deg, 12 * wide, 12 * wide}
		g.impact = newPlane(r, path, wide, g.Mishits)
		return
	}
	smash := 1.46 + .015*r.Normal()
	g.mean = effect{speed * smash, (12.5 + 1.8*r.Normal()) * deg, (.3 + 1.2*r.Normal()) * deg, (275 + 35*r.Normal()), 45 * r.Normal()}
	g.sd = effect{1.2 * wide, 1.3 * wide * deg, 1.5 * wide * deg, 26 * wide, 30 * wide}
	g.impact = newStatistical(r, g.Mishits)
}
