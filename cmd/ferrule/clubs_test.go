package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ferrule/testdata/demo"
)

// clubFiles writes the demonstration's club with its balls, a new head that
// cannot be set, and a file of both.
func clubFiles(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	mine := strings.Replace(string(demo.File("club.json")), "Example driver", "mine", 1)
	put("mine.json", mine)
	put("new head.json", `{"loft_deg": 9.5}`)
	put("both.json", `{"clubs": [`+mine+`, {"name": "New head", "loft_deg": 9.5}], "own": "mine"}`)
	var out strings.Builder
	rows := strings.Split(strings.TrimSpace(string(demo.File("demo.csv"))), "\n")
	out.WriteString("Club," + rows[0] + "\n")
	for _, r := range rows[1:] {
		out.WriteString("MINE," + r + "\n")
	}
	for _, r := range rows[1:14] {
		c := strings.Split(r, ",")
		c[2], c[3], c[6], c[16] = "", "", c[6]+"4", c[16]+"7" // other balls: the very same numbers are no evidence
		out.WriteString("new-head," + strings.Join(c, ",") + "\n")
	}
	put("balls.csv", out.String())
	put("unknown.csv", strings.ReplaceAll(out.String(), "new-head", "demo head"))
	return dir
}

func TestFitTakesSeveralClubs(t *testing.T) {
	dir := clubFiles(t)
	in := func(name string) string { return filepath.Join(dir, name) }
	type result struct {
		Clubs []struct {
			Club    string  `json:"club"`
			Balls   int     `json:"balls"`
			PBetter float64 `json:"p_better"`
		} `json:"clubs"`
		Settings []struct {
			Club  string `json:"club"`
			Balls int    `json:"balls"`
		} `json:"settings"`
	}
	var first result
	for i, clubs := range [][]string{{"mine.json", "new head.json"}, {"both.json"}} {
		t.Run(strings.Join(clubs, " and "), func(t *testing.T) {
			args := []string{in("balls.csv"), "-json"}
			for _, c := range clubs {
				args = append(args, "-club", in(c))
			}
			code, out, errs := ferrule(t, append([]string{"fit"}, args...)...)
			if code != exitDone {
				t.Fatalf("exit %d: %s", code, errs)
			}
			var got result
			if err := json.Unmarshal([]byte(out), &got); err != nil {
				t.Fatal(err)
			}
			if len(got.Clubs) != 2 || !strings.EqualFold(got.Clubs[1].Club, "new head") || got.Clubs[0].Club != "mine" || got.Clubs[1].Balls < 5 || len(got.Settings) < 3 || got.Settings[0].Club != "mine" {
				t.Errorf("clubs %+v", got.Clubs)
			}
			if i == 0 {
				first = got
			} else if got.Clubs[1].PBetter != first.Clubs[1].PBetter {
				t.Errorf("a list says %.2f, two files %.2f", got.Clubs[1].PBetter, first.Clubs[1].PBetter)
			}
		})
	}
	code, out, _ := ferrule(t, "fit", in("balls.csv"), "-club", in("both.json"))
	if code != exitDone || !strings.Contains(out, "mine: ") || !strings.Contains(out, "New head ") || !strings.Contains(out, "club, set as it is best") {
		t.Errorf("exit %d:\n%s", code, out)
	}
}

func TestFitAsksWhoseABallIs(t *testing.T) {
	dir := clubFiles(t)
	in := func(name string) string { return filepath.Join(dir, name) }
	code, _, errs := ferrule(t, "fit", in("unknown.csv"), "-club", in("both.json"))
	if code != exitInput || !strings.Contains(errs, `"demo head", which is none of the session's clubs`) || !strings.Contains(errs, `-answer "club demo head=New head"`) {
		t.Errorf("exit %d: %s", code, errs)
	}
	if code, _, errs = ferrule(t, "fit", in("unknown.csv"), "-club", in("both.json"), "-answer", "club demo head=New head"); code != exitDone {
		t.Errorf("exit %d: %s", code, errs)
	}
	code, _, errs = ferrule(t, "fit", in("balls.csv"), "-club", in("mine.json"), "-club", in("both.json"))
	if code != exitInput || !strings.Contains(errs, `read "mine" twice`) {
		t.Errorf("two clubs of one name: exit %d: %s", code, errs)
	}
}
