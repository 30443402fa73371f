package shotfile

import (
	"cmp"
	"path"
	"strings"

	"ferrule/core/club"
	"ferrule/core/message"
	"ferrule/core/shot"
)

// Club is one of several clubs that a session compares.
type Club struct{ Name, Kind string }

// notOurs is the answer that balls are of none of the session's clubs.
const notOurs = "-"

// bindClubs gives each ball the club of the session that the file's name for it
// means: the same words, or what a person answers. Names of other kinds of clubs
// are left out; all others are asked about, one question a name.
func (r *reader) bindClubs() {
	t := &r.table
	kinds := map[string]bool{}
	choices := []shot.Choice{}
	for _, c := range r.opt.Bag {
		kind := cmp.Or(c.Kind, kindDriver)
		kinds[kind] = true
		choices = append(choices, shot.Choice{Value: c.Name, Text: message.Plain(c.Name)})
	}
	choices = append(choices, shot.Choice{Value: notOurs, Text: message.Plain(notOurs)})
	balls := map[string]int{}
	for i := range t.Shots {
		balls[r.nameOf(i)]++
	}
	whose := map[string]string{}
	keep := map[string]bool{}
	for i := range t.Shots {
		s, n := &t.Shots[i], r.nameOf(i)
		if _, known := whose[n]; !known && len(whose) <= maxClubs {
			whose[n] = r.bagOf(n)
			if kind := clubKind(n); whose[n] == "" && (kind == kindOther || kind != "" && kind != kindFamily && !kinds[kind]) {
				whose[n] = notOurs
			}
			if whose[n] == "" && !r.inSettings() {
				whose[n], _ = r.question(shot.Question{ID: "club " + n, Choices: choices,
					Text: message.Of("problem.whose-club", balls[n], orDash(n))})
			}
		}
		switch own := whose[n]; own {
		case "":
		case notOurs:
			leaveOut(s, n)
		default:
			s.Setting.Club, keep[n] = own, true
			r.bare(&s.Setting)
		}
	}
	for i := range t.Clubs {
		t.Clubs[i].Kept = keep[t.Clubs[i].Name]
	}
}

// nameOf is what the file calls the club of ball i, "" = nothing.
func (r *reader) nameOf(i int) string {
	return r.spots[i].club
}

// bagOf is the club of the session that a name says, "" = none: in the file, or
// of the file itself where it names no club.
func (r *reader) bagOf(name string) string {
	name = cmp.Or(name, strings.TrimSuffix(path.Base(r.name), path.Ext(r.name)))
	for _, c := range r.opt.Bag {
		if squeeze(c.Name) == squeeze(name) {
			return c.Name
		}
	}
	return ""
}

// inSettings reports whether the settings themselves begin with a club of the
// session: "new head: up / heel".
func (r *reader) inSettings() bool {
	for _, s := range r.table.Shots {
		for _, c := range r.opt.Bag {
			if hasClub(s.Setting, c.Name) {
				return true
			}
		}
	}
	return false
}

func hasClub(t club.Setting, name string) bool {
	key, name := club.Plain(t.Labels()), club.Plain(name)
	return key == name || strings.HasPrefix(key, name+":")
}

// bare takes the club's name off the front of a setting that is of it anyway.
func (r *reader) bare(t *club.Setting) {
	if hasClub(*t, t.Club) {
		_, rest, _ := strings.Cut(t.Labels(), ":")
		*t = Setting(strings.TrimSpace(rest)).Of(t.Club)
	}
}

// bagged reports whether the words of a column are clubs of the session and no more.
func (r *reader) bagged(s spread) bool {
	for t := range s.texts {
		if len(r.opt.Bag) < 2 || r.bagOf(t) == "" {
			return false
		}
	}
	return true
}
