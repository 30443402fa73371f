package store

import (
	"context"
	"errors"
	"fmt"
	"hash/crc32"
	"reflect"
	"slices"
	"sort"
	"strings"

	"ferrule/core/jsontext"
	"ferrule/core/shot"
)

// Row is one record of a Table: a session as bytes, with what a list needs
// beside it. A row whose key begins with "!" is in quarantine.
type Row struct {
	Key      string
	Revision int
	Head     []byte // envelope of a Head
	Blob     []byte // envelope of a session
	Removed  int64  // [s] Unix time, 0 = not removed
}

// quarantined says of a key that its blob cannot be read.
const quarantined = "!"

// Table is a place that keeps rows by key.
type Table interface {
	// All returns every row, in any order.
	All(ctx context.Context) ([]Row, error)
	// Update reads the rows of keys (nil where there is none), hands them to
	// f and writes what f returns in their places (nil removes), all in one
	// step that no other user of the table can come between. It returns when
	// the rows are safely kept. An error of f leaves everything as it was. f
	// must not block and must not use the table.
	Update(ctx context.Context, keys []string, f func(old []*Row) ([]*Row, error)) error
	// Health tells about the place; the number in quarantine is not its concern.
	Health(ctx context.Context) Health
}

// Book is the Store over a Table.
type Book struct {
	Pause func() // called between the pieces of a session that is put or read; nil = never
	table Table
	now   func() int64
}

var _ Store = (*Book)(nil)

// New returns the store that keeps its rows in t. now gives the Unix time [s]
// at which something is removed.
func New(t Table, now func() int64) *Book { return &Book{table: t, now: now} }

// List implements Store. A row whose bytes are damaged goes into quarantine
// on the way.
func (b *Book) List(ctx context.Context) ([]Head, error) {
	heads, err := b.heads(ctx, false)
	sort.Slice(heads, func(i, j int) bool { // not slices.SortFunc, of which each type is a copy in the page
		if x, y := heads[i].Changed, heads[j].Changed; x != y {
			return x > y
		}
		return heads[i].ID < heads[j].ID
	})
	return heads, err
}

// Removed implements Store.
func (b *Book) Removed(ctx context.Context) ([]Head, error) {
	heads, err := b.heads(ctx, true)
	sort.Slice(heads, func(i, j int) bool { return heads[i].Removed > heads[j].Removed })
	return heads, err
}

func (b *Book) heads(ctx context.Context, removed bool) ([]Head, error) {
	rows, err := b.table.All(ctx)
	if err != nil {
		return nil, err
	}
	heads := []Head{}
	for _, r := range rows {
		if strings.HasPrefix(r.Key, quarantined) {
			continue
		}
		h, err := r.head()
		switch {
		case errors.Is(err, ErrNewer):
			continue // stays where it is: after an update it is readable again
		case err != nil:
			if err := b.isolate(ctx, r.Key); err != nil {
				return heads, err
			}
			continue
		}
		if (h.Removed != 0) == removed {
			heads = append(heads, h)
		}
	}
	return heads, nil
}

// head reads a row's head, from the session itself when the head is damaged.
// The blob's checksum is looked at too, so that damage is found by listing.
func (r Row) head() (Head, error) {
	if _, _, err := unseal(kindSession, r.Blob); err != nil {
		return Head{}, err
	}
	h, err := decodeHead(r.Head)
	if err != nil || h.ID != r.Key {
		s, err := Decode(r.Blob)
		if err != nil {
			return Head{}, err
		}
		h = HeadOf(s, r.Revision, len(r.Blob))
	}
	h.ID, h.Revision, h.Size, h.Removed = r.Key, r.Revision, len(r.Blob), r.Removed
	return h, nil
}

// isolate moves a damaged row into quarantine. It looks again inside the
// step, for another tab may have saved meanwhile.
func (b *Book) isolate(ctx context.Context, key string) error {
	rows, err := b.table.All(ctx)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(rows, func(r Row) bool { return r.Key == key })
	if at < 0 {
		return nil
	}
	aside := asideKey(key, rows[at].Blob)
	return b.table.Update(ctx, []string{key, aside}, func(old []*Row) ([]*Row, error) {
		if old[0] == nil || asideKey(key, old[0].Blob) != aside {
			return old, nil
		}
		_, err := Decode(old[0].Blob)
		if err == nil || errors.Is(err, ErrNewer) {
			return old, nil
		}
		moved := *old[0]
		moved.Key = aside
		return []*Row{nil, &moved}, nil
	})
}

func asideKey(id string, blob []byte) string {
	return fmt.Sprintf("%s%08x %s", quarantined, crc32.ChecksumIEEE(blob), id)
}

