package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The stubs stand for the files of one version; go.mod must name that one.
func TestGoModHasTheVersionOfTheStubs(t *testing.T) {
	text, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	if want := module + " " + version; !strings.Contains(string(text), want) {
		t.Errorf("go.mod does not require %q: look at what changed in %s and in what imports %v, then set cmd/slimdeps's version",
			want, strings.Join(replaced, ", "), stubbed)
	}
}

// The page needs none of the packages that the stubs keep out by way of
// go-app, and it builds on the copy.
func TestThePageBuildsWithoutServerPackages(t *testing.T) {
	out := t.TempDir()
	t.Chdir("../..")
	if err := writeGoApp(out); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("go", "list", "-modfile", filepath.Join(out, "go.mod"), "-deps", "./cmd/page")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	text, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	deps := strings.Fields(string(text))
	for _, banned := range []string{"net/http", "crypto/tls", "crypto/aes", "regexp", "html/template", "github.com/google/uuid"} {
		for _, d := range deps {
			if d == banned {
				t.Errorf("the page links %s", banned)
			}
		}
	}
	if len(deps) < 50 {
		t.Errorf("go list named only %d packages:\n%s", len(deps), text)
	}
}
