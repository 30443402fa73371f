// Package shot is the vocabulary of a session: what was measured, by whom,
// with which club, and what is wanted. It validates; it computes no statistics.
//
// Main types in reading order: Quantity and Values (one ball's numbers),
// Shot, Player, Aim, Conditions, Air, Session, and Table (what a file held).
//
// Begin with Values and WayOf and its example.
package shot

import (
	"math"
	"reflect"
	"sort"
	"strconv"
	"strings"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/message"
)

// Values holds one ball's numbers in SI. A quantity that was not measured is
// absent: never zero, never NaN.
type Values map[Quantity]float64

// EncodeMsgpack writes the quantities by their names: one session is one run of
// bytes, and so a site is built the same twice.
func (v Values) EncodeMsgpack(e *msgpack.Encoder) error {
	if v == nil {
		return e.EncodeNil()
	}
	if err := e.EncodeMapLen(len(v)); err != nil {
		return err
	}
	names := make([]string, 0, len(v))
	for q := range v {
		names = append(names, string(q))
	}
	sort.Strings(names)
	for _, q := range names {
		if err := e.EncodeString(q); err != nil {
			return err
		}
		if err := e.EncodeFloat64(v[Quantity(q)]); err != nil {
			return err
		}
	}
	return nil
}

// Get returns the value of q and whether it was measured.
func (v Values) Get(q Quantity) (float64, bool) { x, ok := v[q]; return x, ok }

// TotalSpin is the size of the spin [rad/s], from its parts where it was not
// given: backspin b and sidespin s make hypot(b, s), backspin under an axis
// tilted by a makes b/cos a. false: not enough was measured.
func (v Values) TotalSpin() (float64, bool) {
	if s, ok := v[Spin]; ok {
		return s, true
	}
	b, ok := v[Backspin]
	if !ok {
		return 0, false
	}
	if s, ok := v[Sidespin]; ok {
		return math.Hypot(b, s), true
	}
	if a, ok := v[SpinAxis]; ok && math.Abs(a) < maxTilt {
		return b / math.Cos(a), true
	}
	return b, true
}

// maxTilt is the tilt of the axis [rad] beyond which backspin says nothing of
// the whole spin.
const maxTilt = 1.2

// Tag is what a person says of a shot.
type Tag string

// The tags. The empty Tag leaves the judgement to package clean.
const (
	TagNone   Tag = ""
	TagMishit Tag = "mis-hit" // keep in the outcome, weigh down in effects
	TagToe    Tag = "toe"     // a mis-hit off the toe, likewise the next three
	TagHeel   Tag = "heel"
	TagHigh   Tag = "high"
	TagLow    Tag = "low"
	TagGood   Tag = "good"   // the person vouches for it: not to be weighed down
	TagOut    Tag = "out"    // leave out of everything (wrong record, other ball)
	TagWarmup Tag = "warmup" // stored and shown, not counted
)

// Shot is one ball.
type Shot struct {
	ID      string       // unique in its session, stable under editing
	Line    int          `si:"0 1e9"` // line in the file it came from, 0 if typed
	Source  string       // name of the file it came from, empty if typed
	Setting club.Setting // how the club was set
	Ball    string       // ball model or kind in the user's words, empty = the session's
	Session string       // part of the file or day it belongs to, empty = one session
	Clock   string       // date and time as read, empty if unknown; order is the row order
	Air     int          `si:"0 400"` // number of the air it flew in: 0 Session.Conditions, k Session.Airs[k-1]
	Tag     Tag          // what the person said
	Note    string       // the person's note
	Values  Values       `si:"-1e6 1e6"` // what was measured, right-positive compass
	Assumed []Quantity   // values that the device estimated rather than measured
}

// Print is a text that two shots share when their measured numbers are the same
// to six digits, in whatever unit and order they were written, and how many
// numbers stand in it.
func (v Values) Print() (text string, n int) {
	b := make([]byte, 0, 160)
	at := make([]int, 0, 20)
	for q := range v {
		if i, known := place[q]; known {
			at = append(at, i)
		}
	}
	sort.Ints(at)
	for _, i := range at {
		b = append(b, byte('A'+i))
		b = strconv.AppendFloat(b, v[Kinds[i].Quantity], 'g', 6, 64)
	}
	return string(b), len(at)
}

// Player is who hits.
type Player struct {
	Name     string     // optional, never in a link unless ticked
	Hand     frame.Hand // right unless said
	Handicap *float64   `si:"-100 100"` // [strokes] nil = unknown
}

// Goal is what the player wants first.
type Goal string

// The goals. The zero value is GoalStrokes.
const (
	GoalStrokes  Goal = "strokes"  // fewest strokes on the described hole
	GoalCarry    Goal = "carry"    // carry as far as possible
	GoalFairways Goal = "fairways" // hit more fairways
	GoalHeight   Goal = "height"   // hold a height window
)

