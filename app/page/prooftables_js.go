//go:build js && wasm

package page

import "ferrule/app/fetch"

// proofTables are what the tests print, as cmd/proof writes them and the site
// has them: few ask for them, so that the program need not carry them.
func proofTables() (tables string, ok bool) {
	v, ok := fetch.Get("/proof.tsv", "text")
	if !ok {
		return "", false
	}
	return v.String(), true
}
