package text

// What an adjustment does to the club, in both readings of an angled sleeve.
func init() {
	add("en", map[string]string{
		"both.squared":   "Face turned to square: {0}",
		"both.soled":     "Left as it soles: {0}",
		"both.more-loft": "{0} more loft",
		"both.less-loft": "{0} less loft",
		"both.loft-same": "loft as it was",
		"both.upright":   "{0} more upright",
		"both.flat":      "{0} flatter",
		"both.open":      "face {0} open",
		"both.closed":    "face {0} closed",
		"both.face-same": "face as it was",
		"both.unknown":   "Nobody has described what this position does: it is judged by the balls hit with it alone.",

		"degrees.more-loft": "{0} more loft with the face square",
		"degrees.less-loft": "{0} less loft with the face square",
		"degrees.upright":   "{0} more upright",
		"degrees.flat":      "{0} flatter",
		"degrees.open":      "face {0} more open when soled",
		"degrees.closed":    "face {0} more closed when soled",
		"degrees.own":       "From the head’s own: {0}",
		"degrees.own-none":  "Loft, lie and face are the head’s own",
		"degrees.today":     "From today’s setting: {0}",
		"degrees.unknown":   "What this position does was not described.",

		"moved.toe":       "centre of mass {0} towards the toe",
		"moved.heel":      "centre of mass {0} towards the heel",
		"moved.back":      "centre of mass {0} back",
		"moved.forward":   "centre of mass {0} forward",
		"moved.heavier":   "head {0} heavier",
		"moved.lighter":   "head {0} lighter",
		"moved.nothing":   "weights as they were",
		"moved.disputed":  "On what a step of weight does, physics and practice disagree by a factor of about two. The starting belief is wide enough for both; your shots decide.",
		"length.over":     "Longer than 48 in: the rules of golf allow that only for putters.",
		"length.local":    "Longer than 46 in: within the rules of golf, but a competition may have a local rule against it.",
		"loft.stated":     "Stated lofts are often a degree off; what a setting changes is known far better than the loft itself.",
		"label.made.hint": "Made up from what the position does. Type what stands on your club instead.",
	})
}

// The rows of the prior predictive table (ferrule prior).
func init() {
	add("en", map[string]string{
		"prior.title":             "What physics expects of each adjustment before a ball is hit, with its doubt, beside what others say.",
		"prior.player":            "For {0} of ball speed, {1} launch, {2} spin; delivered loft {3}, grip {4}, bounce {5}.",
		"prior.scale":             "The figures of others were mostly given for about 95 mph of club speed.",
		"prior.wide":              "wide on purpose: theory and practice disagree by about two",
		"prior.share":             "Share of the start direction that follows the face",
		"prior.face1":             "Face 1° open: end of the ball",
		"prior.face2":             "Face 2° open: end of the ball",
		"prior.face-axis":         "Face 1° open: tilt of the spin axis",
		"prior.range-launch":      "Loft over a sleeve’s 4.5° (squared): launch",
		"prior.range-apex":        "Loft over a sleeve’s 4.5° (squared): height (practice: about 40 ft, for fast players)",
		"prior.loft-spin":         "Loft +1.5° (squared): spin",
		"prior.less-loft-speed":   "Loft −1.5° (squared): ball speed",
		"prior.upright-direction": "Lie 1° upright: start direction",
		"prior.upright-lateral":   "Lie 1° upright: end of the ball",
		"prior.heel-side":         "Centre of mass 1 mm to the heel: side spin",
		"prior.step":              "A weight one stop to the heel (1.1 mm): landing place",
		"prior.track":             "A weight over its whole track to the heel (4.5 mm): landing place",
		"prior.mass-ball":         "Head 26 g heavier: ball speed",
		"prior.mass-spin":         "Head 26 g heavier: spin",
		"prior.mass-direction":    "Head 26 g heavier: start direction",
		"prior.mass-club":         "Head 26 g heavier: club speed",
		"prior.toe-axis":          "Strike 10 mm to the toe: tilt of the spin axis",
		"prior.toe-speed":         "Strike 12.7 mm to the toe: ball speed",
		"prior.high-spin":         "Strike 10 mm high: spin",
	})
}
