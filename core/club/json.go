package club

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"sort"
	"strings"

	"ferrule/core/message"
	"ferrule/core/units"
)

// The kinds of club and the ways of holding one; an empty text is the first.
const (
	Driver  = "driver"
	Fairway = "fairway"
	Hybrid  = "hybrid"

	HoldBetween = "between" // the player's own share, learned from shots
	HoldSoled   = "soled"   // as the sole sits on the ground
	HoldSquare  = "square"  // the face turned back to square at address
)

// What a description may leave out: mass of the head and lie by kind. Common
// practice, no source; from memory.
var usual = map[string]struct{ mass, lie float64 }{ // [g], [deg]
	Driver:  {200, 58},
	Fairway: {212, 57.5},
	Hybrid:  {232, 59},
}

// The shape of CLUB.json, in the trade's units; keys name quantity and unit.
type headJSON struct {
	Name         string        `json:"name,omitempty"`
	Kind         string        `json:"kind,omitempty"`
	Loft         *float64      `json:"loft_deg"`
	MeasuredLoft *float64      `json:"measured_loft_deg,omitempty"`
	Lie          *float64      `json:"lie_deg,omitempty"`
	Face         float64       `json:"face_deg,omitempty"`
	Mass         *float64      `json:"head_mass_g,omitempty"`
	Hold         string        `json:"hold,omitempty"`
	Sleeve       *sleeveJSON   `json:"sleeve,omitempty"`
	Weights      []weightJSON  `json:"weights,omitempty"`
	Exclude      []settingJSON `json:"exclude,omitempty"`
	Current      *settingJSON  `json:"current,omitempty"`
	Shaft        *shaftJSON    `json:"shaft,omitempty"`
	Model        string        `json:"model,omitempty"`
}

type sleeveJSON struct {
	Tilt      *float64       `json:"tilt_deg,omitempty"`
	Positions *int           `json:"positions,omitempty"`
	Offset    float64        `json:"offset_deg,omitempty"`
	Rings     []ringJSON     `json:"rings,omitempty"`
	Labels    []string       `json:"labels,omitempty"`
	Table     []positionJSON `json:"table,omitempty"`
}

type ringJSON struct {
	Tilt      float64 `json:"tilt_deg"`
	Positions int     `json:"positions"`
	Offset    float64 `json:"offset_deg,omitempty"`
}

type positionJSON struct {
	Label string   `json:"label"`
	Loft  *float64 `json:"loft_deg,omitempty"`
	Lie   *float64 `json:"lie_deg,omitempty"`
	Face  *float64 `json:"face_deg,omitempty"`
}

// position turns one line of a table into SI; a line with a label alone is
// not described.
func (p positionJSON) position() Position {
	rad := func(deg *float64) float64 {
		if deg == nil {
			return 0
		}
		return *deg * units.Degree
	}
	return Position{p.Label, rad(p.Loft), rad(p.Lie), rad(p.Face), p.Loft == nil && p.Lie == nil && p.Face == nil}
}

type weightJSON struct {
	Name  string     `json:"name,omitempty"`
	Mass  float64    `json:"mass_g,omitempty"`
	Stops []stopJSON `json:"stops"`
}

type stopJSON struct {
	Label string  `json:"label"`
	Toe   float64 `json:"toe_mm"`
	Back  float64 `json:"back_mm,omitempty"`
	Mass  float64 `json:"mass_g,omitempty"`
}

type settingJSON struct {
	Sleeve  string   `json:"sleeve,omitempty"`
	Weights []string `json:"weights,omitempty"`
}

type shaftJSON struct {
	Length    float64 `json:"length_in,omitempty"`
	Mass      float64 `json:"mass_g,omitempty"`
	GripMass  float64 `json:"grip_mass_g,omitempty"`
	Balance   float64 `json:"balance,omitempty"`
	TotalMass float64 `json:"total_mass_g,omitempty"`
	Name      string  `json:"name,omitempty"`
}

