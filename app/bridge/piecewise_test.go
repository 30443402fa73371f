package bridge

import (
	"reflect"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/chart/charttest"
	"ferrule/core/wire"
)

// What comes piece by piece is what comes at once.
func TestPiecewiseIsTheSame(t *testing.T) {
	r := charttest.Report()
	for len(r.Settings) < 20 {
		r.Settings = append(r.Settings, r.Settings...)
	}
	none := r
	none.Settings, none.Plan, none.Notes = nil, nil, nil
	for name, want := range map[string]wire.Result{
		"report":      {Version: wire.Version, ID: 7, Report: &r},
		"no settings": {Version: wire.Version, ID: 7, Report: &none},
		"sheet":       {Version: wire.Version, ID: 7, HTML: "<p>", Flights: []wire.Flight{{Carry: 200}}},
		"error":       {Version: wire.Version, ID: 7, Error: "no"},
	} {
		m, err := msgpack.Marshal(&want)
		if err != nil {
			t.Fatal(err)
		}
		var whole wire.Result
		if err := msgpack.Unmarshal(m, &whole); err != nil {
			t.Fatal(err)
		}
		pauses := 0
		got, err := piecewise(m, func() { pauses++ })
		if err != nil || !reflect.DeepEqual(got, whole) {
			t.Errorf("%s: differs from what is decoded at once (%v)", name, err)
		}
		if want := 4 + (len(r.Settings)+pieces-1)/pieces; name == "report" && pauses != want {
			t.Errorf("%d pauses, want %d", pauses, want)
		}
	}
	if _, err := piecewise([]byte{0x81}, func() {}); err == nil {
		t.Error("half a message was taken")
	}
}
