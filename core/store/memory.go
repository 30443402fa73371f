package store

import (
	"context"
	"slices"
	"sync"
)

// Memory is a Table that lasts as long as the program: for tests, and where
// a browser lets nothing be kept.
type Memory struct {
	Why error // why nothing lasts, for Health

	mu   sync.Mutex
	rows map[string]Row
}

var _ Table = (*Memory)(nil)

// NewMemory returns an empty table. why is what Health gives as the trouble.
func NewMemory(why error) *Memory { return &Memory{Why: why, rows: map[string]Row{}} }

// All implements Table.
func (m *Memory) All(ctx context.Context) ([]Row, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	out := make([]Row, 0, len(m.rows))
	for _, r := range m.rows {
		out = append(out, r.clone())
	}
	return out, ctx.Err()
}

// Update implements Table.
func (m *Memory) Update(ctx context.Context, keys []string, f func(old []*Row) ([]*Row, error)) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	old := make([]*Row, len(keys))
	for i, k := range keys {
		if r, ok := m.rows[k]; ok {
			c := r.clone()
			old[i] = &c
		}
	}
	rows, err := f(old)
	if err != nil {
		return err
	}
	for i, k := range keys {
		if rows[i] == nil {
			delete(m.rows, k)
			continue
		}
		m.rows[k] = rows[i].clone()
	}
	return nil
}

// Health implements Table.
func (m *Memory) Health(context.Context) Health {
	return Health{Kind: "memory", Trouble: m.Why}
}

// clone keeps callers from reaching into the table.
func (r Row) clone() Row {
	r.Head, r.Blob = slices.Clone(r.Head), slices.Clone(r.Blob)
	return r
}
