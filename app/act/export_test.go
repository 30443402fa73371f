package act

import (
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/units"
)

func TestCSVHasUnitsSidesAndNoFormulas(t *testing.T) {
	s := shot.Session{Ball: "range", Shots: []shot.Shot{
		{Setting: club.Setting{Sleeve: "up", Weights: []string{"heel"}}, Values: shot.Values{shot.Carry: 200 * units.Yard, shot.Offline: -5 * units.Yard, shot.Launch: 12.5 * units.Degree}, Note: "=1+1"},
		{Values: shot.Values{shot.Carry: 210 * units.Yard, shot.Spin: 2800 * units.RPM}, Tag: shot.TagToe},
	}}
	got := string(CSV(s, units.Imperial))
	want := "shot,sleeve,weight,ball,time,launch (deg),spin (rpm),carry (yd),offline (yd),tag,note\n" +
		"1,up,heel,range,,12.50,,200.00,-5.00,,'=1+1\n" +
		"2,,,range,,,2800,210.00,,toe,\n"
	if got != want {
		t.Errorf("CSV:\n%s\nwant:\n%s", got, want)
	}
	if m := string(CSV(s, units.Metric)); !strings.Contains(m, "carry (m)") || !strings.Contains(m, "182.88") {
		t.Errorf("metric CSV:\n%s", m)
	}
}
