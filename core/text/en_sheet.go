package text

// Words of the printed fitting sheet (package sheet). Keys begin with "paper."
// since "sheet." names the page of the app around it.
const enSheet = `paper.title: Fitting sheet
paper.nothing: No setting was worked out yet.
paper.why: Why
paper.made: Made on this device by Ferrule. Nothing was sent anywhere.
paper.link: The same sheet as a link
paper.qr: The link to this sheet as a code for a camera
paper.weight: weight
paper.weight.toe: {0} towards the toe
paper.weight.heel: {0} towards the heel
paper.weight.back: {0} back
paper.weight.front: {0} towards the face
paper.weight.middle: in the middle
paper.verdict.clear: Clear: it beats today’s setting with a chance of {0}.
paper.verdict.likely: Likely: it beats today’s setting with a chance of {0}.
paper.verdict.leaning: Leaning: it beats today’s setting with a chance of {0}.
paper.verdict.cannot: Cannot tell yet: it beats today’s setting with a chance of {0}.
paper.verdict.keep: Keep the club as it is: no other setting is known to be better.
paper.gain: Expected: better by {0} (8 in 10: {1} … {2}).
paper.gain.carry: Carry: {0} ({1} … {2}).
paper.compare: Before and after
paper.compare.before: before: {0} ({1})
paper.compare.after: after: {0} ({1})
paper.compare.rival: nearest rival: {0} ({1})
paper.compare.difference: difference
paper.compare.spread: from ball to ball
paper.balls: {0} {0:ball|balls}
paper.predicted: not hit, predicted
paper.expect: What to expect
paper.expect.fairway: Fairways in 20 drives: about {0} (before: {1}).
paper.expect.trouble: In trouble in 20 drives: about {0} (before: {1}).
paper.expect.window: In the height window in 20 drives: about {0} (before: {1}).
paper.expect.short: Short of the needed carry in 20 drives: about {0} (before: {1}).
paper.expect.estimate: These are estimates, not promises; in brackets the range that holds 8 times in 10.
paper.aim.right: Aim {0} right of the middle at {1}.
paper.aim.left: Aim {0} left of the middle at {1}.
paper.behind.title: The shots behind it
paper.behind: {0} {0:ball|balls} with {1} {1:setting|settings}; {2} counted little, {3} not used.
paper.behind.tried: Tried (balls): {0}.
paper.behind.computed: Carry and height of {0} {0:ball|balls} are computed, not measured.
paper.nottried: What was not tried
paper.nottried.settings: {0} of {1} {1:setting|settings}: {2}.
paper.nottried.more: and {0} more
paper.nottried.club: Another shaft, length, grip or ball.
paper.next.title: Worth hitting next
paper.next: {0} {0:ball|balls} with {1}.
paper.check: How to check it on the course
paper.check.untested: Nobody has hit this setting yet: hit it before you trust it.
paper.check.rounds: Play 2 or 3 rounds and note 14 to 20 drives: fairway or not, which side, where on the face.
paper.check.alternate: On the range, hit 5 balls with the old and 5 with the new setting in turns, with the same ball; only a large difference shows.
paper.check.sum: Compare with what to expect above; a few drives more or less prove nothing.
paper.again: When to test again
paper.again.soon: In 2 to 4 weeks: strike, side of the miss, screw.
paper.again.date: About {0}: strike, side of the miss, screw.
paper.again.year: In 6 to 12 months: hit the setting you then play and compare.
paper.again.if: At once if club speed changes by {0}, lessons change the path, the ball, the shaft or your health changes, the miss changes side, or sleeve or weight were moved.
paper.cautions: Take care
paper.caution.rule: Adjust before a round only: under Rule 4.1a(3) a stroke with a club adjusted during the round means disqualification.
paper.caution.tool: Adjust only with the club maker’s own tool, to its click, and follow the maker’s instructions.
paper.caution.loose: Never hit with a loose head, sleeve, screw or weight. Stop on a rattle or a crack.
paper.caution.area: Keep the swing arc clear and nobody in front.
paper.caution.body: Stop on pain and see a health professional. This is no medical advice and replaces no qualified fitter or instructor.
paper.caution.estimate: A prediction is an estimate with its interval, not a promise.
paper.caution.conform: Keep to the length limit of 48 in, or 46 in where that local rule is in force; use only positions and weights that the club’s maker provides.
paper.group.session: Session
paper.group.head: Head as set
paper.group.shaft: Shaft, length, grip
paper.group.screw: Screw and signature
paper.hand.right: right-handed
paper.hand.left: left-handed
paper.indoors: indoors
paper.outdoors: outdoors
paper.altitude: {0} above the sea
paper.wind: wind {0}, from: {1}
paper.from: {0} (as made: {1})
paper.computed: {0} (computed)
paper.hold.between: between set down as it lies and square
paper.hold.soled: set down as it lies
paper.hold.square: face squared
paper.field.player: Player
paper.field.hand: Hand
paper.field.handicap: Handicap
paper.field.date: Date
paper.field.place: Place
paper.field.where: Indoors or outdoors
paper.field.ball: Ball
paper.field.device: Device (radar, camera)
paper.field.spin_source: Spin measured or estimated
paper.field.weather: Weather, altitude
paper.field.normalised: Converted to
paper.field.head: Head
paper.field.model: Head by itself
paper.field.shaft: Shaft
paper.field.head_id: Head’s own number
paper.field.loft_stated: Loft, stated
paper.field.loft_measured: Loft, measured
paper.field.lie: Lie as set
paper.field.face_soled: Face angle, set down as it lies
paper.field.hold: Held at address
paper.field.sleeve: Sleeve position
paper.field.weight: Weight {0}
paper.field.length: Length
paper.field.length_method: Length measured how
paper.field.swing: Swing weight
paper.field.total: Total weight
paper.field.shaft_mass: Shaft weight
paper.field.flex: Flex or frequency
paper.field.torque: Shaft torque
paper.field.tip: Tip trim
paper.field.shaft_turn: Shaft orientation
paper.field.grip_mass: Grip weight
paper.field.grip_size: Grip size
paper.field.grip_wraps: Wraps under the grip
paper.field.logo: Grip logo up or down
paper.field.screw: Screw torque by the maker
paper.field.screw_checked: Screw checked on
paper.field.initials: Initials
paper.field.words: Fitter’s words
paper.field.shop: Shop
`
