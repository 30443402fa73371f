// Package report is the answer as a plain value: all that a page, a printout
// or a link needs. It is a leaf: no HTML, no numerics, no text in any one
// language. Numbers are SI with the signs of package frame, in the player's
// own world (a left-hander's report is already mirrored back).
//
// Begin with Say and its example.
package report

import (
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/shot"
)

// Version of the report's meaning; raised when a field changes what it says.
const Version = 1

// Interval is an estimate with its central credible intervals, in the unit [·]
// of the field that holds it.
type Interval struct {
	Mean       float64
	Lo50, Hi50 float64
	Lo80, Hi80 float64
	Lo95, Hi95 float64
}

// Minus is the interval of -x.
func (v Interval) Minus() Interval {
	return Interval{Mean: -v.Mean, Lo50: -v.Hi50, Hi50: -v.Lo50, Lo80: -v.Hi80, Hi80: -v.Lo80, Lo95: -v.Hi95, Hi95: -v.Lo95}
}

// What a report says, in no language yet: see package message.
type (
	Message = message.Message
	Arg     = message.Arg
)

// Status is how a shot counts.
type Status string

// The states of a shot; see package clean.
const (
	Counted    Status = "counted"
	Mishit     Status = "mis-hit"    // kept in the outcome, weighed down in effects
	Suspect    Status = "suspect"    // kept, the player is asked
	Impossible Status = "impossible" // a wrong record, not used
	LeftOut    Status = "left-out"   // the person's choice, or a warm-up
)

// Finding is something about a shot or the session that a person should know.
type Finding struct {
	ShotID string // empty when about the session
	Line   int    // in the file, 0 when none
	Kind   string // "mis-hit", "impossible", "drift", "confounded", ...
	Text   Message
	Weight float64 // [1] 0..1 weight left to the shot; 1 for the session
}

// ShotRow is one ball as the analysis saw it.
type ShotRow struct {
	ID       string
	Line     int
	Setting  int // index in Report.Settings, -1 when it names none
	Status   Status
	Weight   float64 // [1] in effect estimates
	Carry    float64 // [m] in the air that the answer is for, likewise the next two
	Offline  float64 // [m] right +
	Apex     float64 // [m]
	Computed bool    // carry and apex come from the flight model, not the device
	Known    bool    // false when not enough was measured to place the ball
	Seen     *Level  // as measured, where that was another air; nil = the same
	Level    *Level  // the measured ball in standard still air; nil = hit in it, or not measured
	Drift    float64 // [m] what the wind did to its side, right +
}

// Point is a place in flight: X down the line, Y up, Z right. [m]
type Point struct{ X, Y, Z float64 }

// Ellipse is a region on the ground. Kind says which object it is.
type Ellipse struct {
	Kind      string  // "next-shot-80"; empty = too few balls to draw one
	X, Z      float64 // [m] centre: carry and offline
	A, B      float64 // [m] half axes
	Turn      float64 // [rad] of the first axis from x towards z
	BallsUsed int
}

// Setting is one combination with all that is known or predicted of it.
type Setting struct {
	Setting    club.Setting
	Change     club.Change
	Tested     bool
	Balls      int // counted
	Mishits    int
	Aim        float64   // [rad] its own best aim line, right +
	Strokes    Interval  // [strokes] to finish the hole, at its best aim
	Difference Interval  // [strokes] a drive against the reference, negative = better
	Quantities []Amount  // predicted means a shot: carry, offline, apex, launch, spin, ...
	PBest      float64   // [1]
	PBetter    float64   // [1] better than the reference; equal is half a win
	Gain       Worth     // against the reference, aimed as far as the player does
	Moved      Worth     // the same with the aim moved to where each setting is best
	Still      Worth     // the same with the aim left at the middle
	Counts     Counts    // of Drives drives, aimed as far as the player does
	Differs    []Differs // where its own balls' average is another than what is expected
	Loss       float64   // [strokes] expected loss of choosing it now; in the goal's own unit (m, share) where that is not strokes
	PRight     float64   // [1] chance of a ball beyond the right line
	PLeft      float64   // [1]
	PFairway   float64   // [1]
	PApex      float64   // [1] in the height window, 1 when there is none
	PCarry     float64   // [1] of reaching the needed carry, 1 when there is none
	PLimits    float64   // [1] chance that it meets the "at least p" limits, 1 when there is none
	Feasible   bool      // it may meet them: PLimits is not small
	R50        float64   // [m] half of the balls land within this of their middle
	R80        float64   // [m] four fifths of the balls
	Measured   float64   // [1] share of what is known that comes from shots, the rest is physics
	Path       []Point   // the typical flight
	Ellipse    Ellipse
	Raw        []Amount // plain averages of the counted balls, tested settings only
}

