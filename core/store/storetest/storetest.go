// Package storetest is the suite that every place to keep sessions passes,
// whether it is a map in memory or a browser's database.
package storetest

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"reflect"
	"strings"
	"sync"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/store"
)

// FutureBlob turns a blob into one that a later version might have written:
// whole, but not to be read by this one. An envelope is 4 bytes of a mark, kind,
// version, length and checksum of all but itself and the mark.
func FutureBlob(blob []byte) []byte {
	out := append([]byte(nil), blob...)
	binary.BigEndian.PutUint16(out[5:], store.Version+1)
	binary.BigEndian.PutUint32(out[11:], crc32.Update(crc32.ChecksumIEEE(out[4:11]), crc32.IEEETable, out[15:]))
	return out
}

// Run checks a Table and the Store over it. empty returns a table with no
// rows; each call returns another one.
func Run(t *testing.T, empty func(t *testing.T) store.Table) {
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			table := empty(t)
			var now int64 = 1000
			c.check(t, &bench{table, store.New(table, func() int64 { now++; return now })})
		})
	}
}

// bench is what a case works on.
type bench struct {
	table store.Table
	*store.Book
}

var cases = []struct {
	name  string
	check func(*testing.T, *bench)
}{
	{"an empty store is empty", emptyStore},
	{"what was put comes back whole", roundTrip},
	{"a revision that is not the stored one is refused", revisions},
	{"of many savers with one revision one wins", savers},
	{"removed, restored, purged", removing},
	{"a damaged blob is set aside and the others stay", damage},
	{"a damaged head costs nothing", damagedHead},
	{"a newer blob is left alone", newer},
	{"an exported file brings everything back", export},
	{"an import never overwrites", merge},
	{"a damaged file gives what is whole", salvage},
	{"a step that fails changes nothing", atomic},
	{"rows do not share memory", apart},
	{"a cancelled context", cancelled},
}

// Session returns a session with something in every corner.
func Session(id string, balls int) shot.Session {
	handicap, zero := 12.5, 0.0
	s := shot.Session{
		ID: id, Title: "Evening, north range", Created: 1700000000, Changed: 1700000100,
		Player:     shot.Player{Name: "Ada ☂ Ω", Hand: frame.Left, Handicap: &handicap},
		Aim:        shot.Aim{Goal: shot.GoalHeight, Trouble: frame.SideLeft, TroubleAt: 23, ApexLow: &zero, ApexHigh: &handicap, Holes: []shot.Hole{{Name: "7", Length: 310}}},
		Conditions: shot.Conditions{Temperature: &zero, Wind: 3.25, WindFrom: -1.5},
		Ball:       "range ball",
		Head: club.Head{Name: "the old one", Loft: 0.183, Lie: 1.01, Mass: 0.198, Hold: "between",
			Sleeve:  club.Sleeve{Rings: []club.Ring{{Tilt: 0.026, Positions: 8}}, Labels: []string{"low", "mid"}},
			Weights: []club.Weight{{Name: "slider", Mass: 0.012, Stops: []club.Stop{{Label: "toe", Toe: 0.02}, {Label: "heel", Toe: -0.02}}}},
			Current: club.Setting{Sleeve: "low", Weights: []string{"heel"}}},
	}
	for i := range balls {
		s.Shots = append(s.Shots, shot.Shot{
			ID: fmt.Sprint("ball ", i), Line: i + 2, Source: "shots.csv", Tag: shot.TagToe, Note: "gust",
			Setting: club.Setting{Sleeve: "low", Weights: []string{"toe"}},
			// a measured zero is not a missing value
			Values:  shot.Values{shot.Carry: 200 + float64(i), shot.Offline: 0, shot.SpinAxis: -0.02},
			Assumed: []shot.Quantity{shot.SpinAxis},
		})
	}
	return s
}

func emptyStore(t *testing.T, b *bench) {
	ctx := t.Context()
	heads, err := b.List(ctx)
	equal(t, "List", heads, []store.Head{})
	none(t, err)
	_, _, err = b.Get(ctx, "nobody")
	is(t, err, store.ErrNotFound)
	is(t, b.Delete(ctx, "nobody"), store.ErrNotFound)
	is(t, b.Restore(ctx, "nobody"), store.ErrNotFound)
	if h := b.Health(ctx); h.Kind == "" || h.Quarantined != 0 || (h.Lasting == (h.Trouble != nil)) {
		t.Errorf("Health = %+v, want a kind, and either lasting or a trouble", h)
	}
}

