package shot

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/message"
)

// MaxClubs is how many clubs a session may hold.
const MaxClubs = 12

// All lists the clubs of the session, the first one first.
func (s Session) All() []club.Head {
	return append([]club.Head{s.Head}, s.Clubs...)
}

// Several reports whether the session compares clubs, so that settings name theirs.
func (s Session) Several() bool { return len(s.Clubs) > 0 }

// ClubAt is the club of a setting: its index in All, -1 when the session has
// none of that name. A setting that names none is the first club's.
func (s Session) ClubAt(name string) int {
	if name == "" || name == s.Head.Name {
		return 0
	}
	for i := range s.Clubs {
		if s.Clubs[i].Name == name {
			return i + 1
		}
	}
	return -1
}

// OwnAt is the index in All of the player's own club.
func (s Session) OwnAt() int { return max(0, s.ClubAt(s.Own)) }

// OwnClub is the player's own club.
func (s Session) OwnClub() club.Head { return *s.Club(s.OwnAt()) }

// Club is the club at index i of All, to be changed in place; nil = there is none.
func (s *Session) Club(i int) *club.Head {
	switch {
	case i == 0:
		return &s.Head
	case i > 0 && i <= len(s.Clubs):
		return &s.Clubs[i-1]
	}
	return nil
}

// HeadOf is the club that a setting belongs to; of an unknown one the first.
func (s Session) HeadOf(t club.Setting) club.Head { return *s.Club(max(0, s.ClubAt(t.Club))) }

// Settings lists every setting of every club: today's first, then the rest of
// the player's own club, then club by club. They name their club where the
// session has several.
func (s Session) Settings() []club.Setting {
	if !s.Several() {
		return s.Head.Settings()
	}
	all, own := s.All(), s.OwnAt()
	out := named(all[own])
	for i := range all {
		if i != own {
			out = append(out, named(all[i])...)
		}
	}
	return out
}

func named(h club.Head) []club.Setting {
	list := h.Settings()
	for i := range list {
		list[i].Club = h.Name
	}
	return list
}

// Canonical is the listed setting that is physically the same as t; one that no
// club has comes back as it is.
func (s Session) Canonical(t club.Setting) club.Setting {
	at := s.ClubAt(t.Club)
	if at < 0 {
		return t
	}
	if !s.Several() {
		return s.Head.Canonical(t.Of(""))
	}
	h := *s.Club(at)
	return h.Canonical(t.Of("")).Of(h.Name)
}

// Change is what setting t does to its club.
func (s Session) Change(t club.Setting) (club.Change, error) {
	return s.HeadOf(t).Change(t.Of(""))
}

// Find reads a setting as a person or a file writes it: "up / heel", and where
// the session has several clubs with its club before it, "new head: up / heel".
// The club alone means the club as it is set today. The error says what was read
// and what is expected.
func (s Session) Find(text string) (club.Setting, error) {
	if !s.Several() {
		return s.Head.Find(text)
	}
	want := club.Plain(text)
	at, rest := -1, ""
	for i, h := range s.All() {
		name := club.Plain(h.Name)
		if name == "" || !strings.HasPrefix(want, name) || at >= 0 && len(name) <= len(club.Plain(s.Club(at).Name)) {
			continue
		}
		if after := strings.TrimSpace(want[len(name):]); after == "" || after[0] == ':' {
			at, rest = i, strings.TrimSpace(strings.TrimPrefix(after, ":"))
		}
	}
	if at < 0 {
		return club.Setting{}, fmt.Errorf("club: read %q, expected one of %s before the setting, such as %q", text, s.clubNames(), s.Head.Name+": "+s.Head.Settings()[0].Key())
	}
	h := *s.Club(at)
	t, err := h.Find(rest)
	if err != nil {
		return t, fmt.Errorf("%s: %w", h.Name, err)
	}
	return t.Of(h.Name), nil
}

func (s Session) clubNames() string {
	var names []string
	for _, h := range s.All() {
		names = append(names, strconv.Quote(h.Name))
	}
	return strings.Join(names, ", ")
}

// Labels are the labels of everything that can be set, and where the session has
// several clubs their names and whole settings too.
func (s Session) Labels() []string {
	out := s.Head.Labels()
	if !s.Several() {
		return out
	}
	for _, h := range s.Clubs {
		out = append(out, h.Labels()...)
	}
	for _, h := range s.All() {
		out = append(out, h.Name)
	}
	all := s.Settings()
	for i := range min(len(all), maxLabelled) {
		out = append(out, all[i].Key())
	}
	return out
}

// maxLabelled bounds the settings that Labels writes out.
const maxLabelled = 20_000

