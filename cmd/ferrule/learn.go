package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"ferrule/core/club"
	"ferrule/core/pipeline"
	"ferrule/core/record"
	"ferrule/core/shot"
)

func init() { commands["learn"] = runLearn }

// learned counts what was met, in the JSON that learn -json prints.
type learned struct {
	Version int     `json:"version"`
	Players float64 `json:"players"`
	Added   int     `json:"sessions_added"`
	Merged  int     `json:"records_merged"`
	Again   int     `json:"sessions_known"`
	Other   int     `json:"other_heads"`
	Left    int     `json:"left_out"`
}

// learner makes a record from one file after the other: none is kept. Sessions are
// worked out several at a time and added in their order, so that the record is the
// same whatever the machine.
type learner struct {
	to    *record.Record
	head  *club.Head // as -club describes it
	f     fitFlags
	std   streams
	done  learned
	heard int // reasons said
}

// runLearn makes a record of a head from sessions of different players, each a
// player, and from other records.
func runLearn(args []string, std streams) int {
	flags := flag.NewFlagSet("learn", flag.ContinueOnError)
	std.err = &oneAtATime{to: std.err}
	l := learner{std: std}
	flags.SetOutput(std.err)
	l.f.register(flags)
	out := flags.String("o", "", "`RECORD`: the file to write; one that is there is added to")
	rest, err := parseMixed(flags, args)
	if err != nil || len(rest) == 0 || *out == "" {
		fmt.Fprintln(std.err, "usage: ferrule learn (DIR | SESSION | RECORD)... -o RECORD [-club CLUB.json] [-aim AIM.json] [-json]")
		return exitUsage
	}
	fail := func(err error) int {
		fmt.Fprintln(std.err, "ferrule learn:", err)
		return exitInput
	}
	if len(l.f.clubs) > 0 {
		bag, err := loadClubs(l.f.clubs)
		if err != nil {
			return fail(err)
		}
		if bag.Several() {
			return fail(fmt.Errorf("-club: read %d clubs, expected one: a record is of one head", len(bag.Clubs)+1))
		}
		l.head, l.to = &bag.Head, record.New(bag.Head)
	}
	if err := l.begin(*out); err != nil {
		return fail(err)
	}
	if err := l.all(rest, *out); err != nil {
		return fail(err)
	}
	if l.to == nil || l.to.Features == nil {
		return fail(errors.New("no session taught anything: expected sessions with a head whose settings are described"))
	}
	data, err := l.to.Encode()
	if err == nil {
		err = replace(*out, data)
	}
	if err != nil {
		return fail(err)
	}
	l.done.Version, l.done.Players = 1, l.to.Players
	if l.f.json {
		enc := json.NewEncoder(std.out)
		enc.SetIndent("", " ")
		if err := enc.Encode(l.done); err != nil {
			return fail(err)
		}
		return exitDone
	}
	d := l.done
	fmt.Fprintf(std.out, "%s: learned from %.0f players; %d sessions and %d records added, %d sessions known already, %d of other heads, %d left out\n",
		*out, d.Players, d.Added, d.Merged, d.Again, d.Other, d.Left)
	return exitDone
}

// oneAtATime lets workers write whole notices.
type oneAtATime struct {
	sync.Mutex
	to io.Writer
}

func (o *oneAtATime) Write(b []byte) (int, error) {
	o.Lock()
	defer o.Unlock()
	return o.to.Write(b)
}

func same(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}

// begin takes up the record that is at path already; one that is damaged is kept
// beside it under another name.
func (l *learner) begin(path string) error {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	r, err := record.Decode(data)
	if errors.Is(err, record.ErrDamaged) && (record.IsFile(data) || len(data) == 0) {
		aside := path + ".damaged"
		for k := 2; exists(aside); k++ {
			aside = fmt.Sprintf("%s.damaged-%d", path, k)
		}
		if err := os.Rename(path, aside); err != nil {
			return err
		}
		fmt.Fprintf(l.std.err, "%s: %v; it is kept as %s, and a new record is begun\n", path, err, aside)
		return nil
	}
	if err != nil {
		return fmt.Errorf("%s is there and no record that could be added to: %w", path, err)
	}
	if l.to != nil {
		if err := r.Of(l.to.Head); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
	}
	l.to = r
	return nil
}