// Aim is what the player wants, written before the results are seen.
// Nil and zero fields take the documented defaults.
type Aim struct {
	Goal          Goal       // default strokes
	Trouble       frame.Side // side of the costly miss, empty = neither
	TroubleAt     float64    `si:"0 1e4"` // [m] distance of trouble from the target line, 0 = 25 yd
	TroublePMax   float64    `si:"0 100"` // [1] at most this chance beyond the line, 0 = no such limit
	TroubleKind   string     // "penalty" (default), "out" of bounds, "trees"
	FairwayWidth  float64    `si:"0 1e4"`    // [m] 0 = 32 yd
	HoleLength    float64    `si:"0 1e4"`    // [m] 0 = 400 yd
	ApexLow       *float64   `si:"0 1e4"`    // [m] height window, nil = none
	ApexHigh      *float64   `si:"0 1e4"`    // [m]
	CarryMin      *float64   `si:"0 1e4"`    // [m] a carry that must be reached
	BallsPerRound float64    `si:"0 200"`    // [1] drives a round, 0 = 14
	MinutesLeft   float64    `si:"-1e5 1e5"` // [min] time left for testing, 0 = unknown
	BallsLeft     int        `si:"-1 1e5"`   // balls that the player will still hit, 0 = unknown
	CarryPMin     float64    `si:"0 100"`    // [1] share of drives that must reach CarryMin, 0 = one half
	ApexPMin      float64    `si:"0 100"`    // [1] share that must be in the height window, 0 = shown, not demanded
	Fixed         bool       // the player aims at the middle whatever the ball does, false = aims where the balls cost least; see Share
	Reaim         *float64   `si:"0 1"`   // [1] share of the best aim that the player takes up, 0 to 1; nil = as Fixed says
	Least         float64    `si:"0 1e4"` // what a change must be worth, in the unit of the goal: strokes a round, [m] of carry, fairways or balls of 20; 0 = nothing was said
	Holes         []Hole     // the player's own driving holes, empty = the one described above
	Home          *Home      // the air that the answer is for; nil = still air at the place of the session
	SetAt         int64      `si:"0 1e11"` // when what is wanted was last set, seconds since 1970; 0 = unknown
	Seen          int        `si:"0 1e6"`  // balls that had been hit by then
}

// Wants reports whether another aim asks for the same; what is left to hit and
// when it was set ask for nothing.
func (a Aim) Wants(b Aim) bool {
	for _, x := range []*Aim{&a, &b} {
		x.BallsLeft, x.MinutesLeft, x.SetAt, x.Seen = 0, 0, 0, 0
	}
	return reflect.DeepEqual(a, b)
}

// Drives is how many drives a round has.
func (a Aim) Drives() float64 {
	if a.BallsPerRound > 0 {
		return a.BallsPerRound
	}
	return 14
}

// Share is how far the player moves the aim to where the balls cost least: 0
// not at all, 1 all the way. Sessions that hold no share go by Fixed.
func (a Aim) Share() float64 {
	switch {
	case a.Reaim != nil:
		return min(1, max(0, *a.Reaim))
	case a.Fixed:
		return 0
	}
	return 1
}

// Hole is one of the player's own driving holes. Zero fields take the
// defaults of Aim.
type Hole struct {
	Name         string
	Length       float64    `si:"0 1e4"` // [m]
	FairwayWidth float64    `si:"0 1e4"` // [m]
	Trouble      frame.Side // side of the trouble, empty = neither
	TroubleAt    float64    `si:"0 1e4"` // [m] from the middle of the fairway
	TroubleKind  string     // as in Aim
	BendAt       float64    `si:"0 1e4"`    // [m] where a dogleg turns, 0 = straight
	Bend         float64    `si:"-100 100"` // [rad] how far it turns, right +
	Weight       float64    `si:"0 1e6"`    // [1] how often it is played, 0 = 1
}

// Conditions is the air of the first balls, and the ground.
type Conditions struct {
	Temperature *float64 `si:"0 1000"`   // [K] nil = 20 degC
	Pressure    *float64 `si:"0 1e6"`    // [Pa] nil = from Altitude
	Humidity    *float64 `si:"0 100"`    // [1] 0..1, nil = 0.5
	Altitude    *float64 `si:"-1e4 1e4"` // [m] nil = sea level
	Wind        float64  `si:"0 200"`    // [m/s] at 10 m, 0 = still
	WindFrom    float64  `si:"-100 100"` // [rad] 0 = head wind, +90 deg = from the right
	Indoors     bool     // carry is the device's own computation
	Firmness    float64  `si:"-100 100"` // [1] 0 = average ground, -1 soft .. +1 firm
}

// Invented reports whether the player is who hits the balls of the built-in
// examples: nobody.
func (p Player) Invented() bool { return strings.HasPrefix(p.Name, "Demo player A") }