// FromJSON reads a club as described in CLUB.json and validates it. loft_deg
// must be there; lie_deg and head_mass_g default by kind. A key that is not
// known is passed over (a later version may have written it), unless it looks
// like a known one misspelt, which is an error that names both. All errors
// about values are FieldErrors.
func FromJSON(data []byte) (Head, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	var j headJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return Head{}, where(data, err)
	}
	var raw map[string]any
	if err := json.Unmarshal(data, &raw); err != nil {
		return Head{}, where(data, err)
	}
	if errs := misspelt("", raw); len(errs) > 0 {
		return Head{}, errs
	}
	h, errs := j.head()
	if len(errs) > 0 {
		return Head{}, errs
	}
	if err := h.Validate(); err != nil {
		return Head{}, err
	}
	return h, nil
}

// ListFromJSON reads one club or several: an object as in CLUB.json, a list of
// those, or {"clubs": [...], "own": "the name of the player's own"}. own is empty
// where the file says none. Errors are those of FromJSON, with the number of the
// club.
func ListFromJSON(data []byte) (list []Head, own string, err error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	var raw []json.RawMessage
	if bytes.HasPrefix(bytes.TrimSpace(data), []byte("[")) {
		if err := json.Unmarshal(data, &raw); err != nil {
			return nil, "", where(data, err)
		}
	} else {
		var several struct {
			Clubs []json.RawMessage `json:"clubs"`
			Own   string            `json:"own"`
		}
		if err := json.Unmarshal(data, &several); err != nil || several.Clubs == nil {
			h, err := FromJSON(data)
			return []Head{h}, "", err
		}
		raw, own = several.Clubs, several.Own
	}
	if len(raw) == 0 {
		return nil, "", FieldErrors{{"clubs", message.Plain("read an empty list, expected at least one club")}}
	}
	for i, one := range raw {
		h, err := FromJSON(one)
		if err != nil {
			return nil, "", fmt.Errorf("clubs[%d]: %w", i, err)
		}
		list = append(list, h)
	}
	return list, own, nil
}

// where turns an error of package json into one that says line, column, what
// was read and what is expected.
func where(data []byte, err error) error {
	var offset int64 = -1
	text := err.Error()
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &kind):
		offset = kind.Offset
		text = fmt.Sprintf("%s: read a %s, expected a %s", kind.Field, kind.Value, plainType(kind.Type.String()))
		if kind.Field == "" {
			text = fmt.Sprintf("read a %s, expected an object {...} that describes a club", kind.Value)
		}
	case errors.As(err, &syntax):
		offset = syntax.Offset
		text = "not JSON: " + text
	}
	if offset < 0 || offset > int64(len(data)) {
		return fmt.Errorf("club: %s", text)
	}
	before := data[:offset]
	line := 1 + bytes.Count(before, []byte("\n"))
	column := int(offset) - bytes.LastIndexByte(before, '\n') - 1
	return fmt.Errorf("club: line %d, column %d: %s", line, max(column, 1), text)
}

func plainType(t string) string {
	switch {
	case strings.Contains(t, "float"):
		return "number"
	case strings.Contains(t, "int"):
		return "whole number"
	case strings.HasPrefix(t, "[]"):
		return "list [...]"
	case t == "string":
		return "text in quotes"
	}
	return "an object {...}"
}

