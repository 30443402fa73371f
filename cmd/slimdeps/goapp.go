package main

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// The version of go-app whose files the stubs replace.
const (
	module  = "github.com/maxence-charriere/go-app/v10"
	version = "v10.1.11"
)

// replaced are the files of the module that a stub takes the place of.
var replaced = []string{"pkg/app/http.go", "pkg/app/resource.go", "pkg/app/crypto.go", "pkg/app/route.go", "pkg/app/state.go", "pkg/app/storage.go", "pkg/errors/errors.go"}

// added are files that the module has not.
var added = []string{"pkg/app/made.go"}

// stubbed are the packages that the rest of the module is given stubs for:
// what it does with them (storage, states kept between visits, notifications,
// ids of devices) no page of ours uses.
var stubbed = map[string]string{
	"encoding/json":          "pkg/nojson",
	"github.com/google/uuid": "pkg/nouuid",
}

//go:embed stub
var stubs embed.FS

// writeGoApp copies go-app into out, lays the stubs over it and writes the
// go.mod (and go.sum) that puts the copy in the module's place. The error says
// what could not be read or written, or that go.mod names another version than
// the stubs are for.
func writeGoApp(out string) error {
	from, err := original()
	if err != nil {
		return err
	}
	copied := filepath.Join(out, "go-app")
	if err := os.RemoveAll(copied); err != nil {
		return err
	}
	if err := copyModule(from, copied); err != nil {
		return err
	}
	if err := rewrite(copied); err != nil {
		return err
	}
	laid := slices.Concat(replaced, added)
	for _, p := range stubbed {
		laid = append(laid, p+"/"+filepath.Base(p)+".go")
	}
	for _, name := range laid {
		text, err := stubs.ReadFile("stub/" + filepath.Base(name) + ".txt") // .txt, so that no tool takes the folder for a package
		if err != nil {
			return err
		}
		target := filepath.Join(copied, name)
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(target, text, 0o644); err != nil {
			return err
		}
	}
	return modfile(out, copied)
}

// original is the folder of the module that go.mod names.
func original() (string, error) {
	// On a new machine the module is not there yet, and go list alone would
	// name no folder.
	if text, err := exec.Command("go", "mod", "download", module).CombinedOutput(); err != nil {
		return "", fmt.Errorf("go mod download %s: %w\n%s", module, err, text)
	}
	line, err := exec.Command("go", "list", "-m", "-f", "{{.Version}} {{.Dir}}", module).Output()
	if err != nil {
		return "", fmt.Errorf("go list -m %s: %w", module, err)
	}
	got, dir, _ := strings.Cut(strings.TrimSpace(string(line)), " ")
	if got != version {
		return "", fmt.Errorf("go.mod has %s %s, and the stubs of cmd/slimdeps are for %s: look at what changed in %s, then set the version there",
			module, got, version, strings.Join(replaced, ", "))
	}
	return dir, nil
}

// copyModule copies what a program builds from: go.mod and the Go files that
// are no tests, and the licence, since a copy keeps it.
func copyModule(from, to string) error {
	return filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name := d.Name()
		if name != "go.mod" && name != "LICENSE" && (!strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go")) {
			return nil
		}
		rel, err := filepath.Rel(from, path)
		if err != nil {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		target := filepath.Join(to, rel)
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return err
		}
		for old, stub := range stubbed {
			line := fmt.Sprintf("\n\t%s %q\n", filepath.Base(old), module+"/"+stub)
			text = bytes.ReplaceAll(text, fmt.Appendf(nil, "\n\t%q\n", old), []byte(line))
		}
		return os.WriteFile(target, text, 0o644)
	})
}

// modfile writes go.mod and go.sum beside the copy. Paths of a replacement are
// read from the folder of the main module.
func modfile(out, copied string) error {
	text, err := os.ReadFile("go.mod")
	if err != nil {
		return err
	}
	to := filepath.ToSlash(copied)
	if !filepath.IsAbs(copied) {
		to = "./" + to
	}
	line := fmt.Sprintf("\nreplace %s => %s\n", module, to)
	if err := os.WriteFile(filepath.Join(out, "go.mod"), append(text, line...), 0o644); err != nil {
		return err
	}
	sums, err := os.ReadFile("go.sum")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "go.sum"), sums, 0o644)
}
