package pipeline

import (
	"reflect"
	"testing"

	"ferrule/core/share"
	"ferrule/core/sheet"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

// opened packs session and report into a link and opens it.
func opened(t *testing.T, s shot.Session, name string) (share.Link, sheet.Content, sheet.Content) {
	t.Helper()
	r, err := Analyse(s, 7, nil)
	if err != nil {
		t.Fatal(name, err)
	}
	given, err := share.GiveOf(r)
	if err != nil {
		t.Fatal(name, err)
	}
	packed, err := share.Encode(s, &given, share.Options{})
	if err != nil {
		t.Fatal(name, err)
	}
	link, err := share.Decode(packed)
	if err != nil {
		t.Fatal(name, err)
	}
	shown, err := Given(link.Session, *link.Given)
	if err != nil {
		t.Fatal(name, err)
	}
	to := text.Reader{Language: "en", System: units.Imperial}
	return link, sheet.Make(s, r, to, sheet.Options{}), sheet.Make(link.Session, shown, to, sheet.Options{})
}

// TestALinkSaysWhatTheSheetSaid: whoever opens a link reads the setting, the
// verdict, the chance, the gain, the table and the counts of the sheet that was
// printed, to the last digit, whatever the analysis left out.
func TestALinkSaysWhatTheSheetSaid(t *testing.T) {
	for _, name := range []string{"demo", "left", "thin"} {
		whole, _ := example(t, name)
		twice := whole
		twice.Shots = append(append([]shot.Shot(nil), whole.Shots...), whole.Shots[3], whole.Shots[4])
		for i := range twice.Shots { // repeats, which the analysis does not count
			twice.Shots[i].ID = string(rune('A'+i/26)) + string(rune('a'+i%26))
		}
		out := whole
		out.Shots = append([]shot.Shot(nil), whole.Shots...)
		out.Shots[2].Tag = shot.TagOut
		for kind, s := range map[string]shot.Session{"whole": whole, "repeats": twice, "left out": out} {
			_, was, is := opened(t, s, name)
			for _, x := range []struct {
				what     string
				was, is_ any
			}{{"setting", was.Answer, is.Answer}, {"degrees", was.Degrees, is.Degrees}, {"verdict", was.Verdict, is.Verdict}, {"gain", was.Gain, is.Gain},
				{"moves", was.Moves, is.Moves}, {"table", was.Compare.Rows, is.Compare.Rows}, {"what to expect", was.Expect, is.Expect}, {"balls behind it", was.Behind, is.Behind}} {
				if !reflect.DeepEqual(x.was, x.is_) {
					t.Errorf("%s, %s: the sheet's %s was\n%v\nand in the link is\n%v", name, kind, x.what, x.was, x.is_)
				}
			}
		}
	}
}

// TestSharedSessionsAnswer: what a link's session is answered anew, beside the
// answer that the link carries. Rounding moves an answer that hangs on a tie;
// it must not move one that is likely or clear.
func TestSharedSessionsAnswer(t *testing.T) {
	for _, name := range []string{"demo", "left", "thin"} {
		s, _ := example(t, name)
		link, _, _ := opened(t, s, name)
		again, err := Analyse(link.Session, link.Given.Seed, nil)
		if err != nil {
			t.Fatal(err)
		}
		then, now := link.Given, again.Answer
		t.Logf("%s: %s %s %.0f %%; anew %s %s %.0f %%", name, then.Advised(), then.Verdict, 100*then.Answer.Chance,
			again.Settings[now.Setting].Setting.Key(), again.Choice.Verdict, 100*now.Chance)
		if d := then.Answer.Chance - now.Chance; !(d < .1 && d > -.1) {
			t.Errorf("%s: sure %.2f in the link, %.2f anew", name, then.Answer.Chance, now.Chance)
		}
	}
}
