package bridge

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/wire"
)

// fake is a worker in the same program: it answers when told to.
type fake struct {
	mu      sync.Mutex
	cb      callbacks
	got     chan wire.Request
	ended   bool
	started int
}

func (f *fake) start(cb callbacks) (link, error) {
	f.mu.Lock()
	f.cb, f.ended = cb, false
	f.started++
	f.mu.Unlock()
	go cb.ready()
	return f, nil
}

func (f *fake) send(m []byte) {
	var r wire.Request
	if err := msgpack.Unmarshal(m, &r); err != nil {
		panic(err)
	}
	go func() { f.got <- r }()
}

func (f *fake) end() { f.mu.Lock(); f.ended = true; f.mu.Unlock() }

func (f *fake) answer(id uint64, text string) {
	m, err := wire.Result{Version: wire.Version, ID: id, HTML: text}.Pack()
	if err != nil {
		panic(err)
	}
	f.mu.Lock()
	cb := f.cb
	f.mu.Unlock()
	cb.result(m)
}

type reply struct {
	res wire.Result
	err error
}

func ask(c *Client, ctx context.Context, name string) chan reply {
	out := make(chan reply, 1)
	go func() {
		r, err := c.Do(ctx, wire.Request{Example: &wire.Example{Name: name}})
		out <- reply{r, err}
	}()
	return out
}

func take[T any](t *testing.T, what string, c chan T) T {
	t.Helper()
	select {
	case v := <-c:
		return v
	case <-time.After(5 * time.Second):
		t.Fatalf("%s did not come", what)
		panic("unreachable")
	}
}

func newFake() (*fake, *Client) {
	f := &fake{got: make(chan wire.Request, 10)}
	return f, newClient(f.start)
}

func TestRequestsAreAnsweredOneAtATime(t *testing.T) {
	f, c := newFake()
	c.Warm()
	a := ask(c, t.Context(), "a")
	ra := take(t, "request a", f.got)
	b := ask(c, t.Context(), "b")
	if ra.Version != wire.Version || ra.Example == nil || ra.Example.Name != "a" {
		t.Errorf("the worker got %+v", ra)
	}
	f.answer(ra.ID, "answer a")
	if r := take(t, "answer a", a); r.err != nil || r.res.HTML != "answer a" {
		t.Errorf("a: %+v", r)
	}
	rb := take(t, "request b", f.got)
	f.answer(rb.ID, "answer b")
	if r := take(t, "answer b", b); r.err != nil || r.res.HTML != "answer b" {
		t.Errorf("b: %+v", r)
	}
	if f.started != 1 {
		t.Errorf("%d workers were started, want the one kept warm", f.started)
	}
}

func TestGivingUpTheRunningRequestRestartsTheWorkerAndKeepsTheOthers(t *testing.T) {
	f, c := newFake()
	ctx, cancel := context.WithCancel(t.Context())
	a := ask(c, ctx, "a")
	take(t, "request a", f.got)
	b := ask(c, t.Context(), "b")
	old := f.cb
	cancel()
	if r := take(t, "a's end", a); !errors.Is(r.err, context.Canceled) {
		t.Errorf("a: %v, want context.Canceled", r.err)
	}
	rb := take(t, "request b", f.got)
	if f.started != 2 {
		t.Errorf("%d workers were started, want 2", f.started)
	}
	m, _ := wire.Result{Version: wire.Version, ID: rb.ID, HTML: "from the dead"}.Pack()
	old.result(m) // of an ended worker
	f.answer(rb.ID, "answer b")
	if r := take(t, "answer b", b); r.err != nil || r.res.HTML != "answer b" {
		t.Errorf("b: %+v", r)
	}
}

func TestGivingUpAWaitingRequestLeavesTheRunningOne(t *testing.T) {
	f, c := newFake()
	a := ask(c, t.Context(), "a")
	ra := take(t, "request a", f.got)
	ctx, cancel := context.WithCancel(t.Context())
	b := ask(c, ctx, "b")
	for c.waiting() < 2 {
		time.Sleep(time.Millisecond)
	}
	cancel()
	take(t, "b's end", b)
	f.answer(ra.ID, "answer a")
	if r := take(t, "answer a", a); r.err != nil || f.started != 1 {
		t.Errorf("a: %+v, %d workers started", r, f.started)
	}
}

func (c *Client) waiting() int { c.mu.Lock(); defer c.mu.Unlock(); return len(c.queue) }

func TestAWorkerThatDiesFailsItsRequestOnly(t *testing.T) {
	f, c := newFake()
	a := ask(c, t.Context(), "a")
	take(t, "request a", f.got)
	b := ask(c, t.Context(), "b")
	for c.waiting() < 2 {
		time.Sleep(time.Millisecond)
	}
	f.cb.stopped("out of memory")
	if r := take(t, "a's end", a); !errors.Is(r.err, errStopped) {
		t.Errorf("a: %v, want errStopped", r.err)
	}
	rb := take(t, "request b", f.got)
	f.answer(rb.ID, "answer b")
	if r := take(t, "answer b", b); r.err != nil {
		t.Error(r.err)
	}
}

