package share

import (
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// TestWhatIsTakenCanBeSent: each quantity at either end of its range, and just
// inside, is written and opens again or is refused by its name when it is taken.
func TestWhatIsTakenCanBeSent(t *testing.T) {
	for _, k := range shot.Kinds {
		for _, x := range []float64{-1e12, -1e6, -999_999, 999_999, 1e6, 1e12} {
			s := shot.Session{ID: "a", Head: club.Example(), Shots: []shot.Shot{{ID: "1", Setting: club.Example().Current, Values: shot.Values{k.Quantity: x}}}}
			if err := s.Bounded(); err != nil {
				if !strings.Contains(err.Error(), `Values["`+string(k.Quantity)+`"]: read`) {
					t.Errorf("%s of %g is refused without its name: %v", k.Quantity, x, err)
				}
				continue
			}
			text, err := Encode(s, nil, Options{})
			if err != nil {
				if x != -1e6 && x != 1e6 { // the ends themselves may be rounded out of the range
					t.Errorf("%s of %g is taken and cannot be sent: %v", k.Quantity, x, err)
				}
				continue
			}
			if _, err := Decode(text); err != nil {
				t.Errorf("%s of %g is sent and does not open: %v", k.Quantity, x, err)
			}
		}
	}
	// An angle at the end of its range, which a whole degree leaves.
	s := shot.Session{ID: "a", Head: club.Example()}
	s.Conditions.WindFrom = 100
	if text, err := Encode(s, nil, Options{}); err == nil {
		if _, err := Decode(text); err != nil {
			t.Errorf("a link was made that does not open: %v", err)
		}
	}
}
