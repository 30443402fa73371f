package text

// The words of the answer: its page and its drawings.
const enAnswer = `answer.only: This club has one setting: describe its sleeve or weights to compare.
answer.ruled-out: What you asked rules out every other setting.
answer.fairway: Of {0} drives, on the fairway: {1} today, {2} {3}.
answer.window: Of {0} drives, in your height window: {1} today, {2} {3}.
answer.trouble.penalty: Of {0} drives, in the penalty area: {1} today, {2} {3}.
answer.trouble.out: Of {0} drives, out of bounds: {1} today, {2} {3}.
answer.trouble.trees: Of {0} drives, in the trees: {1} today, {2} {3}.
answer.carry-same: Carry the same.
answer.carry-more: Carry {0} more.
answer.carry-less: Carry {0} less.
answer.sure: better than today: {0} of {1}
answer.sure-rival: the rival is better: {0} of {1}
answer.next: Next: {0}, {1}
answer.done: Enough hit: take the sheet home
answer.differs: {0}, {1}
answer.today: Today, {0}
answer.drives: {0} on the fairway, {1} beside it, {2} in trouble
answer.drives-key: 20 drives each. Full: fairway. Hollow: beside it. Cross: in trouble.
answer.both: Move your aim, or change the club?
answer.still: Aim left at the middle, club changed: {0}.
answer.moved: Aim moved to the best line, club changed too: {0} from the club.
answer.aiming: Aim moved, club as today: {0}.
answer.gain: What it is worth
answer.gain-is: {0} expected; {1} to {2} is believable.
answer.todo: What to hit
answer.method: How it was worked out
chart.turn.title: How to set it, from above
chart.turn.stays: The sleeve stays at {0}.
chart.turn.set: Set the sleeve from {0} to {1}.
chart.turn.clockwise: Looking down the shaft, turn the sleeve {0} clockwise, from {1} to {2}.
chart.turn.anticlockwise: Looking down the shaft, turn the sleeve {0} anticlockwise, from {1} to {2}.
chart.turn.weight: {0}: from {1} to {2}.
chart.turn.weight-stays: {0}: stays at {1}.
chart.patterns.title: Where the balls go, from the tee
chart.patterns.today: today
chart.patterns.part: {0}: {1} {1:ball|balls}; expected carry {2}, {3}. The ring holds 8 of 10 balls.
chart.patterns.trouble: Trouble begins {0} of the middle.
chart.gains.title: What each setting gains
chart.gains.axis: Against today: {0}
chart.gains.summary: Dot: expected. Line: where 8 of 10 such estimates lie. Full dots were hit, hollow ones not. Tap one.
chart.gains.limits: 8 of 10
chart.gains.today: {0} (today)
chart.flown.title: How the ball flies
chart.flown.above: From above
chart.flown.side: From the side
chart.flown.play: Play
word.ask: What is this: {0}?
word.loft: How far the face leans back, square to the target. More of it starts the ball higher.
word.lie: The angle between shaft and ground. More upright sends the ball a little to the draw side.
word.face: Where the face looks, from above. Open looks to the fade side, closed to the draw side.
word.weight: Where the mass of the head sits. Nearer the heel favours a draw, nearer the toe a fade.
word.carry: How far the ball flies before it lands.
word.total: Carry and run together.
word.offline: How far from the target line the ball lands.
word.apex: The highest point of the flight.
word.window: The top of the flight is to lie between these heights.
word.launch: How steeply the ball starts.
word.launch_direction: Where the ball starts, left or right of the target.
word.descent: How steeply the ball lands. Steeper means less run.
word.spin: How fast the ball turns. It holds the ball up; too much costs distance.
word.spin_axis: How far the axis of the spin is tilted, seen from behind. The ball curves to the side that is down.
word.smash: Ball speed divided by club speed: how well the ball was struck.
word.attack: Whether the head moves up or down at the ball.
word.path: Where the head moves at the ball, left or right of the target.
word.face_to_path: Where the face looks, against the path. The ball curves to that side.
word.strike: Where the ball met the face, from its middle.
word.ring: 8 of 10 balls are expected inside it.
word.ring.is: Ring
word.loft.is: Loft
word.lie.is: Lie
word.weight.is: Weight in the head
word.window.is: Height window
word.strike.is: Strike
chart.gains.strokes: strokes a round
chart.gains.carry: carry
chart.gains.fairways: fairways of 20
chart.gains.window: balls of 20 in the window
answer.then: then
answer.with: with {0}
home.sample: An answer looks like this: how to set the club, where the balls go then (green) and went before, how sure it is in marks of 20. Invented.
field.sign: {0}: plus or minus
aim.ask: Your ball goes to one side. Move your aim, or change the club?
aim.none: I aim at the middle: change the club
aim.half: I move my aim half the way
aim.all: I move my aim all the way
aim.late: Balls are here already: change it only if it was wrong, not to get another answer.
aim.seen: What is wanted was last changed after {0} {0:ball was|balls were} seen.
aim.on: Set on {0}.
printed.paste: Paste or type the printed table: a line a position
printed.hold: label, loft, lie, face
printed.use: Use this table
printed.ask: Are these the lofts of the club, or changes against the loft as stated?
printed.whole: Lofts of the club
printed.changes: Changes
printed.wrong: Nothing was used. {0}
notice.printed: The sleeve is described by the table.
`
