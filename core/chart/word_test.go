package chart

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// TestEveryWordIsDrawnAndSaid: each has a drawing that is well-formed, a sentence
// and a name in every language.
func TestEveryWordIsDrawnAndSaid(t *testing.T) {
	for key, parts := range drawnWords {
		for _, part := range strings.Split(parts, "|") {
			if len(part) < 4 || part[1] != ' ' || part[2] != 'M' || wordLines[part[0]] == "" {
				t.Errorf("%s: part %q", key, part)
			}
		}
		for d := xml.NewDecoder(strings.NewReader(Word(key))); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", key, err)
			}
		}
		for _, l := range text.Languages {
			name := "word." + key + ".is"
			if _, ok := shot.KindOf(shot.Quantity(key)); ok {
				name = "quantity." + key
			}
			for _, k := range []string{"word." + key, name} {
				if w := (text.Reader{Language: l}).Word(k); w == "" || strings.Contains(w, k) {
					t.Errorf("%s, %s: no %s", key, l, k)
				}
			}
		}
	}
	for key, same := range sameDrawing {
		if drawnWords[same] == "" || WordOf(key) != same {
			t.Errorf("%s is to be drawn as %s", key, same)
		}
	}
	if WordOf("ball_speed") != "" {
		t.Error("a word that says itself is drawn")
	}
}

// TestFlown: two settings have two flights in two views, each with a ball that can
// fly; its times begin at 0 and end at 1.
func TestFlown(t *testing.T) {
	r := charttest.Report()
	d := Flown(r, r.Reference, 1, Style{ID: "x"})
	if n := strings.Count(d.SVG, "<animateMotion"); n != 4 {
		t.Errorf("%d balls fly, want 4", n)
	}
	if !strings.Contains(d.SVG, `keyTimes="0.000;`) || !strings.Contains(d.SVG, `;1.000" keyPoints="0.000;`) || !strings.Contains(d.SVG, `;1.000"/>`) {
		t.Error("a ball does not fly from beginning to end")
	}
	if p := Flown(r, r.Reference, 1, Style{ID: "x", Print: true}); strings.Contains(p.SVG, "animateMotion") {
		t.Error("on paper balls fly")
	}
}
