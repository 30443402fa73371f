package text

// The words of the decision: the answer, its reasons, what would change it,
// what to hit next and when to stop.
const enDecide = `` + // The answer. {0} the setting, {1} the chance that it beats today's,
	// {2} what it gains with its range {3} to {4}.
	`choice.clear.strokes: Play {0}. It is clearly better for you than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.likely.strokes: Play {0}. It is likely better than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.leaning.strokes: Lean to {0}, but it is no more than a lean: {1} sure that it beats today’s setting. About {2}, {3} to {4} is believable.
choice.clear.carry: Play {0}. It clearly carries farther than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.likely.carry: Play {0}. It likely carries farther than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.leaning.carry: Lean to {0}, but it is no more than a lean: {1} sure that it carries farther than today’s setting. About {2}, {3} to {4} is believable.
choice.clear.fairways: Play {0}. It clearly finds more fairways than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.likely.fairways: Play {0}. It likely finds more fairways than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.leaning.fairways: Lean to {0}, but it is no more than a lean: {1} sure that it finds more fairways. About {2}, {3} to {4} is believable.
choice.clear.height: Play {0}. It clearly holds your height window better than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.likely.height: Play {0}. It likely holds your height window better than today’s setting ({1} sure): about {2}, {3} to {4} is believable.
choice.leaning.height: Lean to {0}, but it is no more than a lean: {1} sure that it holds your height window better. About {2}, {3} to {4} is believable.
choice.limit.clear: Play {0}. Today’s setting misses your limit; this one clearly does better ({1} sure): {2} of balls {4}, today {3}.
choice.limit.likely: Play {0}. Today’s setting misses your limit; this one likely does better ({1} sure): {2} of balls {4}, today {3}.
choice.limit.leaning: Lean to {0}. Today’s setting misses your limit; this one may do better, no more than a lean ({1} sure): {2} of balls {4}, today {3}.
limit.trouble: go beyond the line
limit.carry: carry far enough
limit.apex: stay in the height window
choice.cannot: Cannot tell: keep {0}. The nearest rival, {1}, has a {2} chance of being better, and nothing is expected to be gained by it.
choice.toss: Little in it: {0} is the better bet, but there is only a {1} chance that it beats today’s setting.
choice.least: Keep {0}. {1} is expected to bring {2} (chance of being better: {4}), less than the {3} that you would change for.
choice.thin: Not enough to say yet ({0} counted {0:ball|balls}): keep {1} for now and hit the plan below.
choice.keep.clear: Keep {0}. Nothing here is expected to beat it: {1} comes nearest, with a {2} chance.
choice.keep.likely: Keep {0}. Most likely nothing here beats it: {1} comes nearest, with a {2} chance.
choice.keep.leaning: Keep {0}. It looks as good as any, though {1} has a {2} chance of being better.
choice.keep.only: Keep {0}: there is no other setting to choose from.
` + // Reasons. {0} the size of the move, {1} carry, {2} side, {3} height, {4} spin.
	`why.lean.more: The sleeve’s {0} of added loft: carry {1}, {2}, height {3}, spin {4}.
why.lean.less: The sleeve’s {0} of loft taken off: carry {1}, {2}, height {3}, spin {4}.
why.upright.more: {0} more upright: carry {1}, {2}, height {3}, spin {4}.
why.upright.less: {0} flatter: carry {1}, {2}, height {3}, spin {4}.
why.toe.more: Centre of mass {0} towards the toe: carry {1}, {2}, height {3}, spin {4}.
why.toe.less: Centre of mass {0} towards the heel: carry {1}, {2}, height {3}, spin {4}.
why.back.more: Centre of mass {0} farther back: carry {1}, {2}, height {3}, spin {4}.
why.back.less: Centre of mass {0} farther forward: carry {1}, {2}, height {3}, spin {4}.
why.mass.more: {0} more head weight: carry {1}, {2}, height {3}, spin {4}.
why.mass.less: {0} less head weight: carry {1}, {2}, height {3}, spin {4}.
why.rival: What the nearest rival, {0}, would do:
why.limit.trouble: You asked that at most {0} of balls end beyond your line: with {1}, aimed best, about {2} do.
why.limit.trouble.middle: You asked that at most {0} of balls end beyond your line: with {1}, aimed at the middle, about {2} do.
why.limit.carry: You asked that {0} of balls carry {3}: with {1} about {2} do.
why.limit.apex: You asked that {0} of balls peak in your height window: with {1} about {2} do.
why.limit.all: The chance that it meets what you asked is {0}; {1} of {2} {2:setting|settings} {1:is|are} ruled out by it.
why.limit.none: The chance that it meets all you asked is {0}. None of the {1} {1:setting|settings} is likely to; this is among those that come nearest.
why.many: The best of {0} {0:setting|settings} always looks a little better than it is; the verdict allows for that.
why.balls: Nobody has described what {2} does to the club, so all that is known of it comes from the {1} {1:ball|balls} hit with it.
why.physics: {2} was not hit, and nearly all that is known of it is physics. It is a prediction until you hit it.
why.total: All together: carry {0} ({1} to {2} is believable), {3}.
clubs.better: Each club set as it is best: {0} against {1}: {3} ({4} to {5} is believable), carry {6}. The chance that it is better: {2}.
clubs.together: {0} has another head and another shaft than {1}: which of the two makes the difference, these balls cannot tell.
clubs.unhit: No ball was hit with {0}: what is said of it is judgement alone.
why.aim: With {0}, aim {1} of the middle at {2}.
why.line: Beyond the line {0}: today {1} of balls when aimed straight, {2} with the same club aimed best, {3} with this setting aimed best. Aiming is free: only the last step is the club’s.
why.line.middle: You aim at the middle: today {1} of balls end beyond the line {0}, with this setting {2}. Today’s club aimed {3} of the middle would leave {4} beyond it: aiming is free, if you can bring yourself to do it.
why.turn: It moves the ball {0}. Here that alone earns nothing, because moving your aim does as much for free; if you would not move it, say so under “What you want”, and it counts.
why.measured: {0} of what is known about {2} comes from your shots ({1} {1:ball|balls} with it), the rest from physics.
why.predicted: {2} was not hit: {0} of what is known comes from your shots with other settings, the rest from physics. It is a prediction until you hit it.
` + // What would change the advice.
	`flip.carry: If only carry counted: {0}.
flip.fairways: If only fairways counted: {0}.
flip.strokes: If strokes on your hole counted: {0}.
flip.trouble: If the costly miss were {1} of the middle: {0}.
flip.middle: If you aimed at the middle whatever the ball does: {0}.
flip.aimed: If you moved your aim to where the balls cost least: {0}.
flip.setting: Without the balls hit with {1}: {0}.
flip.ball: Without ball {1} alone: {0}.
flip.none: No other aim that was tried changes the advice.
flip.outside: Another ball, a strong wind or a change of swing can change the advice: test again then.
` + // Why to hit a setting next, said behind its name and balls. {0} what it is worth.
	`next.today: Today’s setting: all comparisons rest on it. Expected to improve the choice by {0}.
next.choice: The one chosen: to be surer of it. Expected to improve the choice by {0}.
next.rival: The nearest rival. Expected to improve the choice by {0}.
next.untested: Not hit yet. Expected to improve the choice by {0}.
next.other: Also tells about the others. Expected to improve the choice by {0}.
next.little: Hardly expected to change the choice.
` + // When to stop.
	`stop.thin: Go on: at least {0} counted {0:ball|balls}, {1} of them with today’s setting, before anything can be said.
stop.lean: Enough for now: another {0} {0:ball is|balls are} expected to improve the choice by less than {1}. It stays a lean.
stop.gain: Worth going on: {0} more {0:ball is|balls are} expected to improve the choice by {1}.
stop.enough: Enough: another {0} {0:ball is|balls are} expected to improve the choice by less than {1}.
stop.tired: Stop here: {0} full {0:drive is|drives are} a load, and tired swings mislead.
stop.spent: The balls or the minutes are used up.
` + // The plan.
	`plan.first: Today’s setting first: everything is compared with it.
plan.again: Back to today’s setting: shows what has changed besides the club.
plan.new: A setting that teaches much about the others.
plan.next: Worth most now.
plan.finish: Finish this visit.
plan.done: Hit.
plan.check.today: Check: today’s setting.
plan.check.new: Check: the chosen setting, same ball, straight after.
plan.rest: Rest two minutes first. {0}
note.spread.wider: {0} scatters {1} more than today’s setting: {2} from ball to ball against {3} (standard deviation), {4} {4:ball|balls}.
note.spread.tighter: {0} scatters {1} less than today’s setting: {2} from ball to ball against {3} (standard deviation), {4} {4:ball|balls}.
` + // The check at the end: {0} the new setting, {1} its balls, {2} today's.
	`note.check.held: The check held: hit in turn with today’s setting, {0} did better ({1} {1:ball|balls} against {2}).
note.check.open: The check proves nothing either way: {1} {1:ball|balls} with {0} against {2} with today’s setting are too few for a difference of this size.
note.check.few: The check is too short to prove anything: {1} {1:ball|balls} with {0} against {2} with today’s setting; three of each at least.
note.check.failed: The check failed: hit in turn with today’s setting, {0} did worse ({1} {1:ball|balls} against {2}). Do not change on this.
note.check.weighed: All your shots and physics weighed together, the chance that {0} is better is {1}.
` + // An amount of what is aimed for, in its own unit.
	`gain.strokes: {0} {0:stroke|strokes} a round
gain.carry: {0} of carry
gain.fairways: {0} {0:fairway|fairways} of 20
gain.window: {0} {0:ball|balls} of 20 in the window
` + // Why an estimate is not the average of its own balls: {0} the quantity, {1}
	// balls, {2} their average, {4} the estimate, {3} {5} what they are weighed with.
	`differs.text: {0}: your {1} {1:ball|balls} averaged {2}; weighed with {3} we expect {4}.
differs.text.more: {0}: your {1} {1:ball|balls} averaged {2}; weighed with {3} and {5} we expect {4}.
differs.physics: what physics says of the club
differs.others: your other settings
differs.mishits: mis-hits counting less
differs.time: warming up and tiring
` + // Follow-up.
	`vary.as-hit: In the air of the answer
vary.head: Head wind, {0}
vary.tail: Tail wind, {0}
vary.left: Wind from the left, {0}
vary.right: Wind from the right, {0}
vary.cold: Colder air, {0}
vary.high: {0} higher up
vary.lively: A ball with {0} more lift
vary.dead: A ball with {0} less lift
vary.firm: Firm ground
follow.nothing: No setting was hit on both visits with balls enough to compare.
follow.common: Change in {0}: {1} ({2} to {3} is believable).
follow.air: The other air alone is taken to be worth {0} of carry; it is left out above.
follow.carry: With the same settings {0} has changed by {1} ({2} to {3}): time to test again.
follow.club: The club is described differently on the two visits, so a setting of the same name need not be the same: correct the one that is wrong, or test again.
follow.same: Nothing has changed by enough to ask for a new test.
follow.day: A player differs from day to day, by more than most settings do: trust what both visits say more than what one says.
follow.speed: Your club speed has changed by {0}: time to test again.
follow.path: Your club path has changed by {0}: time to test again.
follow.side: Your usual miss has changed sides, from {0} to {1}: time to test again.
since.side: Since you took up {0}, its side has moved by {1} ({2} to {3}): time to test again.
since.carry: Since you took up {0}, its carry has changed by {1} ({2} to {3}): time to test again.
since.same: {0} does what it did when you took it up, as far as {1} {1:ball|balls} can tell ({2} or more would show).
follow.held: The advice of last time holds.
follow.moved: The advice has changed from {0} to {1}.
follow.when: Look at strike marks, the side of the miss and the screw in two to four weeks; test again in six to twelve months, or sooner after an injury, a new shaft, lessons or a disturbed screw.
`
