// Command licences gathers the licences of everything that the app is linked
// from into pwa/licences.txt, which the site delivers and "How it works" links
// to: the modules of go.mod that the programs use, Go itself, and the loader
// script that comes with Go.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
)

// programs are what reaches a person: in the browser and on the command line.
var programs = []struct{ path, goos, goarch string }{
	{"./cmd/page", "js", "wasm"}, {"./cmd/worker", "js", "wasm"}, {"./cmd/ferrule", "", ""},
}

func main() {
	out := flag.String("out", "pwa/licences.txt", "file to write")
	flag.Parse()
	text, err := gather()
	if err == nil {
		err = os.WriteFile(*out, []byte(text), 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

// linked are the modules that the programs link, "path version" with their
// folders.
func linked() (map[string]string, error) {
	out := map[string]string{}
	for _, p := range programs {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}{{end}}{{end}}", p.path)
		cmd.Env = os.Environ()
		if p.goos != "" {
			cmd.Env = append(cmd.Env, "GOOS="+p.goos, "GOARCH="+p.goarch)
		}
		text, err := cmd.Output()
		if err != nil {
			return nil, fmt.Errorf("go list -deps %s: %w", p.path, err)
		}
		for _, line := range strings.Split(string(text), "\n") {
			if name, dir, ok := strings.Cut(strings.TrimSpace(line), "\t"); ok {
				out[name] = dir
			}
		}
	}
	return out, nil
}

// gather is the whole text. Modules with the same licence text share it.
func gather() (string, error) {
	modules, err := linked()
	if err != nil {
		return "", err
	}
	byText := map[string][]string{}
	for name, dir := range modules {
		text, err := licence(dir)
		if err != nil {
			return "", fmt.Errorf("%s: %w", name, err)
		}
		byText[text] = append(byText[text], name)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", err
	}
	text, err := licence(strings.TrimSpace(string(root)))
	if err != nil {
		return "", err
	}
	version := strings.Join(strings.SplitN(runtime.Version(), ".", 3)[:2], ".") // the text does not change with a patch
	byText[text] = append(byText[text], "The Go language, its standard library and its loader wasm_exec.js, "+version)
	var parts []string
	for text, names := range byText {
		sort.Strings(names)
		parts = append(parts, strings.Join(names, "\n")+"\n\n"+text)
	}
	sort.Strings(parts)
	line := "\n" + strings.Repeat("-", 72) + "\n\n"
	return "What others wrote in Ferrule, and their licences.\n" + line + strings.Join(parts, line), nil
}

// licence reads the licence file of a module's folder.
func licence(dir string) (string, error) {
	for _, name := range []string{"LICENSE", "LICENSE.txt", "LICENSE.md", "LICENCE", "COPYING"} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err == nil {
			return strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")) + "\n", nil
		}
	}
	return "", fmt.Errorf("no licence file")
}
