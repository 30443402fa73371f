package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Invented balls, written by a formula: what is asked here is how files are
// opened, not what they say of a player.
func fewBalls(from, n int, club string) string {
	var b strings.Builder
	b.WriteString("Shot,Time,Club,Ball Speed (mph),Launch Angle (deg),Spin Rate (rpm),Carry (yd),Offline (yd)\n")
	for i := from; i < from+n; i++ {
		fmt.Fprintf(&b, "%d,10:%02d,%s,%.1f,%.1f,%d,%.1f,%.1f\n", i, i, club, 140+float64(i%7)*.7, 12+float64(i%5)*.4, 2500+37*(i%11), 228+float64(i%9)*1.3, float64(i%13)-6)
	}
	return b.String()
}

func callRead(t *testing.T, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(append([]string{"read"}, args...), streams{strings.NewReader(""), &o, &e})
	return code, o.String(), e.String()
}

func write(t *testing.T, dir, name, text string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// A script can't go on by accident: an open question is a status of its own,
// and the answer that it needs is printed.
func TestReadEndsOnAnOpenQuestion(t *testing.T) {
	dir := t.TempDir()
	irons := write(t, dir, "irons.csv", fewBalls(1, 12, "Fer 7"))
	code, _, errs := callRead(t, irons)
	if code != exitOpen || !strings.Contains(errs, `-answer "clubs=Fer 7"`) {
		t.Fatalf("exit %d: %s", code, errs)
	}
	code, out, errs := callRead(t, irons, "-answer", "clubs=Fer 7", "-json")
	var j readJSON
	if err := json.Unmarshal([]byte(out), &j); err != nil || code != exitDone {
		t.Fatalf("exit %d, %v: %s", code, err, errs)
	}
	if len(j.Clubs) != 1 || !j.Clubs[0].Kept || len(j.Questions) != 1 || j.Questions[0].Open || len(j.Shots) != 12 || len(j.Columns[3].Written) != 3 {
		t.Errorf("%+v", j)
	}
	if code, _, errs = callRead(t, irons, "-answer", "clubs=Nothing"); code != exitOpen {
		t.Errorf("an answer that is no choice: exit %d: %s", code, errs)
	}
	if code, _, errs = callRead(t, write(t, dir, "d.csv", fewBalls(1, 12, "Driver"))); code != exitDone || errs != "" {
		t.Errorf("exit %d: %s", code, errs)
	}
	var o, e bytes.Buffer
	if code = run([]string{"fit", irons}, streams{strings.NewReader(""), &o, &e}); code != exitInput || !strings.Contains(e.String(), "clubs=Fer 7") {
		t.Errorf("fit: exit %d: %s", code, e.String())
	}
}

// A contradiction of the file is repaired, said and taken back by its answer;
// it stops no script. A speed of 1.60934 km/h is one mph (an identity).
func TestReadSaysContradictions(t *testing.T) {
	text := "Club,Club Speed (mph),Ball Speed (mph),Smash Factor,Carry (yd)\n"
	for i := range 16 {
		club := 99 + float64(i%5)
		shown := club
		if i >= 4 && i < 11 {
			shown *= 1.60934
		}
		text += fmt.Sprintf("Driver,%.1f,%.1f,1.45,%.1f\n", shown, 1.45*club, 238+2*float64(i%5))
	}
	path := write(t, t.TempDir(), "mixed.csv", text)
	code, out, errs := callRead(t, path)
	if code != exitDone || !strings.Contains(out, `contradiction, read as the numbers say: lines 6-12`) {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	_, id, _ := strings.Cut(out, "-answer \"")
	id, _, _ = strings.Cut(id, "=")
	code, out, errs = callRead(t, path, "-answer", id+"=as read", "-json")
	var j readJSON
	if err := json.Unmarshal([]byte(out), &j); err != nil || code != exitDone || j.Questions[0].Answer != "as read" || !j.Questions[0].Taken {
		t.Fatalf("exit %d, %v, %+v: %s", code, err, j.Questions, errs)
	}
	if v := j.Shots[4]["club_speed_mps"].(float64); v < 70 {
		t.Errorf("club speed left as written is %.1f m/s, want 71.2", v)
	}
}

func TestSetRanges(t *testing.T) {
	dir := t.TempDir()
	a := write(t, dir, "a.csv", fewBalls(1, 12, "Driver"))
	code, out, errs := callRead(t, a, "-set", "2-7=up / heel", "-set", "10:07-10:20=flat", "-json")
	var j readJSON
	if err := json.Unmarshal([]byte(out), &j); err != nil || code != exitDone {
		t.Fatalf("exit %d, %v: %s", code, err, errs)
	}
	for i, s := range j.Shots {
		want := "up / heel"
		if i >= 6 {
			want = "flat"
		}
		if s["setting"] != want {
			t.Errorf("ball %d: %v, want %s", i+1, s["setting"], want)
		}
	}
	if code, _, errs = callRead(t, a, "-set", "100-110=up"); code != exitInput || !strings.Contains(errs, "no ball") {
		t.Errorf("a range of no ball: exit %d: %s", code, errs)
	}
	for _, bad := range []string{"up", "=up", "2-=up", "9-2=up", "10:99=up", "2-10:30=up"} {
		if _, err := parseRange(bad); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
	if r, err := parseRange("b-1.csv:14-15=flat"); err != nil || r.file != "b-1.csv" || r.from != 14 || r.to != 15 {
		t.Errorf("%+v %v", r, err)
	}
}

// Five files of a day and the cumulative one hold each ball once.
func TestSeveralFiles(t *testing.T) {
	dir := t.TempDir()
	var paths []string
	all := ""
	for k := range 5 {
		text := fewBalls(1+8*k, 8, "Driver")
		paths = append(paths, write(t, dir, fmt.Sprintf("%d.csv", k), text))
		if k > 0 {
			_, text, _ = strings.Cut(text, "\n")
		}
		all += text
	}
	_, more, _ := strings.Cut(fewBalls(41, 3, "Driver"), "\n")
	paths = append(paths, write(t, dir, "all.csv", all+more))
	var f fitFlags
	f.answers = map[string]string{}
	var errs bytes.Buffer
	s, err := loadSession(paths, f, streams{nil, &errs, &errs})
	if err != nil || len(s.Shots) != 43 || !strings.Contains(errs.String(), "40 balls of an earlier file too") {
		t.Errorf("%d balls, %v: %s", len(s.Shots), err, errs.String())
	}
	ids := map[string]bool{}
	for _, h := range s.Shots {
		if ids[h.ID] {
			t.Errorf("the id %q stands twice", h.ID)
		}
		ids[h.ID] = true
	}
}
