package shotfile

import (
	"fmt"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// An export that holds the ones before is worth what its last one is worth: the balls of
// all, each once (an identity). What is judged of a ball must not depend on how often it
// stands in the file.
func TestBallsThatStandAgain(t *testing.T) {
	head := strings.Split("Ball Speed,Launch Angle,Launch Direction,Carry,Offline,Shot", ",")
	line := func(cells string) []string { return strings.Split(cells, ",") }
	imperial := [][]string{line("150.1 mph,12.1,1.2,240.3 yd,4.1 yd,1"), line("149.2 mph,12.9,-0.8,238.9 yd,-3.4 yd,2"), line("151.7 mph,11.4,0.3,241.2 yd,0.9 yd,3"), line("148.8 mph,13.3,-1.9,237.6 yd,-7.8 yd,4")}
	metric := [][]string{line("241.4 km/h,12.4,0.7,219.6 m,2.5 m,5"), line("240.2 km/h,13.0,-1.1,218.1 m,-4.3 m,6"), line("243.8 km/h,11.9,2.2,221.0 m,8.4 m,7")}
	text := func(rows ...[]string) (out string) {
		for _, r := range rows {
			out += csvLine(r, ",")
		}
		return out
	}
	grown := append([][]string{head}, imperial...)
	first := grown
	grown = append(append(append(append([][]string{}, grown...), head), imperial...), metric...)
	for what, file := range map[string]struct {
		name string
		data []byte
		want int
	}{
		"once":                           {"a.csv", []byte(text(append(append([][]string{head}, imperial...), metric...)...)), 7},
		"one below the other":            {"a.csv", []byte(text(grown...)), 7},
		"each export a sheet":            {"a.xlsx", bedBook(sheetOf{name: "May", rows: first}, sheetOf{name: "June", rows: grown[len(first):]}), 7},
		"one line that is written twice": {"a.csv", []byte(text(head, imperial[0], imperial[1], imperial[1], imperial[2])), 4},
	} {
		t.Run(what, func(t *testing.T) {
			tab, err := Read(file.name, file.data, Options{})
			if err != nil || len(tab.Shots) != file.want {
				t.Errorf("%d balls, want %d; %v", len(tab.Shots), file.want, err)
				return
			}
			said := strings.Contains(english(tab.Notes), "4 balls stand in the file more than once")
			if again := what == "one below the other" || what == "each export a sheet"; said != again {
				t.Errorf("notes %q", tab.Notes)
			}
			if file.want == 7 {
				value(t, tab, 0, shot.BallSpeed, units.UnitMPH, 150.1)
				value(t, tab, 6, shot.BallSpeed, units.UnitKMH, 243.8)
				value(t, tab, 6, shot.Carry, units.UnitM, 221)
			}
		})
	}
}

// What only the second place of a ball says of it is not lost with it.
func TestABallsSecondPlaceNamesItsSetting(t *testing.T) {
	var all, some [][]string
	for i := range 8 {
		numbers := []string{fmt.Sprintf("%.1f", 149+.7*float64(i)), fmt.Sprintf("%.1f", 12+.3*float64(i%3)), fmt.Sprintf("%d", 2500+37*i), fmt.Sprintf("%.1f", 238+1.1*float64(i))}
		all, some = append(all, numbers), append(some, append([]string{[]string{"upright", "flat"}[i/4]}, numbers...))
	}
	head := []string{"Ball Speed (mph)", "Launch Angle (deg)", "Spin Rate (rpm)", "Carry (yd)"}
	tab, err := Read("a.xlsx", bedBook(sheetOf{name: "All", rows: append([][]string{head}, all...)},
		sheetOf{name: "Driver", rows: append([][]string{append([]string{"Setting"}, head...)}, some...)}), Options{})
	if err != nil || len(tab.Shots) != 8 {
		t.Fatalf("%d balls, want 8; %v", len(tab.Shots), err)
	}
	if a, b := tab.Shots[0].Setting.Sleeve, tab.Shots[7].Setting.Sleeve; a != "upright" || b != "flat" {
		t.Errorf("settings %q and %q, want upright and flat", a, b)
	}
	if len(tab.Clubs) != 1 || tab.Clubs[0].Name != "Driver" {
		t.Errorf("clubs %v, want the second sheet's", tab.Clubs)
	}
}
