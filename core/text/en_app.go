package text

// The words of the screens: frame, home, the five steps. Other screens are in
// en_app_more.go.
const enApp = `page.home.title: Find the setting that suits you
page.club.title: Club
page.shots.title: Shots
page.compare.title: Compare
page.choose.title: Choose
page.sheet.title: Fitting sheet
page.shared.title: Shared sheet
page.settings.title: Settings of the app
page.how.title: How it works
page.visits.title: Earlier visits
page.live.title: Big view
page.client.title: For the player
page.story.title: Parts of the screen
page.lost.title: There is no such page
step.club: Club
step.shots: Shots
step.compare: Compare
step.choose: Choose
step.sheet: Sheet
app.skip: Skip to the content
app.steps: Steps
app.untitled: Untitled session
app.undo: Undo
app.redo: Redo
app.undo-what: Undo: {0}
app.redo-what: Redo: {0}
app.close: Close
app.no: No
app.next: Next: {0}
app.busy: One moment: still working
app.opening: Opening your last session
app.working: Working it out on this device
app.cancel: Stop
app.again: Work it out again
app.stale: The session has changed since this was worked out.
app.numbers: In words and numbers
app.saved: Saved
app.saving: Saving
app.not-saved: Not saved
app.keep: Keep a copy
app.read-only: You are looking at a session that somebody shared. Nothing of yours is changed.
app.memory-only: This browser does not let the app store anything (a private window?). Save a backup before you close the page, or the session is lost.
app.update: A newer version of the app is ready.
app.update-now: Change over now
home.lead: Hit shots with different settings of your adjustable club. Ferrule says what each setting does for you, how sure that is, and what is worth hitting next. All of it is worked out on this device.
home.go-on: Go on with “{0}”
home.example: Try the example
home.example-what: The example is invented: 58 drives of a player who loses the ball to the right.
home.new: New session
home.open: Open a shot file
home.sessions: Your sessions
home.listing: Looking for your sessions
home.none: No session yet
home.none-do: Start a new one, open a file from a launch monitor, or look at the example first.
home.search: Find by player, title or club
home.next-visit: Next visit of {0}
home.entry: {0} · balls: {1}
player.back: All sessions
player.aims: Aims
player.decided: Taken up
home.delete: Remove the session “{0}”
home.really: Remove it
home.undelete: Bring back the session removed last
home.backup: Back up
home.backup-what: Sessions are kept in this browser only. A backup file is the safe copy: keep it somewhere else.
home.backup-due: In no backup yet: {0} sessions.
home.backup-do: Save all sessions to a file
home.restore: Restore from a file
home.missing: Files of the app that this browser does not keep: {0} ({1}). What needs them will not start without a network. They are fetched as soon as there is one.
home.storage: Storage used: {0} MB.
home.kept: The browser has promised to keep your sessions.
home.not-kept: The browser may clear its storage when space is short or after weeks without a visit.
home.damaged: Damaged sessions
home.damaged-what: These cannot be read by this version of Ferrule. They are kept as they are; a file of each may still be read later.
home.damaged-entry: {0} · {1} kB
home.damaged-forget: Remove
home.more: More
home.example-left: Example, left-handed
home.example-thin: Example with few balls
lost.lead: The address may be mistyped or cut off. Nothing of yours is lost: your sessions are where they were.
lost.home: To your sessions
lost.session: Back to “{0}”
empty.session: No session is open
empty.session-do: Start a new one, open a shot file, or look at the example.
empty.shots: No balls yet
empty.shots-do: Type or open what you hit: carry and how far it was off line are enough to begin.
club.lead: What are you adjusting, and what do you want from it? Say what you want before you look at the results.
club.player: Player
club.hand: Plays
club.right-handed: right-handed
club.left-handed: left-handed
club.player-more: Name, handicap, title
club.title: Title of the session
club.name: Name
club.name-hint: Optional. Never in a link or on the sheet unless you tick it.
club.handicap: Handicap
club.handicap-hint: Optional: it sharpens what a miss costs. A plus handicap is typed with a minus.
club.aim: What you want
club.goal: First of all
goal.strokes: Fewest strokes on a typical hole
goal.carry: Carry as far as I can
goal.fairways: Hit more fairways
goal.height: Hold a height window
club.miss: The costly miss
club.neither: neither
club.trouble-at: Trouble begins, from the middle
club.trouble-kind: What is there
trouble.penalty: penalty area
trouble.out: out of bounds
trouble.trees: trees or deep rough
club.trouble-p: At most this many of 100 balls beyond it
club.trouble-p-hint: Leave it empty for no such limit.
club.carry-min: A carry that must be reached
club.none: none
holes.title: Your own driving holes
holes.some: Your own driving holes: {0}
holes.hint: Optional. The settings are then judged on these holes in place of the one above. An empty field means the value shown in it.
holes.add: Add a hole
holes.most: {0} holes are the most.
holes.one: Hole {0}
holes.name: Name of hole {0}
holes.remove: Remove hole {0}
club.aim-more: Fairway, hole, height, balls left
club.fairway: Fairway width
club.hole: Length of the hole
club.drives: Drives a round on such holes
club.apex-low: Height at least
club.apex-high: Height at most
club.balls-left: Balls you will still hit today
club.balls-left-hint: The hitting plan keeps to it.
club.minutes-left: Minutes left
club.air: Air, ground and ball
club.where: Where
club.outdoors: outdoors
club.indoors: indoors
club.where-hint: Indoors the carry is worked out by the device, not seen.
club.temperature: Temperature
club.altitude: Altitude
club.wind: Wind
club.wind-from: Wind comes from
club.air-from: This air begins with ball
club.air-from-hint: Balls before it keep the air that they were hit in.
club.air-next: What you change here holds from the next ball on; then you can say with which ball it began.
club.answer-air: The answer is for
club.answer-air-hint: Never for the wind of this day: what it did to the balls is taken away.
club.still-air: Still air
club.home-course: My course
club.home-wind: Usual wind, from all sides
air.take: Take this wind
air.drift: Drift by the wind: {0}.
air.table: As measured and in the air of the answer
air.measured: {0}, as measured
air.brought: {0}, air of the answer
wind.0: ahead
wind.45: ahead, right
wind.90: the right
wind.135: behind, right
wind.180: behind
wind.-135: behind, left
wind.-90: the left
wind.-45: ahead, left
club.firmness: Ground
firm.soft: soft
firm.average: average
firm.firm: firm
club.ball: Ball
club.ball-hint: In your own words. Do not mix balls inside a comparison.
club.head: The head
club.head-name: What you call it
club.head-name-hint: Your own words.
clubs.title: Clubs
clubs.hint: The one that is marked is described below. Tap another to describe it.
clubs.add: Compare with another club
clubs.copy: Copy this club
clubs.known: A club described before
clubs.own: This is my own club
clubs.own-mark: {0} (my own)
clubs.remove: Take this club out
clubs.new: New club
clubs.mine: My club
clubs.which: Club
clubs.model: The head by itself
clubs.model-hint: The same words in two clubs mean the same head.
clubs.shaft: The shaft
clubs.shaft-hint: The same words in two clubs mean the same shaft.
club.loft: Loft as stated
club.lie: Lie
club.head-more: More about the head
club.measured-loft: Loft as measured
club.measured-loft-hint: Stated lofts are often a degree off.
club.face: Face angle as it lies on the ground
club.face-hint: Open is plus, closed is minus.
club.mass: Mass of the head
club.hold: At address the club is
club.hold-hint: Set down: it sits as it falls. Squared: you turn the face to the target. Not sure: it is learned from your shots.
hold.between: not sure
hold.soled: set down as it lies
hold.square: squared
club.kind: Kind of club
kind.driver: driver
kind.fairway: fairway wood
kind.hybrid: hybrid
club.sleeve: Sleeve
club.sleeve-how: How the shaft sits in the head
sleeve.none: Fixed: it cannot be turned
sleeve.tilt: An angled sleeve with positions all around
sleeve.table: A printed table of positions
club.tilt: Tilt of ring {0}
club.tilt-hint: How far the bore leans: half the whole range of loft.
club.positions: Positions all around
club.two-rings: Two rings that turn one in the other
club.table-hint: Type the maker’s table: changes against its zero line. Leave an angle empty where nothing is printed.
club.label: Your label
club.label-of: Label of position {0}
club.loft-change: Loft
club.lie-change: Lie
club.face-change: Face
club.add-position: Add a position
club.remove-position: Remove the position {0}
club.rename: Name the positions
club.rename-hint: Use the words or signs that you see on your own club.
club.places: What each position does
club.col-loft: Loft, face squared
club.col-lie: Lie
club.col-face: Face, set down
club.draw: Draw the position {0}
club.places-hint: Loft, lie and face move together: square the face and loft changes, set the club down as it lies and the face turns. Upright and open are plus.
dial.ring: Ring {0}
dial.back: {0}: one place back
dial.on: {0}: one place on
club.describe: How it turns
club.trouble-is: The trouble: {0}, from {1}
missing.title: Still missing
missing.nothing: Nothing can be set on this club yet: describe its sleeve or a weight.
missing.printed: The table is not used yet.
missing.check: A question about the table is open.
missing.refused: Not used: {0}
missing.go: Go there
check.left: With “{0}” in place of “{1}” the face points farther left. Right?
check.right: With “{0}” in place of “{1}” the face points farther right. Right?
check.up: With “{0}” in place of “{1}” the toe stands higher. Right?
check.down: With “{0}” in place of “{1}” the toe stands lower. Right?
check.yes: Yes
check.no: No, the other way
club.head-wrong: The club cannot be used as described:
club.weights: Weights
club.weights-hint: Weights that slide or change places. No weights, nothing to fill in.
club.add-weight: Add a weight
club.remove-weight: Remove this weight
club.weight-name: What you call it
club.weight-mass: Mass
club.stops: Places: {0}
club.stops-hint: Places from the middle of the head: to the toe is plus, to the heel minus; to the back is plus.
club.toe: To the toe
club.back: To the back
club.stop-mass: Other mass
club.add-stop: Add a place
club.remove-stop: Remove the place {0}
weight.name: weight {0}
weight.heel: heel
weight.middle: middle
weight.toe: toe
club.look-today: {0}, as it is set today, against the shaft straight in the head:
club.look-against: {0} against {1}, today’s setting:
club.unknown: not known
limits.title: Settings left out
limits.hint: Combinations that the club does not allow, or that you do not want to play. They are never recommended.
limits.add: Leave a setting out
limits.any: any
limits.leave-out: Leave it out
limits.always: {0}, with everything
limits.together: {0} together
limits.remove: Allow again: {0}
limits.nothing: Read “any” in every list, expected at least one label: leaving everything out leaves nothing to compare.
limits.today: That would leave out {0}, as the club is set today. Change today’s setting first.
limits.already: That is left out already, or the club has no such setting.
whole.title: Length, shaft and grip
whole.hint: Optional. They tell swing weight and total weight, and stand on the sheet.
whole.length: Length of the club
whole.mass: Shaft weight
whole.grip: Grip weight
whole.total: Total weight
whole.balance: Balance point of the shaft
whole.balance-hint: In hundredths of its length, from the butt.
whole.swing: swing weight {0}
whole.weighs: whole club {0}
club.look-same: Does the same as {0}, and is listed under it.
club.current: As it is set today
club.current-hint: Everything is compared with this setting.
club.combinations: Settings that this club has: {0}
setting.as-is: the club as it is
setting.one: The club has one setting. Describe the sleeve or the weights to have more.
setting.all: no weights
change.none: as it is set today
side.l: L
side.r: R
interval.is: {0} ({1} to {2})
percent.over: over {0} %
percent.under: under {0} %
balls.many: {0} {0:ball|balls}
plan.title: What to hit
plan.start: Begin with three to six balls as the club is set today, then change one thing at a time and come back to it. The plan appears when the first balls are there.
plan.visit: {0} with {1}
plan.hit: Already hit: {0}
plan.all-done: All of the plan is hit.
plan.set: Set it
caution.estimate: Estimates, no promises: in 8 of 10 cases the truth lies between the two limits.
`
