package pipeline

import (
	"fmt"
	"runtime/debug"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/export"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/share"
	"ferrule/core/sheet"
	"ferrule/core/shotfile"
	"ferrule/core/text"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// Serve answers one message: msgpack of a wire.Request in, a packed
// wire.Result out. It never panics and never returns nothing: whatever goes
// wrong comes back as Result.Error, so that a damaged session cannot take the
// worker down. The worker, native tests and a fallback on the main thread use
// this one door.
func Serve(question []byte, progress Progress) []byte {
	var q wire.Request
	var out wire.Result
	if err := msgpack.Unmarshal(question, &q); err != nil {
		out = fail(message.New("problem.fault", err))
	} else {
		out = answer(q, progress)
	}
	out.Version, out.ID = wire.Version, q.ID
	raw, err := out.Pack()
	if err != nil {
		raw, _ = wire.Result{Version: wire.Version, ID: q.ID, Error: fail(message.New("problem.fault", err)).Error}.Pack()
	}
	return raw
}

// fail is a result that says what went wrong.
func fail(err error) wire.Result {
	m := message.From(err)
	return wire.Result{Error: &m}
}

func answer(q wire.Request, progress Progress) (out wire.Result) {
	defer func() {
		if p := recover(); p != nil {
			out = fail(message.New("problem.fault", fmt.Sprintf("%v\n%s", p, firstLines(debug.Stack(), 12))))
		}
	}()
	switch {
	case q.Version != wire.Version:
		return fail(message.New("problem.versions"))
	case q.Analyse != nil:
		r, err := AnalyseWith(q.Analyse.Session, before(q.Analyse.Before), q.Analyse.Seed, progress)
		if err != nil {
			return fail(err)
		}
		return wire.Result{Report: &r}
	case q.Read != nil:
		t, err := ReadFile(q.Read.Name, q.Read.Bytes, shotfile.Options{Hand: frame.Hand(q.Read.Hand).OrRight(), Columns: q.Read.Columns, Answers: q.Read.Answers, Kind: q.Read.Kind, Club: q.Read.Club, Labels: q.Read.Labels, Air: q.Read.Air, Bag: bagOf(q.Read.Bag)})
		if err != nil {
			return fail(err)
		}
		out := wire.Result{Table: &t}
		if f, ours, err := export.Read(q.Read.Bytes); ours && err == nil {
			out.Session = &f.Session // the whole of it, to be opened as it was
			if out.Given, err = GivenIn(f); err != nil {
				t.Notes = append(t.Notes, message.From(err))
			}
		}
		return out
	case q.Fly != nil:
		fs, err := flyAll(*q.Fly)
		if err != nil {
			return fail(err)
		}
		return wire.Result{Flights: fs}
	case q.Sheet != nil:
		to := text.Reader{Language: text.Language(q.Sheet.Language), System: units.System(q.Sheet.System)}
		if q.Sheet.Picture {
			return wire.Result{HTML: sheet.Picture(q.Sheet.Session, q.Sheet.Report, to, sheet.Options{Names: q.Sheet.Names})}
		}
		return wire.Result{HTML: sheet.HTML(q.Sheet.Session, q.Sheet.Report, to, SheetOptions(q.Sheet.Names, q.Sheet.Link))}
	case q.Follow != nil:
		f, err := Follow(q.Follow.Before, q.Follow.Now, q.Follow.Seed, progress)
		if err != nil {
			return fail(err)
		}
		return wire.Result{Follow: &f}
	case q.Vary != nil:
		v, err := Vary(q.Vary.Session, before(q.Vary.Before), q.Vary.Seed, progress)
		if err != nil {
			return fail(err)
		}
		return wire.Result{Varied: v}
	case q.Given != nil:
		r, err := Given(q.Given.Session, q.Given.Answer)
		if err != nil {
			return fail(err)
		}
		return wire.Result{Report: &r}
	case q.Learn != nil:
		l, err := learnt(*q.Learn, progress)
		if err != nil {
			return fail(err)
		}
		return wire.Result{Learned: &l}
	case q.Hear != nil:
		return wire.Result{Heard: heard(*q.Hear)}
	case q.Example != nil:
		s, err := Example(q.Example.Name)
		if err != nil {
			return fail(err)
		}
		return wire.Result{Session: &s}
	}
	return fail(message.New("problem.fault", "an empty question"))
}

// SheetOptions are the options of a sheet that prints a link, if there is one,
// and its code, if a camera can read one so long.
func SheetOptions(names bool, link string) sheet.Options {
	o := sheet.Options{Names: names, Link: link}
	if path, size, err := share.QR(link); link != "" && err == nil {
		o.QR, o.QRSize = path, size
	}
	return o
}

// firstLines keeps a stack short enough for a notice.
func firstLines(b []byte, n int) []byte {
	for i, c := range b {
		if c == '\n' {
			if n--; n == 0 {
				return b[:i]
			}
		}
	}
	return b
}

func bagOf(list [][2]string) (bag []shotfile.Club) {
	for _, c := range list {
		bag = append(bag, shotfile.Club{Name: c[0], Kind: c[1]})
	}
	return bag
}
