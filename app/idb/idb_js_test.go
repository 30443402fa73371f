//go:build js && wasm

package idb

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"syscall/js"
	"testing"
	"time"

	"ferrule/core/store"
	"ferrule/core/store/storetest"
)

// These tests need a browser: app/browsertest runs them in Chromium. Under
// node there is no IndexedDB, and they say so.

var fresh int

// name is of a database that no other test uses.
func name(t *testing.T) string {
	if !js.Global().Get("indexedDB").Truthy() {
		t.Skip("no IndexedDB here: app/browsertest runs this in a browser")
	}
	fresh++
	return fmt.Sprintf("test-%d-%d", time.Now().UnixNano(), fresh)
}

func TestIndexedDBKeepsThePromises(t *testing.T) {
	storetest.Run(t, func(t *testing.T) store.Table {
		table, err := open(t.Context(), name(t))
		if err != nil {
			t.Fatal(err)
		}
		return table
	})
}

func clock() int64 { return time.Now().Unix() }

func TestASecondOpeningFindsEverything(t *testing.T) {
	ctx, n := t.Context(), name(t)
	one, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	s := storetest.Session("a", 60)
	if _, err := store.New(one, clock).Put(ctx, s, 0); err != nil {
		t.Fatal(err)
	}
	two, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	got, rev, err := store.New(two, clock).Get(ctx, "a")
	if err != nil || rev != 1 || len(got.Shots) != 60 {
		t.Errorf("Get = %d shots, revision %d, %v", len(got.Shots), rev, err)
	}
}

func TestOtherConnectionsAreToldAndRefused(t *testing.T) {
	ctx, n := t.Context(), name(t)
	one, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	two, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	told := make(chan []string, 10)
	two.setWatch(func(keys []string) { told <- keys })
	a, b := store.New(one, clock), store.New(two, clock)
	if _, err := a.Put(ctx, storetest.Session("a", 1), 0); err != nil {
		t.Fatal(err)
	}
	select {
	case keys := <-told:
		if !slices.Equal(keys, []string{"a"}) {
			t.Errorf("told of %v", keys)
		}
	case <-time.After(5 * time.Second):
		t.Error("the other connection was not told")
	}
	if _, err := b.Put(ctx, storetest.Session("a", 2), 0); err == nil {
		t.Error("the second saver overwrote the first")
	}
}

// raise opens a database as a later version of the app would, and changes it.
func raise(t *testing.T, name string, change func(db js.Value)) {
	t.Helper()
	done := make(chan struct{})
	var h handlers
	req := js.Global().Get("indexedDB").Call("open", name, 7)
	h.on(req, "upgradeneeded", func(js.Value) { change(req.Get("result")) })
	h.on(req, "success", func(js.Value) { close(done) })
	<-done
	req.Get("result").Call("close")
}

// A newer program changes the database under an open page: as long as our part
// of it is there the page goes on, and one that starts later finds everything.
func TestANewerSchemaIsLivedWith(t *testing.T) {
	ctx, n := t.Context(), name(t)
	old, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.New(old, clock).Put(ctx, storetest.Session("a", 3), 0); err != nil {
		t.Fatal(err)
	}
	raise(t, n, func(db js.Value) { db.Call("createObjectStore", "later") })
	if _, err := store.New(old, clock).Put(ctx, storetest.Session("a", 4), 1); err != nil {
		t.Errorf("the open page cannot save any more: %v", err)
	}
	late, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	if s, _, err := store.New(late, clock).Get(ctx, "a"); err != nil || len(s.Shots) != 4 {
		t.Errorf("after a rollback: %d balls, %v", len(s.Shots), err)
	}
	raise2 := name(t)
	raise(t, raise2, func(db js.Value) { db.Call("createObjectStore", "later") })
	if _, err := open(ctx, raise2); !errors.Is(err, store.ErrReplaced) {
		t.Errorf("a database without our part: %v, want ErrReplaced", err)
	}
}

// A database that is deleted is opened anew, and its page is told.
func TestADeletedDatabaseIsOpenedAnew(t *testing.T) {
	ctx, n := t.Context(), name(t)
	table, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	b := store.New(table, clock)
	if _, err := b.Put(ctx, storetest.Session("a", 3), 0); err != nil {
		t.Fatal(err)
	}
	told := make(chan bool, 4)
	table.setTrouble(func() { told <- true })
	done := make(chan bool)
	var h handlers
	req := js.Global().Get("indexedDB").Call("deleteDatabase", n)
	h.on(req, "success", func(js.Value) { done <- true })
	<-done
	select {
	case <-told:
	case <-time.After(5 * time.Second):
		t.Error("nobody is told")
	}
	if !errors.Is(table.conn.state(), store.ErrDeleted) {
		t.Errorf("the reason is %v", table.conn.state())
	}
	if _, _, err := b.Get(ctx, "a"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("Get: %v", err)
	}
	if _, err := b.Put(ctx, storetest.Session("a", 3), 0); err != nil {
		t.Errorf("Put: %v", err)
	}
	if h := table.Health(ctx); !h.Lasting || h.Trouble != nil {
		t.Errorf("Health: %+v", h)
	}
}