// Session is one player, one club or several and the balls hit with them.
type Session struct {
	ID         string
	Title      string
	Created    int64 `si:"0 32503680000"` // [s] Unix time given by the caller: core asks no clock
	Changed    int64 `si:"0 32503680000"` // [s]
	Player     Player
	Aim        Aim
	Conditions Conditions
	Airs       []Air  // the airs after the first, in the order in which they were typed
	Ball       string // ball used unless a shot says otherwise
	Head       club.Head
	Shots      []Shot // in the order of hitting

	// Bench is what a person wrote into the open fields of the fitting sheet
	// (place, device, grip, ...), by the keys that package sheet lists; an
	// absent or empty one is printed as not measured. It is in no link.
	Bench map[string]string

	// Clubs are those after the first, which is Head. With any, each club has a
	// name of its own, and the balls name theirs.
	Clubs []club.Head
	Own   string // name of the player's own club, empty = the first

	// Adopted is what the player took up last, in this session or an earlier one;
	// nil = nothing. It is in no link.
	Adopted *Decision
}

// Decision is a setting that was taken up.
type Decision struct {
	When    int64 `si:"0 32503680000"` // [s] Unix time
	Setting club.Setting
	Goal    Goal     // of the aim
	Chance  float64  `si:"0 1"` // [1] that it is better than the other one
	Carry   Expected // [m]
	Side    Expected // [m] right +
}

// Expected is a mean with the range that holds 8 times in 10; all 0 = unknown.
type Expected struct {
	Mean float64 `si:"-1e4 1e4"` // [m]
	Lo   float64 `si:"-1e4 1e4"` // [m]
	Hi   float64 `si:"-1e4 1e4"` // [m]
}

// Before reports whether it was taken up before the session s was begun.
func (d *Decision) Before(s Session) bool { return d != nil && d.When < s.Created }

// Table is what a shot file held.
type Table struct {
	Columns []Column          // as found, in the file's order
	Shots   []Shot            // with Line and Source set; Air counts Airs, from 1, 0 where the file says nothing
	Airs    []Air             // what the file's own columns say of the air
	Errors  []RowError        // every row that could not be used, all at once
	Notes   []message.Message // what was assumed
	Ask     []message.Message // the texts of the questions that are still open

	Questions []Question  // what the file leaves open, and what was answered
	Players   []string    // whom the file names, at most a few
	Clubs     []ClubCount // in the order of first use; empty = the file names none
	Parts     []FilePart  // sheets, files of an archive, days: in the file's order
}

// Question is one thing that a file leaves open and whose answer changes what
// is taken over. Its ID is the same in every file of one shape.
type Question struct {
	ID      string // "clubs", "setting", "players", "unit Carry", "side Curve", ...
	Text    message.Message
	Choices []Choice // never with a proposal among them
	Many    bool     // several choices may hold: an answer is their values, a line each
	Answer  string   // as given
	Open    bool     // not answered yet
	Taken   bool     // far more probable than the rest: made, shown, and taken back by another choice
}

// Allows reports whether v answers the question: one of its choices, or several,
// a line each, where several may hold. A question without choices takes any text.
func (q Question) Allows(v string) bool {
	if len(q.Choices) == 0 {
		return true
	}
	values := []string{v}
	if q.Many {
		values = strings.Split(v, "\n")
	}
	for _, x := range values {
		found := false
		for _, c := range q.Choices {
			found = found || c.Value == x
		}
		if !found {
			return false
		}
	}
	return true
}

// Chosen is what the answer says: its choice's text, or the answer itself.
func (q Question) Chosen() message.Message {
	for _, c := range q.Choices {
		if c.Value == q.Answer {
			return c.Text
		}
	}
	return message.Plain(q.Answer)
}

// Choice is one answer to a question.
type Choice struct {
	Value string
	Text  message.Message
}

// ClubCount is one club as a file names it.
type ClubCount struct {
	Name  string // empty = balls without a club
	Balls int
	Kept  bool // its balls belong to the session; the others are tagged as left out
}

// FilePart is a run of balls that stands by itself in a file.
type FilePart struct {
	Sheet string // of a workbook, or the file of an archive
	Day   string // as written
	Title string // of the session, or the title above the rows
	From  int    // index of its first shot
	Balls int
	Why   string // of the break before it: "sheet", "day", "gap", "session", "units", "club", "" = the beginning
}

// Column is one column of a file as understood.
type Column struct {
	Header   string            // as in the file
	Quantity Quantity          // empty when not used as a number
	Role     string            // "setting", "sleeve", "weight", "ball", "time", "number", "tag", "" ...
	Unit     string            // symbol: "mph"
	Flipped  bool              // sign turned to right-positive
	Evidence []message.Message // why it was understood so
	Written  []string          // three cells as they stand in the file
	Read     []string          // the same three as understood, in the column's unit
}

// RowError is one thing in a file that could not be used.
type RowError struct {
	Line    int             // 1-based line in the file
	Column  string          // header, empty when the whole row
	Message message.Message // what was read and what is expected
}
