package main

import (
	"cmp"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
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
	fs.Func("kind", "the session's `club`: driver, fairway or hybrid; otherwise as CLUB.json says", func(s string) error {
		in.kind = s
		return oneOf(s, "driver", "fairway", "hybrid")
	})
}

// oneOf refuses what is none of the words of a flag.
func oneOf(s string, words ...string) error {
	if slices.Contains(words, s) {
		return nil
	}
	return fmt.Errorf("read %q, expected one of %s", s, strings.Join(words, ", "))
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

// ownSession is the session of a file of the app or of a link, with its own head
// and the answer that it carries; nil when data is none of these.
func ownSession(data []byte, std streams) (*loaded, error) {
	if store.IsFile(data) {
		c, err := store.Contents(data)
		if err == nil && len(c.Sessions) != 1 {
			err = fmt.Errorf("read %d sessions, expected a file of one", len(c.Sessions))
		}
		if err != nil {
			return nil, err
		}
		return &loaded{Session: c.Sessions[0], exact: true}, nil
	}
	if strings.Contains(string(data[:min(len(data), 4<<10)]), "#"+share.Prefix) && len(data) < 1<<20 {
		_, link, _ := strings.Cut(strings.TrimSpace(string(data)), "#"+share.Prefix)
		l, err := share.Decode(link)
		return &loaded{Session: l.Session, given: l.Given}, err
	}
	f, ours, err := export.Read(data)
	if !ours || err != nil {
		return nil, err
	}
	given, err := pipeline.GivenIn(f)
	if err != nil {
		fmt.Fprintln(std.err, err)
	}
	return &loaded{Session: f.Session, given: given, exact: true}, nil
}

// options are those of a reading for the described clubs of bag.
func (in *input) options(hand frame.Hand, bag shot.Session) shotfile.Options {
	kind := cmp.Or(in.kind, bag.Head.Kind)
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
	return fmt.Sprintf("%s\n  -answer %s", to.Say(q.Text), strings.Join(values, " or -answer "))
}

// loadShots reads the files one after the other: a ball that stands in an
// earlier one is not taken again. The first session of the app among them gives
// its head and answer (own) and, where it comes first and aimed allows it, its
// player, aim and air.
func loadShots(s *shot.Session, paths []string, in *input, bag shot.Session, to text.Reader, aimed bool, std streams) (own *loaded, err error) {
	for _, path := range paths {
		raw := []byte(path)
		if !strings.Contains(path, "#"+share.Prefix) {
			if raw, err = readInput(path, std); err != nil {
				return nil, err
			}
		}
		o, err := ownSession(raw, std)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", clipPath(path), err)
		}
		if o != nil {
			if own == nil {
				own = o
			}
			in.apply(path, o.Shots)
			takeOwn(s, o.Session, aimed, path, std)
			continue
		}
		opt := in.options(s.Player.Hand, bag)
		opt.Air = s.AirNumber(s.AirNow())
		table, err := pipeline.ReadFile(path, raw, opt)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		for _, e := range table.Errors {
			fmt.Fprintf(std.err, "%s:%d: %s: %s\n", path, e.Line, e.Column, to.Say(e.Message))
		}
		for _, q := range table.Questions {
			if blocking(q) {
				return nil, fmt.Errorf("%s: %s", path, howToAnswer(q, to))
			}
			if q.Open || q.Taken {
				fmt.Fprintf(std.err, "%s: %s: %s\n", path, map[bool]string{true: "unclear", false: "contradiction, read " + to.Say(q.Chosen())}[q.Open], howToAnswer(q, to))
			}
		}
		in.apply(path, table.Shots)
		takeShots(s, table.Airs, table.Shots, path, std)
	}
	return own, in.missed()
}

// takeOwn takes a session of the app: the first file whole, later ones their
// balls with the air of each.
func takeOwn(s *shot.Session, o shot.Session, aimed bool, path string, std streams) {
	if len(s.Shots) == 0 && s.Created == 0 {
		s.ID, s.Title, s.Created, s.Changed, s.Bench = o.ID, o.Title, o.Created, o.Changed, o.Bench
		if aimed {
			s.Player, s.Aim, s.Conditions, s.Ball = o.Player, o.Aim, o.Conditions, o.Ball
			s.Airs = o.Airs
			addShots(s, o.Shots, true, path, std)
			return
		}
	}
	if len(o.Airs) == 0 && o.Conditions.Air() == (shot.Air{}) {
		addShots(s, counted(o.Shots, s.AirNow()), false, path, std)
		return
	}
	takeShots(s, append([]shot.Air{o.Conditions.Air()}, o.Airs...), counted(o.Shots, 1), path, std)
}

// takeShots adds balls whose Air counts airs from 1.
func takeShots(s *shot.Session, airs []shot.Air, shots []shot.Shot, path string, std streams) {
	addShots(s, counted(shots, s.TakeAirs(airs)), false, path, std)
}

// counted are the balls with the number of their air raised.
func counted(shots []shot.Shot, by int) []shot.Shot {
	for i := range shots {
		shots[i].Air += by
	}
	return shots
}

func clipPath(p string) string {
	if len(p) > 80 {
		return p[:80] + "..."
	}
	return p
}

// addShots adds what is new, under ids of its own. A whole session keeps its
// balls as they are: its analysis judges what is repeated in it.
func addShots(s *shot.Session, shots []shot.Shot, whole bool, path string, std streams) {
	if whole {
		s.Shots = shots
		return
	}
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
		fmt.Fprintf(std.err, "%s: %s of an earlier file too, taken once\n", path, many(again, "ball"))
	}
}
