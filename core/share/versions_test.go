package share

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// TestEveryVersionHasItsLink: every version that was ever written has a link that
// is kept, the current one included: without it a change of the reader shows
// nowhere.
func TestEveryVersionHasItsLink(t *testing.T) {
	for v := 1; v <= Version; v++ {
		kept, err := filepath.Glob(fmt.Sprintf("../../testdata/share/v%d-*.txt", v))
		if err != nil || len(kept) == 0 {
			t.Errorf("version %d has no link in testdata/share (%v): write one with -update before the version is raised again", v, err)
		}
		for _, name := range kept {
			raw, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if l, err := Decode(string(raw)); err != nil || l.Version != v {
				t.Errorf("%s: version %d, %v", name, l.Version, err)
			}
		}
	}
}
