package pipeline

import (
	"testing"

	"ferrule/core/share"
)

// TestSharedSessionsAnswer: what a link's session is answered anew, beside the
// summary that the link carries. Rounding moves an answer that hangs on a tie;
// it must not move one that is likely or clear.
func TestSharedSessionsAnswer(t *testing.T) {
	for _, name := range []string{"demo", "left", "thin"} {
		s, r := example(t, name)
		text, err := share.Encode(s, &r, share.Options{})
		if err != nil {
			t.Fatal(err)
		}
		link, err := share.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Analyse(link.Session, r.Seed, nil)
		if err != nil {
			t.Fatal(err)
		}
		then, now := r.Choice, again.Choice
		t.Logf("%s: %s %s %.0f %%; anew %s %s %.0f %%", name, r.Settings[then.Setting].Setting.Key(), then.Verdict, 100*then.Sure,
			again.Settings[now.Setting].Setting.Key(), now.Verdict, 100*now.Sure)
		if d := then.Sure - now.Sure; !(d < .1 && d > -.1) {
			t.Errorf("%s: sure %.2f in the link, %.2f anew", name, then.Sure, now.Sure)
		}
	}
}