func roundTrip(t *testing.T, b *bench) {
	ctx := t.Context()
	for i, id := range []string{"a", "b/ü .#", strings.Repeat("long", 40)} {
		s := Session(id, 3*i)
		s.Changed += int64(i)
		rev, err := b.Put(ctx, s, 0)
		none(t, err)
		equal(t, "first revision", rev, 1)
		got, rev, err := b.Get(ctx, id)
		none(t, err)
		equal(t, "revision", rev, 1)
		equal(t, "session", got, s)
	}
	heads, err := b.List(ctx)
	none(t, err)
	if len(heads) != 3 || heads[2].ID != "a" || heads[0].Shots != 6 || heads[0].Player != "Ada ☂ Ω" || heads[0].Size == 0 || heads[0].Revision != 1 {
		t.Errorf("List = %+v, want three, the last changed first", heads)
	}
	for _, id := range []string{"", "!x"} {
		if _, err := b.Put(ctx, Session(id, 1), 0); err == nil {
			t.Errorf("Put with the id %q did not fail", id)
		}
	}
}

func revisions(t *testing.T, b *bench) {
	ctx := t.Context()
	put(t, b, Session("a", 1), 0)
	put(t, b, Session("a", 2), 1)
	for _, want := range []int{0, 1, 3} {
		_, err := b.Put(ctx, Session("a", 9), want)
		var c *store.Conflict
		if !errors.As(err, &c) || c.Have != 2 || c.Want != want {
			t.Errorf("Put with revision %d: %v, want a conflict with 2", want, err)
		}
	}
	s, rev, err := b.Get(ctx, "a")
	none(t, err)
	if rev != 2 || len(s.Shots) != 2 {
		t.Errorf("after refused saves: revision %d, %d shots, want 2 and 2", rev, len(s.Shots))
	}
	var c *store.Conflict
	if _, err := b.Put(ctx, Session("b", 1), 4); !errors.As(err, &c) || c.Have != 0 {
		t.Errorf("Put of a session that is not there, with revision 4: %v, want a conflict", err)
	}
}

func savers(t *testing.T, b *bench) {
	put(t, b, Session("a", 0), 0)
	var wg sync.WaitGroup
	errs := make([]error, 8)
	for i := range errs {
		wg.Go(func() { _, errs[i] = b.Put(t.Context(), Session("a", i+1), 1) })
	}
	wg.Wait()
	won := -1
	for i, err := range errs {
		var c *store.Conflict
		switch {
		case err == nil && won < 0:
			won = i
		case err == nil:
			t.Errorf("savers %d and %d both won", won, i)
		case !errors.As(err, &c):
			t.Errorf("saver %d: %v, want a conflict", i, err)
		}
	}
	s, rev, err := b.Get(t.Context(), "a")
	none(t, err)
	if rev != 2 || len(s.Shots) != won+1 {
		t.Errorf("stored: revision %d with %d shots, want 2 with the winner's %d", rev, len(s.Shots), won+1)
	}
}

func removing(t *testing.T, b *bench) {
	ctx := t.Context()
	put(t, b, Session("a", 1), 0)
	put(t, b, Session("b", 1), 0)
	none(t, b.Delete(ctx, "a"))
	is(t, b.Delete(ctx, "a"), store.ErrNotFound)
	_, _, err := b.Get(ctx, "a")
	is(t, err, store.ErrNotFound)
	ids(t, b, "b")
	var c *store.Conflict
	if _, err := b.Put(ctx, Session("a", 1), 1); !errors.As(err, &c) || c.Have != 0 {
		t.Errorf("saving a removed session: %v, want a conflict with nothing", err)
	}
	none(t, b.Restore(ctx, "a"))
	s, rev, err := b.Get(ctx, "a")
	none(t, err)
	equal(t, "restored", s, Session("a", 1))
	equal(t, "revision", rev, 1)
	if err := b.Restore(ctx, "a"); !errors.As(err, &c) {
		t.Errorf("restoring what is there: %v, want a conflict", err)
	}
	none(t, b.Delete(ctx, "a"))
	gone, err := b.Removed(ctx)
	none(t, err)
	if len(gone) != 1 || gone[0].ID != "a" || gone[0].Removed == 0 {
		t.Fatalf("Removed = %+v", gone)
	}
	none(t, b.Purge(ctx, gone[0].Removed)) // not before that time
	none(t, b.Restore(ctx, "a"))
	none(t, b.Delete(ctx, "a"))
	none(t, b.Purge(ctx, 1<<40))
	is(t, b.Restore(ctx, "a"), store.ErrNotFound)
	put(t, b, Session("a", 4), 0)
	ids(t, b, "a", "b")
}

