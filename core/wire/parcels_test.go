package wire_test

import (
	"reflect"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// What is unpacked is what was packed, with a pause between any two parcels.
func TestParcels(t *testing.T) {
	r := charttest.Report()
	for len(r.Settings) < 20 {
		r.Settings = append(r.Settings, r.Settings...)
	}
	r.Settings = r.Settings[:20]
	none := r
	none.Settings, none.Plan, none.Notes = nil, nil, nil
	for name, c := range map[string]struct {
		result wire.Result
		pauses int
	}{
		"report":      {wire.Result{Version: wire.Version, ID: 7, Report: &r}, 5},
		"no settings": {wire.Result{Version: wire.Version, ID: 7, Report: &none}, 1},
		"two reports": {wire.Result{ID: 7, Follow: &report.FollowUp{Before: "a"}, Report: &none}, 1},
		"sheet":       {wire.Result{Version: wire.Version, ID: 7, HTML: "<p>", Flights: []wire.Flight{{Carry: 200}}}, 0},
		"balls":       {wire.Result{Version: wire.Version, ID: 7, Table: &shot.Table{Notes: []report.Message{report.Say("n")}, Shots: make([]shot.Shot, 700)}}, 3},
		"no balls":    {wire.Result{Version: wire.Version, ID: 7, Table: &shot.Table{Notes: []report.Message{report.Say("n")}}}, 0},
		"error":       {wire.Result{Version: wire.Version, ID: 7, Error: &report.Message{Key: "no"}}, 0},
	} {
		m, err := c.result.Pack()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		pauses := 0
		got, err := wire.Unpack(m, func() { pauses++ })
		if err != nil || !reflect.DeepEqual(got, c.result) {
			t.Errorf("%s: unpacked otherwise than packed (%v):\n%+v\n%+v", name, err, got, c.result)
		}
		if pauses != c.pauses {
			t.Errorf("%s: %d pauses, want %d", name, pauses, c.pauses)
		}
		for _, cut := range []int{0, 1, len(m) / 2, len(m) - 1} {
			if _, err := wire.Unpack(m[:cut], func() {}); err == nil {
				t.Errorf("%s: the first %d of %d bytes were taken for the whole", name, cut, len(m))
			}
		}
	}
	for _, m := range []string{"\x90", "\x91\xc4\x01\xc1", "\x82"} {
		if r, err := wire.Unpack([]byte(m), func() {}); err == nil {
			t.Errorf("%q was taken for %+v", m, r)
		}
	}
}
