// Package wire is what crosses the border between the page and the worker: one
// request in, as msgpack, one result out, packed in parcels. It is a leaf.
//
// Begin with Unpack and its example.
package wire

import (
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
)

// Version of the messages. Page and worker are built together; a mismatch
// means an update half done, and is answered with an error.
const Version = 5

// Request is one question to the worker. Exactly one of the pointers is set.
type Request struct {
	Version int
	ID      uint64
	Analyse *Analyse
	Read    *Read
	Fly     *Fly
	Sheet   *Sheet
	Example *Example
	Follow  *Follow
	Vary    *Vary
	Given   *Given
	Learn   *Learn
	Hear    *Hear
}

// MaxVisits is how many earlier visits are counted at most, the newest.
const MaxVisits = 8

// Memory is what was learned before a session.
type Memory struct {
	Visits []shot.Session // earlier ones of the player
	Heads  []OfHead       // of the session's clubs
}

// OfHead is what others hit with a head.
type OfHead struct {
	Head   club.Head
	Record []byte // as its file; empty = none
	Parts  []Part // of players, to be added to it
}

// Part is what one player's sessions say of a head: no ball and no name.
type Part struct {
	Features []int
	Info     []float64 // upper triangle, row by row
	Vec      []float64
	Seen     []uint64 // marks of the sessions
}

// Learn works on the record of a head: what each of Players says is worked out,
// and Record, Parts and Other are put together.
type Learn struct {
	OfHead
	Players [][]shot.Session
	Other   []byte // another record as its file, empty = none
}

// Learned answers Learn.
type Learned struct {
	Parts   []Part           // of each of Players; of whose balls say nothing it is empty
	Why     []report.Message // they say nothing, as Players
	Record  []byte           // all put together; empty = nobody's yet
	Players float64          // [1] in it
	Theirs  float64          // [1] players in Other
	Both    int              // sessions of Other that were there
	New     int              // sessions of Other that were not
}

// Given asks for the report of an answer that came with its session: nothing is
// worked out anew.
type Given struct {
	Session shot.Session
	Answer  share.Given
}

// Vary asks for the advice in other winds, other air, on other ground and with
// another ball.
type Vary struct {
	Session shot.Session
	Seed    uint64
	Before  *Memory // nil = nothing
}

// Follow asks for two visits compared: two whole analyses.
type Follow struct {
	Before, Now shot.Session
	Seed        uint64
}

// Analyse asks for the whole answer to a session.
type Analyse struct {
	Session shot.Session
	Seed    uint64
	Before  *Memory // nil = nothing
}

// Read asks what a shot file holds.
type Read struct {
	Name    string // file name as shown to the user
	Bytes   []byte
	Columns []shot.Column // corrections by the user, by header; empty = as guessed
	Hand    string        // "left" or "right": some files flip signs for left-handers

	Answers map[string]string // to the questions of an earlier reading, by their ids
	Kind    string            // of the session's club
	Club    string            // what it is called
	Labels  []string          // of everything that can be set on the described head
	Air     shot.Air          // typed for the balls to come
	Bag     [][2]string       // name and kind of each of several clubs, empty = one club
}

// Launch is one ball to be flown, right-positive, SI.
type Launch struct {
	Speed     float64 // [m/s]
	Angle     float64 // [rad]
	Direction float64 // [rad]
	Spin      float64 // [rad/s]
	Axis      float64 // [rad]
}

// Fly asks for the flight of a few launches ("what if").
type Fly struct {
	Launches   []Launch
	Conditions shot.Conditions
	Ball       *report.Ball // of the session's report: flies the ball that was adjusted to it; nil = the published one
}

// Sheet asks for the fitting sheet as one self-contained HTML page.
type Sheet struct {
	Session  shot.Session
	Report   report.Report
	Language string
	System   string
	Names    bool   // print the player's name
	Link     string // printed with its code, empty = none
	Picture  bool   // the answer alone as one drawing (SVG) instead
}

// Hear asks for the ball that was said.
type Hear struct{ Text, Language string }

// Example asks for a built-in invented session: "demo", "left", "thin".
type Example struct{ Name string }

// Result answers a request. Error is a sentence for people; it is empty when
// the answer is there.
type Result struct {
	Version int
	ID      uint64
	Error   *report.Message // what went wrong, nil = nothing
	Report  *report.Report
	Table   *shot.Table
	Flights []Flight
	HTML    string
	Learned *Learned
	Session *shot.Session // the example, or the session that a file of our own holds
	Given   *share.Given  // the answer to Session as the file gives it, nil = none
	Changes []club.Change
	Follow  *report.FollowUp
	Varied  []report.Variation // the session as it was hit first
	Heard   []string           // carry and side as the key pad's fields take them; none = not understood
}

// Flight is one flown ball.
type Flight struct {
	Path     []report.Point
	Carry    float64 // [m]
	Total    float64 // [m]
	RunDoubt float64 // [m] half width of the total's 80 % interval
	Apex     float64 // [m]
	Descent  float64 // [rad]
	Offline  float64 // [m]
	Time     float64 // [s]
}
