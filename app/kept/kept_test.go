package kept

import (
	"reflect"
	"testing"
)

type column struct {
	Header  string
	Flipped bool
}

type all struct {
	System string   `json:"system"`
	Fields []string `json:"fields"`
	Auto   bool     `json:"auto"`
	Drafts map[string]map[string]column
	Shapes []shape `json:"shapes"`
	X      float64
	At     int64
}

type shape struct {
	Shape   string   `json:"shape"`
	Columns []column `json:"columns"`
}

// These run on this machine and, compiled for a browser, under node.

func TestWhatWasWrittenIsReadBack(t *testing.T) {
	for _, want := range []all{
		{},
		{System: "metric", Fields: []string{"carry", "ü \"<\u2028"}, Auto: true, X: -1.25e-9, At: 1_790_000_000,
			Drafts: map[string]map[string]column{"id": {"field": {"12,5", true}}, "other": {}},
			Shapes: []shape{{"a|b", []column{{"Ball (mph)", false}, {"", true}}}, {Shape: "none"}}},
	} {
		text, err := Write(want)
		if err != nil {
			t.Fatal(err)
		}
		var got all
		if err := Read(text, &got); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%v\n%+v\nwant\n%+v", err, got, want)
		}
	}
}

func TestOldTextsAndDamagedOnes(t *testing.T) {
	v := all{Auto: true, System: "as it was"}
	if err := Read(`{"fields":null,"gone since":[1,{"a":null}],"system":"imperial"}`, &v); err != nil || !v.Auto || v.System != "imperial" {
		t.Errorf("%v, %+v: a field that is not named stays, one that is gone is passed over", err, v)
	}
	for _, text := range []string{"", "{", `{"system":1}`, `{"fields":"carry"}`, `"x"`, "undefined"} {
		if err := Read(text, &all{}); err == nil {
			t.Errorf("%q is read without an error", text)
		}
	}
	var none map[string]string
	if err := Read("null", &none); err != nil || none != nil {
		t.Errorf("null: %v, %v", err, none)
	}
}
