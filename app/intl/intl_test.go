package intl

import (
	"testing"

	"ferrule/core/text"
	"ferrule/core/units"
)

func TestTheLanguageAPersonWants(t *testing.T) {
	last := text.Languages[len(text.Languages)-1]
	for _, c := range []struct {
		wanted []string
		want   text.Language
		tag    string
	}{
		{nil, "en", "en"},
		{[]string{"xx-YY", string(last) + "-ZZ", "en"}, last, string(last) + "-ZZ"},
		{[]string{"EN-gb", string(last)}, "en", "EN-gb"},
		{[]string{"", "xx"}, "en", "en"},
	} {
		got := pick(c.wanted)
		if got != c.want {
			t.Errorf("pick(%q) = %q, want %q", c.wanted, got, c.want)
		}
		if s := SystemOf("es", []string{"es-MX"}); s != units.Imperial {
			t.Errorf("es-MX begins with %s", s)
		}
		if s := SystemOf("de", nil); s != units.Metric {
			t.Errorf("de begins with %s", s)
		}
		if tag := locale(got, c.wanted); tag != c.tag {
			t.Errorf("locale(%q, %q) = %q, want %q", got, c.wanted, tag, c.tag)
		}
	}
}
