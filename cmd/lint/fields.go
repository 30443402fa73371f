package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"sort"
	"strings"
)

// use is what the programs do with one field.
type use struct{ set, read bool }

// fields collects the uses of every field of the module, by the place where it
// is declared: one field of two targets is one.
type fields struct {
	fset     *token.FileSet
	declared map[string]string // place -> "package.Type.Field"
	uses     map[string]use
}

func newFields(fset *token.FileSet) *fields {
	return &fields{fset: fset, declared: map[string]string{}, uses: map[string]use{}}
}

func (fs *fields) place(v *types.Var) string { return fs.fset.Position(v.Origin().Pos()).String() }

func (fs *fields) mark(v *types.Var, u use) {
	if v == nil || !v.IsField() {
		return
	}
	at := fs.place(v)
	was := fs.uses[at]
	fs.uses[at] = use{was.set || u.set, was.read || u.read}
}

// markAll is for what touches a whole value by its type: a comparison, a
// conversion, a template or an encoder that looks at the fields itself.
func (fs *fields) markAll(t types.Type, u use) {
	if t == nil {
		return
	}
	switch s := t.Underlying().(type) {
	case *types.Struct:
		for i := range s.NumFields() {
			fs.mark(s.Field(i), u)
			fs.markAll(s.Field(i).Type(), u)
		}
	case *types.Array:
		fs.markAll(s.Elem(), u)
	}
}

// declare notes the named struct types of u. A field with a tag is read and set
// by an encoder; a blank one and an embedded one are no options.
func (fs *fields) declare(u *unit) {
	for _, f := range u.files {
		ast.Inspect(f, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok {
				return true
			}
			s, ok := spec.Type.(*ast.StructType)
			if !ok {
				return true
			}
			if component(s) {
				return true
			}
			for _, field := range s.Fields.List {
				if field.Tag != nil {
					continue
				}
				for _, name := range field.Names {
					if v, ok := u.info.Defs[name].(*types.Var); ok && name.Name != "_" {
						fs.declared[fs.place(v)] = strings.TrimPrefix(u.path, "ferrule/") + "." + spec.Name.Name + "." + name.Name
					}
				}
			}
			return true
		})
	}
}

// component says whether s is a part of a page: go-app compares its fields to
// see whether it must be drawn anew.
func component(s *ast.StructType) bool {
	for _, field := range s.Fields.List {
		if sel, ok := field.Type.(*ast.SelectorExpr); ok && len(field.Names) == 0 && sel.Sel.Name == "Compo" {
			return true
		}
	}
	return false
}

// walk marks what u does with fields.
func (fs *fields) walk(u *unit) {
	for _, f := range u.files {
		w := walker{fs, u.info, map[ast.Expr]use{}}
		ast.Inspect(f, w.node)
	}
}

type walker struct {
	*fields
	info *types.Info
	how  map[ast.Expr]use // of expressions that are more than read
}

// target marks e as something that is set: the field itself, and the fields
// through which it is reached while they hold the value and do not point to it.
func (w walker) target(e ast.Expr, u use) {
	switch x := ast.Unparen(e).(type) {
	case *ast.SelectorExpr:
		w.how[x] = u
		if _, pointer := typeOf(w.info, x.X).(*types.Pointer); !pointer {
			w.target(x.X, use{set: true, read: true})
		}
	case *ast.IndexExpr:
		if _, array := typeOf(w.info, x.X).(*types.Array); array {
			w.target(x.X, use{set: true, read: u.read})
		}
	case *ast.SliceExpr:
		if _, array := typeOf(w.info, x.X).(*types.Array); array {
			w.target(x.X, use{set: true, read: true})
		}
	}
}

func typeOf(info *types.Info, e ast.Expr) types.Type {
	if t := info.TypeOf(e); t != nil {
		return t.Underlying()
	}
	return nil
}

func (w walker) node(n ast.Node) bool {
	switch x := n.(type) {
	case *ast.AssignStmt:
		for _, l := range x.Lhs {
			w.target(l, use{set: true, read: false})
		}
	case *ast.IncDecStmt:
		w.target(x.X, use{set: true})
	case *ast.RangeStmt:
		for _, l := range []ast.Expr{x.Key, x.Value} {
			if l != nil {
				w.target(l, use{set: true})
			}
		}
	case *ast.UnaryExpr:
		if x.Op == token.AND {
			w.target(x.X, use{true, true})
		}
	case *ast.SliceExpr:
		w.target(x, use{true, true})
	case *ast.BinaryExpr:
		if x.Op == token.EQL || x.Op == token.NEQ {
			w.markAll(w.info.TypeOf(x.X), use{read: true})
		}
	case *ast.CallExpr:
		w.call(x)
	case *ast.CompositeLit:
		w.literal(x)
	case *ast.MapType:
		w.markAll(w.info.TypeOf(x.Key), use{read: true})
	case *ast.SelectorExpr:
		w.selector(x)
	}
	return true
}

