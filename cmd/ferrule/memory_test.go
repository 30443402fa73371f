package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ferrule/core/export"
	"ferrule/core/pipeline"
)

func ferrule(t *testing.T, args ...string) (code int, out, err string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(args, streams{strings.NewReader(""), &o, &e})
	return code, o.String(), e.String()
}

// shop writes n sessions of invented players with the demo's head, all different.
func shop(t *testing.T, dir string, from, n int) {
	t.Helper()
	for i := from; i < from+n; i++ {
		s, err := pipeline.Example("thin")
		if err != nil {
			t.Fatal(err)
		}
		for k := range s.Shots {
			for q, v := range s.Shots[k].Values {
				s.Shots[k].Values[q] = v * (1 + .001*float64((i*7+k*3)%11-5))
			}
		}
		b, err := export.JSON(export.File{Session: s})
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%03d.json", i)), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func TestLearnAddsUpOnce(t *testing.T) {
	a, b, out := t.TempDir(), t.TempDir(), filepath.Join(t.TempDir(), "head.record")
	shop(t, a, 0, 4)
	shop(t, b, 3, 4) // another shop
	os.WriteFile(filepath.Join(a, "copy.json"), mustRead(t, filepath.Join(a, "001.json")), 0o644)
	os.WriteFile(filepath.Join(a, "notes.txt"), []byte("nothing"), 0o644)
	learn := func(args ...string) (d learned) {
		t.Helper()
		code, o, e := ferrule(t, append([]string{"learn", "-json", "-o", out}, args...)...)
		if code != 0 || json.Unmarshal([]byte(o), &d) != nil {
			t.Fatal(code, o, e)
		}
		return d
	}
	if d := learn(a); d.Players != 4 || d.Added != 4 || d.Again != 1 || d.Left != 1 {
		t.Errorf("%+v", d)
	}
	if d := learn(a); d.Players != 4 || d.Added != 0 {
		t.Errorf("the same folder again: %+v", d)
	}
	first := out
	out = filepath.Join(t.TempDir(), "other.record")
	whole := learn(b).Players
	if d := learn(first); d.Merged != 1 || d.Again != 1 || d.Players != 3+whole {
		t.Errorf("merged: %+v", d)
	}
	if d := learn(first); d.Players != 3+whole || d.Again != 4 {
		t.Errorf("merged twice: %+v", d)
	}
	bad := mustRead(t, out)
	bad[40] ^= 1
	os.WriteFile(out, bad, 0o644)
	if code, _, e := ferrule(t, "fit", a+"/000.json", "-record", out); code != exitInput || !strings.Contains(e, "damaged") {
		t.Errorf("a damaged record: %d %s", code, e)
	}
	if d := learn(a); d.Players != 4 {
		t.Errorf("begun anew: %+v", d)
	}
	if kept := mustRead(t, out+".damaged"); !bytes.Equal(kept, bad) {
		t.Error("the damaged record was not kept")
	}
	club := filepath.Join(t.TempDir(), "club.json")
	os.WriteFile(club, bytes.Replace(mustRead(t, "../../testdata/demo/club.json"), []byte(`"loft_deg": 10`), []byte(`"loft_deg": 12`), 1), 0o644)
	if code, _, e := ferrule(t, "fit", "../../testdata/demo/demo.csv", "-club", club, "-record", out); code != exitInput || !strings.Contains(e, "another head") {
		t.Errorf("a record of another head: %d %s", code, e)
	}
}

func mustRead(t *testing.T, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestFitSaysWhatVisitsAndRecordAdd(t *testing.T) {
	dir, rec := t.TempDir(), filepath.Join(t.TempDir(), "head.record")
	shop(t, dir, 0, 3)
	if code, _, e := ferrule(t, "learn", dir, "-o", rec); code != 0 {
		t.Fatal(e)
	}
	demo := "../../testdata/demo/"
	code, out, e := ferrule(t, "fit", demo+"demo-thin.csv", "-club", demo+"club.json", "-aim", demo+"aim.json", "-visits", demo+"demo.csv", dir+"/002.json", "-record", rec, "-json")
	var r jsonReport
	if code != 0 || json.Unmarshal([]byte(out), &r) != nil {
		t.Fatal(code, e)
	}
	// the second visit is in the record too, and counts once
	if len(r.Earlier) != 2 || !r.Earlier[0].Used || r.Earlier[0].Adds < 5 || r.Record == nil || r.Record.Players != 2 || r.Record.Before <= 0 {
		t.Errorf("%+v %+v", r.Earlier, r.Record)
	}
	if _, out, _ = ferrule(t, "fit", demo+"demo-thin.csv", "-club", demo+"club.json", "-visits", demo+"demo.csv"); !strings.Contains(out, "worth") {
		t.Error("the text does not say what the visit adds")
	}
}
