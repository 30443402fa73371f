package pipeline

import (
	"bytes"
	"reflect"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/wire"
)

// The answer that the site carries is the one of a session that was opened from
// the example, which has a name and a time of its own.
func TestWorkedIsTheFreshAnswer(t *testing.T) {
	for _, name := range Examples {
		t.Run(name, func(t *testing.T) {
			packed, err := Worked(name, 1)
			if err != nil {
				t.Fatal(err)
			}
			if again, err := Worked(name, 1); err != nil || !bytes.Equal(again, packed) {
				t.Errorf("worked out twice, and the files differ (%v): a site would not be built the same", err)
			}
			res, err := wire.Unpack(packed, func() {})
			if err != nil || res.Version != wire.Version || res.Session == nil || res.Report == nil {
				t.Fatalf("%v, %+v", err, res)
			}
			s := *res.Session
			s.ID, s.Created, s.Changed = "another", 1_800_000_000, 1_800_000_000
			fresh, err := Analyse(s, 1, nil)
			if err != nil {
				t.Fatal(err)
			}
			res.Report.Made = fresh.Made // of the session's time, which the page sets
			if raw, _ := (wire.Result{Report: &fresh}).Pack(); !reflect.DeepEqual(unpacked(t, raw), *res.Report) {
				t.Error("the answer worked out anew is another")
			}
			s.Shots[0].Values[shot.Carry] += 1
			if changed, err := Analyse(s, 1, nil); err != nil || changed.Request == fresh.Request {
				t.Errorf("another ball, the same hash (%v)", err)
			}
		})
	}
}

func unpacked(t *testing.T, raw []byte) any {
	t.Helper()
	r, err := wire.Unpack(raw, func() {})
	if err != nil {
		t.Fatal(err)
	}
	return *r.Report
}
