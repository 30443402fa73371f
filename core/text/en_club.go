package text

// What an adjustment does to the club, in both readings of an angled sleeve.
const enClub = `both.squared: Face turned to square: {0}
both.soled: Set down as it lies: {0}
both.more-loft: {0} more loft
both.less-loft: {0} less loft
both.loft-same: loft as it was
both.upright: {0} more upright
both.flat: {0} flatter
both.open: face {0} open
both.closed: face {0} closed
both.face-same: face as it was
both.unknown: Nobody has described what this position does: it is judged by the balls hit with it alone.
degrees.more-loft: {0} more loft with the face square
degrees.less-loft: {0} less loft with the face square
degrees.upright: {0} more upright
degrees.flat: {0} flatter
degrees.open: face {0} more open when set down
degrees.closed: face {0} more closed when set down
degrees.own: From the club with a straight shaft: {0}
degrees.own-none: As with a straight shaft
degrees.today: Against today: {0}
degrees.unknown: What this position does was not described.
moved.toe: centre of mass {0} towards the toe
moved.heel: centre of mass {0} towards the heel
moved.back: centre of mass {0} back
moved.forward: centre of mass {0} forward
moved.heavier: head {0} heavier
moved.lighter: head {0} lighter
moved.nothing: weights as they were
moved.disputed: On what a step of weight does, physics and practice disagree by a factor of about two. The starting belief is wide enough for both; your shots decide.
length.over: Longer than 48 in: the rules of golf allow that only for putters.
length.local: Longer than 46 in: within the rules of golf, but a competition may have a local rule against it.
loft.stated: Stated lofts are often a degree off; what a setting changes is known far better than the loft itself.
label.made.hint: Made up from what the position does. Type what stands on your club instead.
`
