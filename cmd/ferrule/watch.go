package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"ferrule/core/pipeline"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
)

func init() { commands["watch"] = runWatch }

// mostWatched bounds how many files of a folder are looked at.
const mostWatched = 500

// unended is how many looks a file must stay the same that does not end with a
// line: until then it is taken for one that is still being written.
const unended = 3

// watcher follows a folder that a device writes to.
type watcher struct {
	dir  string
	f    fitFlags
	std  streams
	seen map[string]sighting
	s    shot.Session // all balls so far
	set  string       // how the club is set, for files that do not say it
}

// sighting is a file as it was last looked at.
type sighting struct {
	size  int64
	when  time.Time
	old   int64 // bytes that were there at the beginning: their balls are nobody's here
	waits int   // looks left until it counts as whole
}

// runWatch prints the answer after each block of balls that is written to a folder,
// until it is interrupted.
func runWatch(args []string, std streams) int {
	fs := flag.NewFlagSet("watch", flag.ContinueOnError)
	fs.SetOutput(std.err)
	w := watcher{std: std, seen: map[string]sighting{}}
	w.f.register(fs)
	every := fs.Duration("every", time.Second, "how often the folder is looked at")
	all := fs.Bool("all", false, "take the balls that lie in the folder already as well")
	rest, err := parseMixed(fs, args)
	if err != nil || len(rest) != 1 || *every < 10*time.Millisecond {
		fmt.Fprintln(std.err, "usage: ferrule watch DIR -club CLUB.json [-aim AIM.json] [-all] [-every 1s] [-json]\nA line on the standard input names the setting of the balls to come, where the files do not.")
		return exitUsage
	}
	w.dir = rest[0]
	for _, path := range append([]string{w.dir, w.f.aim}, w.f.clubs...) { // said now, not after the first block
		if _, err := os.Stat(path); path != "" && err != nil {
			fmt.Fprintln(std.err, "ferrule watch:", err)
			return exitInput
		}
	}
	if !*all {
		w.begin()
	}
	lines := make(chan string)
	go func() {
		in := bufio.NewScanner(io.LimitReader(std.in, 1<<20))
		for in.Scan() {
			lines <- strings.TrimSpace(in.Text())
		}
	}()
	fmt.Fprintf(std.err, "watching %s\n", w.dir)
	for tick := time.NewTicker(*every); ; {
		select {
		case w.set = <-lines:
			fmt.Fprintf(std.err, "set to %s\n", w.set)
		case <-tick.C:
			w.look()
		}
	}
}

// files are the shot files of the folder, by name.
func (w *watcher) files() map[string]os.FileInfo {
	out := map[string]os.FileInfo{}
	entries, err := os.ReadDir(w.dir)
	if err != nil {
		fmt.Fprintln(w.std.err, "ferrule watch:", err) // a share that went away may come back
	}
	for _, e := range entries {
		if !slices.Contains([]string{".csv", ".tsv", ".txt", ".xlsx", ".json"}, strings.ToLower(filepath.Ext(e.Name()))) || len(out) == mostWatched {
			continue
		}
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() {
			out[e.Name()] = info
		}
	}
	return out
}

// begin takes note of what lies in the folder already.
func (w *watcher) begin() {
	for name, info := range w.files() {
		w.seen[name] = sighting{size: info.Size(), when: info.ModTime(), old: info.Size()}
	}
}

// look reads what has changed, and answers once if balls came.
func (w *watcher) look() {
	came := 0
	files := w.files()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		info, was := files[name], w.seen[name]
		same := was.size == info.Size() && was.when.Equal(info.ModTime())
		if info.Size() == 0 || same && was.waits == 0 {
			continue
		}
		path := filepath.Join(w.dir, name)
		now := sighting{size: info.Size(), when: info.ModTime(), old: was.old}
		raw, err := readInput(path, w.std)
		if err == nil && !bytes.HasSuffix(raw, []byte("\n")) {
			if now.waits = unended; same {
				now.waits = was.waits - 1
			}
		}
		if w.seen[name] = now; err == nil && now.waits == 0 {
			var n int
			n, err = w.take(path, raw, was.old)
			came += n
		}
		if err != nil {
			fmt.Fprintln(w.std.err, "ferrule watch:", err)
		}
	}
	if came > 0 {
		w.answer(came)
	}
}

// take adds the new balls of a file and returns how many they are.
func (w *watcher) take(path string, raw []byte, old int64) (int, error) {
	one, err := loadSession([]string{path}, w.f, streams{in: w.std.in, out: w.std.out, err: io.Discard})
	if err != nil {
		return 0, err
	}
	from := bytes.Count(raw[:min(old, int64(len(raw)))], []byte("\n"))
	shots := slices.DeleteFunc(one.Shots, func(h shot.Shot) bool { return h.Line <= from && from > 0 })
	for i := range shots {
		if shots[i].Setting.Key() == "" && w.set != "" {
			shots[i].Setting = shotfile.Setting(w.set)
		}
	}
	if len(w.s.Shots) == 0 {
		w.s = one.Session
		w.s.Shots = nil
	} else {
		add := w.s.TakeAirs(one.Airs)
		for i := range shots {
			shots[i].Air += add
		}
	}
	before := len(w.s.Shots)
	addShots(&w.s, shots, false, path, streams{err: io.Discard})
	if len(w.f.clubs) == 0 && len(w.s.Head.Settings()) < 2 {
		w.s.Head = pipeline.HeadFromShots(w.s.Shots)
	}
	return len(w.s.Shots) - before, nil
}

// answer prints the answer after a block: a line of JSON, or a few of text.
func (w *watcher) answer(came int) {
	r, err := pipeline.Analyse(w.s, w.f.seed, nil)
	if err != nil {
		fmt.Fprintln(w.std.err, "ferrule watch:", err)
		return
	}
	to := w.f.reader()
	if w.f.json {
		if err := json.NewEncoder(w.std.out).Encode(contract(r, to)); err != nil {
			fmt.Fprintln(w.std.err, "ferrule watch:", err)
		}
		return
	}
	fmt.Fprintf(w.std.out, "%s (%d)\n", to.Fill("notice.balls-to", fmt.Sprint(came), w.s.Shots[len(w.s.Shots)-1].Setting.Key()), len(w.s.Shots))
	for _, m := range []string{to.Say(r.Choice.Headline), to.Say(r.Todo.Why)} {
		fmt.Fprintln(w.std.out, "  "+m)
	}
	for _, v := range r.Todo.Visits[:min(1, len(r.Todo.Visits))] {
		fmt.Fprintln(w.std.out, "  "+to.Fill("plan.visit", to.Fill("balls.many", fmt.Sprint(v.Balls-v.Done)), r.Settings[v.Setting].Setting.Key()))
	}
}
