package store_test

import (
	"errors"
	"testing"

	"ferrule/core/store"
	"ferrule/core/store/storetest"
	"ferrule/core/text"
)

func TestMemoryKeepsThePromises(t *testing.T) {
	storetest.Run(t, func(*testing.T) store.Table { return store.NewMemory(store.ErrDenied) })
}

func TestEveryErrorHasItsSentence(t *testing.T) {
	r := text.Reader{}
	for _, err := range []error{store.ErrNotFound, store.ErrFull, store.ErrDamaged, store.ErrNewer, store.ErrDenied,
		store.ErrReplaced, store.ErrNoBackup, &store.Conflict{Have: 2}, &store.Conflict{}} {
		key := store.Key(err)
		if key == "" || r.Word(key) == "["+key+"]" {
			t.Errorf("%v has the key %q, which no catalogue knows", err, key)
		}
	}
	if store.Key(errors.New("x")) != "" {
		t.Error("a foreign error has a key")
	}
}
