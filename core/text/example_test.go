package text_test

import (
	"fmt"

	"ferrule/core/report"
	"ferrule/core/text"
	"ferrule/core/units"
)

// One message, for two people.
func ExampleReader_Say() {
	m := report.Say("why.aim", report.Label("up"), report.Side(-4), report.Number(210, units.Length, -1))
	fmt.Println(text.Reader{}.Say(m))
	fmt.Println(text.Reader{Language: "de", System: units.Metric}.Say(m))
	// Output:
	// With up, aim 4 yd left of the middle at 230 yd.
	// Mit up: Ziele 4 m links von der Mitte, auf 210 m.
}
