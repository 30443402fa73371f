package text

// The words that belong to no one area. Other files of this package add theirs;
// English is the catalogue that every other language must match key by key.
const enShared = `side.right: right
side.left: left
` + // {0} a distance: how far to which side.
	`side.by-right: {0} right
side.by-left: {0} left
side.by-none: {0} sideways
number.percent: {0} %
`
