package store_test

import (
	"context"
	"errors"
	"fmt"

	"ferrule/core/shot"
	"ferrule/core/store"
)

// A session is kept under its revision: who saves over another's change is told.
func ExampleNew() {
	ctx := context.Background()
	b := store.New(store.NewMemory(nil), func() int64 { return 0 })
	s := shot.Session{ID: "a", Title: "Range"}
	revision, err := b.Put(ctx, s, 0)
	fmt.Println("kept as", revision, err)
	s.Title = "Range, evening"
	revision, err = b.Put(ctx, s, revision)
	fmt.Println("kept as", revision, err)
	_, err = b.Put(ctx, s, 1)
	var conflict *store.Conflict
	fmt.Println("an older one is refused:", errors.As(err, &conflict))
	// Output:
	// kept as 1 <nil>
	// kept as 2 <nil>
	// an older one is refused: true
}
