// Package club describes what can be changed on an adjustable club and works
// out, by exact geometry, what each setting does.
//
// A head is described by what it does: a sleeve that tilts the shaft in the
// head (one or two rings, or a printed table), and weights that slide. Labels
// are the user's own. Main types: Head, Sleeve, Weight, Setting, Change.
//
// Begin with Head.Change and its example.
package club

import "slices"

// Head is one adjustable club.
type Head struct {
	Name         string   // the user's own words
	Kind         string   // "driver" (default), "fairway", "hybrid"
	Loft         float64  `si:"-100 100"` // [rad] as stated on the head
	MeasuredLoft *float64 `si:"-100 100"` // [rad] as measured, nil = not measured
	Lie          float64  `si:"-100 100"` // [rad]
	Face         float64  `si:"-100 100"` // [rad] soled, open +
	Mass         float64  `si:"0 100"`    // [kg] head with its weights
	Hold         string   // how it is held at address: "soled", "square", "between" (default, learned)
	Sleeve       Sleeve
	Weights      []Weight
	Exclude      []Setting // settings that cannot be made
	Current      Setting   // as it was before the session: the reference
	Shaft        Shaft
	Model        string // what the head alone is called, the same in clubs that share it; empty = no other club has it
}

// Shaft is what the swing weight needs; zero fields are unknown.
type Shaft struct {
	Length    float64 `si:"0 100"` // [m] whole club, butt to heel ground point
	Mass      float64 `si:"0 100"` // [kg] shaft
	GripMass  float64 `si:"0 100"` // [kg]
	Balance   float64 `si:"0 100"` // [1] shaft balance point from the butt as a share of its length
	TotalMass float64 `si:"0 100"` // [kg]
	Name      string  // the same in clubs that share it; empty = nobody said which
}

// Sleeve tilts the shaft in the head: by Rings, or by a printed Table.
// Neither means that the sleeve is fixed.
type Sleeve struct {
	Rings  []Ring     // one or two
	Labels []string   // one a position, rings row by row; empty = made up from what they do
	Table  []Position // the printed table
}

// Ring is one tilted bore with equally spaced positions.
type Ring struct {
	Tilt      float64 `si:"-100 100"` // [rad]
	Positions int     `si:"0 1e6"`    // over a full turn
	Offset    float64 `si:"-100 100"` // [rad] turn of its first position; 0 = shaft top leans to the target
}

// Position is one line of a printed table, as changes against its zero line.
type Position struct {
	Label string
	Loft  float64 `si:"-100 100"` // [rad] with the face squared, as makers print it
	Lie   float64 `si:"-100 100"` // [rad] upright +
	Face  float64 `si:"-100 100"` // [rad] soled, open +

	// Unknown says that nobody described what this position does: it can be
	// compared by the balls hit with it, and nothing can be borrowed from
	// physics. In CLUB.json: a line of the table with a label alone.
	Unknown bool
}

// Weight is one movable or exchangeable weight.
type Weight struct {
	Name  string
	Mass  float64 `si:"0 100"` // [kg] used when a stop gives none
	Stops []Stop
}

// Stop is one place (or one exchangeable mass) of a weight.
type Stop struct {
	Label string
	Toe   float64 `si:"-100 100"` // [m] from the middle of the head, toe +
	Back  float64 `si:"-100 100"` // [m] from the middle, away from the face +
	Mass  float64 `si:"0 100"`    // [kg] 0 = the weight's own mass
}

// Setting names one way to set the club: the sleeve's label and one label for
// each weight, in the order of Head.Weights. Where a session has several clubs
// it names the club too.
type Setting struct {
	Sleeve  string
	Weights []string
	Club    string // its Head.Name; empty = the first, or the only one
}

// Key joins the labels: "up / heel", of a named club "new head: up / heel".
func (s Setting) Key() string {
	k := s.Labels()
	switch {
	case s.Club == "":
		return k
	case k == "":
		return s.Club
	}
	return s.Club + ": " + k
}

// Labels is Key without the club.
func (s Setting) Labels() string {
	k := s.Sleeve
	for _, w := range s.Weights {
		if k != "" {
			k += " / "
		}
		k += w
	}
	return k
}

// Of is s as a setting of the named club.
func (s Setting) Of(name string) Setting {
	s.Club = name
	return s
}

// Equal reports whether two settings name the same labels.
func (s Setting) Equal(t Setting) bool {
	return s.Club == t.Club && s.Sleeve == t.Sleeve && slices.Equal(s.Weights, t.Weights)
}

// Change is what a setting does to the club, against the untilted sleeve and
// the weights in the middle. Angles of loft and face depend on how the club
// is held, so they are given for the three ways of holding it.
type Change struct {
	Lean       float64 // [rad] shaft top towards the target +: "loft" of the sleeve
	Upright    float64 // [rad] lie, upright +
	LoftSquare float64 // [rad] loft with the face turned back to square
	LoftHeld   float64 // [rad] loft when the shaft is not rolled
	FaceHeld   float64 // [rad] face when the shaft is not rolled, open +
	LoftSoled  float64 // [rad] loft when soled
	FaceSoled  float64 // [rad] face when soled, open +
	CGToe      float64 // [m] centre of mass, toe +
	CGBack     float64 // [m] centre of mass, back +
	Mass       float64 // [kg] head mass against Head.Mass
	Unknown    bool    // not described: the angles above are zero for want of knowledge
}

// SameHead reports whether two clubs have one head, by what it is called.
func (h Head) SameHead(o Head) bool { return h.Model != "" && Plain(h.Model) == Plain(o.Model) }

// SameShaft reports whether two clubs have one shaft, by what it is called, of
// one length.
func (h Head) SameShaft(o Head) bool {
	return h.Shaft.Name != "" && Plain(h.Shaft.Name) == Plain(o.Shaft.Name) && h.Shaft.Length == o.Shaft.Length
}

// KindOf is the kind, a driver where none is said.
func (h Head) KindOf() string {
	if h.Kind == "" {
		return Driver
	}
	return h.Kind
}
