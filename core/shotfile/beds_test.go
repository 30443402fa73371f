package shotfile

import (
	"flag"
	"math/rand/v2"
	"strings"
	"testing"

	"ferrule/core/shot"
)

var (
	cases = flag.Int("cases", 250, "sessions that each bed writes and reads back")
	from  = flag.Uint64("from", 0, "the seed of the first of them: dialects, devices and exporters are tuned below 20,000, seasons below 9,000,000")
	only  = flag.Int("case", -1, "the one session to write and read, with its table")
	quote = flag.Int("quote", 0, "how much of the file of -case is printed [bytes]")
)

// written is one file of a bed, and how what is read of it is judged.
type written struct {
	name    string
	data    []byte
	options Options
	habits  string                                 // of who wrote it
	shown   string                                 // the file as text
	balls   int                                    // that any reading must hold, 0 = not said
	differs func(shot.Table) string                // what would be taken over, against what was hit
	truth   func(shot.Question, shot.Table) string // the answer of who hit the balls; nil: none is tried
}

// tally is what a bed came to.
type tally struct {
	silent, lost, after, asked, questions int
	kinds                                 map[string]int // of questions
}

// readBed writes the sessions of a bed and reads them back. None may be wrong in
// silence, none refused, and none wrong once its questions are answered.
func readBed(t *testing.T, what string, stream uint64, write func(r *rand.Rand) written) tally {
	sum := tally{kinds: map[string]int{}}
	for i := range *cases {
		if *only >= 0 && i != *only {
			continue
		}
		w := write(rand.New(rand.NewPCG(*from+uint64(i), stream)))
		if w.options.Answers == nil {
			w.options.Answers = map[string]string{}
		}
		tab, err := Read(w.name, w.data, w.options)
		if *only >= 0 {
			t.Logf("%s: %s\n%.*s", w.name, w.habits, *quote, w.shown)
			for _, c := range tab.Columns {
				t.Logf("%+v", c)
			}
			t.Logf("%d balls, notes %q, errors %v, asks %q", len(tab.Shots), tab.Notes, first(tab.Errors), tab.Ask)
		}
		switch {
		case err != nil:
			sum.lost++
			t.Errorf("%s %d: %v (%s)", what, i, err, w.habits)
			continue
		case w.balls > 0 && len(tab.Shots) != w.balls:
			sum.lost++
			t.Errorf("%s %d: %d balls, want %d; errors %v (%s)", what, i, len(tab.Shots), w.balls, first(tab.Errors), w.habits)
			continue
		case len(tab.Ask) == 0:
			if msg := w.differs(tab); msg != "" {
				sum.silent++
				t.Errorf("%s %d: wrong in silence: %s (%s)", what, i, msg, w.habits)
			}
			continue
		}
		sum.asked++
		if msg := sum.answer(w, tab); msg != "" {
			sum.after++
			t.Errorf("%s %d: %s (%s)", what, i, msg, w.habits)
		}
	}
	t.Logf("%ss, %d from seed %d: %d wrong in silence, %d refused, %d wrong or open after the answers, %d asked, %d questions %v", what, *cases, *from, sum.silent, sum.lost, sum.after, sum.asked, sum.questions, sum.kinds)
	return sum
}

// answer answers what is asked by the truth until nothing is open, and says what is
// wrong then.
func (sum *tally) answer(w written, tab shot.Table) string {
	for range 6 {
		for _, q := range tab.Questions {
			if q.Open {
				sum.kinds[strings.SplitN(q.ID, " ", 2)[0]]++
				sum.questions++
				if w.truth != nil {
					w.options.Answers[q.ID] = w.truth(q, tab)
				}
			}
		}
		if w.truth == nil {
			return ""
		}
		var err error
		if tab, err = Read(w.name, w.data, w.options); err != nil {
			return "after the answers: " + err.Error()
		}
		if len(tab.Ask) == 0 {
			break
		}
	}
	if len(tab.Ask) > 0 {
		return "still asks " + english(tab.Ask)
	}
	if msg := w.differs(tab); msg != "" {
		return "wrong after the answers: " + msg
	}
	return ""
}

func first(es []shot.RowError) []shot.RowError { return es[:min(len(es), 3)] }
