package export_test

import (
	"fmt"
	"strings"

	"ferrule/core/export"
	"ferrule/core/pipeline"
	"ferrule/core/units"
)

// A session as a table that any program opens, and the same session back from it.
func ExampleCSV() {
	s, err := pipeline.Example("demo")
	if err != nil {
		fmt.Println(err)
		return
	}
	csv := export.CSV(export.File{Session: s}, units.Imperial)
	lines := strings.Split(string(csv), "\n")
	fmt.Println(lines[0][:83])
	fmt.Println(lines[1][:39])
	back, ours, err := export.Read(csv)
	fmt.Println(len(back.Session.Shots), "shots, as they were:", ours, err)
	// Output:
	// Shot ID,Sleeve,Weight,Ball,Session,Clock,Tag,Club Speed (mph),Ball Speed (mph),Smas
	// 2,flat,middle,range,,14:05,,91.5,132.5,
	// 58 shots, as they were: true <nil>
}
