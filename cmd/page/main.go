//go:build js && wasm

// Command page is the program of the screens: it registers the routes and
// hands over to go-app. It links no numerics; see package bridge for the
// program that analyses.
package main

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/page"
)

func main() {
	page.Routes()
	app.RunWhenOnBrowser()
}