// Get implements Store.
func (b *Book) Get(ctx context.Context, id string) (shot.Session, int, error) {
	var row *Row
	err := b.table.Update(ctx, []string{id}, func(old []*Row) ([]*Row, error) {
		row = old[0]
		return old, errUnchanged
	})
	if err != nil && !errors.Is(err, errUnchanged) {
		return shot.Session{}, 0, err
	}
	if row == nil || row.Removed != 0 || strings.HasPrefix(id, quarantined) {
		return shot.Session{}, 0, ErrNotFound
	}
	s, err := decode(row.Blob, b.Pause)
	if errors.Is(err, ErrDamaged) {
		if e := b.isolate(ctx, id); e != nil {
			return shot.Session{}, 0, e
		}
	}
	if err != nil {
		return shot.Session{}, 0, err
	}
	s.ID = id
	return s, row.Revision, nil
}

// errUnchanged ends an Update that only reads.
var errUnchanged = errors.New("nothing to write")

// Put implements Store.
func (b *Book) Put(ctx context.Context, s shot.Session, revision int) (int, error) {
	if s.ID == "" || strings.HasPrefix(s.ID, quarantined) {
		return 0, fmt.Errorf("a session needs an id that does not begin with %q", quarantined)
	}
	row, err := b.newRow(s, revision+1)
	if err != nil {
		return 0, err
	}
	err = b.table.Update(ctx, []string{s.ID}, func(old []*Row) ([]*Row, error) {
		have := 0
		if o := old[0]; o != nil && o.Removed == 0 {
			if _, _, err := unseal(kindSession, o.Blob); errors.Is(err, ErrNewer) {
				return nil, err
			}
			have = o.Revision
		}
		if have != revision {
			return nil, &Conflict{Have: have, Want: revision}
		}
		return []*Row{row}, nil
	})
	if err != nil {
		return 0, err
	}
	return row.Revision, nil
}

func (b *Book) newRow(s shot.Session, revision int) (*Row, error) {
	blob, err := encode(s, b.Pause)
	if err != nil {
		return nil, err
	}
	head, err := encodeHead(HeadOf(s, revision, len(blob)))
	if err != nil {
		return nil, err
	}
	return &Row{Key: s.ID, Revision: revision, Head: head, Blob: blob}, nil
}

// Delete implements Store.
func (b *Book) Delete(ctx context.Context, id string) error {
	return b.flag(ctx, id, false, max(b.now(), 1))
}

// Restore implements Store. A session that was put anew meanwhile stays as it
// is: the caller gets a *Conflict.
func (b *Book) Restore(ctx context.Context, id string) error { return b.flag(ctx, id, true, 0) }

func (b *Book) flag(ctx context.Context, id string, from bool, to int64) error {
	if strings.HasPrefix(id, quarantined) {
		return ErrNotFound
	}
	return b.table.Update(ctx, []string{id}, func(old []*Row) ([]*Row, error) {
		o := old[0]
		switch {
		case o == nil || (!from && o.Removed != 0):
			return nil, ErrNotFound
		case from && o.Removed == 0:
			return nil, &Conflict{Have: o.Revision}
		}
		r := *o
		r.Removed = to
		return []*Row{&r}, nil
	})
}