func TestAWorkerThatNeverStarts(t *testing.T) {
	starts := 0
	c := newClient(func(cb callbacks) (link, error) {
		starts++
		go cb.stopped("404")
		return &fake{}, nil
	})
	if r := take(t, "the failure", ask(c, t.Context(), "a")); !errors.Is(r.err, errStart) {
		t.Errorf("%v, want errStart", r.err)
	}
	if starts != 3 {
		t.Errorf("%d starts, want 3", starts)
	}
	if r := take(t, "the failure", ask(newClient(startWorker), t.Context(), "a")); !errors.Is(r.err, errStart) {
		t.Errorf("without a browser: %v, want errStart", r.err)
	}
}

func TestAnswersOfAnotherVersionOrQuestion(t *testing.T) {
	for _, c := range []wire.Result{{Version: wire.Version + 1, ID: 1}, {Version: wire.Version, ID: 2}} {
		m, err := c.Pack()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := decode(m, 1); err == nil {
			t.Errorf("decode took %+v as the answer to 1", c)
		}
	}
	if _, err := decode([]byte("no msgpack"), 1); err == nil {
		t.Error("decode took text")
	}
}

func TestProgressIsTold(t *testing.T) {
	f, c := newFake()
	told := make(chan wire.Progress, 1)
	go c.DoWith(t.Context(), wire.Request{Example: &wire.Example{}}, func(p wire.Progress) { told <- p })
	r := take(t, "the request", f.got)
	for _, p := range []wire.Progress{{ID: r.ID + 1, Step: "other"}, {ID: r.ID, Step: "fit", Done: 0.5}} {
		m, err := msgpack.Marshal(&p)
		if err != nil {
			t.Fatal(err)
		}
		f.cb.progress(m)
	}
	if p := take(t, "progress", told); p.Step != "fit" || p.Done != 0.5 {
		t.Errorf("progress %+v", p)
	}
}

// TestASilentWorkerIsBegunAgainOnce has workers that take a request and say
// nothing more: the first is ended after five seconds of the page's beats, which
// is told; the second, too, after longer; then the request fails. Signs of life
// keep one going for as long as it likes.
func TestASilentWorkerIsBegunAgainOnce(t *testing.T) {
	f, c := newFake()
	beats := make(chan bool)
	c.sleep = func(time.Duration) { <-beats }
	beat := func(n int) {
		for range n {
			select {
			case beats <- true:
			case <-time.After(200 * time.Millisecond): // nobody watches any more
			}
		}
	}
	told := make(chan wire.Progress, 9)
	out := make(chan reply, 1)
	go func() {
		r, err := c.DoWith(t.Context(), wire.Request{Example: &wire.Example{Name: "a"}}, func(p wire.Progress) { told <- p })
		out <- reply{r, err}
	}()
	take(t, "the request", f.got)
	for range 10 { // alive for long
		beat(8)
		f.mu.Lock()
		cb := f.cb
		f.mu.Unlock()
		cb.life()
	}
	if f.started != 1 {
		t.Fatalf("a worker that gives signs of life was ended: %d starts", f.started)
	}
	beat(11)
	take(t, "the request, again", f.got)
	if p := take(t, "the word of it", told); p.Step != wire.Again {
		t.Errorf("told %+v", p)
	}
	if f.started != 2 || !f.ended && f.started < 2 {
		t.Errorf("%d starts", f.started)
	}
	beat(62) // one goes to who watched the start
	if r := take(t, "the failure", out); !errors.Is(r.err, errStopped) {
		t.Errorf("%v, want errStopped", r.err)
	}
}

// TestAWorkerThatIsSilentBeforeItIsReady is ended as well, and one on a slow line
// is waited for.
func TestAWorkerThatIsSilentBeforeItIsReady(t *testing.T) {
	f, beats := &fake{got: make(chan wire.Request, 10)}, make(chan bool)
	starts := make(chan callbacks, 9)
	c := newClient(func(cb callbacks) (link, error) { starts <- cb; return f, nil })
	c.sleep = func(time.Duration) { <-beats }
	beat := func(n int) {
		for range n {
			beats <- true
		}
	}
	out := ask(c, t.Context(), "a")
	slow := take(t, "the first start", starts)
	for range 3 {
		beat(59)
		slow.life()
	}
	if len(starts) > 0 {
		t.Fatal("a worker that is being fetched was ended")
	}
	beat(61)
	second := take(t, "the second start", starts)
	second.ready()
	r := take(t, "the request", f.got)
	m, _ := wire.Result{Version: wire.Version, ID: r.ID, HTML: "at last"}.Pack()
	second.result(m)
	if r := take(t, "the answer", out); r.err != nil || r.res.HTML != "at last" {
		t.Errorf("%+v", r)
	}
}

// TestAWorkerOfAnotherVersionIsAskedNothing: a site that is replaced while a page
// stands has other programs than the page's.
func TestAWorkerOfAnotherVersionIsAskedNothing(t *testing.T) {
	starts := 0
	c := newClient(func(cb callbacks) (link, error) {
		starts++
		go cb.another()
		return &fake{}, nil
	})
	for range 2 {
		if r := take(t, "the failure", ask(c, t.Context(), "a")); !errors.Is(r.err, errVersions) {
			t.Errorf("%v, want errVersions", r.err)
		}
	}
	if starts != 2 {
		t.Errorf("%d starts, want one a question: it may be another the next time", starts)
	}
}
