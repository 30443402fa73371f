package shotfile_test

import (
	"errors"
	"fmt"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/units"
)

// A file in one of the languages of the trade, with its units in the headers. What was
// read of each column is said with the reason.
func ExampleRead() {
	file := "Ballgeschwindigkeit (km/h);Abflugwinkel;Carry (m);Seitenabweichung (m)\n" +
		"241,4;12,4;219,6;2,5 R\n240,2;13,0;218,1;4,3 L\n243,8;11,9;221,0;8,4 R\n"
	table, err := shotfile.Read("range.csv", []byte(file), shotfile.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range table.Columns {
		fmt.Printf("%s: %s [%s], %s\n", c.Header, c.Quantity, c.Unit, c.Evidence)
	}
	for _, s := range table.Shots {
		fmt.Printf("line %d: carry %.1f m, offline %+.1f m\n", s.Line, s.Values[shot.Carry], s.Values[shot.Offline])
	}
	// Output:
	// Ballgeschwindigkeit (km/h): ball_speed [km/h], [the header "Ballgeschwindigkeit (km/h)" km/h from the header]
	// Abflugwinkel: launch [°], [the header "Abflugwinkel" °, as is usual]
	// Carry (m): carry [m], [the header "Carry (m)" m from the header]
	// Seitenabweichung (m): offline [m], [the header "Seitenabweichung (m)" m from the header]
	// line 2: carry 219.6 m, offline +2.5 m
	// line 3: carry 218.1 m, offline -4.3 m
	// line 4: carry 221.0 m, offline +8.4 m
}

// What a file leaves open is a question with choices. An answer is given by its id, and
// the file is read again.
func ExampleRead_question() {
	file := "Spieler;Ball Speed (mph);Launch Angle;Carry (yd)\nA;150,1;12,1;240,3\nB;139,2;12,9;221,9\nA;151,7;11,4;241,2\n"
	options := shotfile.Options{Answers: map[string]string{}}
	table, _ := shotfile.Read("two.csv", []byte(file), options)
	for _, q := range table.Questions {
		fmt.Println(q.ID, "-", q.Text)
		for _, c := range q.Choices {
			fmt.Println(c.Value, "-", c.Text)
		}
	}
	options.Answers["players"] = "A"
	table, _ = shotfile.Read("two.csv", []byte(file), options)
	for _, s := range table.Shots {
		fmt.Println(strings.TrimSpace(fmt.Sprintf("line %d: %.1f mph %s", s.Line, units.UnitMPH.From(s.Values[shot.BallSpeed]), s.Tag)))
	}
	fmt.Println(len(table.Ask), "open")
	// Output:
	// players - the file holds shots of 2 players ("A", "B"); expected one player a session
	// A - A: 2
	// B - B: 1
	// line 2: 150.1 mph
	// line 3: 139.2 mph out
	// line 4: 151.7 mph
	// 0 open
}

// A file that holds no shots is refused with the place, what was read there and what is
// expected.
func ExampleFileError() {
	_, err := shotfile.Read("list.csv", []byte("Milk;2\nBread;1\n"), shotfile.Options{})
	var e *shotfile.FileError
	if errors.As(err, &e) {
		fmt.Printf("%d, %d: %s\n", e.Line, e.Column, e.Message())
	}
	fmt.Println(errors.Is(err, shotfile.ErrNoShots))
	// Output:
	// 1, 1: no shots found: line 1, column 1: read "Milk 2" and no known column in 2 lines, expected a line of headers such as "Ball Speed", "Launch Angle", "Carry" above the shots
	// true
}

func ExampleSetting() {
	s := shotfile.Setting("upright / heel / 4 g")
	fmt.Printf("%q %q\n", s.Sleeve, s.Weights)
	// Output:
	// "upright" ["heel" "4 g"]
}

func ExampleMinutes() {
	for _, clock := range []string{"10:32", "2026-05-01 2:32:05 PM", "yesterday"} {
		fmt.Println(shotfile.Minutes(clock))
	}
	// Output:
	// 632 true
	// 872 true
	// 0 false
}