func exists(path string) bool { _, err := os.Stat(path); return err == nil }

// replace writes a file whole or not at all.
func replace(path string, data []byte) error {
	part := path + ".part"
	if err := os.WriteFile(part, data, 0o644); err != nil {
		return err
	}
	return os.Rename(part, path)
}

// leftOut says a reason, the first twenty of them.
func (l *learner) leftOut(path string, why error) {
	const most = 20
	if l.heard++; l.heard <= most {
		fmt.Fprintf(l.std.err, "%s: left out: %v\n", path, why)
	} else if l.heard == most+1 {
		fmt.Fprintln(l.std.err, "more is left out; the counts tell how much")
	}
}

// all takes in every file under the paths but the record itself.
func (l *learner) all(paths []string, but string) error {
	var files []string
	for _, path := range paths {
		err := filepath.WalkDir(path, func(p string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() && !same(p, but) {
				files = append(files, p)
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	for len(files) > 0 {
		n := 1 // the first session says which head it is
		if l.to != nil {
			n = min(len(files), 4*runtime.GOMAXPROCS(0))
		}
		met := make([]met, n)
		var all sync.WaitGroup
		for k := range runtime.GOMAXPROCS(0) {
			all.Go(func() {
				for i := k; i < n; i += runtime.GOMAXPROCS(0) {
					met[i] = l.meet(files[i])
				}
			})
		}
		all.Wait()
		for i := range met {
			if err := l.take(files[i], met[i]); err != nil {
				return err
			}
		}
		files = files[n:]
	}
	return nil
}

// met is what one file held.
type met struct {
	err    error
	fatal  bool
	record *record.Record
	head   club.Head
	player record.Player
}

// meet reads a file and works it out; it changes nothing of l.
func (l *learner) meet(path string) (m met) {
	data, err := readInput(path, l.std)
	if err != nil {
		return met{err: err, fatal: true}
	}
	if record.IsFile(data) {
		m.record, m.err = record.Decode(data)
		return m
	}
	s, err := l.session(path, data)
	if err != nil {
		return met{err: err}
	}
	to := l.to
	if to == nil {
		to = record.New(s.Head)
	}
	m.head = to.Head
	if mark := pipeline.Mark(s); to.Knows(mark) {
		return met{err: pipeline.ErrTaught}
	}
	m.player, m.err = pipeline.Player(to, s)
	return m
}

// take adds what a file held. Errors are those that end the work.
func (l *learner) take(path string, m met) error {
	both := 0
	switch {
	case m.err != nil:
	case m.record != nil:
		if l.to == nil {
			l.to = record.New(m.record.Head)
		}
		both, m.err = l.to.Merge(m.record)
	default:
		if l.to == nil {
			l.to = record.New(m.head)
		}
		if m.err = pipeline.ErrTaught; !l.to.Knows(m.player.Seen[0]) {
			m.err = l.to.Add(m.player)
		}
	}
	switch {
	case m.fatal || errors.Is(m.err, record.ErrFull):
		return m.err
	case errors.Is(m.err, pipeline.ErrTaught):
		l.done.Again++
	case errors.Is(m.err, record.ErrOther):
		l.done.Other++
		l.leftOut(path, m.err)
	case m.err != nil:
		l.done.Left++
		l.leftOut(path, m.err)
	case m.record != nil:
		l.done.Merged++
		l.done.Again += both
	default:
		l.done.Added++
	}
	return nil
}

// session reads a session of the app, an export, or any shot file when -club
// describes its head.
func (l *learner) session(path string, data []byte) (s shot.Session, err error) {
	o, err := ownSession(data, l.std)
	if err != nil {
		return s, err
	}
	if o != nil && len(o.Head.Settings()) > 1 {
		return o.Session, nil
	}
	if l.head == nil {
		return s, errors.New("it holds no head: describe it with -club CLUB.json")
	}
	read, err := loadSession([]string{path}, l.f, l.std)
	return read.Session, err
}
