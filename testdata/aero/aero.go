// Package aero holds published lift and drag of golf balls. SOURCE.md says where
// each was read.
package aero

import _ "embed"

// Points is points.csv.
//
//go:embed points.csv
var Points []byte
