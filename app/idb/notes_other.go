//go:build !(js && wasm)

package idb

import (
	"context"
	"sort"
	"strings"
)

// Notes is a journal that lasts as long as the program, where there is no browser.
type Notes struct{ known map[string]string }

// OpenNotes returns an empty journal.
func OpenNotes() *Notes { return &Notes{known: map[string]string{}} }

// Begin implements act.Journal.
func (n *Notes) Begin(context.Context) error { return nil }

// Load implements act.Pocket.
func (n *Notes) Load(key string) string { return n.known[key] }

// Has reports whether the journal says anything of a key.
func (n *Notes) Has(key string) bool { _, has := n.known[key]; return has }

// Save implements act.Pocket.
func (n *Notes) Save(key, text string) {
	if n.known[key] = text; text == "" {
		delete(n.known, key)
	}
}

// Keys implements act.Pocket.
func (n *Notes) Keys(prefix string) (keys []string) {
	for k := range n.known {
		if strings.HasPrefix(k, prefix) {
			keys = append(keys, k)
		}
	}
	sort.Strings(keys)
	return keys
}

// Wait implements act.Journal.
func (n *Notes) Wait(context.Context) error { return nil }

// Watch implements act.Journal.
func (n *Notes) Watch(func([]string)) {}
