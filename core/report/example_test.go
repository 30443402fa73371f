package report_test

import (
	"fmt"

	"ferrule/core/report"
	"ferrule/core/units"
)

// A sentence in no language yet: a key and what fills its places, in SI. Package text
// makes words of it.
func ExampleSay() {
	m := report.Say("why.aim", report.Label("up"), report.Side(-4), report.Number(210, units.Length, -1))
	for _, a := range m.Args {
		fmt.Println(a.Text, a.Value)
	}
	// Output:
	// up 0
	//  -4
	//  210
}
