package sheet_test

import (
	"fmt"
	"strings"

	"ferrule/core/pipeline"
	"ferrule/core/report"
	"ferrule/core/sheet"
	"ferrule/core/text"
)

// How the sheet of a session begins that was not analysed yet: nothing is made up.
func ExamplePlain() {
	s, err := pipeline.Example("thin")
	if err != nil {
		fmt.Println(err)
		return
	}
	plain := sheet.Plain(s, report.Report{}, text.Reader{}, sheet.Options{})
	for _, line := range strings.Split(plain, "\n")[:3] {
		fmt.Println(strings.TrimSpace(line))
	}
	// Output:
	// Fitting sheet – Example driver
	//
	// No setting was worked out yet.
}
