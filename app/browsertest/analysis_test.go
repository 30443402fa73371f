package browsertest

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// stopwatch notes of each question to the analysis how long it was away: from
// being posted to the worker until its answer is back, before anything of the
// page looks at either. Progress and the worker's own first words are no answer.
const stopwatch = `
window.ferruleAnswers = [];
window.Worker = class extends Worker {
	constructor(...args) {
		super(...args);
		this.addEventListener("message", (event) => {
			if (this.asked && event.data instanceof Uint8Array) { ferruleAnswers.push(performance.now() - this.asked); this.asked = 0; }
		});
	}
	postMessage(data, ...rest) {
		if (data instanceof Uint8Array) { this.asked = performance.now(); }
		super.postMessage(data, ...rest);
	}
};`

// analyses is how often the large session is analysed, rested how long a page
// lies open before its first question. [s]
const (
	analyses = 11
	rested   = 4 * time.Second
)

// answer waits for the answer to a question that do has the page ask, and says
// how long it was away. [ms]
func (p *tab) answer(n int, do func()) []float64 {
	p.t.Helper()
	before := js[int](p, `ferruleAnswers.length`)
	do()
	p.until("an answer", fmt.Sprintf(`ferruleAnswers.length >= %d`, before+n))
	p.still()
	return js[[]float64](p, fmt.Sprintf(`ferruleAnswers.slice(%d)`, before))
}

// otherAim changes what the player wants, which has the session analysed anew.
func (p *tab) otherAim() {
	p.t.Helper()
	p.tap(`label[for="` + map[bool]string{true: "goal-carry", false: "goal-strokes"}[js[bool](p, `document.querySelector("#goal-strokes").checked`)] + `"]`)
}

// openLarge opens the example with 60 shots and 80 settings.
func (p *tab) openLarge() {
	p.t.Helper()
	p.goByLink("/sheet", "sheet")
	p.still()
	file := fileOf(p.t, "large.json", sixtyByEighty(p.t, p.hands("session", true)))
	p.goByLink("/shots", "shots")
	p.upload(file)
	p.tap("#open-own")
	p.goByLink("/choose", "choose")
	p.answered()
	p.still()
	p.unfold("all")
	p.until("80 settings in the grid", `document.querySelectorAll(".cell").length === 80`)
}

// TestSpeedOfTheAnalysis measures in the browser's worker how long the first
// analysis after a start takes (the example's 58 shots and 40 settings), and a
// later one of 60 shots and 80 settings; with the whole processor and with a
// quarter of it. It judges nothing: see TestSpeed.
func TestSpeedOfTheAnalysis(t *testing.T) {
	if !*speed {
		t.Skip("times of a shared machine are no test: run `make speed`")
	}
	s := startServer(t, *site)
	for _, share := range []int{1, 4} {
		with := map[int]string{1: "", 4: ", a quarter of the processor"}[share]
		p := startBrowser(t, s).open("/", script(stopwatch))
		release := func() {}
		if share > 1 {
			release = throttled(t, share)
		}
		p.page("home")
		time.Sleep(rested * time.Duration(share))
		p.example() // with the answer that the site carries
		p.tap("#step-club")
		p.page("club")
		p.still()
		first := p.answer(1, p.otherAim)
		p.openLarge()
		p.tap("#step-club")
		p.page("club")
		p.still()
		var took []float64
		for range analyses {
			took = append(took, p.answer(1, p.otherAim)[0])
		}
		release()
		slices.Sort(took)
		figure("first analysis, 58 shots and 40 settings"+with, first[0])
		figure(fmt.Sprintf("analysis of 60 shots and 80 settings, median of %d%s", analyses, with), took[analyses/2])
		figure(fmt.Sprintf("analysis of 60 shots and 80 settings, least of %d%s", analyses, with), took[0])
		p.check()
	}
}

// throttled leaves the page's processes, workers and all, one part in so many
// of the time: they are stopped and continued a hundred times a second.
// (Chromium's own throttling slows the page's thread and leaves its workers as
// fast as they are.) The returned function ends it.
func throttled(t *testing.T, share int) (release func()) {
	t.Helper()
	pids := renderers()
	if len(pids) == 0 {
		t.Skip("the browser's processes are not to be seen here: nothing can slow them down")
	}
	signal := func(s syscall.Signal) {
		for _, pid := range pids {
			_ = syscall.Kill(pid, s) // one that has ended needs none
		}
	}
	end, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		defer signal(syscall.SIGCONT)
		for {
			signal(syscall.SIGCONT)
			from := time.Now()
			time.Sleep(2500 * time.Microsecond)
			signal(syscall.SIGSTOP)
			ran := time.Since(from) // a busy machine wakes late
			select {
			case <-end:
				return
			case <-time.After(time.Duration(share-1) * ran):
			}
		}
	}()
	once := false
	release = func() {
		if !once {
			once = true
			close(end)
			<-ended
		}
	}
	t.Cleanup(release)
	return release
}

// renderers are the processes that run pages for this test's browser, found
// among its descendants.
func renderers() (pids []int) {
	parent, page := map[int]int{}, map[int]bool{}
	dirs, _ := filepath.Glob("/proc/[0-9]*")
	for _, dir := range dirs {
		pid, _ := strconv.Atoi(filepath.Base(dir))
		stat, err := os.ReadFile(dir + "/stat")
		if err != nil {
			continue
		}
		if fields := strings.Fields(string(stat[strings.LastIndexByte(string(stat), ')')+1:])); len(fields) > 1 {
			parent[pid], _ = strconv.Atoi(fields[1])
		}
		line, _ := os.ReadFile(dir + "/cmdline")
		page[pid] = strings.Contains(string(line), "--type=renderer")
	}
	for pid := range page {
		for up := pid; page[pid] && up > 1; up = parent[up] {
			if up == os.Getpid() {
				pids = append(pids, pid)
				break
			}
		}
	}
	return pids
}