func damage(t *testing.T, b *bench) {
	ctx := t.Context()
	for _, id := range []string{"a", "b", "c"} {
		put(t, b, Session(id, 2), 0)
	}
	spoil(t, b, "a", func(r *store.Row) { r.Blob[len(r.Blob)/2] ^= 4 })
	spoil(t, b, "b", func(r *store.Row) { r.Blob = r.Blob[:20] })
	_, _, err := b.Get(ctx, "a")
	is(t, err, store.ErrDamaged)
	ids(t, b, "c")
	bad, err := b.Quarantine(ctx)
	none(t, err)
	if len(bad) != 2 {
		t.Fatalf("Quarantine has %d blobs, want 2", len(bad))
	}
	for _, d := range bad {
		if !errors.Is(d.Reason, store.ErrDamaged) || len(d.Bytes) == 0 || (d.ID != "a" && d.ID != "b") {
			t.Errorf("Quarantine: %+v", d)
		}
	}
	equal(t, "Health", b.Health(ctx).Quarantined, 2)
	put(t, b, Session("a", 7), 0) // its place is free again
	none(t, b.Discard(ctx, bad[0].Key))
	if err := b.Discard(ctx, "c"); err == nil {
		t.Error("Discard took a readable session")
	}
	equal(t, "Health after Discard", b.Health(ctx).Quarantined, 1)
	ids(t, b, "a", "c")
}

func damagedHead(t *testing.T, b *bench) {
	put(t, b, Session("a", 2), 0)
	spoil(t, b, "a", func(r *store.Row) { r.Head[len(r.Head)-1] ^= 1 })
	ids(t, b, "a")
	heads, _ := b.List(t.Context())
	equal(t, "shots", heads[0].Shots, 2)
	equal(t, "quarantine", b.Health(t.Context()).Quarantined, 0)
}

func newer(t *testing.T, b *bench) {
	ctx := t.Context()
	put(t, b, Session("a", 2), 0)
	spoil(t, b, "a", func(r *store.Row) { r.Blob = FutureBlob(r.Blob) })
	_, _, err := b.Get(ctx, "a")
	is(t, err, store.ErrNewer)
	ids(t, b)
	for _, rev := range []int{0, 1} {
		if _, err := b.Put(ctx, Session("a", 1), rev); err == nil {
			t.Errorf("Put with revision %d overwrote a newer blob", rev)
		}
	}
	bad, err := b.Quarantine(ctx)
	none(t, err)
	if len(bad) != 1 || !errors.Is(bad[0].Reason, store.ErrNewer) || bad[0].ID != "a" {
		t.Errorf("Quarantine = %+v, want the newer blob", bad)
	}
}

func export(t *testing.T, b *bench) {
	ctx := t.Context()
	for _, id := range []string{"a", "b", "c", "d"} {
		put(t, b, Session(id, 2), 0)
	}
	none(t, b.Delete(ctx, "c"))
	spoil(t, b, "d", func(r *store.Row) { r.Blob[30] ^= 1 })
	file, err := b.Export(ctx)
	none(t, err)
	for _, id := range []string{"a", "b"} {
		none(t, b.Delete(ctx, id))
	}
	none(t, b.Purge(ctx, 1<<40))
	done, err := b.Import(ctx, file)
	none(t, err)
	if done.Added != 2 || done.Beside+done.Same != 0 || done.Damaged != 1 || len(done.IDs) != 2 {
		t.Errorf("Import = %+v, want 2 added and 1 damaged", done)
	}
	ids(t, b, "a", "b")
	got, _, err := b.Get(ctx, "b")
	none(t, err)
	equal(t, "session", got, Session("b", 2))
	done, err = b.Import(ctx, file)
	none(t, err)
	if done.Same != 2 || done.Added+done.Beside != 0 {
		t.Errorf("the second Import = %+v, want nothing new", done)
	}
	_, err = b.Import(ctx, []byte("carry,offline\n200,3\n"))
	is(t, err, store.ErrNoBackup)
}

