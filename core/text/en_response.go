package text

// What the fitted response says of itself.
func init() {
	add("en", map[string]string{
		"response.conflict":           "Your ball reacts unlike the textbook. The settings you hit are trusted more than the physics, and predictions for the others are wider.",
		"response.contradiction":      "{0}: by your shots, {1} changes by {2}; the textbook expects {3}.",
		"response.confounded":         "{0} and {1} were always changed together, so these shots cannot say which of them did it.",
		"response.confounded.resolve": "{0} and {1} were always changed together, so these shots cannot say which of them did it. Three to five balls with \u201c{2}\u201d would tell them apart.",
		"response.blocks":             "Each setting was hit in one block, so setting and time cannot be told apart: warming up or tiring may look like a setting. Hit the settings again in the opposite order.",

		"feature.lean":         "Loft of the sleeve",
		"feature.upright":      "Lie",
		"feature.toe":          "Weight towards the toe",
		"feature.back":         "Weight towards the back",
		"feature.mass":         "Head mass",
		"feature.time":         "session time",
		"feature.ball":         "the kind of ball",
		"feature.day":          "the day",
		"feature.setting":      "the setting",
		"feature.lean.step":    "One degree more lean (loft)",
		"feature.upright.step": "One degree more upright",
		"feature.toe.step":     "The head's centre 1 mm towards the toe",
		"feature.back.step":    "The head's centre 1 mm towards the back",
		"feature.mass.step":    "One gram more head mass",
	})
}
