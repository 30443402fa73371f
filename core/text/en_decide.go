package text

// The words of the decision: the answer, its reasons, what would change it,
// what to hit next and when to stop.
func init() {
	add("en", map[string]string{
		// The answer. {0} the setting, {1} the chance that it beats today's,
		// {2} what it gains with its range {3} to {4}.
		"choice.clear.strokes":    "Set it to {0}. It is clearly better for you than today’s setting ({1} sure): about {2} strokes a round, {3} to {4} is believable.",
		"choice.likely.strokes":   "Set it to {0}. It is likely better than today’s setting ({1} sure): about {2} strokes a round, {3} to {4} is believable.",
		"choice.leaning.strokes":  "Lean to {0}, but it is no more than a lean: {1} sure that it beats today’s setting. About {2} strokes a round, {3} to {4} is believable.",
		"choice.clear.carry":      "Set it to {0}. It clearly carries farther than today’s setting ({1} sure): about {2}, {3} to {4} is believable.",
		"choice.likely.carry":     "Set it to {0}. It likely carries farther than today’s setting ({1} sure): about {2}, {3} to {4} is believable.",
		"choice.leaning.carry":    "Lean to {0}, but it is no more than a lean: {1} sure that it carries farther than today’s setting. About {2}, {3} to {4} is believable.",
		"choice.clear.fairways":   "Set it to {0}. It clearly finds more fairways than today’s setting ({1} sure): about {2} in a hundred, {3} to {4} is believable.",
		"choice.likely.fairways":  "Set it to {0}. It likely finds more fairways than today’s setting ({1} sure): about {2} in a hundred, {3} to {4} is believable.",
		"choice.leaning.fairways": "Lean to {0}, but it is no more than a lean: {1} sure that it finds more fairways. About {2} in a hundred, {3} to {4} is believable.",
		"choice.clear.height":     "Set it to {0}. It clearly holds your height window better than today’s setting ({1} sure): about {2} {2:ball|balls} in a hundred, {3} to {4} is believable.",
		"choice.likely.height":    "Set it to {0}. It likely holds your height window better than today’s setting ({1} sure): about {2} {2:ball|balls} in a hundred, {3} to {4} is believable.",
		"choice.leaning.height":   "Lean to {0}, but it is no more than a lean: {1} sure that it holds your height window better. About {2} {2:ball|balls} in a hundred, {3} to {4} is believable.",
		"choice.limit.clear":      "Set it to {0}. Today’s setting misses your limit; this one clearly does better ({1} sure): {2} of balls {4}, today {3}.",
		"choice.limit.likely":     "Set it to {0}. Today’s setting misses your limit; this one likely does better ({1} sure): {2} of balls {4}, today {3}.",
		"choice.limit.leaning":    "Lean to {0}. Today’s setting misses your limit; this one may do better, no more than a lean ({1} sure): {2} of balls {4}, today {3}.",
		"limit.trouble":           "go beyond the line",
		"limit.carry":             "carry far enough",
		"limit.apex":              "stay in the height window",
		"choice.cannot":           "Cannot tell: keep {0}. The nearest rival, {1}, has a {2} chance of being better, and that is too little to change a club for.",
		"choice.thin":             "Not enough to say yet ({0} counted {0:ball|balls}): keep {1} for now and hit the plan below.",
		"choice.keep.clear":       "Keep {0}. Nothing here beats it by enough to matter: {1} comes nearest, with a {2} chance.",
		"choice.keep.likely":      "Keep {0}. Most likely nothing here beats it by enough to matter: {1} comes nearest, with a {2} chance.",
		"choice.keep.leaning":     "Keep {0}. It looks as good as any, though {1} has a {2} chance of being better by enough to matter.",
		"choice.keep.only":        "Keep {0}: there is no other setting to choose from.",

		// Reasons. {0} the size of the move, {1} carry, {2} side, {3} height, {4} spin.
		"why.lean.more":    "The sleeve’s {0} of added loft: carry {1}, {2}, height {3}, spin {4}.",
		"why.lean.less":    "The sleeve’s {0} of loft taken off: carry {1}, {2}, height {3}, spin {4}.",
		"why.upright.more": "{0} more upright: carry {1}, {2}, height {3}, spin {4}.",
		"why.upright.less": "{0} flatter: carry {1}, {2}, height {3}, spin {4}.",
		"why.toe.more":     "Centre of mass {0} toward the toe: carry {1}, {2}, height {3}, spin {4}.",
		"why.toe.less":     "Centre of mass {0} toward the heel: carry {1}, {2}, height {3}, spin {4}.",
		"why.back.more":    "Centre of mass {0} farther back: carry {1}, {2}, height {3}, spin {4}.",
		"why.back.less":    "Centre of mass {0} farther forward: carry {1}, {2}, height {3}, spin {4}.",
		"why.mass.more":    "{0} more head weight: carry {1}, {2}, height {3}, spin {4}.",
		"why.mass.less":    "{0} less head weight: carry {1}, {2}, height {3}, spin {4}.",
		"why.rival":        "What the nearest rival, {0}, would do:",
		"why.many":         "The best of {0} {0:setting|settings} always looks a little better than it is; the verdict allows for that.",
		"why.balls":        "Nobody has described what {2} does to the club, so all that is known of it comes from the {1} {1:ball|balls} hit with it.",
		"why.physics":      "{2} was not hit, and nearly all that is known of it is physics. It is a prediction until you hit it.",
		"why.total":        "All together, {0} against today’s setting: carry {1} (anywhere from {2} to {3} is believable), and the ball moves {4}.",
		"why.aim":          "With {0}, aim {1} of the middle at {2}.",
		"why.line":         "Beyond the line {0}: today {1} of balls when aimed straight, {2} with the same club aimed best, {3} with this setting aimed best. Aiming is free: only the last step is the club’s.",
		"why.measured":     "{0} of what is known about {2} comes from your shots ({1} {1:ball|balls} with it), the rest from physics.",
		"why.predicted":    "{2} was not hit: {0} of what is known comes from your shots with other settings, the rest from physics. It is a prediction until you hit it.",

		// What would change the advice.
		"flip.carry":    "If only carry counted: {0}.",
		"flip.fairways": "If only fairways counted: {0}.",
		"flip.strokes":  "If strokes on your hole counted: {0}.",
		"flip.trouble":  "If the costly miss were {1} of the middle: {0}.",
		"flip.setting":  "Without the balls hit with {1}: {0}.",
		"flip.ball":     "Without ball {1} alone: {0}.",
		"flip.none":     "No other aim that was tried changes the advice.",
		"flip.outside":  "Another ball, a strong wind or a change of swing can change the advice: test again then.",

		// What to hit next. {0} setting, {1} {1:ball|balls}, {2} minutes, {3} {4} what it is worth.
		"next.today":     "{0}, today’s setting, {1} more {1:ball|balls} ({2} min): all comparisons rest on it. Expected to improve the choice by {3} {4}.",
		"next.choice":    "{0}, the one chosen, {1} more {1:ball|balls} ({2} min): to be surer of it. Expected to improve the choice by {3} {4}.",
		"next.rival":     "{0}, the nearest rival, {1} {1:ball|balls} ({2} min). Expected to improve the choice by {3} {4}.",
		"next.untested":  "{0}, not hit yet, {1} {1:ball|balls} ({2} min). Expected to improve the choice by {3} {4}.",
		"next.other":     "{0}, {1} more {1:ball|balls} ({2} min): also tells about the others. Expected to improve the choice by {3} {4}.",
		"next.little":    "{0}, {1} {1:ball|balls} ({2} min): hardly expected to change the choice.",
		"worth.strokes":  "strokes a drive",
		"worth.carry":    "of carry",
		"worth.fairways": "more fairways in a hundred drives",
		"worth.height":   "more balls in the window in a hundred",

		// When to stop.
		"stop.thin":     "Go on: at least {0} counted {0:ball|balls}, {1} of them with today’s setting, before anything can be said.",
		"stop.conflict": "Go on: your ball reacts unlike the textbook, so rely on settings you hit and hit more of them.",
		"stop.unsure":   "Go on: the choice is only {0} sure to beat today’s setting.",
		"stop.lean":     "Enough for now: another {0} {0:ball is|balls are} hardly expected to settle it. It stays a lean ({1} sure).",
		"stop.gain":     "Worth going on: {0} more {0:ball is|balls are} expected to improve the choice by {1} {2}.",
		"stop.enough":   "Enough: another {0} {0:ball is|balls are} expected to improve the choice by less than {1} {2}.",
		"stop.tired":    "Stop here: {0} full {0:drive is|drives are} a load, and tired swings mislead.",
		"stop.spent":    "The balls or the minutes are used up.",

		// The plan.
		"plan.first":       "Today’s setting first: everything is compared with it.",
		"plan.again":       "Back to today’s setting: shows what has changed besides the club.",
		"plan.new":         "A setting that teaches much about the others.",
		"plan.back":        "The same again in reverse order, so that warming up and tiring cancel.",
		"plan.next":        "Worth most now.",
		"plan.finish":      "Finish this visit.",
		"plan.done":        "Hit.",
		"plan.check.today": "Check: today’s setting.",
		"plan.check.new":   "Check: the chosen setting, same ball, straight after.",
		"plan.rest":        "Rest two minutes first. {0}",

		"note.spread.wider":   "{0} scatters {1} more than today’s setting: standard deviation {2} against {3}, {4} {4:ball|balls}.",
		"note.spread.tighter": "{0} scatters {1} less than today’s setting: standard deviation {2} against {3}, {4} {4:ball|balls}.",

		// The check at the end: {0} the new setting, {1} its balls, {2} today's.
		"note.check.held":   "The check held: hit in turn with today’s setting, {0} did better ({1} {1:ball|balls} against {2}).",
		"note.check.open":   "The check proves nothing either way: {1} {1:ball|balls} with {0} against {2} with today’s setting are too few for a difference of this size.",
		"note.check.few":    "The check is too short to prove anything: {1} {1:ball|balls} with {0} against {2} with today’s setting; three of each at least.",
		"note.check.failed": "The check failed: hit in turn with today’s setting, {0} did worse ({1} {1:ball|balls} against {2}). Do not change on this.",

		// Follow-up.
		"follow.nothing":      "No setting was hit on both visits with balls enough to compare.",
		"follow.same.setting": "{0}, then and now: {1} {2} (anywhere from {3} to {4} is believable).",
		"follow.speed":        "Your club speed has changed by {0}: time to test again.",
		"follow.path":         "Your club path has changed by {0}: time to test again.",
		"follow.side":         "Your usual miss has changed sides, from {0} to {1}: time to test again.",
		"follow.held":         "The advice of last time holds.",
		"follow.moved":        "The advice has changed from {0} to {1}.",
		"follow.when":         "Look at strike marks, the side of the miss and the screw in two to four weeks; test again in six to twelve months, or sooner after an injury, a new shaft, lessons or a disturbed screw.",
	})
}
