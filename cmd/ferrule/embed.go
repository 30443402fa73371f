//go:build site

package main

import (
	"embed"
	"io/fs"
)

// built is the site as `make single` puts it here before this program is
// compiled. A plain build has none and serves a folder.
//
//go:embed all:site
var built embed.FS

func init() {
	sub, err := fs.Sub(built, "site")
	if err != nil {
		panic(err) // the name is a constant
	}
	embedded = sub
}