// Amount is one quantity of a setting and its difference to the reference.
type Amount struct {
	Quantity   shot.Quantity
	Value      Interval // [SI]
	Difference Interval // [SI] to the reference
	BallsMore  int      // balls in each still needed to tell the difference from zero, -1 = not asked
	Spread     float64  // [SI] shot-to-shot standard deviation
}

// Of returns the amount of q.
func (s Setting) Of(q shot.Quantity) (Amount, bool) {
	return AmountOf(s.Quantities, q)
}

// AmountOf returns the amount of q among as.
func AmountOf(as []Amount, q shot.Quantity) (Amount, bool) {
	for _, a := range as {
		if a.Quantity == q {
			return a, true
		}
	}
	return Amount{}, false
}

// Move is what one step of one adjustment does to this player's ball.
type Move struct {
	Feature string  // key of package text: "feature.lean", ...
	Step    float64 // [SI of the feature: rad, m or kg] to which the effects belong
	Tried   bool    // the counted shots changed it; otherwise all is physics
	Effects []Effect
	Text    Message // carry, side and height in a sentence, and how much of it was measured
}

// Effect is what a step does to one quantity.
type Effect struct {
	Quantity shot.Quantity
	Value    Interval // [SI] shots and physics together
	Textbook Interval // [SI] what physics says before any shot
	Measured float64  // [1] share of what is known that comes from shots, the rest is physics
}

// Doubt is something that the shots cannot tell apart.
type Doubt struct {
	Text    Message
	Setting int // whose balls would tell it, -1 = a matter of order
	Balls   int // how many, 0 when Setting is -1
}

// Verdict is how sure the choice is.
type Verdict string

// The verdicts and the chance that the choice beats today's setting.
const (
	Clear      Verdict = "clear"       // > .95
	Likely     Verdict = "likely"      // .85 to .95
	Leaning    Verdict = "leaning"     // .65 to .85
	CannotTell Verdict = "cannot tell" // below
)

// Choice is the answer.
type Choice struct {
	Setting  int // index in Report.Settings
	Verdict  Verdict
	Keep     bool      // the answer is: leave the club as it is
	Gain     Interval  // [strokes] a drive against the reference, positive = better
	Yards    Interval  // [m] carry against the reference
	Sure     float64   // [1] chance that it beats the reference
	RunnerUp int       // index, -1 = none
	Headline Message   // the answer in a sentence
	Why      []Message // what each move does for this player
	Flips    []Message // what would change the advice
}

// Next is one setting worth hitting, and what it is worth.
type Next struct {
	Setting int
	Balls   int
	Value   float64 // [strokes] expected improvement of the choice; in the goal's own unit (m, share) where that is not strokes
	Minutes float64 // [min] to set and hit
	Why     Message
}

// Visit is one step of the hitting plan.
type Visit struct {
	Setting int
	Balls   int
	Done    int // balls already hit in this visit
	Why     Message
}

// NeedChances are the chances for which a Need is counted.
var NeedChances = [3]float64{.8, .9, .95}

// Need is how many balls a question takes.
type Need struct {
	Quantity shot.Quantity // whose difference is asked about; empty = the share of the costly miss
	Size     float64       // [SI of Quantity], or [1] of the share
	Share    float64       // [1] of the costly miss with today's setting, aimed straight; 0 for a quantity
	See      [3]int        // balls in each to tell the difference from nothing (two-sided 5 %), by NeedChances
	Pick     [3]int        // balls in each to have the better one look better, by NeedChances
}