// call: a conversion makes one struct of another field by field, and a value
// given as any may be looked at by reflection.
func (w walker) call(x *ast.CallExpr) {
	if tv := w.info.Types[x.Fun]; tv.IsType() {
		to, from := tv.Type.Underlying(), typeOf(w.info, x.Args[0])
		if _, s := to.(*types.Struct); s && !types.Identical(tv.Type, w.info.TypeOf(x.Args[0])) {
			w.markAll(to, use{set: true})
			w.markAll(from, use{read: true})
		}
		return
	}
	sig, ok := typeOf(w.info, x.Fun).(*types.Signature)
	if !ok {
		return
	}
	for i, a := range x.Args {
		p := i
		if sig.Variadic() && p >= sig.Params().Len()-1 {
			p = sig.Params().Len() - 1
		}
		if p >= sig.Params().Len() {
			continue
		}
		t := sig.Params().At(p).Type()
		if s, isSlice := t.(*types.Slice); isSlice && sig.Variadic() && p == sig.Params().Len()-1 {
			t = s.Elem()
		}
		if face, isFace := t.Underlying().(*types.Interface); !isFace || face.NumMethods() > 0 {
			continue
		}
		if _, generic := t.(*types.TypeParam); generic {
			continue
		}
		given := w.info.TypeOf(a)
		if ptr, is := given.Underlying().(*types.Pointer); is {
			w.markAll(ptr.Elem(), use{set: true, read: true})
		} else if s, is := given.Underlying().(*types.Slice); is {
			w.markAll(s.Elem(), use{read: true})
		} else {
			w.markAll(given, use{read: true})
		}
	}
}

func (w walker) literal(x *ast.CompositeLit) {
	t := typeOf(w.info, x)
	if p, ok := t.(*types.Pointer); ok {
		t = p.Elem().Underlying()
	}
	s, ok := t.(*types.Struct)
	if !ok {
		return
	}
	for i, e := range x.Elts {
		if kv, keyed := e.(*ast.KeyValueExpr); keyed {
			if id, ok := kv.Key.(*ast.Ident); ok {
				if v, ok := w.info.Uses[id].(*types.Var); ok {
					w.mark(v, use{set: true})
				}
			}
			continue
		}
		w.mark(s.Field(i), use{set: true})
	}
}

func (w walker) selector(x *ast.SelectorExpr) {
	sel := w.info.Selections[x]
	if sel == nil {
		return
	}
	u, set := w.how[x]
	if !set {
		u = use{read: true}
	}
	// The embedded fields on the way are read; a method's pointer receiver takes
	// the address of what it is called on.
	t, index := sel.Recv(), sel.Index()
	for k, i := range index {
		if p, ok := t.Underlying().(*types.Pointer); ok {
			t = p.Elem()
		}
		s, ok := t.Underlying().(*types.Struct)
		if !ok || (k == len(index)-1 && sel.Kind() != types.FieldVal) {
			break
		}
		f := s.Field(i)
		if k == len(index)-1 {
			w.mark(f, u)
		} else {
			w.mark(f, use{set: u.set, read: true})
		}
		t = f.Type()
	}
	if fn, ok := sel.Obj().(*types.Func); ok {
		if recv := fn.Signature().Recv(); recv != nil {
			if _, pointer := recv.Type().(*types.Pointer); pointer {
				if _, already := typeOf(w.info, x.X).(*types.Pointer); !already {
					w.target(x.X, use{true, true})
				}
			}
		}
	}
}

// findings are the fields that no program sets, those that none reads, and the
// lines of kept that are no longer needed.
func (fs *fields) findings() []string {
	var out []string
	needed := map[string]bool{}
	for at, name := range fs.declared {
		u := fs.uses[at]
		if u.set && u.read {
			continue
		}
		if needed[name] = true; kept[name] != "" {
			continue
		}
		what := "used"
		if u.read {
			what = "set"
		} else if u.set {
			what = "read"
		}
		out = append(out, fmt.Sprintf("%s: no program has %s %s", at, name, what))
	}
	for name := range kept {
		if !needed[name] {
			out = append(out, fmt.Sprintf("cmd/lint/kept.go: %s is set and read by a program, or gone: take out its line", name))
		}
	}
	sort.Strings(out)
	return out
}
