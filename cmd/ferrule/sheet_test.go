package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ferrule/core/share"
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
	for _, must := range []string{"<!doctype html>", "12 May", "4.1a(3)", "<svg", "What was not tried", "35 of 40 settings"} {
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

// The printed link opens as the same session and answer, without the name; its
// code is there because it is short enough for one.
func TestSheetWithALink(t *testing.T) {
	args := []string{demoFolder + "demo.csv", "-club", demoFolder + "club.json", "-aim", demoFolder + "aim.json", "-link", "https://example.invalid/", "-o", "-"}
	status, page, errs := sheetCommand(args...)
	link := regexp.MustCompile(`href="https://example\.invalid/shared#([^"]+)"`).FindStringSubmatch(page)
	if status != exitDone || link == nil {
		t.Fatalf("status %d, no link: %s", status, errs)
	}
	l, err := share.Decode(link[1])
	if err != nil || len(l.Session.Shots) != 58 || l.Given == nil || l.Session.Player.Name != "" {
		t.Errorf("the link opens as %d balls, name %q, %v", len(l.Session.Shots), l.Session.Player.Name, err)
	}
	coded := strings.Contains(page, "shape-rendering=\"crispEdges\"")
	if said := strings.Contains(errs, "too many for a code"); coded == said {
		t.Errorf("a link of %d characters: code %v, said that there is none %v", len(link[0]), coded, said)
	}
	if status, text, _ := sheetCommand(append(args, "-text")...); status != exitDone || !strings.Contains(text, "#"+link[1]) {
		t.Errorf("the text lacks the link (status %d)", status)
	}
	for _, bad := range []string{"example.org", "ftp://x", "https://example.org/folder", "%"} {
		args[len(args)-3] = bad
		if status, _, errs := sheetCommand(args...); status != exitInput || !strings.Contains(errs, "-link") {
			t.Errorf("-link %s: status %d, %q", bad, status, errs)
		}
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

// The same sheet in each language: its own title, its own decimal mark, no
// English sentence and no place left over.
func TestSheetInEveryLanguage(t *testing.T) {
	english := regexp.MustCompile(`\b(the|with|and|were|hit|balls)\b`)
	for lang, must := range map[string][]string{
		"es": {"Hoja de fitting", ",", "Regla 4.1a(3)", "Qué esperar"},
		"de": {"Fitting-Blatt", ",", "Regel 4.1a(3)", "Was zu erwarten ist"},
		"ja": {"フィッティングシート", ".", "規則4.1a(3)", "キャリー"},
		"ko": {"피팅 시트", ".", "규칙 4.1a(3)", "캐리"},
	} {
		t.Run(lang, func(t *testing.T) {
			status, page, errs := sheetCommand(demoFolder+"demo.csv", "-lang", lang, "-units", "metric", "-text", "-club", demoFolder+"club.json", "-aim", demoFolder+"aim.json", "-o", "-")
			if status != exitDone {
				t.Fatalf("status %d: %s", status, errs)
			}
			for _, w := range append(must[2:], must[0]) {
				if !strings.Contains(page, w) {
					t.Errorf("the sheet does not hold %q", w)
				}
			}
			if !regexp.MustCompile(`\d` + regexp.QuoteMeta(must[1]) + `\d°`).MatchString(page) {
				t.Errorf("no angle is written with %q", must[1])
			}
			for _, line := range strings.Split(page, "\n") {
				if bad := english.FindString(line); bad != "" {
					t.Errorf("%q is English in: %s", bad, line)
				}
			}
			if left := regexp.MustCompile(`\{\d|\[[a-z]+\.`).FindString(page); left != "" {
				t.Errorf("%q is left over", left)
			}
		})
	}
	if status, _, errs := sheetCommand(demoFolder+"demo.csv", "-lang", "xx", "-o", "-"); status != exitUsage || !strings.Contains(errs, "expected one of") {
		t.Errorf("a language that is none: status %d: %s", status, errs)
	}
}
