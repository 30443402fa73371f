package export

import (
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Each ball stands in still air beside what was measured; one that was hit in it
// stays, one whose flight was computed has none.
func TestStillAirStandsBesideTheMeasured(t *testing.T) {
	s := shot.Session{Shots: []shot.Shot{
		{ID: "1", Setting: club.Setting{Sleeve: "up"}, Values: shot.Values{shot.Carry: 200, shot.Offline: 20, shot.Apex: 30, shot.Descent: .7}},
		{ID: "2", Values: shot.Values{shot.Carry: 210}},
	}}
	r := report.Report{Shots: []report.ShotRow{{ID: "1", Level: &report.Level{Carry: 215, Offline: 5, Apex: 28, Descent: .6}}, {ID: "2"}}}
	got := strings.Split(string(StillCSV(s, r, units.MetricMPS)), "\n")
	if !strings.Contains(got[0], "Carry (m)") || !strings.Contains(got[0], "Still Air Carry (m),Still Air Offline (m),Still Air Apex (m)") {
		t.Errorf("header %s", got[0])
	}
	if got[1] != "1,up,200.00,20.00,30.00,5.74,40.11,215.00,5.00,28.00,1.33,34.38" || got[2] != "2,,210.00,,,,,210.00,,,," {
		t.Errorf("rows\n%s\n%s", got[1], got[2])
	}
	s.Conditions.Indoors = true
	if got := strings.Split(string(StillCSV(s, r, units.MetricMPS)), "\n"); got[2] != "2,,210.00,,,,,,,,," {
		t.Errorf("indoors: %s", got[2])
	}
}