// CheckClubs says what keeps the clubs of a session from being compared: one
// without a name, two of one name, a ball of a club that is not there, a club
// of one's own that is not. It returns nil or club.FieldErrors, at most five.
func (s Session) CheckClubs() error {
	if !s.Several() && s.Own == "" {
		return nil
	}
	var errs club.FieldErrors
	add := func(field, key string, places ...any) {
		if len(errs) < 5 {
			errs = append(errs, club.FieldError{Field: field, Message: message.Of(key, places...)})
		}
	}
	seen := map[string]bool{}
	for i, h := range s.All() {
		field, name := "Head.Name", club.Plain(h.Name)
		if i > 0 {
			field = fmt.Sprintf("Clubs[%d].Name", i-1)
		}
		switch {
		case name == "" && s.Several():
			add(field, "problem.club-no-name", len(s.Clubs)+1)
		case seen[name]:
			add(field, "problem.club-same-name", strconv.Quote(h.Name))
		}
		seen[name] = true
	}
	if s.ClubAt(s.Own) < 0 {
		add("Own", "problem.one-of", strconv.Quote(s.Own), s.clubNames())
	}
	for i := range s.Shots {
		if c := s.Shots[i].Setting.Club; s.ClubAt(c) < 0 {
			add(fmt.Sprintf("Shots[%d].Setting.Club", i), "problem.one-of", strconv.Quote(c), s.clubNames())
		}
	}
	if len(errs) == 0 {
		return nil
	}
	return errs
}

// FreeName is name, with a number behind it where another club is called so.
func (s Session) FreeName(name string) string {
	taken := func(n string) bool {
		return slices.ContainsFunc(s.All(), func(h club.Head) bool { return club.Plain(h.Name) == club.Plain(n) })
	}
	free := name
	for k := 2; taken(free); k++ {
		free = fmt.Sprintf("%s (%d)", name, k)
	}
	return free
}

// AddClub adds a club and returns its index in All. Two of one name are told
// apart by a number. With the second club the balls begin to name theirs: first
// is what the first one is called then, where it has no name yet.
func (s *Session) AddClub(h club.Head, first string) int {
	if !s.Several() {
		s.Head.Name = cmp.Or(s.Head.Name, first)
		for i := range s.Shots {
			s.Shots[i].Setting.Club = s.Head.Name
		}
	}
	s.Own = cmp.Or(s.Own, s.Head.Name)
	h.Name = s.FreeName(h.Name)
	s.Clubs = append(s.Clubs[:len(s.Clubs):len(s.Clubs)], h)
	return len(s.Clubs)
}

// Front makes the club at index i of All the first: the one that is described
// on the screen. Balls and the own club are known by name, so nothing else changes.
func (s *Session) Front(i int) {
	if i <= 0 || i > len(s.Clubs) {
		return
	}
	list := slices.Clone(s.Clubs)
	s.Head, list[i-1] = list[i-1], s.Head
	s.Clubs = list
}

// RenameClub gives the club at index i of All another name, and its balls with
// it. It changes nothing and reports false when another club is called so, or
// when one of several would have no name.
func (s *Session) RenameClub(i int, name string) bool {
	h := s.Club(i)
	if h == nil {
		return false
	}
	if s.Several() {
		for k, other := range s.All() {
			if k != i && club.Plain(other.Name) == club.Plain(name) {
				return false
			}
		}
		if club.Plain(name) == "" {
			return false
		}
	}
	was := h.Name
	for k := range s.Shots {
		if t := &s.Shots[k].Setting; s.Several() && s.ClubAt(t.Club) == i {
			t.Club = name
		}
	}
	if s.Own == was && was != "" {
		s.Own = name
	}
	h.Name = name
	return true
}

// RemoveClub takes the club at index i of All out of the session, unless balls
// were hit with it or it is the only one; it reports whether it did. The one
// that is left alone names itself no more.
func (s *Session) RemoveClub(i int) bool {
	if !s.Several() || s.Club(i) == nil {
		return false
	}
	for _, x := range s.Shots {
		if s.ClubAt(x.Setting.Club) == i {
			return false
		}
	}
	if s.Own == s.Club(i).Name {
		s.Own = ""
	}
	if i == 0 {
		s.Head, s.Clubs = s.Clubs[0], slices.Clone(s.Clubs[1:])
	} else {
		s.Clubs = slices.Delete(slices.Clone(s.Clubs), i-1, i)
	}
	if len(s.Clubs) == 0 {
		s.Clubs, s.Own = nil, ""
		for k := range s.Shots {
			s.Shots[k].Setting.Club = ""
		}
	}
	return true
}
