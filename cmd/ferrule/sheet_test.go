package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const demoFolder = "../../testdata/demo/"

func sheetCommand(args ...string) (status int, out, errs string) {
	var o, e bytes.Buffer
	status = runSheet(args, streams{in: strings.NewReader(""), out: &o, err: &e})
	return status, o.String(), e.String()
}

func TestSheetOfTheDemonstration(t *testing.T) {
	file := filepath.Join(t.TempDir(), "sheet.html")
	status, _, errs := sheetCommand(demoFolder+"demo.csv", "-club", demoFolder+"club.json", "-aim", demoFolder+"aim.json", "-date", "12 May", "-o", file)
	if status != exitDone {
		t.Fatalf("status %d: %s", status, errs)
	}
	page, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, must := range []string{"<!doctype html>", "12 May", "not measured", "4.1a(3)", "<svg", "What was not tried", "35 of 40 settings"} {
		if !strings.Contains(string(page), must) {
			t.Errorf("the sheet does not hold %q", must)
		}
	}
	for _, bad := range []string{"<script", "NaN", "[paper.", "[answer.", "[decide.", "Demo player"} {
		if strings.Contains(string(page), bad) {
			t.Errorf("the sheet holds %q", bad)
		}
	}
	status, text, _ := sheetCommand("-text", "-units", "metric", "-names", "-o", "-", "-club", demoFolder+"club.json", "-aim", demoFolder+"aim.json", demoFolder+"demo.csv")
	if status != exitDone || !strings.Contains(text, "Demo player A") || !strings.Contains(text, "\u00a0m ") || strings.Contains(text, "<") {
		t.Errorf("as text, in metres, with the name: status %d\n%.600s", status, text)
	}
}

func TestSheetSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{nil, exitUsage, "usage"},
		{[]string{demoFolder + "demo.csv"}, exitUsage, "-o"},
		{[]string{demoFolder + "none.csv", "-o", "-"}, exitInput, "none.csv"},
		{[]string{demoFolder + "club.json", "-o", "-"}, exitInput, "club.json"},
		{[]string{demoFolder + "demo.csv", "-club", demoFolder + "club.json", "-o", demoFolder + "no/such/folder.html"}, exitInput, "folder.html"},
	} {
		status, _, errs := sheetCommand(c.args...)
		if status != c.status || !strings.Contains(errs, c.says) {
			t.Errorf("ferrule sheet %v: status %d, %q; want %d and %q", c.args, status, errs, c.status, c.says)
		}
	}
}
