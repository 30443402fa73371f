package text

// The words that belong to no one area. Other files of this package add theirs;
// English is the catalogue that every other language must match key by key.
func init() {
	add("en", map[string]string{
		"side.right": "right",
		"side.left":  "left",
		"side.none":  "sideways",
	})
}
