package text

// The page on which two visits are compared.
const enVisits = `visits.lead: What has changed since last time?
past.visits: Visits of this player
past.use-visits: Count earlier visits
past.no-visits: No earlier visit of this player is stored here.
past.nameless: All sessions without a name are one player’s
past.visit: {0}: {1}
past.record: What others hit
past.learned: Learned from {0} {0:player|players}
past.nobody: Nobody’s balls yet
past.use-record: Count it
past.learn: Learn from the sessions here
past.save: Save as a file
past.open: Open a record
past.what: It holds no names and no balls, only sums.
past.offer: The file holds {0} {0:player|players}; {1} {1:session is|sessions are} new here. Take it?
past.take: Take it
past.failed: That did not work: {0}
past.compare: Two visits compared
visits.few: Two sessions are needed
visits.few-do: Hit a few balls on another day with settings that you hit before; then the two days can be compared.
visits.before: The earlier visit
visits.now: The later visit
visits.do: Compare them
visits.hint: Both sessions are computed on this device. Settings with three balls or more on both days are compared.
visits.failed: They could not be compared: {0}
visits.fine: Nothing asks for a new test
visits.retest: Time to test again
visits.nothing: Nothing to compare
visits.then-now: {0}, then {1}
visits.words: What changed with the settings of both visits
visits.numbers: In numbers
visits.table: The same settings on both visits
visits.then: Then
visits.is: Now
visits.change: Change
visits.balls: {0}, {1}
visits.all: All of them
visits.interval: Plain averages. In brackets: the range of the change that holds 8 times in 10, with what the other air does left out.
vary.title: Other winds, other balls
vary.what: The same swing, flown in other conditions and aimed best in each: where would the advice be another?
vary.do: Try them
vary.failed: They could not be tried: {0}
vary.other: {0}, another
vary.none: In none of them would it be another setting.
vary.some: In {0} of {1} of them it would be another setting. Fit the club for where you play most.
`
