package pipeline

import (
	"fmt"
	"hash/fnv"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/units"
	"ferrule/core/wire"
	"ferrule/testdata/demo"
)

// MaxFile is the largest shot file that is read. [bytes]
const MaxFile = shotfile.MaxBytes

// ReadFile reads a shot file; columns correct what it guesses.
func ReadFile(name string, data []byte, opt shotfile.Options) (shot.Table, error) {
	return shotfile.Read(name, data, opt)
}

// mostNamed is how many settings are compared by their balls alone: each is a
// mean of its own, and what the analysis costs grows with their square.
const mostNamed = 72

// HeadFromShots makes a head from the labels that the shots carry, for a
// session whose club nobody described: settings may be compared by the balls
// hit with them, and physics says nothing about them.
func HeadFromShots(shots []shot.Shot) club.Head {
	h := club.Head{Kind: "driver", Loft: 10.5 * units.Degree, Lie: 58 * units.Degree, Mass: 200 * units.Gram}
	at := map[string]bool{}
	weights := 0
	for _, s := range shots {
		weights = max(weights, len(s.Setting.Weights))
	}
	for _, s := range shots {
		label := s.Setting.Sleeve
		if weights > 0 { // one label a combination: weights nobody described do not combine
			label = s.Setting.Key()
		}
		if label != "" && !at[label] {
			at[label] = true
			h.Sleeve.Table = append(h.Sleeve.Table, club.Position{Label: label, Unknown: true})
		}
	}
	if len(h.Sleeve.Table) > 0 {
		h.Current.Sleeve = h.Sleeve.Table[0].Label
	}
	return h
}

// hash identifies what a report answers: the session without its times and its
// place in the store. A shot's values are written in the order of shot.Kinds,
// because a map has none.
func hash(s shot.Session, seed uint64) uint64 {
	s.ID, s.Created, s.Changed = "", 0, 0
	shots := append([]shot.Shot(nil), s.Shots...)
	s.Shots = nil
	h := fnv.New64a()
	enc := msgpack.NewEncoder(h)
	if err := enc.Encode(&s); err != nil {
		return 0
	}
	for _, x := range shots {
		v := x.Values
		x.Values = nil
		if err := enc.Encode(&x); err != nil {
			return 0
		}
		for _, k := range shot.Kinds {
			if y, ok := v[k.Quantity]; ok {
				enc.EncodeString(string(k.Quantity))
				enc.EncodeFloat64(y)
			}
		}
	}
	enc.EncodeUint64(seed)
	return h.Sum64()
}

// Example returns a built-in invented session: "demo", "left" (its mirror) or
// "thin" (three balls a setting).
func Example(name string) (shot.Session, error) {
	file := map[string]string{"demo": "demo.csv", "left": "demo-left.csv", "thin": "demo-thin.csv"}[name]
	if file == "" {
		return shot.Session{}, fmt.Errorf("no example %q; expected demo, left or thin", name)
	}
	s := shot.Session{ID: "example-" + name, Title: "Example"}
	aim := demo.File("aim.json")
	if name == "left" {
		aim = demo.File("aim-left.json")
	}
	if err := s.AimFromJSON(aim); err != nil {
		return s, err
	}
	head, err := club.FromJSON(demo.File("club.json"))
	if err != nil {
		return s, err
	}
	t, err := ReadFile(file, demo.File(file), shotfile.Options{Hand: s.Player.Hand})
	if err != nil {
		return s, err
	}
	s.Head, s.Shots = head, t.Shots
	return s, nil
}

// Examples are the names of the built-in sessions.
var Examples = []string{"demo", "left", "thin"}

// Worked is an example with its answer, packed as the worker's: the site carries
// it, so that it is there before the analysis program is.
func Worked(name string, seed uint64) ([]byte, error) {
	s, err := Example(name)
	if err != nil {
		return nil, err
	}
	r, err := Analyse(s, seed, nil)
	if err != nil {
		return nil, err
	}
	return wire.Result{Version: wire.Version, Session: &s, Report: &r}.Pack()
}
