package main

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// free are flags that take any text or any number: names, days, seeds.
var free = map[string]bool{"date": true, "o": true}

// TestEveryFlagRefusesWhatItDoesNotKnow reads the flags of each command off its
// own source and gives each a word that is none: the command says so, and never
// goes on as if nothing had been said.
func TestEveryFlagRefusesWhatItDoesNotKnow(t *testing.T) {
	demo := []string{demoFolder + "demo.csv", "-club", demoFolder + "club.json", "-aim", demoFolder + "aim.json"}
	with := map[string][]string{
		"fit": demo, "sheet": append(demo, "-o", filepath.Join(t.TempDir(), "no", "sheet.html")), "read": demo[:1],
		"follow": append([]string{demo[0]}, demo...), "simulate": {"-players", "1", "-balls", "3", "-bench", "level"},
		"learn": {"-o", filepath.Join(t.TempDir(), "record"), demoFolder + "demo.csv"}, "fly": nil, "prior": nil, "serve": {"-dir", t.TempDir()}, "version": nil,
		"watch": {t.TempDir()},
	}
	for name, command := range commands {
		args, known := with[name]
		if !known {
			t.Errorf("%s is not in this test", name)
			continue
		}
		for _, bad := range []string{"-nonsense", "-nonsense=1"} {
			refuses(t, name, command, append([]string{bad}, args...))
		}
		for _, f := range flagsOf(t, name, command) {
			if !free[f] {
				refuses(t, name, command, append(append([]string{}, args...), "-"+f+"=no such thing"))
			}
		}
	}
	refuses(t, "version", commands["version"], []string{"more"})
	refuses(t, "simulate", commands["simulate"], []string{"-world", "right,wrong", "-players", "1"})
}

func refuses(t *testing.T, name string, c command, args []string) {
	t.Helper()
	var out, errs bytes.Buffer
	status := c(args, streams{in: strings.NewReader(""), out: &out, err: &errs})
	if status != exitUsage && status != exitInput || errs.Len() == 0 || out.Len() > 0 {
		t.Errorf("ferrule %s %s: status %d, %d bytes printed, error %q", name, strings.Join(args, " "), status, out.Len(), errs.String())
	}
}

// flagsOf are the flags that a command's own help lists.
func flagsOf(t *testing.T, name string, c command) []string {
	var out, errs bytes.Buffer
	c([]string{"-h"}, streams{in: strings.NewReader(""), out: &out, err: &errs})
	var list []string
	seen := map[string]bool{"h": true, "help": true}
	for _, m := range regexp.MustCompile(`(?m)(?:^|[ \[(])-([a-z]+(?:-[a-z]+)*)`).FindAllStringSubmatch(out.String()+errs.String(), -1) {
		if !seen[m[1]] {
			seen[m[1]] = true
			list = append(list, m[1])
		}
	}
	if len(list) == 0 && name != "version" {
		t.Errorf("ferrule %s -h lists no flag", name)
	}
	return list
}
