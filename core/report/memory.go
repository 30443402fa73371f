package report

// Earlier is an earlier visit of the player, and what it adds.
type Earlier struct {
	ID, Title string
	When      int64 // [s] Unix time, 0 = unknown
	Balls     int   // that are used, of one that is not all of its balls
	Used      bool
	Adds      float64 // [balls] of today that tell as much
	Why       Message // what it adds, or why it is left out
}

// Beside is how many earlier visits and other players stand beside the balls of
// today in an answer.
type Beside struct{ Visits, Players int }

// Since is what today's balls say of what was expected when their setting was taken
// up.
type Since struct {
	Said []Message
	Test bool // it is time to test again
}

// Record is a record of a head by other players, and what it was worth.
type Record struct {
	Head    string
	Players float64 // [1]
	Before  float64 // [1] share of what is believed that was the record's before the balls, and
	After   float64 // [1] after them: balls that contradict it take it away
	Why     Message // what it says, or why it is left out
}