// Purge implements Store.
func (b *Book) Purge(ctx context.Context, before int64) error {
	gone, err := b.Removed(ctx)
	if err != nil {
		return err
	}
	for _, h := range gone {
		if h.Removed >= before {
			continue
		}
		err := b.table.Update(ctx, []string{h.ID}, func(old []*Row) ([]*Row, error) {
			if old[0] == nil || old[0].Removed == 0 || old[0].Removed >= before {
				return old, nil
			}
			return []*Row{nil}, nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// Quarantine implements Store.
func (b *Book) Quarantine(ctx context.Context) ([]Blob, error) {
	if _, err := b.List(ctx); err != nil { // finds new damage
		return nil, err
	}
	rows, err := b.table.All(ctx)
	if err != nil {
		return nil, err
	}
	blobs := []Blob{}
	for _, r := range rows {
		_, err := Decode(r.Blob)
		id, aside := r.Key, strings.HasPrefix(r.Key, quarantined)
		if aside {
			_, id, _ = strings.Cut(r.Key, " ")
			if err == nil {
				err = ErrDamaged // readable by now, but it was set aside: import it to have it back
			}
		}
		if err != nil {
			blobs = append(blobs, Blob{Key: r.Key, ID: id, Reason: err, Bytes: r.Blob})
		}
	}
	sort.Slice(blobs, func(i, j int) bool { return blobs[i].Key < blobs[j].Key })
	return blobs, nil
}

// Discard implements Store. It never touches a session that can be read.
func (b *Book) Discard(ctx context.Context, key string) error {
	return b.table.Update(ctx, []string{key}, func(old []*Row) ([]*Row, error) {
		if old[0] == nil {
			return nil, ErrNotFound
		}
		if _, err := Decode(old[0].Blob); err == nil && !strings.HasPrefix(key, quarantined) {
			return nil, fmt.Errorf("session %q can be read: remove it by Delete", key)
		}
		return []*Row{nil}, nil
	})
}

// Export implements Store.
func (b *Book) Export(ctx context.Context, records ...[]byte) ([]byte, error) {
	rows, err := b.table.All(ctx)
	if err != nil {
		return nil, err
	}
	sort.Slice(rows, func(i, j int) bool { return rows[i].Key < rows[j].Key })
	var out backup
	for _, r := range rows {
		switch _, _, err := unseal(kindSession, r.Blob); {
		case r.Removed != 0:
		case errors.Is(err, ErrDamaged) || strings.HasPrefix(r.Key, quarantined):
			out.Damaged = append(out.Damaged, r.Blob)
		default:
			out.Sessions = append(out.Sessions, r.Blob)
		}
	}
	for _, r := range records {
		out.Records = append(out.Records, seal(kindRecord, 1, r))
	}
	return encodeBackup(out)
}

// Import implements Store.
func (b *Book) Import(ctx context.Context, file []byte) (Imported, error) {
	var done Imported
	in, err := decodeBackup(file)
	if err != nil {
		return done, err
	}
	for _, blob := range in.Sessions {
		s, err := Decode(blob)
		if err != nil {
			in.Damaged = append(in.Damaged, blob)
			continue
		}
		if err := b.add(ctx, s, &done); err != nil {
			return done, err
		}
	}
	for _, blob := range in.Records {
		r, err := openRecord(blob)
		if err != nil {
			in.Damaged = append(in.Damaged, blob)
			continue
		}
		done.Records = append(done.Records, r)
	}
	for _, blob := range in.Damaged {
		key := asideKey("", blob)
		err := b.table.Update(ctx, []string{key}, func([]*Row) ([]*Row, error) {
			return []*Row{{Key: key, Blob: blob}}, nil
		})
		if err != nil {
			return done, err
		}
		done.Damaged++
	}
	return done, nil
}

// add takes one session in: under its own id when that is free, else beside
// the one that is there under an id made of its content, so that importing
// the same file twice adds nothing the second time.
func (b *Book) add(ctx context.Context, s shot.Session, done *Imported) error {
	if s.ID == "" || strings.HasPrefix(s.ID, quarantined) {
		s.ID = "imported"
	}
	print, err := jsontext.Marshal(s) // sorts the keys of maps, as msgpack does not
	if err != nil {
		return fmt.Errorf("session %q cannot be compared: %w", s.ID, err)
	}
	ids := []string{s.ID, fmt.Sprintf("%s-%08x", s.ID, crc32.ChecksumIEEE(print))}
	which, here := -1, ""
	err = b.table.Update(ctx, ids, func(old []*Row) ([]*Row, error) {
		which, here = -1, s.ID
		for i, o := range old {
			t := s
			t.ID = ids[i]
			row, err := b.newRow(t, 1)
			if err != nil {
				return nil, err
			}
			if o != nil { // even a removed one is not overwritten by another
				there, err := Decode(o.Blob)
				if err != nil || !sameButID(there, s) {
					continue
				}
				if o.Removed == 0 {
					here = ids[i]
					return nil, errUnchanged
				}
				row.Revision = o.Revision + 1
			}
			which = i
			old[i] = row
			return old, nil
		}
		return nil, errUnchanged
	})
	switch {
	case errors.Is(err, errUnchanged):
		done.Same++
		done.Here = append(done.Here, here)
		return nil
	case err != nil:
		return err
	case which == 0:
		done.Added++
	default:
		done.Beside++
	}
	done.IDs = append(done.IDs, ids[which])
	return nil
}

func sameButID(a, b shot.Session) bool {
	a.ID, b.ID = "", ""
	return reflect.DeepEqual(a, b)
}

// Health implements Store.
func (b *Book) Health(ctx context.Context) Health {
	h := b.table.Health(ctx)
	rows, err := b.table.All(ctx)
	if err != nil {
		return h
	}
	for _, r := range rows {
		// By head and checksum, as a list does: it is asked at each start, and
		// to decode a hundred sessions takes a phone seconds.
		if _, err := r.head(); err != nil || strings.HasPrefix(r.Key, quarantined) {
			h.Quarantined++
		}
	}
	return h
}
