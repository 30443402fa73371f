package pipeline

import "testing"

// TestTheExamplesAreNobodys: a session after an example takes neither its name nor
// its aim along because of its player.
func TestTheExamplesAreNobodys(t *testing.T) {
	for _, name := range []string{"demo", "left", "thin"} {
		s, err := Example(name)
		if err != nil || !s.Player.Invented() {
			t.Errorf("%s: %q, %v", name, s.Player.Name, err)
		}
	}
}
