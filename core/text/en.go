package text

// english is the catalogue that every other language must match key by key.
var english = map[string]string{
	"side.right": "right",
	"side.left":  "left",
}

func init() { catalogues["en"] = english }
