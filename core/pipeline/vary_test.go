package pipeline

import (
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/report"
	"ferrule/core/text"
	"ferrule/core/units"
	"ferrule/core/wire"
)

func vary(t *testing.T, name string) []report.Variation {
	t.Helper()
	s, err := Example(name)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := msgpack.Marshal(&wire.Request{Version: wire.Version, Vary: &wire.Vary{Session: s, Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	out, err := wire.Unpack(Serve(raw, nil), func() {})
	if err != nil || out.Error != nil {
		t.Fatalf("%v %v", err, out.Error)
	}
	return out.Varied
}

// TestVary: the first answer is the session's own; a wind from the right for a
// right-hander is what a wind from the left is for the mirrored left-hander.
func TestVary(t *testing.T) {
	_, r := example(t, "demo")
	right, left := vary(t, "demo"), vary(t, "left")
	if len(right) != 10 || len(left) != len(right) {
		t.Fatalf("%d and %d conditions", len(right), len(left))
	}
	if v := right[0]; !v.Same || !v.Setting.Equal(r.Settings[r.Choice.Setting].Setting) || v.Gain != r.Choice.Gain || v.Verdict != r.Choice.Verdict {
		t.Errorf("as hit: %+v, the report says %+v", v, r.Choice)
	}
	moved := 0
	for i, v := range right {
		t.Logf("%-28s %-22s %-12s %.0f %%  %+.3f strokes", text.Reader{System: units.Imperial}.Say(v.Text), v.Setting.Key(), v.Verdict, 100*v.Sure, v.Gain.Mean)
		if i > 0 && (v.Sure != right[0].Sure || v.Gain != right[0].Gain) {
			moved++
		}
	}
	if moved < 9 {
		t.Errorf("only %d of 9 conditions move chance or gain: they are not flown", moved)
	}
	swap := map[string]string{"vary.left": "vary.right", "vary.right": "vary.left"}
	for _, v := range right {
		want := v.Text.Key
		if s, ok := swap[want]; ok {
			want = s
		}
		for _, l := range left {
			if l.Text.Key == want && (!l.Setting.Equal(v.Setting) || l.Verdict != v.Verdict) {
				t.Errorf("%s: %s %s; the mirrored left-hander in %s: %s %s", v.Text.Key, v.Setting.Key(), v.Verdict, want, l.Setting.Key(), l.Verdict)
			}
		}
	}
}
