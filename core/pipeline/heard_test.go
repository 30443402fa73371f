package pipeline

import (
	"math"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/typed"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// What was said comes back as the key pad's fields read it, in every language: its
// decimal mark, its letter for a side, its units.
func TestHeardIsWhatIsTyped(t *testing.T) {
	right := map[text.Language][2]string{"en": {"right", "two four five point five"}, "de": {"rechts", "zweihundertfünfundvierzig Komma fünf"},
		"es": {"a la derecha", "doscientos cuarenta y cinco coma cinco"}, "ja": {"右に", "二百四十五点五"}, "ko": {"오른쪽", "이백사십오점오"}}
	ask := func(said string, l text.Language) []string {
		q, err := msgpack.Marshal(wire.Request{Version: wire.Version, Hear: &wire.Hear{Text: said, Language: string(l)}})
		if err != nil {
			t.Fatal(err)
		}
		r, err := wire.Unpack(Serve(q, nil), func() {})
		if err != nil || r.Error != nil {
			t.Fatal(err, r.Error)
		}
		return r.Heard
	}
	for _, l := range text.Languages {
		to := typed.Reader{System: units.Imperial, Hand: frame.Left, Language: string(l)}
		got := ask(right[l][1]+" "+right[l][0]+" 12", l)
		if len(got) != 2 {
			t.Errorf("%s: %q", l, got)
			continue
		}
		carry, err1 := to.Parse(shot.Carry, got[0])
		side, err2 := to.Parse(shot.Offline, got[1])
		if err1 != nil || err2 != nil || math.Abs(carry-245.5*units.Yard) > 1e-9 || math.Abs(side-12*units.Yard) > 1e-9 || !to.Sided(shot.Offline, got[1]) {
			t.Errorf("%s: %q is typed as %v, %v (%v, %v)", l, got, carry, side, err1, err2)
		}
		if got := ask("231 12", l); len(got) != 2 || to.Sided(shot.Offline, got[1]) {
			t.Errorf("%s: a side that nobody said: %q", l, got)
		}
		if got := ask("231", l); len(got) != 2 || got[0] != "231" || got[1] != "" {
			t.Errorf("%s: a carry alone: %q", l, got)
		}
		if got := ask("qwx", l); got != nil {
			t.Errorf("%s: understood as %q", l, got)
		}
	}
	if got := ask("190 metres left 3 metres", "en"); len(got) != 2 || got[0] != "190 m" || got[1] != "3 m L" {
		t.Errorf("with units: %q", got)
	}
}
