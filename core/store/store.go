// Package store keeps sessions: what a stored session looks like as bytes, and
// the rules by which one is saved, found, removed and brought back.
//
// Reading order: Store (what an application sees), envelope.go (bytes with a
// version and a checksum), Table (what a place to keep rows must do), Book
// (the Store over any Table), memory.go (a Table that forgets). The browser's
// Table is app/idb. Every Table passes the suite in package storetest.
//
// Promises: a blob written by any version is read by every later one; a blob
// that is damaged or written by a newer version is kept as it is, never
// overwritten and never in the way of the others; an import adds and never
// overwrites; a revision that is not the stored one is refused, so that two
// tabs cannot undo each other's work unseen.
//
// Begin with New and its example.
package store

import (
	"context"
	"errors"
	"fmt"

	"ferrule/core/shot"
)

// Head is what a list shows of a stored session.
type Head struct {
	ID       string
	Title    string
	Player   string
	Clubs    []string // names of its clubs that can be set; empty in what older versions stored
	Created  int64    // [s] Unix time
	Changed  int64    // [s] Unix time
	Revision int
	Shots    int
	Size     int   // bytes of the blob
	Removed  int64 // [s] Unix time, 0 = not removed
}

// Store keeps sessions by id.
type Store interface {
	// List returns every session, the last changed first. Removed, damaged
	// and newer ones are not among them.
	List(ctx context.Context) ([]Head, error)
	// Get returns a session and its revision. Errors: ErrNotFound, ErrDamaged, ErrNewer.
	Get(ctx context.Context, id string) (shot.Session, int, error)
	// Put saves s if the stored revision is the given one (0 = not stored
	// yet) and returns the new revision, one higher. When it returns without
	// error the session is on the disk. Errors: *Conflict, ErrFull, ErrNewer.
	Put(ctx context.Context, s shot.Session, revision int) (int, error)
	// Delete moves a session to the removed ones.
	Delete(ctx context.Context, id string) error
	// Restore brings a removed session back.
	Restore(ctx context.Context, id string) error
	// Removed returns what Restore can bring back, the last removed first.
	Removed(ctx context.Context) ([]Head, error)
	// Purge forgets sessions that were removed before a time. [s] Unix time
	Purge(ctx context.Context, before int64) error
	// Export returns everything as one file, damaged blobs included, and with it
	// what the caller keeps of heads elsewhere, each as msgpack.
	Export(ctx context.Context, records ...[]byte) ([]byte, error)
	// Import adds the sessions of an exported file or of a single blob. A
	// session that is there already and differs is added beside it.
	Import(ctx context.Context, file []byte) (Imported, error)
	// Quarantine returns the blobs that cannot be read.
	Quarantine(ctx context.Context) ([]Blob, error)
	// Discard forgets one of them.
	Discard(ctx context.Context, key string) error
	// Health tells where things are kept and how safely.
	Health(ctx context.Context) Health
}

// Imported says what an import did.
type Imported struct {
	Added   int      // new here
	Beside  int      // differed from the one here and was added beside it
	Same    int      // was here already
	Damaged int      // could not be read and was put into quarantine
	IDs     []string // of all that were added
	Here    []string // of those that were here already
	Records [][]byte // of heads, for the caller to keep
}

// Blob is something that is kept though it cannot be read.
type Blob struct {
	Key    string
	ID     string // of the session it was, empty if unknown
	Reason error
	Bytes  []byte
}

// Health is where things are kept and how safely.
type Health struct {
	Kind        string   // "indexeddb" or "memory"
	Lasting     bool     // survives a reload
	Kept        bool     // the browser promised not to clear it by itself
	Asked       bool     // the promise was asked for
	Used        int64    // bytes used by this origin, 0 = unknown
	Quota       int64    // bytes allowed, 0 = unknown
	Quarantined int      // blobs that cannot be read
	Trouble     error    // why it does not last, nil if it does
	Missing     []string // files of the app itself that are not kept for a start without a network
}

// The errors of a Store. Each has a sentence in package text; see Key.
var (
	ErrNotFound = errors.New("this session is not stored here")
	ErrFull     = errors.New("there is no room left to save: free some space, or download the session as a file")
	ErrDamaged  = errors.New("the stored bytes are damaged")
	ErrNewer    = errors.New("this was saved by a newer version of Ferrule: update the app to open it")
	ErrDenied   = errors.New("this browser does not let Ferrule keep anything: a private window, or storage switched off")
	ErrReplaced = errors.New("a newer version of Ferrule has changed the storage: reload this page")
	ErrBlocked  = errors.New("another tab holds the storage with an older version of Ferrule: close it")
	ErrDeleted  = errors.New("the storage of this site was deleted")
	ErrBroken   = errors.New("the browser's storage does not work at the moment")
	errTooBig   = errors.New("this session holds more than Ferrule can keep")
	ErrNoBackup = errors.New("this is not a file that Ferrule saved")
)

// Conflict says that somebody else saved the session meanwhile.
type Conflict struct {
	Have int // stored revision, 0 = it is not there any more
	Want int // revision that the caller took for the stored one
}

func (c *Conflict) Error() string {
	if c.Have == 0 {
		return "this session was removed in another tab meanwhile"
	}
	return fmt.Sprintf("this session was changed in another tab meanwhile (saved %d times, this page knows of %d)", c.Have, c.Want)
}

// Key returns the key of package text that says err, empty if there is none.
func Key(err error) string {
	var c *Conflict
	if errors.As(err, &c) {
		if c.Have == 0 {
			return "store.removed-elsewhere"
		}
		return "store.changed-elsewhere"
	}
	for _, e := range keyed {
		if errors.Is(err, e.err) {
			return e.key
		}
	}
	return ""
}

var keyed = []struct {
	err error
	key string
}{
	{ErrNotFound, "store.not-found"},
	{ErrFull, "store.full"},
	{ErrDamaged, "store.damaged"},
	{ErrNewer, "store.newer"},
	{ErrDenied, "store.denied"},
	{ErrReplaced, "store.replaced"},
	{ErrBlocked, "store.blocked"},
	{ErrDeleted, "store.deleted"},
	{ErrBroken, "store.broken"},
	{errTooBig, "store.too-big"},
	{ErrNoBackup, "store.no-backup"},
}
