package act

import (
	"context"
	"reflect"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/store"
)

// otherPref is a value of a preference that is not v, of a kind that is stored.
func otherPref(t *testing.T, name string, v reflect.Value) reflect.Value {
	t.Helper()
	switch v.Kind() {
	case reflect.Int64:
		return reflect.ValueOf(v.Int() + 7)
	case reflect.Bool:
		return reflect.ValueOf(!v.Bool())
	case reflect.String:
		s := map[string]string{"System": "metric", "Language": "de", "Theme": "dark", "Confirm": "none", "Last": "abc"}[name]
		if s == "" {
			s = "x"
		}
		return reflect.ValueOf(s).Convert(v.Type())
	case reflect.Slice:
		if name == "Fields" {
			return reflect.ValueOf([]shot.Quantity{shot.Carry, shot.Spin})
		}
		return reflect.ValueOf([]string{"one", "two"})
	}
	t.Fatalf("%s: say what another value of %s is", name, v.Kind())
	return v
}

// TestAStaleTabOverwritesNoPreference: two tabs are open; the newer changes one
// preference, then the older, which never heard of it, changes another. Whoever starts
// next finds both, for each pair of preferences.
func TestAStaleTabOverwritesNoPreference(t *testing.T) {
	kind := reflect.TypeFor[Prefs]()
	for i := range kind.NumField() {
		for k := range kind.NumField() {
			if i == k {
				continue
			}
			pocket := memoryPocket{}
			tab := func() *Model {
				m := New(Deps{Worker: &echo{}, Pocket: pocket, Open: func(context.Context) Place {
					return Place{Store: store.New(store.NewMemory(nil), func() int64 { return 1 })}
				}})
				m.Boot()
				m.Loop.Settle()
				return m
			}
			set := func(m *Model, field int) any {
				var to reflect.Value
				m.Preferences.Set(func(p *Prefs) {
					f := reflect.ValueOf(p).Elem().Field(field)
					to = otherPref(t, kind.Field(field).Name, f)
					f.Set(to)
				})
				m.Loop.Settle()
				return to.Interface()
			}
			older, newer := tab(), tab()
			first := set(newer, i)
			second := set(older, k)
			p := reflect.ValueOf(tab().State().Prefs)
			if got := p.Field(i).Interface(); !reflect.DeepEqual(got, first) {
				t.Errorf("%s is %v, the newer tab said %v, then an older one changed %s", kind.Field(i).Name, got, first, kind.Field(k).Name)
			}
			if got := p.Field(k).Interface(); !reflect.DeepEqual(got, second) {
				t.Errorf("%s is %v, the older tab said %v last", kind.Field(k).Name, got, second)
			}
		}
	}
}
