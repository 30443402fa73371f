// Package cases holds the flights with known answers. SOURCE.md says where
// they come from.
package cases

import _ "embed"

// Flights is cases.csv.
//
//go:embed cases.csv
var Flights []byte

// Points is points.csv, published coefficients of balls.
//
//go:embed points.csv
var Points []byte
