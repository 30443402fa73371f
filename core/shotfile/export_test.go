package shotfile

import (
	"reflect"
	"strings"
	"testing"

	"ferrule/core/export"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// The CSV export is a table like any other: what a spreadsheet leaves of it
// opens with the same shots.
func TestExportIsAnyTable(t *testing.T) {
	tab := read(t, "Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Carry (yd),Offline (yd),Sleeve,Weight\n150,12.5,-1.5,2600,240,-12.3,up,heel\n148,13,2,2700,236,8,flat,toe\n")
	s := shot.Session{Shots: tab.Shots, Title: "x"}
	out := string(export.CSV(export.File{Session: s}, units.Imperial))
	if strings.Contains(out, "149.99") || !strings.Contains(out, ",150,") {
		t.Errorf("150 mph is not written as 150:\n%s", out)
	}
	edited := strings.ReplaceAll(out[:strings.LastIndex(out, "\n\"#")], ",", ";") // saved by a spreadsheet, last line deleted
	again, err := Read("edited.csv", []byte(edited), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Shots) != len(tab.Shots) {
		t.Fatalf("%d shots, want %d", len(again.Shots), len(tab.Shots))
	}
	for i := range tab.Shots {
		if !reflect.DeepEqual(again.Shots[i].Values, tab.Shots[i].Values) || !again.Shots[i].Setting.Equal(tab.Shots[i].Setting) {
			t.Errorf("shot %d: %+v, want %+v", i, again.Shots[i], tab.Shots[i])
		}
	}
	own, err := Read("own.csv", []byte(out), Options{})
	if err != nil || len(own.Shots) != 2 || !reflect.DeepEqual(own.Shots[1].Values, tab.Shots[1].Values) {
		t.Errorf("our own export through Read: %v, %+v", err, own.Shots)
	}
}
