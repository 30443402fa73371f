package act

import (
	"fmt"
	"reflect"
	"slices"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// Merge joins two changes of one session: what only one side changed since base
// is taken, field by field, ball by ball. clashes are the fields that both
// changed, each to something else; there mine stands. Balls that both added are
// all kept; one of mine whose id theirs took gets another.
func Merge(base, mine, theirs shot.Session) (merged shot.Session, clashes []string) {
	base, mine, theirs = Clone(base), Clone(mine), Clone(theirs)
	m := merger{}
	shots := m.shots(base.Shots, mine.Shots, theirs.Shots)
	changed := max(mine.Changed, theirs.Changed)
	for _, s := range []*shot.Session{&base, &mine, &theirs} {
		s.Shots, s.Changed = nil, 0
	}
	out := m.value(reflect.ValueOf(base), reflect.ValueOf(mine), reflect.ValueOf(theirs), "").Interface().(shot.Session)
	out.Shots, out.Changed = shots, changed
	return out, m.clashes
}

type merger struct{ clashes []string }

func (m *merger) value(base, mine, theirs reflect.Value, field string) reflect.Value {
	same := func(a, b reflect.Value) bool { return reflect.DeepEqual(a.Interface(), b.Interface()) }
	switch {
	case same(mine, theirs), same(base, theirs):
		return mine
	case same(base, mine):
		return theirs
	}
	switch mine.Kind() {
	case reflect.Struct:
		out := reflect.New(mine.Type()).Elem()
		for i := range mine.NumField() {
			out.Field(i).Set(m.value(base.Field(i), mine.Field(i), theirs.Field(i), field+"."+mine.Type().Field(i).Name))
		}
		return out
	case reflect.Map:
		return m.entries(base, mine, theirs, field)
	}
	if of := reflect.TypeFor[[]club.Head](); mine.Type() == of && sameClubs(base, mine) && sameClubs(base, theirs) {
		out := reflect.MakeSlice(of, mine.Len(), mine.Len())
		for i := range mine.Len() {
			out.Index(i).Set(m.value(base.Index(i), mine.Index(i), theirs.Index(i), fmt.Sprintf("%s[%d]", field, i+1)))
		}
		return out
	}
	m.clashes = append(m.clashes, field[min(len(field), 1):])
	return mine
}

// sameClubs reports whether two lists hold the same clubs, however they are
// described.
func sameClubs(a, b reflect.Value) bool {
	return slices.EqualFunc(a.Interface().([]club.Head), b.Interface().([]club.Head), func(x, y club.Head) bool { return x.Name == y.Name })
}

// entries joins maps key by key; a value that is not there is the zero value,
// which no map of a session holds.
func (m *merger) entries(base, mine, theirs reflect.Value, field string) reflect.Value {
	out := reflect.MakeMap(mine.Type())
	at := func(of, key reflect.Value) reflect.Value {
		if v := of.MapIndex(key); v.IsValid() {
			return v
		}
		return reflect.Zero(of.Type().Elem())
	}
	for _, keys := range [][]reflect.Value{mine.MapKeys(), theirs.MapKeys()} {
		for _, k := range keys {
			if out.MapIndex(k).IsValid() {
				continue
			}
			v := m.value(at(base, k), at(mine, k), at(theirs, k), field+"."+k.String())
			// Zero is a number like any other: it goes only where a side took it out.
			gone := !mine.MapIndex(k).IsValid() && base.MapIndex(k).IsValid() || !theirs.MapIndex(k).IsValid() && base.MapIndex(k).IsValid()
			if v.IsZero() && gone {
				continue
			}
			out.SetMapIndex(k, v)
		}
	}
	return out
}

// shots joins the balls. A ball that one side took out and the other changed
// stays.
func (m *merger) shots(base, mine, theirs []shot.Shot) []shot.Shot {
	find := func(in []shot.Shot, id string) *shot.Shot {
		if i := slices.IndexFunc(in, func(h shot.Shot) bool { return h.ID == id }); i >= 0 {
			return &in[i]
		}
		return nil
	}
	first, second := theirs, mine // whose order counts: who moved a ball
	if sameOrder(base, theirs) {
		first, second = mine, theirs
	}
	out := []shot.Shot{}
	add := func(h *shot.Shot) {
		if find(out, h.ID) == nil {
			out = append(out, *h)
		}
	}
	for _, side := range [][]shot.Shot{first, second} {
		for i := range side {
			id := side[i].ID
			b, a, t := find(base, id), find(mine, id), find(theirs, id)
			switch {
			case b == nil || find(out, id) != nil: // new, added below; or joined already
			case a != nil && t != nil:
				one := m.value(reflect.ValueOf(*b), reflect.ValueOf(*a), reflect.ValueOf(*t), ".Shots["+id+"]").Interface().(shot.Shot)
				add(&one)
			case a != nil && !reflect.DeepEqual(*a, *b):
				add(a)
			case t != nil && !reflect.DeepEqual(*t, *b):
				add(t)
			}
		}
	}
	for i := range theirs {
		if find(base, theirs[i].ID) == nil {
			add(&theirs[i])
		}
	}
	for i := range mine {
		h := mine[i]
		if find(base, h.ID) != nil {
			continue
		}
		if other := find(theirs, h.ID); other != nil {
			if reflect.DeepEqual(*other, h) { // the same ball came both ways
				continue
			}
			h.ID = freshShotID(slices.Concat(out, mine))
		}
		out = append(out, h)
	}
	if len(out) == 0 {
		return mine[:0:0]
	}
	return out
}

// sameOrder reports whether the balls of b that are in a stand in a's order.
func sameOrder(a, b []shot.Shot) bool {
	last := -1
	for _, h := range b {
		i := slices.IndexFunc(a, func(x shot.Shot) bool { return x.ID == h.ID })
		if i < 0 {
			continue
		}
		if i < last {
			return false
		}
		last = i
	}
	return true
}

// mergeWith takes what another tab stored into the open session, and into what
// Undo goes back to. It reports whether nothing was left to ask.
func (k *Keeper) mergeWith(theirs shot.Session, revision int) bool {
	if k.base == nil || k.editor.session == nil || k.base.ID != theirs.ID {
		return false
	}
	base := *k.base
	merged, clashes := Merge(base, *k.editor.session, theirs)
	if len(clashes) > 0 {
		return false
	}
	k.base, k.revision = &theirs, revision
	k.state.Phase, k.state.Conflict = Working, false
	k.editor.rebase(merged, func(s shot.Session) shot.Session {
		s, _ = Merge(base, s, theirs)
		return s
	})
	k.notices.Tell("notice.merged", false, countArg(len(merged.Shots)))
	k.flush()
	return true
}