// What was kept in memory while the database could not be opened is moved in,
// beside what is there.
func TestMemoryMovesIn(t *testing.T) {
	ctx, n := t.Context(), name(t)
	before, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.New(before, clock).Put(ctx, storetest.Session("a", 3), 0); err != nil {
		t.Fatal(err)
	}
	late := &table{conn: newConn(n, rows, "key"), memory: store.NewMemory(store.ErrBlocked)}
	late.conn.why = store.ErrBlocked
	b := store.New(late, clock)
	for _, id := range []string{"a", "b"} {
		if _, err := b.Put(ctx, storetest.Session(id, 5), 0); err != nil {
			t.Fatal(err)
		}
	}
	if h := late.Health(ctx); h.Lasting || !errors.Is(h.Trouble, store.ErrBlocked) {
		t.Errorf("Health: %+v", h)
	}
	late.retry(ctx)
	heads, err := b.List(ctx)
	if err != nil || len(heads) != 3 {
		t.Errorf("%d sessions, %v, want both and the one that was there", len(heads), err)
	}
	if s, _, err := b.Get(ctx, "a"); err != nil || len(s.Shots) != 3 {
		t.Errorf("what was there has %d balls, %v", len(s.Shots), err)
	}
}

func TestNotesAreKept(t *testing.T) {
	ctx, n := t.Context(), name(t)
	one := openNotes(n)
	one.Save("early", "before it was read")
	if err := one.Begin(ctx); err != nil {
		t.Fatal(err)
	}
	for i := range 50 {
		one.Save("a/half", fmt.Sprint(i))
	}
	one.Save("gone", "x")
	one.Save("gone", "")
	one.Save("bytes", "\x00\xff\xfe")
	if err := one.Wait(ctx); err != nil {
		t.Fatal(err)
	}
	two := openNotes(n)
	if err := two.Begin(ctx); err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{"early": "before it was read", "a/half": "49", "gone": "", "bytes": "\x00\xff\xfe"} {
		if got := two.Load(key); got != want {
			t.Errorf("%s: %q, want %q", key, got, want)
		}
	}
	if got := two.Keys("a/"); !slices.Equal(got, []string{"a/half"}) {
		t.Errorf("keys %v", got)
	}
	told := make(chan bool, 9)
	two.Watch(func([]string) { told <- true })
	one.Save("from/one", "1")
	two.Save("from/two", "2")
	if err := errors.Join(one.Wait(ctx), two.Wait(ctx)); err != nil {
		t.Fatal(err)
	}
	select {
	case <-told:
	case <-time.After(5 * time.Second):
		t.Error("the other tab is not told")
	}
	if two.Load("from/one") != "1" || two.Load("from/two") != "2" {
		t.Errorf("two tabs: %q, %q", two.Load("from/one"), two.Load("from/two"))
	}
}

func TestAnythingInARowIsTolerated(t *testing.T) {
	ctx, n := t.Context(), name(t)
	table, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	err = table.step(ctx, "readwrite", func(objects js.Value, _ *handlers, _ func(error)) {
		objects.Call("put", map[string]any{"key": "text", "blob": "no bytes", "revision": "x"})
		objects.Call("put", map[string]any{"key": "bare"})
	})
	if err != nil {
		t.Fatal(err)
	}
	b := store.New(table, clock)
	if _, err := b.Put(ctx, storetest.Session("good", 1), 0); err != nil {
		t.Fatal(err)
	}
	heads, err := b.List(ctx)
	if err != nil || len(heads) != 1 {
		t.Errorf("List = %v, %v, want the good one", heads, err)
	}
	if bad, err := b.Quarantine(ctx); err != nil || len(bad) != 2 {
		t.Errorf("Quarantine = %v, %v, want two", bad, err)
	}
}

func TestManySavesInARow(t *testing.T) {
	ctx, n := t.Context(), name(t)
	table, err := open(ctx, n)
	if err != nil {
		t.Fatal(err)
	}
	b := store.New(table, clock)
	s := storetest.Session("a", 200)
	for i := range 20 {
		if _, err := b.Put(ctx, s, i); err != nil {
			t.Fatal(err)
		}
	}
	if _, rev, err := b.Get(context.Background(), "a"); err != nil || rev != 20 {
		t.Errorf("revision %d, %v", rev, err)
	}
}

// The editor that is killed: app/browsertest runs it in a page, ends the page
// at a random moment and starts it anew, many times. Every start must find
// whole what was confirmed before.
var (
	killedIn  = flag.String("killed-in", "", "database in which the editor works until it is killed")
	confirmed = flag.Int("confirmed", 0, "revision that was confirmed before the last kill")
)

func TestTheEditorThatIsKilled(t *testing.T) {
	if *killedIn == "" {
		t.Skip("app/browsertest runs this")
	}
	ctx := t.Context()
	table, err := open(ctx, *killedIn)
	if err != nil {
		t.Fatal(err)
	}
	b := store.New(table, clock)
	if _, err := b.List(ctx); err != nil {
		t.Fatal(err)
	}
	s, rev, err := b.Get(ctx, "edited")
	switch {
	case *confirmed == 0 && errors.Is(err, store.ErrNotFound):
		s = storetest.Session("edited", 0)
	case err != nil:
		t.Fatalf("after %d confirmed saves: %v", *confirmed, err)
	}
	if rev < *confirmed || rev > *confirmed+1 {
		t.Fatalf("%d saves were confirmed, stored is revision %d", *confirmed, rev)
	}
	if len(s.Shots) != rev {
		t.Fatalf("revision %d has %d balls", rev, len(s.Shots))
	}
	if bad, err := b.Quarantine(ctx); err != nil || len(bad) > 0 {
		t.Fatalf("quarantine: %v, %v", bad, err)
	}
	js.Global().Get("console").Call("log", "found", rev)
	for {
		s.Shots = append(s.Shots, storetest.Session("x", 1).Shots...)
		if rev, err = b.Put(ctx, s, rev); err != nil {
			t.Fatal(err)
		}
		js.Global().Get("console").Call("log", "confirmed", rev)
	}
}
