package text

// Words that stand on a page before the program has started, and in the
// description of the app.
var enSite = []entry{
	{"site.description", "Fit an adjustable golf club from your own shots: what each setting does for you, how sure that is, and what to hit next. Works offline; nothing leaves your device."},
	{"site.home", "Ferrule compares the settings of an adjustable club from the shots you hit, and says which one to keep, how sure that is, and what is worth hitting next. Everything is computed on this device; nothing is sent anywhere."},
	{"site.club", "What you are adjusting, and what you want from it."},
	{"site.shots", "What you hit: typed in, pasted, or from a file."},
	{"site.compare", "Is the difference between two settings real?"},
	{"site.choose", "How to set the club, how sure that is, and what to hit next."},
	{"site.sheet", "One page to take home."},
	{"site.shared", "A fitting sheet that somebody shared with you."},
	{"site.settings", "Units, theme, language and storage."},
	{"site.how", "The method in plain words, its limits and its sources."},
	{"site.visits", "Compare two visits: what has changed, and whether to test again."},
	{"site.live", "One view of a session for everybody who stands around it."},
	{"site.client", "A second window: the last ball in large numbers and the pattern, no names and no buttons."},
	{"site.story", "Every part of the screens, with invented numbers."},
	{"site.lost.title", "There is no such page"},
	{"site.lost", "The address may be mistyped."},
	{"site.seen", "As you saw it last. The program is starting."},
	{"site.worked", "The example’s answer, worked out beforehand. The program is starting."},
	{"site.not-at-root", "Ferrule cannot run in a folder of an address ({0}): its files must stand at the root. Give it a name of its own, or use ferrule serve."},
}
