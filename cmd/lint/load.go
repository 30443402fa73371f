package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
)

// unit is one of the module's packages, parsed and type-checked.
type unit struct {
	path  string
	files []*ast.File
	pkg   *types.Package
	info  *types.Info
}

// target is what the packages are built for: their programs differ.
type target struct {
	env      []string
	tags     string
	patterns []string
}

var targets = []target{
	{nil, "", []string{"./..."}},
	{[]string{"GOOS=js", "GOARCH=wasm"}, "fetched", []string{"./cmd/page", "./cmd/worker"}},
}

// load type-checks the packages of dir's module that t builds. The others are
// known by what the compiler exports of them.
func load(fset *token.FileSet, dir string, t target) ([]*unit, error) {
	args := append([]string{"list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles,Module,Standard", "-tags", t.tags}, t.patterns...)
	cmd := exec.Command("go", args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), t.env...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	exports := map[string]string{}
	checked := map[string]*types.Package{}
	others := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	var units []*unit
	for dec := json.NewDecoder(bytes.NewReader(out)); dec.More(); { // what is imported comes first
		var p struct {
			ImportPath, Export, Dir string
			GoFiles                 []string
			Module                  *struct{ Main bool }
		}
		if err := dec.Decode(&p); err != nil {
			return nil, fmt.Errorf("go list: %w", err)
		}
		exports[p.ImportPath] = p.Export
		if p.Module == nil || !p.Module.Main {
			continue
		}
		u := &unit{path: p.ImportPath, info: &types.Info{
			Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{},
			Selections: map[*ast.SelectorExpr]*types.Selection{},
		}}
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			u.files = append(u.files, f)
		}
		conf := types.Config{Importer: either{checked, others}}
		if u.pkg, err = conf.Check(u.path, fset, u.files, u.info); err != nil {
			return nil, err
		}
		checked[u.path] = u.pkg
		units = append(units, u)
	}
	return units, nil
}

// either takes a package of the module as it was checked here, so that a field
// is one object wherever it is used, and any other as it was exported.
type either struct {
	checked map[string]*types.Package
	others  types.Importer
}

func (e either) Import(path string) (*types.Package, error) {
	if p := e.checked[path]; p != nil {
		return p, nil
	}
	return e.others.Import(path)
}
