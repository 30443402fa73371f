package text

// Words drawn on charts and said of them (package chart).
const enChart = `chart.axis: {0} ({1})
chart.estimate: {0} ({1} … {2})
chart.percent: {0} %
chart.carry: carry
chart.offline: off the target line
chart.apex: apex height
chart.height: height
chart.distance: distance
chart.left: left
chart.right: right
chart.less: less
chart.more: more
chart.fairway: fairway
chart.reference: as set today
chart.predicted: predicted, not hit
chart.strokes: strokes a drive
chart.strokes.fewer: fewer strokes
chart.strokes.more: more strokes
chart.trouble.penalty: penalty
chart.trouble.out: out of bounds
chart.trouble.trees: trees
chart.col.shot: shot
chart.col.setting: setting
chart.col.status: counts as
chart.col.balls: balls
chart.col.difference: difference (8 in 10)
chart.col.interval95: 19 in 20
chart.col.more: more balls in each to tell
chart.col.pbetter: chance it is better
chart.col.pbest: chance it is best
chart.col.fairway: fairway
chart.col.right: too far right
chart.col.left: too far left
chart.col.what: at address
chart.status.counted: counted
chart.status.mis-hit: mis-hit
chart.status.suspect: doubtful
chart.status.impossible: wrong record, not used
chart.status.left-out: left out
chart.status.: counted
chart.landing.title: Where the balls came down
chart.landing.hollow: Hollow marks: mis-hits and doubtful records.
chart.landing.outside: Outside the plan, drawn on its edge: {0}.
chart.landing.ellipse: Ellipse: where 8 of 10 next balls are expected.
chart.landing.ellipse.some: Ellipse ({0}): where 8 of 10 next balls are expected.
chart.landing.carrymin: carry needed
chart.landing.summary: Landing places seen from above: {0} {0:ball|balls} with {1} {1:setting|settings}.
chart.landing.part: {0}: {1} {1:ball|balls}, on average {2} of carry and {3}.
chart.landing.part.predicted: {0}: not hit; predicted {2} of carry and {3}.
chart.flight.title: The typical flight from the side
chart.flight.window: wanted height
chart.flight.scale: Heights are drawn {0} times as large as distances.
chart.flight.summary: Typical flights from the side.
chart.flight.part: {0}: carry {1}, apex height {2}.
chart.flight.window.part: Wanted apex height: {0} to {1}.
chart.differences.title: Difference in {0}
chart.differences.against: against {0}
chart.differences.compass: plus is to the right
chart.differences.plus: Plus is to the right.
chart.differences.lines: Dot: estimate. Thick, thin and hair line: 5, 8 and 9.5 times in 10 the true difference lies within. Figures: 8 in 10. Hollow mark: not hit.
chart.differences.summary: Difference in {0} against {1}, with the range that holds 8 times in 10.
chart.differences.open: {0}: {1}, so no difference is believable too.
chart.differences.seen: {0}: {1}.
chart.differences.none: There is nothing to compare yet: hit a second setting.
chart.head.title: The head at address
chart.head.above: from above
chart.head.toe: from the toe
chart.head.front: from the front
chart.head.loft: loft {0}
chart.head.lie: lie {0}
chart.head.square: face square
chart.head.open: face {0} open
chart.head.closed: face {0} closed
chart.head.unknown: not described
chart.head.exaggerated: Angles are drawn {0} times as large. Dashed: as set today. Dot: the head’s centre of mass.
chart.head.summary: {0}: loft {1} with the face square, lie {2}, {3} when set down.
chart.head.summary.unknown: {0}: what this position does was not described.
chart.head.cgtoe: The head’s centre of mass is {0} nearer the toe than before.
chart.head.cgheel: The head’s centre of mass is {0} nearer the heel than before.
chart.head.row.loft: loft, face square
chart.head.row.lie: lie
chart.head.row.face: face, set down
chart.head.row.cg: centre of mass towards the toe
`
