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

// mostMethods is how many methods a receiver may have: more are more than one thing,
// and nobody finds in them what he looks for.
const mostMethods = 40

// tooLarge says which of the receivers have too many methods.
func tooLarge(methods map[string]int) (out []string) {
	for name, n := range methods {
		if n > mostMethods {
			out = append(out, fmt.Sprintf("%s has %d methods, at most %d: give what it can do to smaller types, each with its own state", name, n, mostMethods))
		}
	}
	sort.Strings(out)
	return out
}

// house is what measure counts.
type house struct {
	lines, tests, exported int
	packages               map[string]bool
	methods                map[string]int // by receiver
	functions              []counted
}

// measure prints how big the house below dir is: code that is no test.
func measure(w io.Writer, dir string) error {
	h, err := survey(dir)
	if err != nil {
		return err
	}
	var receivers []counted
	for name, n := range h.methods {
		receivers = append(receivers, counted{name, n})
	}
	fmt.Fprintf(w, "%d lines of program, %d of tests, %d packages, %d exported names\n", h.lines, h.tests, len(h.packages), h.exported)
	most(w, "methods", receivers)
	most(w, "lines", h.functions)
	return nil
}

// survey counts what stands below dir.
func survey(dir string) (house, error) {
	h := house{packages: map[string]bool{}, methods: map[string]int{}}
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
			h.tests += n
			return nil
		}
		h.lines += n
		room, err := filepath.Rel(dir, filepath.Dir(path))
		if err != nil {
			return err
		}
		room = filepath.ToSlash(room)
		h.packages[room] = true
		for _, d := range f.Decls {
			h.exported += exports(d)
			fn, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			name := room + "." + fn.Name.Name
			if r := receiver(fn); r != "" {
				name = room + "." + r + "." + fn.Name.Name
				h.methods[room+"."+r]++
			}
			if fn.Name.Name != "init" { // catalogues, word by word
				h.functions = append(h.functions, counted{name, fset.Position(fn.End()).Line - fset.Position(fn.Pos()).Line + 1})
			}
		}
		return nil
	})
	return h, err
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