func (j headJSON) head() (Head, FieldErrors) {
	c := &checker{}
	h := Head{Name: j.Name, Model: j.Model, Kind: j.Kind, Hold: j.Hold, Face: j.Face * units.Degree}
	kind := cmp.Or(j.Kind, Driver)
	u := usual[kind]
	if j.Loft == nil {
		c.add("loft_deg", "problem.no-loft")
	} else {
		h.Loft = *j.Loft * units.Degree
	}
	if j.MeasuredLoft != nil {
		v := *j.MeasuredLoft * units.Degree
		h.MeasuredLoft = &v
	}
	h.Lie, h.Mass = u.lie*units.Degree, u.mass*units.Gram
	if j.Lie != nil {
		h.Lie = *j.Lie * units.Degree
	}
	if j.Mass != nil {
		h.Mass = *j.Mass * units.Gram
	}
	if j.Sleeve != nil {
		h.Sleeve = j.Sleeve.sleeve(c)
	}
	for _, w := range j.Weights {
		h.Weights = append(h.Weights, w.weight())
	}
	for _, x := range j.Exclude {
		h.Exclude = append(h.Exclude, Setting{Sleeve: x.Sleeve, Weights: x.Weights})
	}
	if j.Current != nil {
		h.Current = Setting{Sleeve: j.Current.Sleeve, Weights: j.Current.Weights}
	}
	if s := j.Shaft; s != nil {
		h.Shaft = Shaft{s.Length * units.Inch, s.Mass * units.Gram, s.GripMass * units.Gram, s.Balance, s.TotalMass * units.Gram, s.Name}
	}
	return h, c.errs
}

func (j sleeveJSON) sleeve(c *checker) Sleeve {
	s := Sleeve{Labels: j.Labels}
	if len(s.Labels) == 0 {
		s.Labels = nil
	}
	for _, r := range j.Rings {
		s.Rings = append(s.Rings, Ring{r.Tilt * units.Degree, r.Positions, r.Offset * units.Degree})
	}
	if j.Tilt != nil || j.Positions != nil {
		if len(j.Rings) > 0 {
			c.add("sleeve", "problem.plain", "read both tilt_deg and rings, expected one of them")
		}
		r := Ring{Offset: j.Offset * units.Degree}
		if j.Tilt != nil {
			r.Tilt = *j.Tilt * units.Degree
		}
		switch {
		case j.Positions != nil:
			r.Positions = *j.Positions
		case len(j.Labels) > 0:
			r.Positions = len(j.Labels)
		}
		s.Rings = append(s.Rings, r)
	}
	for _, p := range j.Table {
		s.Table = append(s.Table, p.position())
	}
	return s
}

func (j weightJSON) weight() Weight {
	w := Weight{Name: j.Name, Mass: j.Mass * units.Gram}
	for _, s := range j.Stops {
		w.Stops = append(w.Stops, Stop{s.Label, s.Toe * units.Millimetre, s.Back * units.Millimetre, s.Mass * units.Gram})
	}
	return w
}

// JSON writes the club as CLUB.json, indented, with the numbers rounded to
// what the units can mean (a millionth), so that reading it back gives the
// same settings.
func (h Head) JSON() ([]byte, error) {
	j := headJSON{
		Name: h.Name, Model: h.Model, Kind: h.Kind, Hold: h.Hold,
		Loft: in(h.Loft, units.Degree), Lie: in(h.Lie, units.Degree), Mass: in(h.Mass, units.Gram),
		Face: *in(h.Face, units.Degree),
	}
	if h.MeasuredLoft != nil {
		j.MeasuredLoft = in(*h.MeasuredLoft, units.Degree)
	}
	if s := h.Sleeve; len(s.Rings)+len(s.Table) > 0 {
		j.Sleeve = &sleeveJSON{Labels: s.Labels}
		switch len(s.Rings) {
		case 0:
		case 1:
			r := s.Rings[0]
			j.Sleeve.Tilt, j.Sleeve.Positions, j.Sleeve.Offset = in(r.Tilt, units.Degree), &r.Positions, *in(r.Offset, units.Degree)
		default:
			for _, r := range s.Rings {
				j.Sleeve.Rings = append(j.Sleeve.Rings, ringJSON{*in(r.Tilt, units.Degree), r.Positions, *in(r.Offset, units.Degree)})
			}
		}
		for _, p := range s.Table {
			j.Sleeve.Table = append(j.Sleeve.Table, tableLine(p))
		}
	}
	for _, w := range h.Weights {
		out := weightJSON{Name: w.Name, Mass: *in(w.Mass, units.Gram), Stops: []stopJSON{}}
		for _, s := range w.Stops {
			out.Stops = append(out.Stops, stopJSON{s.Label, *in(s.Toe, units.Millimetre), *in(s.Back, units.Millimetre), *in(s.Mass, units.Gram)})
		}
		j.Weights = append(j.Weights, out)
	}
	for _, x := range h.Exclude {
		j.Exclude = append(j.Exclude, settingJSON{x.Sleeve, x.Weights})
	}
	if h.Current.Sleeve != "" || len(h.Current.Weights) > 0 {
		s := settingJSON{h.Current.Sleeve, h.Current.Weights}
		j.Current = &s
	}
	if s := h.Shaft; s != (Shaft{}) {
		j.Shaft = &shaftJSON{*in(s.Length, units.Inch), *in(s.Mass, units.Gram), *in(s.GripMass, units.Gram), s.Balance, *in(s.TotalMass, units.Gram), s.Name}
	}
	return json.MarshalIndent(j, "", "  ")
}

