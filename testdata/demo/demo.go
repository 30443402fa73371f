// Package demo holds the invented demonstration sessions, so that the program
// carries its own examples. SOURCE.md says how they were made.
package demo

import "embed"

//go:embed *.csv *.json
var files embed.FS

// File returns a file of the demonstration: "demo.csv", "demo-left.csv",
// "demo-thin.csv", "demo-traps.csv", "demo-comma.csv", "club.json", "aim.json"
// or "aim-left.json". Another name is a caller's bug.
func File(name string) []byte {
	data, err := files.ReadFile(name)
	if err != nil {
		panic("demo: no file " + name)
	}
	return data
}
