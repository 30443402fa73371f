package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/export"
	"ferrule/core/frame"
	"ferrule/core/pipeline"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/store"
	"ferrule/core/text"
)

// input is how shot files are opened: answers to their questions, settings by
// lines or times, the club that they are of.
type input struct {
	answers map[string]string
	sets    []setRange
	kind    string
}

func (in *input) register(fs *flag.FlagSet) {
	in.answers = map[string]string{}
	fs.Func("answer", "`ID=ANSWER` to a question of a file, as `ferrule read` prints them; may be given again", func(s string) error {
		id, v, ok := strings.Cut(s, "=")
		if !ok {
			return fmt.Errorf("read %q, expected such as clubs=Driver", s)
		}
		if old, has := in.answers[id]; has && id == "clubs" {
			v = old + "\n" + v
		}
		in.answers[id] = v
		return nil
	})
	fs.Func("set", "`[FILE:]FROM-TO=SETTING`: how the club was set in these lines (2-9) or at these times (10:05-10:20); may be given again", func(s string) error {
		r, err := parseRange(s)
		in.sets = append(in.sets, r)
		return err
	})
	fs.StringVar(&in.kind, "kind", "", "the session's club: driver, fairway or hybrid; otherwise as CLUB.json says")
}

// setRange is one -set: lines of a file, or minutes of the day.
type setRange struct {
	file     string
	from, to int
	clock    bool
	setting  string
	met      int
}

// parseRange reads "2-9=up", "10:05-10:20=up / heel", "b.csv:14=flat".
func parseRange(s string) (r setRange, err error) {
	where, setting, ok := strings.Cut(s, "=")
	wrong := fmt.Errorf("read %q, expected such as 2-9=SETTING, 10:05-10:20=SETTING or FILE:2-9=SETTING", s)
	if !ok || strings.TrimSpace(setting) == "" {
		return r, wrong
	}
	r.setting = strings.TrimSpace(setting)
	from, to, ranged := strings.Cut(where, "-")
	if k := strings.LastIndex(where, "-"); k > 0 { // a file's name may hold one
		from, to, ranged = where[:k], where[k+1:], true
	}
	if r.to, r.clock, ok = place(to); ranged && !ok {
		return r, wrong
	}
	var clock bool
	if r.from, clock, ok = place(from); !ok {
		k := strings.Index(from, ":")
		if k < 0 {
			return r, wrong
		}
		if _, _, number := place(from[:k]); number {
			return r, wrong // a time that is none
		}
		r.file = from[:k]
		if r.from, clock, ok = place(from[k+1:]); !ok {
			return r, wrong
		}
	}
	if !ranged {
		r.to, r.clock = r.from, clock
	}
	if clock != r.clock || r.to < r.from {
		return r, wrong
	}
	return r, nil
}

// place reads a line number or a time of day, in minutes.
func place(s string) (n int, clock, ok bool) {
	h, m, clock := strings.Cut(strings.TrimSpace(s), ":")
	n, err := strconv.Atoi(h)
	if err != nil || n < 0 {
		return 0, false, false
	}
	if !clock {
		return n, false, true
	}
	minute, err := strconv.Atoi(m)
	return 60*n + minute, true, err == nil && len(m) == 2 && n < 24 && minute < 60
}

// apply gives the shots of a file their settings.
func (in *input) apply(path string, shots []shot.Shot) {
	for k := range in.sets {
		r := &in.sets[k]
		if r.file != "" && r.file != path && r.file != filepath.Base(path) {
			continue
		}
		for i := range shots {
			at := shots[i].Line
			if r.clock {
				m, ok := shotfile.Minutes(shots[i].Clock)
				if !ok {
					continue
				}
				at = int(m)
			}
			if at >= r.from && at <= r.to {
				shots[i].Setting = shotfile.Setting(r.setting)
				r.met++
			}
		}
	}
}

// missed names a -set that met no ball.
func (in *input) missed() error {
	for _, r := range in.sets {
		if r.met == 0 {
			return fmt.Errorf("-set ...=%s: no ball has such a line or time", r.setting)
		}
	}
	return nil
}

// ownSession is the session of a file of the app or of a link, with its own head.
func ownSession(data []byte) (shot.Session, bool, error) {
	if store.IsFile(data) {
		c, err := store.Contents(data)
		if err == nil && len(c.Sessions) != 1 {
			err = fmt.Errorf("read %d sessions, expected a file of one", len(c.Sessions))
		}
		if err != nil {
			return shot.Session{}, true, err
		}
		return c.Sessions[0], true, nil
	}
	if _, link, ok := strings.Cut(string(data[:min(len(data), 4<<10)]), "#"+share.Prefix); ok && len(data) < 1<<20 {
		_, link, _ = strings.Cut(strings.TrimSpace(string(data)), "#"+share.Prefix)
		l, err := share.Decode(link)
		return l.Session, true, err
	}
	return shot.Session{}, false, nil
}

// options are those of a reading for the described clubs of bag.
func (in *input) options(hand frame.Hand, bag shot.Session) shotfile.Options {
	kind := in.kind
	if kind == "" {
		kind = bag.Head.Kind
	}
	o := shotfile.Options{Hand: hand, Answers: in.answers, Kind: kind, Club: bag.Head.Name, Labels: bag.Labels()}
	if bag.Several() {
		for _, h := range bag.All() {
			o.Bag = append(o.Bag, shotfile.Club{Name: h.Name, Kind: h.Kind})
		}
	}
	return o
}

// clubFlag is -club: one CLUB.json or several, in the order given.
type clubFlag []string

func (c *clubFlag) String() string { return strings.Join(*c, " ") }

func (c *clubFlag) Set(path string) error { *c = append(*c, path); return nil }

