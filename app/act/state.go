// Package act holds the state of the application and the actions that change
// it. It is the only writer: pages read a State and call the methods of a
// Model, and nothing else changes a session, a report or a preference.
//
// Every state is a value, a phase and an error. Work is done away from the
// screen (a Worker answers, a Keeper stores) and its outcome comes back
// through one queue, so that State changes on one goroutine only; see Model.
//
// The package knows no browser and no screen: it is tested as plain Go.
package act

import (
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// Phase is how far a piece of work is.
type Phase string

// The phases. The zero Phase is Idle.
const (
	Idle    Phase = ""
	Working Phase = "working"
	Ready   Phase = "ready"
	Failed  Phase = "failed"
)

// State is all that a page shows. It is a value: a page may keep it while it
// draws; what its pointers and slices reach is never changed in place.
type State struct {
	Booted   bool          // storage has been read
	Session  *shot.Session // the open session, nil = none
	ReadOnly bool          // it came by a link or a file and is nobody's to change yet
	Given    *share.Given  // the answer that came with it, nil = none
	Exact    bool          // it came by a file, which rounds nothing
	Next     *club.Setting // how the club is set for the next ball, nil = as for the last
	Edition  int           // raised by every change of the session's numbers
	Answer   Answer
	Reading  Reading
	Sessions Listing
	Prefs    Prefs
	Saving   Saving
	Notice   Notice
	Paper    Paper
	Arrived  []string         // ids of the balls that came in last by themselves
	Drafts   map[string]Draft // typed text that is not (yet) a number, by field
	Undo     string           // text key of what Undo takes back, empty = nothing
	Redo     string
	Flights  Flights
	Visits   Visits
	Varied   Varied
	Records  Records
	Client   Client
	Turns    *Turns         // a change that is hit in turn, nil = none
	Update   bool           // a newer version of the program waits
	Offline  bool           // storage is only in memory
	Unsaved  []shot.Session // sessions that were left and that the store did not take
}

// Answer is the report to the session.
type Answer struct {
	Phase   Phase
	Value   *report.Report // the newest that is known, nil = none yet
	Edition int            // of the session that Value answers
	Error   string         // a sentence from the worker
}

// Stale reports whether the report answers an older edition of the session.
func (s State) Stale() bool {
	return s.Answer.Value != nil && s.Answer.Edition != s.Edition
}

// Reading is a file that has been read and waits for the person's word.
type Reading struct {
	Phase    Phase
	Name     string
	Error    string
	Table    *shot.Table
	Settings []Named       // the settings that the file names, in order of first use
	Waiting  []string      // names of the files that come after it
	Own      *shot.Session // the whole session, when the file is an export of this program
	Given    *share.Given  // the answer that came with Own
	Backup   *Backup       // what the file holds, when it is a backup

	Known      int  // shots of the file that are in the session already
	Remembered bool // columns are corrected as they were for the last file of this shape

	Fresh bool   // opened from the first page: it makes a session of its own
	Into  bool   // the open session holds balls: adding to it is the person's choice
	Open  int    // questions that are not answered yet
	Out   int    // balls that are left out: other clubs, other players
	Undo  int    // words on the file that can be taken back
	Lines []Line // the time line

	bytes   []byte
	kept    string            // key of the file in the journal
	columns []shot.Column     // corrections
	answers map[string]string // to the file's questions
	marks   map[int]int       // settings from a ball on
	before  []said            // what was said before each change
	then    func()            // asked for while the file is read anew, as it was said last
	bay     bool              // as in File, likewise the next
	from    int
	shape   string // of the columns as they stand in the file
}

// Backup is what a backup holds that is not kept yet.
type Backup struct{ Sessions, Clubs, Shots, Records int }

// Named is a setting as a file names it, and the head's setting it stands for.
type Named struct {
	Label string // as in the file; empty = the file names none
	Shots int
	Use   int // index into the head's settings, -1 = keep the words of the file

	Same string // another name in the file that means the same setting, "" = none
}

// Listing is the list of stored sessions.
type Listing struct {
	Phase   Phase
	Entries []store.Head
	Error   string
	Health  store.Health
	Damaged []store.Blob // that cannot be read

	Unbacked int // sessions that no backup holds, when it is time to say so
}

// Saving is whether the open session is safely stored.
type Saving struct {
	Phase    Phase
	Revision int
	Reason   string // text key of what stands in the way
	Pending  bool   // something typed is not on the disk yet
	Conflict bool   // another tab changed or removed it meanwhile: the person must say what to keep
}

// Notice is a short word to the person, with an undo where that is possible.
type Notice struct {
	Serial int // raised by each notice, so that the same words are said again
	Key    string
	Args   []report.Arg
	Undo   bool
	Alert  bool // something went wrong
}

// Draft is text in a field that could not be used, and why.
type Draft struct {
	Text  string
	Error string
}

// Prefs is what a person chose for the program, kept apart from sessions.
type Prefs struct {
	System   units.System    `json:"system"`
	Theme    string          `json:"theme"` // "", "light", "dark", "sunlight"; "" = as the device
	Language string          `json:"language"`
	Fields   []shot.Quantity `json:"fields"`   // typed by hand for each ball, in order
	Last     string          `json:"last"`     // id of the session that was open
	Code     bool            `json:"code"`     // print the link and its code on the sheet
	Auto     bool            `json:"auto"`     // answer anew after each change
	Roster   []string        `json:"roster"`   // ids of the sessions of the big view
	Confirm  string          `json:"confirm"`  // what tells that a ball was taken: "vibration", "sound", "none"; "" = vibration
	Alone    bool            `json:"alone"`    // earlier visits are not counted
	NoRecord bool            `json:"norecord"` // records of heads are not counted
	Nameless bool            `json:"nameless"` // all sessions without a name are one player's
	Backed   int64           `json:"backed"`   // [s] Unix time of the last backup, 0 = none
}

// DefaultFields are typed by hand unless the person chose others: carry and
// offline are enough to begin. MoreFields are what most devices show.
var (
	DefaultFields = []shot.Quantity{shot.Carry, shot.Offline}
	MoreFields    = []shot.Quantity{shot.Carry, shot.Offline, shot.BallSpeed, shot.Launch, shot.Spin}
)

// Flights are the flown launches of the "what if" sliders.
type Flights struct {
	Phase   Phase
	Serial  int
	Flights []wire.Flight
	Error   string
}
