package text

// Words of package store; they stand after a colon, so the last sentence has
// no point of its own.
const enStore = `store.not-found: This session is not stored here
store.full: There is no room left to save. Free some space, or save the session to a file now
store.damaged: What is stored of this session is damaged. It is kept and can be saved to a file
store.newer: This was saved by a newer version of Ferrule. Reload the page to get that version
store.denied: This browser does not let Ferrule keep anything (a private window, or storage switched off). Save to a file before you close the page
store.replaced: A newer version of Ferrule has changed the storage. Reload this page
store.blocked: Another tab holds the storage with an older version of Ferrule. Close it and try again
store.deleted: The storage of this site was deleted. What is open is stored anew; the rest is only in a backup
store.broken: The browser’s storage does not work at the moment. Try again, or save to a file
store.too-big: This session holds more than Ferrule can keep. Save it to a file and divide it
store.no-backup: This is not a file that Ferrule saved
store.changed-elsewhere: This session was changed in another tab meanwhile
store.removed-elsewhere: This session was removed in another tab meanwhile
`
