// Package cases holds the flights with known answers. SOURCE.md says where
// they come from.
package cases

import _ "embed"

// Flights is cases.csv.
//
//go:embed cases.csv
var Flights []byte