func merge(t *testing.T, b *bench) {
	ctx := t.Context()
	put(t, b, Session("a", 2), 0)
	file, err := b.Export(ctx)
	none(t, err)
	put(t, b, Session("a", 5), 1)
	for range 2 { // twice: the second time it is there already
		_, err := b.Import(ctx, file)
		none(t, err)
	}
	mine, rev, err := b.Get(ctx, "a")
	none(t, err)
	if rev != 2 || len(mine.Shots) != 5 {
		t.Errorf("the import touched what was there: revision %d, %d shots", rev, len(mine.Shots))
	}
	heads, err := b.List(ctx)
	none(t, err)
	if len(heads) != 2 {
		t.Fatalf("List = %+v, want the old one beside the new", heads)
	}
	blob, err := store.Encode(Session("z", 1))
	none(t, err)
	done, err := b.Import(ctx, blob)
	none(t, err)
	equal(t, "a single blob", done.Added, 1)
	// what was removed here comes back by an import, unless it is another one
	none(t, b.Delete(ctx, "z"))
	done, err = b.Import(ctx, blob)
	none(t, err)
	equal(t, "a removed one", done.Added, 1)
	none(t, b.Delete(ctx, "z"))
	other, err := store.Encode(Session("z", 3))
	none(t, err)
	done, err = b.Import(ctx, other)
	none(t, err)
	equal(t, "another one of the same id", done.Beside, 1)
	none(t, b.Restore(ctx, "z"))
}

func salvage(t *testing.T, b *bench) {
	ctx := t.Context()
	for _, id := range []string{"a", "b", "c"} {
		put(t, b, Session(id, 2), 0)
	}
	file, err := b.Export(ctx)
	none(t, err)
	for _, id := range []string{"a", "b", "c"} {
		none(t, b.Delete(ctx, id))
	}
	none(t, b.Purge(ctx, 1<<40))
	file[len(file)/2] ^= 1 // within b, the one in the middle
	done, err := b.Import(ctx, file)
	none(t, err)
	if done.Added != 2 || done.Damaged != 1 {
		t.Errorf("Import of a damaged file = %+v, want 2 added, 1 damaged", done)
	}
	ids(t, b, "a", "c")
}

func atomic(t *testing.T, b *bench) {
	ctx := t.Context()
	put(t, b, Session("a", 1), 0)
	stop := errors.New("stop")
	err := b.table.Update(ctx, []string{"a", "b"}, func(old []*store.Row) ([]*store.Row, error) {
		if old[0] == nil || old[1] != nil {
			t.Errorf("Update was handed %v", old)
		}
		return []*store.Row{nil, {Key: "b"}}, stop
	})
	is(t, err, stop)
	ids(t, b, "a")
	// two rows are written together
	none(t, b.table.Update(ctx, []string{"a", "b"}, func(old []*store.Row) ([]*store.Row, error) {
		moved := *old[0]
		moved.Key = "b"
		return []*store.Row{nil, &moved}, nil
	}))
	ids(t, b, "b")
}

func apart(t *testing.T, b *bench) {
	put(t, b, Session("a", 1), 0)
	rows, err := b.table.All(t.Context())
	none(t, err)
	for i := range rows[0].Blob {
		rows[0].Blob[i] = 0
	}
	ids(t, b, "a")
}

func cancelled(t *testing.T, b *bench) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := b.Put(ctx, Session("a", 1), 0); !errors.Is(err, context.Canceled) {
		t.Errorf("Put: %v, want context.Canceled", err)
	}
	ids(t, b)
}

func put(t *testing.T, b *bench, s shot.Session, revision int) {
	t.Helper()
	if rev, err := b.Put(t.Context(), s, revision); err != nil || rev != revision+1 {
		t.Fatalf("Put(%q, revision %d) = %d, %v", s.ID, revision, rev, err)
	}
}

// spoil changes a stored row behind the store's back.
func spoil(t *testing.T, b *bench, key string, how func(*store.Row)) {
	t.Helper()
	none(t, b.table.Update(t.Context(), []string{key}, func(old []*store.Row) ([]*store.Row, error) {
		how(old[0])
		return old, nil
	}))
}

func ids(t *testing.T, b *bench, want ...string) {
	t.Helper()
	heads, err := b.List(t.Context())
	none(t, err)
	got := []string{}
	for _, h := range heads {
		got = append(got, h.ID)
	}
	equal(t, "listed ids", fmt.Sprint(got), fmt.Sprint(append([]string{}, want...)))
}

func equal(t *testing.T, what string, got, want any) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%s = %+v, want %+v", what, got, want)
	}
}

func none(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func is(t *testing.T, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("error %v, want %v", err, want)
	}
}