// loadClubs reads every CLUB.json, each with one club or a list, into a session
// without balls; the first is the player's own unless a file says otherwise.
// Without one the head is nobody's. Where there are several, one without a name
// is called as its file is.
func loadClubs(paths []string) (bag shot.Session, err error) {
	type read struct {
		head club.Head
		file string
	}
	var all []read
	for _, path := range paths {
		described, err := os.ReadFile(path)
		if err != nil {
			return bag, err
		}
		list, own, err := club.ListFromJSON(described)
		if err != nil {
			return bag, fmt.Errorf("%s: %w", path, err)
		}
		if own != "" && bag.Own != "" && own != bag.Own {
			return bag, fmt.Errorf("%s: own: read %q, after %q in another file, expected one club of the player's own", path, own, bag.Own)
		}
		if own != "" {
			bag.Own = own
		}
		for _, h := range list {
			all = append(all, read{h, strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))})
		}
	}
	if len(all) > shot.MaxClubs {
		return bag, fmt.Errorf("read %d clubs, expected at most %d", len(all), shot.MaxClubs)
	}
	for i, r := range all {
		if r.head.Name == "" && len(all) > 1 {
			r.head.Name = r.file
		}
		if i == 0 {
			bag.Head = r.head
			continue
		}
		if bag.FreeName(r.head.Name) != r.head.Name {
			return bag, fmt.Errorf("name: read %q twice, expected a name of its own for each of the %d clubs", r.head.Name, len(all))
		}
		bag.AddClub(r.head, "")
	}
	if err := bag.CheckClubs(); err != nil {
		return bag, err
	}
	return bag, nil
}

// bind gives each ball that names no club the one that its setting names: "new
// head: up / heel". A ball of which nobody says it is an error by its line.
func bind(s *shot.Session) error {
	if !s.Several() {
		return nil
	}
	for i := range s.Shots {
		x := &s.Shots[i]
		if x.Setting.Club != "" || x.Tag == shot.TagOut {
			continue
		}
		t, err := s.Find(x.Setting.Key())
		if err != nil {
			return fmt.Errorf("line %d of %s: %w; name the club in a column of the file, or with -set %d=CLUB", x.Line, x.Source, err, x.Line)
		}
		x.Setting = t
	}
	return nil
}

// blocking are the questions without whose answer no fit is made: whose balls
// they are.
func blocking(q shot.Question) bool {
	return q.Open && (q.ID == "clubs" || strings.HasPrefix(q.ID, "club ") || q.ID == "players" || q.ID == "columns")
}

// howToAnswer is what a script has to give.
func howToAnswer(q shot.Question, to text.Reader) string {
	var values []string
	for _, c := range q.Choices {
		values = append(values, strconv.Quote(q.ID+"="+c.Value))
	}
	return fmt.Sprintf("%s\n  -answer %s", to.Problem(q.Text), strings.Join(values, " or -answer "))
}

// loadShots reads the files one after the other: a ball that stands in an
// earlier one is not taken again.
func loadShots(s *shot.Session, paths []string, in *input, bag shot.Session, to text.Reader, std streams) (own *shot.Session, err error) {
	for _, path := range paths {
		raw := []byte(path)
		if !strings.Contains(path, "#"+share.Prefix) {
			if raw, err = readInput(path, std); err != nil {
				return nil, err
			}
		}
		o, ours, err := ownSession(raw)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", clipPath(path), err)
		}
		if e, is, _ := export.Read(raw); is && !ours && (len(e.Head.Settings()) > 1 || e.Several()) {
			o, ours = e, true
		}
		if ours {
			if own == nil {
				clubs := shot.Session{Head: o.Head, Clubs: o.Clubs, Own: o.Own}
				own = &clubs
			}
			if len(s.Shots) == 0 && s.Player.Hand == "" {
				s.Player, s.Conditions, s.Airs, s.Ball = o.Player, o.Conditions, o.Airs, o.Ball
			}
			addShots(s, o.Shots, path, std)
			continue
		}
		opt := in.options(s.Player.Hand, bag)
		opt.Air = s.AirNumber(s.AirNow())
		table, err := pipeline.ReadFile(path, raw, opt)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		for _, e := range table.Errors {
			fmt.Fprintf(std.err, "%s:%d: %s: %s\n", path, e.Line, e.Column, e.Message)
		}
		for _, q := range table.Questions {
			if blocking(q) {
				return nil, fmt.Errorf("%s: %s", path, howToAnswer(q, to))
			}
			if q.Open {
				fmt.Fprintf(std.err, "%s: unclear: %s\n", path, howToAnswer(q, to))
			}
		}
		in.apply(path, table.Shots)
		airs := s.TakeAirs(table.Airs)
		for i := range table.Shots {
			table.Shots[i].Air += airs
		}
		addShots(s, table.Shots, path, std)
	}
	return own, in.missed()
}

func clipPath(p string) string {
	if len(p) > 80 {
		return p[:80] + "..."
	}
	return p
}

// addShots adds what is new, under ids of its own.
func addShots(s *shot.Session, shots []shot.Shot, path string, std streams) {
	known := shot.Repeats(s.Shots, shots)
	ids := map[string]bool{}
	for _, h := range s.Shots {
		ids[h.ID] = true
	}
	again := 0
	for i, h := range shots {
		if known[i] >= 0 {
			again++
			continue
		}
		for k := 2; ids[h.ID]; k++ {
			h.ID = fmt.Sprintf("%s-%d", shots[i].ID, k)
		}
		ids[h.ID] = true
		s.Shots = append(s.Shots, h)
	}
	if again > 0 {
		fmt.Fprintf(std.err, "%s: %d balls stand in an earlier file and are taken once\n", path, again)
	}
}
