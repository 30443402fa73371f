package act

import (
	"context"
	"sort"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// Clients shows one player's visits, and two of them compared.
type Clients struct {
	loop    *Loop
	editor  *Editor
	keeper  *Keeper
	library *Library

	shown    Client
	compared Visits
	serial   int // of comparisons: a late answer of an older one is dropped
}

// Visits is two stored sessions compared.
type Visits struct {
	Phase Phase
	Value *report.FollowUp
	Error error
}

// Compare compares two stored sessions; the open one is taken as it
// stands on the screen. Only the newest question is answered.
func (c *Clients) Compare(before, now string) {
	c.keeper.flush()
	c.serial++
	serial := c.serial
	c.compared = Visits{Phase: Working}
	c.loop.changed()
	open := c.editor.session
	c.loop.elsewhere(func() func() {
		f, err := c.twoVisits(before, now, open)
		return func() {
			if serial != c.serial {
				return
			}
			v := &c.compared
			switch {
			case err != nil:
				v.Phase, v.Error = Failed, err
			case f.Follow == nil:
				v.Phase, v.Error = Failed, message.New("problem.stopped")
			default:
				v.Phase, v.Value = Ready, f.Follow
			}
			c.loop.changed()
		}
	})
}

// twoVisits fetches both sessions and asks the worker; it runs off the screen.
func (c *Clients) twoVisits(before, now string, open *shot.Session) (wire.Result, error) {
	get := func(id string) (shot.Session, error) {
		if open != nil && open.ID == id {
			return Clone(*open), nil
		}
		s, _, err := c.keeper.kept().Get(context.Background(), id)
		return s, err
	}
	a, err := get(before)
	if err != nil {
		return wire.Result{}, err
	}
	b, err := get(now)
	if err != nil {
		return wire.Result{}, err
	}
	return wrong(c.loop.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version,
		Follow: &wire.Follow{Before: a, Now: b, Seed: Seed}}))
}

// Client is one player in the library: all his visits, and nobody else's.
type Client struct {
	Name   string
	Visits []shot.Session // the newest first
}

// Show gathers the visits of a player. One that cannot be read is among the
// damaged sessions.
func (c *Clients) Show(name string) {
	c.keeper.flush()
	c.shown = Client{Name: name}
	list := c.library.state.Entries
	c.loop.changed()
	c.loop.elsewhere(func() func() {
		var visits []shot.Session
		for _, h := range list {
			if called(h.Player, name) {
				if s, _, err := c.keeper.kept().Get(context.Background(), h.ID); err == nil && called(s.Player.Name, name) { // a name may change meanwhile
					visits = append(visits, s)
				}
				c.loop.deps.Rest()
			}
		}
		sort.SliceStable(visits, func(i, j int) bool { return visits[i].Created > visits[j].Created })
		return func() {
			if c.shown.Name == name {
				c.shown.Visits = visits
				c.loop.changed()
			}
		}
	})
}
