package shotfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// airFile is a file of eight balls with columns of the air behind those of the
// ball; cells holds one row of them, or one a ball.
func airFile(heads string, cells ...string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "Ball Speed (mph),Launch Angle (deg),Backspin (rpm),Carry (yd),%s\n", heads)
	for i := range 8 {
		fmt.Fprintf(&b, "%d,12.%d,%d,%d,%s\n", 150+i%3, i, 2500+40*i, 251+3*(i%3), cells[i%len(cells)])
	}
	return []byte(b.String())
}

// The air of a file is read from its own columns, in whatever unit it is written,
// and asked about where neither header nor size tell the unit or the side. 50 °F
// is 10 °C, 29.92 inHg is 1013.2 hPa, 760 mmHg is 1013.25 hPa, 10 kn is 5.144 m/s:
// the units' definitions.
func TestAirColumns(t *testing.T) {
	for _, c := range []struct {
		name         string
		heads, cells string
		answers      map[string]string
		want         string // temperature [°C], pressure [hPa], humidity [%], altitude [m], head, cross [m/s]; - = not said
		ask          int
	}{
		{"Fahrenheit in the header", "Temperature (°F)", "50", nil, "10 - - - -", 0},
		{"Fahrenheit in the cell", "Temp", "72.5 °F", nil, "22.5 - - - -", 0},
		{"Celsius with a decimal comma", "Temp_C", "\"22,5\"", nil, "22.5 - - - -", 0},
		{"German, Celsius by its size", "Lufttemperatur", "24", nil, "24 - - - -", 0},
		{"of either unit", "Temperature", "40", nil, "", 1},
		{"answered Fahrenheit", "Temperature", "40", map[string]string{"air Temperature": "°F"}, "4.4 - - - -", 0},
		{"inches of mercury and percent", "Barometric Pressure (inHg),Humidity", "29.92,55", nil, "- 1013.2 55 - -", 0},
		{"hectopascals and a share", "Air Pressure,Relative Humidity", "1003.5,0.4", nil, "- 1003.5 40 - -", 0},
		{"millimetres or hectopascals", "Pressure", "760", nil, "", 1},
		{"answered millimetres", "Pressure", "760", map[string]string{"air Pressure": "mmHg"}, "- 1013.3 - - -", 0},
		{"an altitude beside the pressure at the sea", "Altitude (ft),Pressure (hPa)", "5000,1016", nil, "- - - 1524 -", 0}, // reduced to the sea: the altitude is the place's
		{"an elevation of either unit", "Elevation", "1600", nil, "", 1},
		{"answered metres", "Elevation", "1600", map[string]string{"air Elevation": "m"}, "- - - 1600 -", 0},
		{"a low altitude", "Altitude", "12", nil, "- - - 12 -", 0},
		{"a wind from the left in words", "Wind Speed (mph),Wind Direction", "10,Left to right", nil, "- - - - +0.0 +4.5", 0},
		{"a wind without a direction", "Wind", "10 kn", nil, "", 0},
		{"a head wind in words", "Wind Speed (m/s),Wind Dir", "4,Headwind", nil, "- - - - +4.0 +0.0", 0},
		{"right, from or to", "Wind Speed (m/s),Wind Direction", "4,R", nil, "", 1},
		{"answered from", "Wind Speed (m/s),Wind Direction", "4,R", map[string]string{"air Wind Direction": "from"}, "- - - - +0.0 -4.0", 0},
		{"answered to", "Wind Speed (m/s),Wind Direction", "4,R", map[string]string{"air Wind Direction": "to"}, "- - - - +0.0 +4.0", 0},
		{"degrees of the line or of the compass", "Wind Speed (m/s),Wind Direction (deg)", "4,270", nil, "", 1},
		{"answered degrees of the line", "Wind Speed (m/s),Wind Direction (deg)", "4,270", map[string]string{"air Wind Direction (deg)": "line"}, "- - - - +0.0 +4.0", 0},
		{"answered degrees of the compass", "Wind Speed (m/s),Wind Direction (deg)", "4,270", map[string]string{"air Wind Direction (deg)": "compass"}, "", 0},
		{"a point of the compass", "Wind Speed (m/s),Wind Direction", "4,NW", nil, "", 0},
		{"no wind", "Wind Speed,Wind Direction", "0,NW", nil, "- - - - still", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			tab, err := Read("a.csv", airFile(c.heads, c.cells), Options{Answers: c.answers})
			if err != nil {
				t.Fatalf("%s: %v", c.heads, err)
			}
			got := ""
			if len(tab.Airs) > 0 {
				got = airText(tab.Airs[0])
			}
			if got != c.want || len(tab.Ask) != c.ask || len(tab.Airs) > 1 || len(tab.Shots) != 8 {
				t.Errorf("%s: %s: read %q, want %q; %d airs, asked %q", c.heads, c.cells, got, c.want, len(tab.Airs), tab.Ask)
			}
			for _, x := range tab.Shots {
				if x.Air != len(tab.Airs) {
					t.Errorf("%s: air %d of %d", c.heads, x.Air, len(tab.Airs))
				}
			}
		})
	}
}

func airText(a shot.Air) string {
	num := func(p *float64, u units.Unit, format string) string {
		if p == nil {
			return "-"
		}
		return strings.TrimSuffix(fmt.Sprintf(format, u.From(*p)), ".0")
	}
	wind := "-"
	if h, c := a.Parts(); a.Wind > 0 {
		wind = strings.ReplaceAll(fmt.Sprintf("%+.1f %+.1f", h, c), "-0.0", "+0.0")
	} else if a.Temperature == nil && a.Pressure == nil && a.Humidity == nil && a.Altitude == nil {
		wind = "still"
	}
	return strings.Join([]string{num(a.Temperature, units.UnitC, "%.1f"), num(a.Pressure, units.UnitHPa, "%.1f"), num(a.Humidity, units.Unit{Scale: .01}, "%.0f"), num(a.Altitude, units.UnitM, "%.0f"), wind}, " ")
}

// Balls whose air hardly differs share one; a wind that turns begins another, and
// one that no golfer stands in is an error of its cell.
func TestAirsOfAFile(t *testing.T) {
	tab, err := Read("a.csv", airFile("Temp (°C),Wind (mph),Wind Dir", "20.1,10,L-R", "20.4,11,L-R", "20.2,10,R-L", "20.3,10,R-L"), Options{})
	if err != nil || len(tab.Airs) != 2 {
		t.Fatalf("%v: %d airs", err, len(tab.Airs))
	}
	for i, x := range tab.Shots {
		if want := 1 + i%4/2; x.Air != want {
			t.Errorf("ball %d: air %d, want %d", i+1, x.Air, want)
		}
	}
	s := shot.Session{}
	s.TakeAirs(tab.Airs)
	if _, cross := s.AirNumber(1).Parts(); math.Abs(cross-10*units.MPH) > .01 {
		t.Errorf("cross wind %g m/s", cross)
	}
	tab, err = Read("a.csv", airFile("Temp (°C),Altitude (m)", "20,9000"), Options{})
	if err != nil || len(tab.Errors) != 8 || tab.Errors[0].Column != "Altitude (m)" || tab.Airs[0].Altitude != nil {
		t.Errorf("an altitude of 9,000 m: %v, %d errors, %+v", err, len(tab.Errors), tab.Airs)
	}
}
