package pipeline

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/record"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// asked asks as the page does.
func asked(t *testing.T, q wire.Request) wire.Result {
	t.Helper()
	q.Version = wire.Version
	return served(t, q)
}

// served goes through the worker's door: bytes in, bytes out.
func served(t *testing.T, q wire.Request) wire.Result {
	t.Helper()
	raw, err := msgpack.Marshal(&q)
	if err != nil {
		t.Fatal(err)
	}
	out, err := wire.Unpack(Serve(raw, nil), func() {})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// What the page puts together of players, one at a time, is to the last bit the
// record that Teach makes; taken again it adds nothing.
func TestPartsMakeTheRecord(t *testing.T) {
	a, _ := Example("demo")
	b, _ := Example("thin")
	want := record.New(a.Head)
	for _, s := range []shot.Session{a, b} {
		if err := Teach(want, s); err != nil {
			t.Fatal(err)
		}
	}
	file, err := want.Encode()
	if err != nil {
		t.Fatal(err)
	}
	q := wire.OfHead{Head: a.Head}
	for _, s := range []shot.Session{a, b} {
		l := asked(t, wire.Request{Learn: &wire.Learn{OfHead: wire.OfHead{Head: a.Head}, Players: [][]shot.Session{{s}}}}).Learned
		q.Parts = append(q.Parts, l.Parts...)
	}
	l := asked(t, wire.Request{Learn: &wire.Learn{OfHead: q}}).Learned
	if !bytes.Equal(l.Record, file) || l.Players != 2 {
		t.Errorf("%d bytes of %g players, want the %d bytes of 2", len(l.Record), l.Players, len(file))
	}
	q.Record = file
	if l := asked(t, wire.Request{Learn: &wire.Learn{OfHead: q, Other: file}}).Learned; !bytes.Equal(l.Record, file) || l.Both != 2 || l.New != 0 {
		t.Errorf("the same again: %g players, %d known, %d new", l.Players, l.Both, l.New)
	}
	other := a.Head
	other.Loft += .1
	for name, x := range map[string]wire.Learn{
		"another head": {OfHead: wire.OfHead{Head: other}, Other: file},
		"damaged":      {OfHead: wire.OfHead{Head: a.Head}, Other: append(bytes.Clone(file[:len(file)-1]), 1)},
		"features":     {OfHead: wire.OfHead{Head: a.Head, Parts: []wire.Part{{Features: []int{9}, Info: make([]float64, 15), Vec: make([]float64, 5), Seen: []uint64{1}}}}},
		"numbers":      {OfHead: wire.OfHead{Head: a.Head, Parts: []wire.Part{{Features: []int{0}, Info: []float64{1}, Vec: make([]float64, 500), Seen: []uint64{1}}}}},
	} {
		if r := asked(t, wire.Request{Learn: &x}); r.Learned != nil || !strings.Contains(r.Error.Error(), name) {
			t.Errorf("%s: %+v", name, r)
		}
	}
}

// An answer to the page counts visits and record, and says so; a record that
// cannot be read is said and leaves the answer as it is without.
func TestAnAnswerCountsWhatThePageRemembers(t *testing.T) {
	today, _ := Example("thin")
	before, _ := Example("demo")
	others := record.New(today.Head)
	somebody, _ := Example("left")
	if err := Teach(others, somebody); err != nil {
		t.Fatal(err)
	}
	file, _ := others.Encode()
	ask := func(m *wire.Memory) wire.Result {
		return asked(t, wire.Request{Analyse: &wire.Analyse{Session: today, Seed: 1, Before: m}})
	}
	alone := ask(nil).Report
	r := ask(&wire.Memory{Visits: []shot.Session{before}, Heads: []wire.OfHead{{Record: file, Head: today.Head}}}).Report
	if v, p := r.Beside.Visits, r.Beside.Players; v != 1 || p != 1 || widthOf(*r) >= widthOf(*alone) {
		t.Errorf("%d visits, %d players, width %.3f, %.3f alone", v, p, widthOf(*r), widthOf(*alone))
	}
	if said := r.Recalled; len(said) != 1 || said[0].Key != "memory.both" {
		t.Errorf("said: %+v", said)
	}
	r = ask(&wire.Memory{Heads: []wire.OfHead{{Record: []byte("FRRX"), Head: today.Head}}}).Report
	if v, p := r.Beside.Visits, r.Beside.Players; v+p != 0 || r.Records[0].Why.Key != "memory.unusable" || r.Choice.Setting != alone.Choice.Setting {
		t.Errorf("a damaged record: %+v", r.Records)
	}
	rows := asked(t, wire.Request{Vary: &wire.Vary{Session: today, Seed: 1, Before: &wire.Memory{Visits: []shot.Session{before}, Heads: []wire.OfHead{{Record: file, Head: today.Head}}}}}).Varied
	whole := ask(&wire.Memory{Visits: []shot.Session{before}, Heads: []wire.OfHead{{Record: file, Head: today.Head}}}).Report
	if rows[0].Sure != whole.Choice.Sure {
		t.Errorf("as it was hit, other conditions say %g, the answer %g", rows[0].Sure, whole.Choice.Sure)
	}
}

// Of a player one of whose sessions a record holds, what is new counts and no more;
// a copy of a session counts for nothing.
func TestNoSessionIsLearnedTwice(t *testing.T) {
	a, _ := Example("demo")
	b, _ := Example("thin")
	b.Head = a.Head
	part := func(sessions ...shot.Session) wire.Part {
		return asked(t, wire.Request{Learn: &wire.Learn{OfHead: wire.OfHead{Head: a.Head}, Players: [][]shot.Session{sessions}}}).Learned.Parts[0]
	}
	together := func(q wire.OfHead) *wire.Learned {
		q.Head = a.Head
		return asked(t, wire.Request{Learn: &wire.Learn{OfHead: q}}).Learned
	}
	c := a
	c.ID, c.Title = "copy", "a copy"
	if one, two := part(a), part(a, c); len(one.Seen) != 1 || !reflect.DeepEqual(one, two) {
		t.Errorf("a session and its copy: %d marks, want what the session says", len(two.Seen))
	}
	first := together(wire.OfHead{Parts: []wire.Part{part(a)}})
	if l := together(wire.OfHead{Record: first.Record, Parts: []wire.Part{part(a, b)}}); l.Players != 1.5 {
		t.Errorf("one of two sessions is known: %g players, want 1.5", l.Players)
	}
}
