package act

import (
	"context"
	"slices"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// maxFile is the largest file that is handed to the worker; a range session
// is a few hundred kilobytes at most.
const maxFile = 24 << 20

// ReadFile asks what a file or a pasted text holds. The session stays as it
// is until Accept.
func (m *Model) ReadFile(name string, data []byte) {
	m.s.Reading = Reading{Phase: Working, Name: name, bytes: data}
	if len(data) > maxFile {
		m.s.Reading.Phase, m.s.Reading.Error = Failed, "error.file-large"
		m.changed()
		return
	}
	m.read()
}

// FixColumn corrects what one column of the file means and reads it again.
func (m *Model) FixColumn(c shot.Column) {
	cols := slices.Clone(m.s.Reading.columns)
	if i := slices.IndexFunc(cols, func(o shot.Column) bool { return o.Header == c.Header }); i >= 0 {
		cols[i] = c
	} else {
		cols = append(cols, c)
	}
	m.s.Reading.columns = cols
	m.read()
}

func (m *Model) read() {
	m.reads++
	serial := m.reads
	r := &wire.Read{Name: m.s.Reading.Name, Bytes: m.s.Reading.bytes, Columns: m.s.Reading.columns}
	if m.s.Session != nil {
		r.Hand = string(m.s.Session.Player.Hand)
	}
	m.s.Reading.Phase = Working
	m.changed()
	m.elsewhere(func() func() {
		res, err := m.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Read: r})
		return func() {
			if serial != m.reads {
				return
			}
			g := &m.s.Reading
			switch {
			case err != nil:
				g.Phase, g.Error = Failed, err.Error()
			case res.Error != "" && res.Table == nil:
				g.Phase, g.Error = Failed, res.Error
			case res.Table == nil:
				g.Phase, g.Error = Failed, "error.file-empty"
			default:
				g.Phase, g.Error, g.Table = Ready, "", res.Table
				m.name()
			}
			m.changed()
		}
	})
}

// name lists the settings that the file names and matches them with the head.
func (m *Model) name() {
	g := &m.s.Reading
	old := g.Settings
	g.Settings = nil
	all := m.HeadSettings()
	for _, h := range g.Table.Shots {
		label := h.Setting.Key()
		i := slices.IndexFunc(g.Settings, func(n Named) bool { return n.Label == label })
		if i >= 0 {
			g.Settings[i].Shots++
			continue
		}
		use := -1
		if label == "" {
			use = 0
		} else if set, err := m.findSetting(label); err == nil {
			use = m.indexOf(all, set)
		}
		if j := slices.IndexFunc(old, func(n Named) bool { return n.Label == label }); j >= 0 {
			use = old[j].Use
		}
		g.Settings = append(g.Settings, Named{Label: label, Shots: 1, Use: use})
	}
}

func (m *Model) indexOf(all []club.Setting, s club.Setting) int {
	return slices.IndexFunc(all, s.Equal)
}

// UseSetting says which of the head's settings a name in the file stands for;
// -1 keeps the file's words.
func (m *Model) UseSetting(label string, use int) {
	s := slices.Clone(m.s.Reading.Settings)
	for i := range s {
		if s[i].Label == label {
			s[i].Use = use
		}
	}
	m.s.Reading.Settings = s
	m.changed()
}

// Accept puts the shots that were read at the end of the session.
func (m *Model) Accept() {
	g := m.s.Reading
	if g.Table == nil || len(g.Table.Shots) == 0 {
		return
	}
	if m.s.Session == nil {
		m.NewSession()
	}
	all := m.HeadSettings()
	m.Edit(Change{Key: "edit.file-added"}, func(s *shot.Session) {
		settleHead(s, g, all)
		for _, h := range g.Table.Shots {
			for _, n := range g.Settings {
				if n.Label == h.Setting.Key() && n.Use >= 0 && n.Use < len(all) {
					h.Setting = cloneSetting(all[n.Use])
				}
			}
			if h.Source == "" {
				h.Source = g.Name
			}
			h.ID = freshShotID(s.Shots)
			s.Shots = append(s.Shots, h)
		}
		if s.Title == "" {
			s.Title = g.Name
		}
	})
	m.s.Reading = Reading{}
	m.say("notice.file-added", true, countArg(len(g.Table.Shots)))
}

// settleHead gives a head that describes nothing yet a table with the
// settings that the file names, so that an unknown club can be compared at
// once. What they do in degrees is left for the person to fill in.
func settleHead(s *shot.Session, g Reading, all []club.Setting) {
	if len(all) > 1 || len(s.Head.Weights) > 0 {
		return
	}
	names := []string{}
	for _, n := range g.Settings {
		if n.Use < 0 && n.Label != "" {
			names = append(names, n.Label)
		}
	}
	if len(names) == 0 {
		return
	}
	s.Head.Sleeve = club.Sleeve{}
	for _, n := range names {
		s.Head.Sleeve.Table = append(s.Head.Sleeve.Table, club.Position{Label: n, Unknown: true})
	}
	s.Head.Current = club.Setting{Sleeve: names[0]}
	for i := range g.Table.Shots {
		h := &g.Table.Shots[i]
		if k := h.Setting.Key(); k != "" {
			h.Setting = club.Setting{Sleeve: k}
		}
	}
}

// DropReading forgets the file that was read.
func (m *Model) DropReading() {
	m.reads++
	m.s.Reading = Reading{}
	m.changed()
}
