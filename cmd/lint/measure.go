package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"path/filepath"
	"sort"
	"strings"
)

// counted is a name and how much there is of it.
type counted struct {
	name string
	n    int
}

// measure prints how big the house below dir is: code that is no test.
func measure(w io.Writer, dir string) error {
	var lines, tests, exported int
	packages, methods := map[string]bool{}, map[string]int{}
	var functions []counted
	fset := token.NewFileSet()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if name := d.Name(); d.IsDir() && path != dir && (strings.HasPrefix(name, ".") || name == "build" || name == "browsertest" || name == "stub") {
			return fs.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") {
			return nil
		}
		f, err := parser.ParseFile(fset, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		n := fset.File(f.FileStart).LineCount()
		if strings.HasSuffix(path, "_test.go") {
			tests += n
			return nil
		}
		lines += n
		room := filepath.ToSlash(filepath.Dir(path))
		packages[room] = true
		for _, d := range f.Decls {
			exported += exports(d)
			fn, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			name := room + "." + fn.Name.Name
			if r := receiver(fn); r != "" {
				name = room + "." + r + "." + fn.Name.Name
				methods[room+"."+r]++
			}
			if fn.Name.Name != "init" { // catalogues, word by word
				functions = append(functions, counted{name, fset.Position(fn.End()).Line - fset.Position(fn.Pos()).Line + 1})
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	var receivers []counted
	for name, n := range methods {
		receivers = append(receivers, counted{name, n})
	}
	fmt.Fprintf(w, "%d lines of program, %d of tests, %d packages, %d exported names\n", lines, tests, len(packages), exported)
	most(w, "methods", receivers)
	most(w, "lines", functions)
	return nil
}

// most prints the eight largest.
func most(w io.Writer, of string, list []counted) {
	sort.Slice(list, func(i, j int) bool {
		return list[i].n > list[j].n || list[i].n == list[j].n && list[i].name < list[j].name
	})
	for _, c := range list[:min(8, len(list))] {
		fmt.Fprintf(w, "%6d %s %s\n", c.n, of, c.name)
	}
}

// receiver is the type that fn is a method of, empty for a function.
func receiver(fn *ast.FuncDecl) string {
	if fn.Recv == nil {
		return ""
	}
	t := fn.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.Ident:
			return x.Name
		default:
			return "?"
		}
	}
}

// exports is how many exported names d declares at the top of its package.
func exports(d ast.Decl) (n int) {
	count := func(id *ast.Ident) {
		if id.IsExported() {
			n++
		}
	}
	switch x := d.(type) {
	case *ast.FuncDecl:
		if r := receiver(x); r == "" || ast.IsExported(r) {
			count(x.Name)
		}
	case *ast.GenDecl:
		for _, s := range x.Specs {
			switch y := s.(type) {
			case *ast.TypeSpec:
				count(y.Name)
			case *ast.ValueSpec:
				for _, id := range y.Names {
					count(id)
				}
			}
		}
	}
	return n
}
