package text

// The page on which two visits are compared.
func init() {
	add("en", map[string]string{
		"visits.lead":     "What has changed since last time?",
		"visits.few":      "Two sessions are needed",
		"visits.few-do":   "Hit a few balls on another day with settings that you hit before; then the two days can be compared.",
		"visits.which":    "Which two",
		"visits.before":   "The earlier visit",
		"visits.now":      "The later visit",
		"visits.do":       "Compare them",
		"visits.hint":     "Both sessions are computed on this device. Settings with three balls or more on both days are compared.",
		"visits.failed":   "They could not be compared: {0}",
		"visits.fine":     "No need to test again",
		"visits.retest":   "Time to test again",
		"visits.nothing":  "Nothing to compare",
		"visits.then-now": "{0}, then {1}",
		"visits.words":    "In words",
		"visits.numbers":  "In numbers",
		"visits.table":    "The same settings on both visits",
		"visits.then":     "Then",
		"visits.is":       "Now",
		"visits.change":   "Change",
		"visits.balls":    "{0}, {1}",
		"visits.all":      "All of them",
		"visits.interval": "Plain averages. In brackets: the 80 % interval of the change, with what the other air does left out.",

		"vary.title":     "Other winds, other balls",
		"vary.what":      "The same swing, flown in other conditions and aimed best in each: where would the advice be another?",
		"vary.do":        "Try them",
		"vary.failed":    "They could not be tried: {0}",
		"vary.condition": "Conditions",
		"vary.advice":    "Advice",
		"vary.sure":      "How sure",
		"vary.other":     "{0}, another",
		"vary.none":      "In none of them would it be another setting.",
		"vary.some":      "In {0} of {1} of them it would be another setting. Fit the club for where you play most.",
	})
}