// Stop says whether to go on.
type Stop struct {
	Stop bool
	Risk float64 // [strokes] expected loss of stopping now; in the goal's own unit (m, share) where that is not strokes
	Why  Message
}

// Ground is the drawn hole.
type Ground struct {
	FairwayHalf float64 // [m]
	TroubleAt   float64 // [m] from the target line, 0 = none
	Trouble     frame.Side
	TroubleKind string
	HoleLength  float64 // [m]
	ApexLow     float64 // [m] 0 = no window
	ApexHigh    float64 // [m]
	CarryMin    float64 // [m] 0 = none
}

// Report is the whole answer.
type Report struct {
	Version    int
	Request    uint64 // hash of the session that it answers
	Made       int64  // [s] Unix time of the session's last change before it, 0 = unknown
	Given      bool   // as it came by a link or a file: nothing was worked out anew, only today's and the other setting have numbers
	Seed       uint64
	Title      string
	Hand       frame.Hand
	Goal       shot.Goal
	Head       string
	Balls      int // counted
	Shots      []ShotRow
	Findings   []Finding
	Settings   []Setting // the reference first, then as listed by club
	Reference  int       // index in Settings
	Ground     Ground
	Answer     Answer // the one result
	Todo       Todo   // what to hit
	Choice     Choice
	Next       []Next
	Stop       Stop
	Plan       []Visit
	Confirm    []Visit   // today's setting, the one to check, today's again; empty = nothing to check
	Needs      []Need    // balls that the questions of the page Compare take
	Moves      []Move    // what each adjustment does, by shots and physics
	Against    []Message // where the shots contradict the textbook, worst first
	Doubts     []Doubt   // what the shots cannot tell apart, and what would
	Conflict   float64   // [1] > 1.5: the ball reacts unlike the textbook
	Calibrated bool      // the flight model was adjusted to this session
	Air        *Air      // which air it is for, and what the balls were hit in
	Ball       *Ball     // the player's own ball as it is flown
	Resquare   Interval  // [1] how much of a turned face the player turns back, 0..1
	Notes      []Message // what is missing and what can still be said
	Cautions   []Message
	Clubs      []Club    // each club at its best setting, the player's own first; empty = one club
	Earlier    []Earlier // the player's visits that stand beside today's
	Beside     Beside
	Recalled   []Message // says so, if there is anything to say
	Since      *Since    // what has moved since a setting was taken up, nil = none was
	Records    []Record  // what other players' balls with the heads are worth here
}

// Club is one of several clubs, set as it is best for the aim.
type Club struct {
	Name     string
	Setting  int     // its best, index in Settings
	Balls    int     // counted, with all its settings
	Gain     Worth   // of its best setting beside the own club's best; nothing for the own one
	Carry    float64 // [m] more than the own club's best
	PBetter  float64 // [1] chance that its best beats the own club's best; equal is half a win
	PBest    float64 // [1] chance that it is the best of the clubs
	Verdict  Verdict // how sure that it is better, the best of many allowed for; "" for the own one
	Sentence Message
}

// FollowUp is two visits of one player with one club compared. Numbers are in
// the player's own world.
type FollowUp struct {
	Before, Now string // titles
	Rows        []FollowRow
	Common      []FollowRow // over all settings hit on both visits; Setting is empty
	Retest      []Message   // what calls for a new test; empty = nothing does
	Said        []Message   // all in sentences, those of Retest among them
}

// FollowRow is one quantity on two visits.
type FollowRow struct {
	Setting   club.Setting
	Quantity  shot.Quantity
	Then, Now Interval // [SI] plain averages
	Balls     [2]int   // then, now
	Air       float64  // [SI] what the other air alone does, 0 = nothing or unknown
	Change    Interval // [SI] now less then, less what the air does
}

// Variation is the advice under other conditions than those it was hit in.
type Variation struct {
	Text    Message // the conditions
	Setting club.Setting
	Verdict Verdict
	Keep    bool
	Sure    float64  // [1] chance that it beats the reference there
	Gain    Interval // [strokes] a drive against the reference there, positive = better; in the goal's own unit (m, share) where that is not strokes
	Same    bool     // as in the session, or no better than it by more than a tie
}
