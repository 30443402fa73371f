//go:build !(js && wasm)

package page

import _ "embed"

//go:embed proof.tsv
var proofFile string

// proofTables are what the tests print, as cmd/proof writes them.
func proofTables() (tables string, ok bool) { return proofFile, true }
