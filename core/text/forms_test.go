package text

import (
	"testing"

	"ferrule/core/message"
	"ferrule/core/report"
)

// Categories by CLDR's plural rules (Unicode CLDR 45, cardinals): en and de
// "one" for i = 1 and v = 0, es "one" for n = 1, ja and ko "other" alone.
func TestPlainPlurals(t *testing.T) {
	for _, c := range []struct {
		lang     Language
		v        float64
		decimals int
		want     string
	}{
		{"en", 1, 0, "one"}, {"en", 1, 1, "other"}, {"en", 0, 0, "other"}, {"en", 2, 0, "other"},
		{"de", 1, 0, "one"}, {"de", 1, 2, "other"}, {"es", 1, 0, "one"}, {"es", 1, 1, "one"}, {"es", 0, 0, "other"},
		{"ja", 1, 0, "other"}, {"ko", 1, 0, "other"},
	} {
		if got := PlainForms(c.lang).Plural(c.v, c.decimals); got != c.want {
			t.Errorf("%s: %g with %d decimals is %q, want %q", c.lang, c.v, c.decimals, got, c.want)
		}
	}
}

func TestPlacesAreFilledOnce(t *testing.T) {
	r := Reader{Language: "en"}
	args := []filling{{text: "1", count: 1, counts: true}, {text: "{0} mine"}, {text: "2", count: 2, counts: true}}
	for s, want := range map[string]string{
		"{0} {0:ball|balls} with {1}": "1 ball with {0} mine", // a person's own braces stay
		"{2:it is|they are}{0}":       "they are1",
		"{1:one|many}":                "many", // no number to agree with
		"{7} and {x} and {":           "{7} and {x} and {",
		"none":                        "none",
	} {
		if got := r.expand(s, args); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
	if got := r.Fill("balls.many", "1"); got != "1 ball" {
		t.Errorf("one: %q", got)
	}
	if got := r.Say(report.Message{Key: "answer.note.thin", Args: []report.Arg{{Form: message.FormCount, Value: 1}}}); got != "Only 1 ball counted: not enough for a verdict on small differences." {
		t.Errorf("said: %q", got)
	}
}
