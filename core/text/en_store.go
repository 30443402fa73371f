package text

// Words of package store; they stand after a colon, so the last sentence has
// no point of its own.
var enStore = []entry{
	{"store.not-found", "This session is not stored here"},
	{"store.full", "There is no room left to save. Free some space, or save the session to a file now"},
	{"store.damaged", "What is stored of this session is damaged. It is kept and can be saved to a file"},
	{"store.newer", "This was saved by a newer version of Ferrule. Reload the page to get that version"},
	{"store.denied", "This browser does not let Ferrule keep anything (a private window, or storage switched off). Save to a file before you close the page"},
	{"store.replaced", "Another tab runs a newer version of Ferrule. Reload this page"},
	{"store.too-big", "This session holds more than Ferrule can keep. Save it to a file and divide it"},
	{"store.no-backup", "This is not a file that Ferrule saved"},
	{"store.changed-elsewhere", "This session was changed in another tab meanwhile"},
	{"store.removed-elsewhere", "This session was removed in another tab meanwhile"},
}
