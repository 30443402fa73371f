package report

import "ferrule/core/shot"

// Drives is how many drives the counts of a report are of.
const Drives = 20

// Unit is what a gain is counted in: the aim's own.
type Unit string

// The units of a gain.
const (
	UnitStrokes  Unit = "strokes"  // strokes a round
	UnitCarry    Unit = "carry"    // [m] of carry a drive
	UnitFairways Unit = "fairways" // fairways hit in Drives drives
	UnitWindow   Unit = "window"   // balls in the height window in Drives drives
)

// Worth is an amount of what is aimed for, in Unit; positive is better.
type Worth struct {
	Unit  Unit
	Value Interval
}

// Answer is the one result: each number that says how good and how sure the
// advice is stands here once. Screens, sheets, links and the command line
// choose among its fields and compute nothing.
//
// It speaks of two settings: today's, and Other: the one advised, or the
// nearest rival when the advice is to keep.
type Answer struct {
	Setting int     // advised, index in Report.Settings; the reference when the advice is to keep
	Other   int     // index; -1 = there is no other setting
	Chance  float64 // [1] that Other is better than today's; equal is half a win
	Marks   int     // Chance as marks to be counted, of Drives
	Round   float64 // [1] drives of a round, over which strokes are counted
	Reaim   float64 // [1] share of the best aim that the player takes up: 0 aims at the middle, 1 where the balls cost least
	Least   Worth   // what a change must be worth to the player; 0 = nothing was said

	Gain  Worth   // of Other, aimed as far as Reaim
	Moved Worth   // of Other, with the aim moved to where each setting is best
	Still Worth   // of Other, with the aim left at the middle
	Prize Prize   // what there is to win at all
	Meets float64 // [1] chance that Other meets all limits; 1 when there is none
	Today Place   // what today's setting does
	Then  Place   // what Other does
	Seen  int     // balls that had been hit when what is wanted was last set; 0 = it was set before the first
}

// Prize is what a setting can give the player, and what aiming gives.
type Prize struct {
	Gain    Worth   // expected of the best setting of all, were it known
	Carry   float64 // [m] more with it, expected
	Drives  float64 // [1] of Drives, fewer in trouble with it, expected
	Aiming  Worth   // of moving the aim with today's setting, beside aiming at the middle
	Trouble float64 // [1] of Drives, fewer in trouble by moving the aim alone
}

// Place is where the balls of a setting are expected, with the player's swing
// aimed at the middle, and how Drives drives end when aimed as far as Reaim.
type Place struct {
	Carry  float64 // [m]
	Side   float64 // [m] right + of where the club was aimed
	Height float64 // [m]
	Aim    float64 // [m] at Carry, right +: where the player is to aim
	Counts Counts
}

// Counts is how Drives drives are expected to end, in whole drives. Fairway,
// Rough and Trouble add up to Drives; Window and Short count drives of all three.
type Counts struct {
	Fairway int
	Rough   int // neither on the fairway nor in trouble
	Trouble int // beyond a line of trouble, on either side
	Window  int // in the height window, -1 = there is none
	Short   int // short of the needed carry, -1 = there is none
}

// Differs says that the estimate of a setting is not the average of its own
// balls, and why.
type Differs struct {
	Quantity shot.Quantity // carry or offline
	Balls    int
	Average  float64  // [SI] of the setting's own counted balls
	Expected float64  // [SI] the estimate
	Reasons  []string // keys of package text, the weightiest first: "differs.physics", "differs.others", "differs.mishits", "differs.time"
	Text     Message
}

// State is what to do at the range.
type State string

// The states.
const (
	GoOn   State = "go on"  // hit the visits listed
	Check  State = "check"  // try the change against today's setting: the visits listed
	Enough State = "enough" // nothing is left that is worth the balls
)

// Todo is what to hit: one list with one state. Report.Next, Stop and Plan are
// made from it.
type Todo struct {
	State  State
	Why    Message
	Left   Worth   // expected of all balls that are left, beside stopping now
	Until  int     // balls that must be counted before anything can be said, 0 = it can be
	Visits []Visit // still to be hit, the next one first; empty = nothing
}
