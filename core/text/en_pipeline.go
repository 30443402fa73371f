package text

// The notes and cautions that package pipeline writes around an answer.
const enPipeline = `answer.caution.tool: Adjust only with the club maker’s own tool, to its click, and follow the maker’s instructions.
answer.caution.loose: Never hit with a loose head, sleeve, screw or weight. Stop on a rattle or a crack.
answer.caution.swing: Keep the swing arc clear and nobody in front; the range’s own rules come first.
answer.caution.rest: Warm up, rest between sets, stop on pain and see a health professional. This is no medical advice and replaces no qualified fitter or instructor.
answer.caution.rule: Adjust before a round only: under Rule 4.1a(3) a stroke with a club adjusted during the round means disqualification. Every configuration must conform: check the current list and local rules.
answer.caution.estimate: A prediction is an estimate with its interval, not a promise.
answer.outlier: Unlike the other balls of this session: it counts in what happens, and only {0} in what a setting does.
answer.note.missing: {0} was not measured; it is taken from what the other numbers say and from what players are like.
answer.note.computed: Carry is computed here or by the device, not tracked: compare settings, and do not rely on the distances.
answer.note.calibrated: The ball’s flight is adjusted to your measurements (carry misses {0} before, {1} after).
answer.note.looks-computed: Your carries follow from the launch numbers to within {0}: it looks as if the device computed them and did not track the balls. Is that so? Then tick “indoors” under Club. The ball’s flight is not adjusted to them.
answer.note.conflict: Your ball reacts unlike the textbook: tested settings are trusted more, untested ones less.
answer.note.drift: Over the session your ball speed changed by {0} (± {1}); the comparison allows for it.
answer.note.unplaced: {0} {0:shot names|shots name} no setting of this club and {0:is|are} not compared.
answer.note.undescribed: Some settings are not described: they are compared by the balls hit with them, nothing is predicted from physics.
air.still: For still air at {0}, {1} above the sea.
air.home: For your course: {0}, {1} above the sea, wind of {2} from all sides alike.
air.says: Balls {0} to {1} say: wind of {2} to {3}, from: {4}. You typed {5}, from: {6}.
air.says-untyped: Balls {0} to {1} say: wind of {2} to {3}, from: {4}. You typed none.
answer.note.wind: There was wind: what it did to the balls is taken away, as far as it is known.
answer.note.thin: Only {0} {0:ball|balls} counted: not enough for a verdict on small differences.
`
