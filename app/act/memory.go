package act

import (
	"context"
	"fmt"
	"sort"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/wire"
)

// Memory says what was learned before the open session and counts.
type Memory struct {
	loop    *Loop
	editor  *Editor
	keeper  *Keeper
	library *Library
	answers *Answers
	heads   *Heads
	prefs   *Preferences

	counted string // earlier visits, as the answer was asked for
}

// SamePlayer lists the stored sessions of the open session's player that are
// earlier than it, the newest first. Sessions without a name are one player's only
// where the person said so.
func (m *Memory) SamePlayer() []store.Head {
	s := m.editor.session
	if s == nil || s.Player.Name == "" && !m.prefs.now.Nameless {
		return nil
	}
	return m.earlier(*s, s.Player.Name)
}

// Nameless reports whether earlier sessions without a name might be the player's.
func (m *Memory) Nameless() bool {
	s := m.editor.session
	return s != nil && s.Player.Name == "" && len(m.earlier(*s, "")) > 0
}

func (m *Memory) earlier(s shot.Session, name string) (out []store.Head) {
	for _, h := range m.library.state.Entries {
		if h.ID != s.ID && h.Shots > 0 && h.Created <= s.Created && called(h.Player, name) {
			out = append(out, h)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Created > out[j].Created })
	return out[:min(len(out), wire.MaxVisits)]
}

func called(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }

// recall returns a function that gathers, away from the screen, what was learned
// before s; nil = nothing was, or it is not wanted.
func (m *Memory) recall(s shot.Session) func(ctx context.Context) *wire.Memory {
	out := &wire.Memory{}
	visits := m.counts()
	m.counted = printOf(visits)
	for _, h := range Learnable(s) {
		if _, r := m.heads.Of(h); r != nil && !m.editor.readOnly && !m.prefs.now.NoRecord {
			of := wire.OfHead{Head: h, Record: r.Taken, Parts: r.others(s, m.SamePlayer())}
			if len(of.Record)+len(of.Parts) > 0 {
				out.Heads = append(out.Heads, of)
			}
		}
	}
	if len(visits)+len(out.Heads) == 0 {
		return nil
	}
	return func(ctx context.Context) *wire.Memory {
		for _, h := range visits {
			v, _, err := m.keeper.kept().Get(ctx, h.ID)
			if err != nil {
				continue // removed meanwhile, or damaged: the list says so
			}
			v.Player.Name = s.Player.Name // by another spelling
			out.Visits = append(out.Visits, v)
			m.loop.deps.Rest()
		}
		return out
	}
}

// counts are the earlier visits that count.
func (m *Memory) counts() []store.Head {
	if m.editor.readOnly || m.prefs.now.Alone {
		return nil
	}
	return m.SamePlayer()
}

// printOf is a text that tells lists of visits apart.
func printOf(visits []store.Head) string {
	text := ""
	for _, h := range visits {
		text += fmt.Sprint(h.ID, " ", h.Revision, "\n")
	}
	return text
}

// follow has the answer worked out anew where other visits count by now: one
// was removed, or brought back, or the player has a name.
func (m *Memory) follow() {
	if a := m.answers.state; (a.Value != nil || a.Phase == Working) && m.editor.given == nil && m.counted != printOf(m.counts()) {
		m.answers.anew()
	}
}

// Count says which of what was learned before is counted.
func (m *Memory) Count(f func(*Prefs)) {
	m.prefs.Set(f)
	m.answers.anew()
}