// in writes an SI value in a unit, rounded to a millionth of it.
func in(v, unit float64) *float64 {
	r := round6(v / unit)
	return &r
}

// known lists the keys of CLUB.json by object.
var known = map[string][]string{
	"":              {"name", "kind", "loft_deg", "measured_loft_deg", "lie_deg", "face_deg", "head_mass_g", "hold", "sleeve", "weights", "exclude", "current", "shaft", "model"},
	"sleeve":        {"tilt_deg", "positions", "offset_deg", "rings", "labels", "table"},
	"sleeve.rings":  {"tilt_deg", "positions", "offset_deg"},
	"sleeve.table":  {"label", "loft_deg", "lie_deg", "face_deg"},
	"weights":       {"name", "mass_g", "stops"},
	"weights.stops": {"label", "toe_mm", "back_mm", "mass_g"},
	"exclude":       {"sleeve", "weights"},
	"current":       {"sleeve", "weights"},
	"shaft":         {"length_in", "mass_g", "grip_mass_g", "balance", "total_mass_g", "name"},
}

// misspelt walks a parsed object and finds keys that are not known but differ
// from a known one that is absent only by its unit or by two letters.
func misspelt(path string, v any) FieldErrors {
	var errs FieldErrors
	switch v := v.(type) {
	case []any:
		for _, e := range v {
			errs = append(errs, misspelt(path, e)...)
		}
	case map[string]any:
		keys := make([]string, 0, len(v))
		for k := range v {
			keys = append(keys, k)
		}
		sort.Strings(keys)
		for _, k := range keys {
			full := k
			if path != "" {
				full = path + "." + k
			}
			isKnown := false
			for _, w := range known[path] {
				isKnown = isKnown || strings.EqualFold(w, k)
			}
			if isKnown {
				errs = append(errs, misspelt(full, v[k])...)
				continue
			}
			for _, w := range known[path] {
				if _, there := v[w]; !there && alike(k, w) {
					errs = append(errs, FieldError{full, message.Plain(fmt.Sprintf("no such key, expected %q", w))})
					break
				}
			}
		}
	}
	return errs
}

// alike reports whether a is b without its unit, with another unit, or with
// up to two letters wrong (one in short words).
func alike(a, b string) bool {
	a, b = strings.ToLower(a), strings.ToLower(b)
	if stem(a) == stem(b) {
		return true
	}
	return distance(a, b) <= min(2, len(b)/4)
}

func stem(k string) string {
	for _, unit := range []string{"_deg", "_mm", "_g", "_in", "_m", "_kg", "_rad", "_degrees", "_cm"} {
		if s, ok := strings.CutSuffix(k, unit); ok {
			return s
		}
	}
	return k
}

// distance is the number of letters to insert, delete or replace (Levenshtein).
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

func tableLine(p Position) positionJSON {
	if p.Unknown {
		return positionJSON{Label: p.Label}
	}
	return positionJSON{p.Label, in(p.Loft, units.Degree), in(p.Lie, units.Degree), in(p.Face, units.Degree)}
}
