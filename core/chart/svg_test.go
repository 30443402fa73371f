package chart

import (
	"strings"
	"testing"
)

// Japanese has no spaces: a sentence is broken between letters, never before
// what closes a phrase.
func TestJapaneseIsBrokenBetweenLetters(t *testing.T) {
	s := "点：推定値。太線、細線、極細線：真の差が10回中5、8、9.5回この中にあります。"
	lines := wrap(s, 120, 12, 9)
	if len(lines) < 4 || strings.Join(lines, "") != s {
		t.Errorf("%q", lines)
	}
	for _, l := range lines {
		if strings.ContainsRune("。、：ー）", []rune(l)[0]) || textWidth(l, 12) > 120 {
			t.Errorf("the line %q begins with what closes, or is %.0f wide", l, textWidth(l, 12))
		}
	}
	if got := breakable("a b c-d"); strings.Join(got, "|") != "a |b |c-d" {
		t.Errorf("%q", got)
	}
}
