package main

import (
	"os"
	"strings"
	"testing"
)

// Every module that a program links stands in the app's file with its
// version, and the file is what gather would write.
func TestEveryLinkedModuleHasItsLicenceInTheApp(t *testing.T) {
	t.Chdir("../..")
	shown, err := os.ReadFile("pwa/licences.txt")
	if err != nil {
		t.Fatal(err)
	}
	modules, err := linked()
	if err != nil {
		t.Fatal(err)
	}
	if len(modules) < 5 {
		t.Errorf("go list named only %v", modules)
	}
	for name := range modules {
		if !strings.Contains(string(shown), "\n"+name+"\n") {
			t.Errorf("pwa/licences.txt lacks %s: run `go run ./cmd/licences`", name)
		}
	}
	fresh, err := gather()
	if err != nil {
		t.Fatal(err)
	}
	if fresh != string(shown) {
		t.Error("pwa/licences.txt is not what `go run ./cmd/licences` writes now")
	}
}
