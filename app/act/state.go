// Package act holds the state of the application and the actions that change
// it. It is the only writer: pages read a State and call the rooms of a Model
// (model.Files.Accept()), and nothing else changes a session, a report or a
// preference. Each room has its own part of the state, in a file of its name.
//
// Every state is a value, a phase and an error. Work is done away from the
// screen (a Worker answers, a Store stores) and its outcome comes back
// through one queue, so that State changes on one goroutine only; see Loop.
//
// The package knows no browser and no screen: it is tested as plain Go.
package act

import (
	"ferrule/core/club"
	"ferrule/core/share"
	"ferrule/core/shot"
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
