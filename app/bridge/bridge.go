// Package bridge is the page's side of the analysis worker, and of the few
// other things that a page asks of its browser: a file to download, a file to
// share, text from the clipboard, an update.
//
// The worker is one dedicated worker that is kept warm. Do sends it one
// request at a time; others wait in the page, so that giving up a waiting
// request costs nothing and giving up the running one costs a restart of the
// worker only.
package bridge

import (
	"context"
	"sync"
	"time"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/app/yield"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// Errors of Do, besides the context's own.
var (
	errStopped  = message.New("problem.stopped")
	errVersions = message.New("problem.versions")
	errStart    = message.New("problem.start")
)

// link is a running worker.
type link interface {
	// send hands a request over; the answer comes through the callbacks given
	// to the starter. It must not block.
	send(message []byte)
	// end stops the worker at once. No callback comes after it.
	end()
}

// callbacks are called by a link on any goroutine; they do not block.
type callbacks struct {
	ready    func()
	result   func(message []byte)
	progress func(message []byte)
	life     func() // it works, and has nothing to say
	another  func() // it is of another version than the page, and works on nothing
	stopped  func(reason string)
}

// Client queues requests to one worker. The zero value is not usable; see New.
type Client struct {
	start func(callbacks) (link, error)

	mu      sync.Mutex // held for a few steps only, never while anything waits
	link    link
	serial  int // of the worker: callbacks of an ended one are dropped
	ready   bool
	fails   int // starts in a row that did not get ready
	queue   []*job
	running bool // queue[0] is with the worker
	lastID  uint64
	silent  int                 // beats since the last sign of life
	sleep   func(time.Duration) // of the page: one that is frozen counts no time
}

// A worker that gives no sign of life for silence is ended and its request begun
// again, once; the second time it has longer, for a machine may be that busy. So
// has one that is starting, for a line may be that slow. Time is counted in beats
// of the page's own.
const (
	beat    = 500 * time.Millisecond
	silence = 5 * time.Second
	patient = 30 * time.Second
)

type job struct {
	again    bool // it was begun anew
	id       uint64
	message  []byte
	progress func(wire.Progress)
	done     chan outcome // holds one
}

// outcome is the answer as it came: it is decoded by who waits for it, not in
// the browser's callback.
type outcome struct {
	message []byte
	err     error
}

func newClient(start func(callbacks) (link, error)) *Client {
	return &Client{start: start, sleep: time.Sleep}
}

// Warm starts the worker ahead of the first request.
func (c *Client) Warm() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.ensure()
}

// Do sends a request and waits for its result. A cancelled context gives the
// request up: when it is the one being worked on, the worker is ended and
// started anew. What the analysis itself found wrong stands in Result.Error.
func (c *Client) Do(ctx context.Context, r wire.Request) (wire.Result, error) {
	return c.DoWith(ctx, r, nil)
}

// DoWith is Do, with progress told on the way (on another goroutine).
func (c *Client) DoWith(ctx context.Context, r wire.Request, progress func(wire.Progress)) (wire.Result, error) {
	if err := ctx.Err(); err != nil {
		return wire.Result{}, err
	}
	c.mu.Lock()
	c.lastID++
	r.Version, r.ID = wire.Version, c.lastID
	c.mu.Unlock()
	message := shot.Slowly{Pause: yield.Turn}
	if err := msgpack.NewEncoder(&message).Encode(&r); err != nil {
		return wire.Result{}, err
	}
	j := &job{id: r.ID, message: message.Bytes(), progress: progress, done: make(chan outcome, 1)}
	c.mu.Lock()
	c.queue = append(c.queue, j)
	c.next()
	c.mu.Unlock()
	select {
	case out := <-j.done:
		if out.err != nil {
			return wire.Result{}, out.err
		}
		return decode(out.message, r.ID)
	case <-ctx.Done():
		c.giveUp(j)
		return wire.Result{}, ctx.Err()
	}
}

// ensure starts a worker when there is none. c.mu is held.
func (c *Client) ensure() {
	if c.link != nil {
		return
	}
	c.serial++
	serial := c.serial
	mine := func(f func()) {
		c.mu.Lock()
		defer c.mu.Unlock()
		if c.serial == serial {
			f()
		}
	}
	c.ready = false
	l, err := c.start(callbacks{
		ready:    func() { mine(func() { c.ready, c.fails = true, 0; c.next() }) },
		result:   func(m []byte) { mine(func() { c.finish(m) }) },
		progress: func(m []byte) { mine(func() { c.silent = 0; c.tell(m) }) },
		life:     func() { mine(func() { c.silent = 0 }) },
		stopped:  func(string) { mine(c.lost) },
		another:  func() { mine(func() { c.drop(); c.failAll(errVersions) }) },
	})
	if err != nil {
		c.failAll(errStart)
		return
	}
	c.link, c.silent = l, 0
	go c.watch(serial, patient, func() bool { return c.ready }, func() { c.link.end(); c.lost() })
}

// next hands the first waiting request to the worker. c.mu is held.
func (c *Client) next() {
	if len(c.queue) == 0 || c.running {
		return
	}
	c.ensure()
	if c.link == nil || !c.ready {
		return // ready comes back here
	}
	c.running, c.silent = true, 0
	j, limit := c.queue[0], silence
	if j.again {
		limit = patient
	}
	c.link.send(j.message)
	go c.watch(c.serial, limit, func() bool { return !c.running || c.queue[0] != j }, func() { c.stuck(j) })
}

// watch calls silent when the worker gives no sign of life for limit, unless over
// says before that none is waited for. Both are called with c.mu held.
func (c *Client) watch(serial int, limit time.Duration, over func() bool, silent func()) {
	for {
		c.sleep(beat)
		c.mu.Lock()
		if c.serial != serial || over() {
			c.mu.Unlock()
			return
		}
		if c.silent++; time.Duration(c.silent)*beat > limit {
			silent()
			c.mu.Unlock()
			return
		}
		c.mu.Unlock()
	}
}

// stuck ends a silent worker: its request is begun again and that is told, or it
// fails, the second time. c.mu is held.
func (c *Client) stuck(j *job) {
	c.link.end()
	c.drop()
	c.running = false
	if j.again {
		c.queue = c.queue[1:]
		j.done <- outcome{err: errStopped}
	} else if j.again = true; j.progress != nil {
		go j.progress(wire.Progress{ID: j.id, Step: wire.Again})
	}
	c.next()
}

// finish takes the answer to the running request. c.mu is held.
func (c *Client) finish(message []byte) {
	if !c.running {
		return // an answer nobody waits for
	}
	j := c.queue[0]
	c.queue, c.running = c.queue[1:], false
	j.done <- outcome{message: message}
	c.next()
}

func decode(answer []byte, id uint64) (wire.Result, error) {
	switch r, err := wire.Unpack(answer, yield.Turn); {
	case err != nil:
		return wire.Result{}, message.New("problem.fault", err)
	case r.Version != wire.Version:
		return wire.Result{}, errVersions
	case r.ID != id:
		return wire.Result{}, message.New("problem.fault", "the answer to another question")
	default:
		return r, nil
	}
}

// tell passes progress of the running request on. c.mu is held.
func (c *Client) tell(message []byte) {
	var p wire.Progress
	if !c.running || c.queue[0].progress == nil || msgpack.Unmarshal(message, &p) != nil || p.ID != c.queue[0].id {
		return
	}
	go c.queue[0].progress(p)
}

// lost is called when the worker ended by itself. The running request fails,
// the waiting ones are tried with a new worker. c.mu is held.
func (c *Client) lost() {
	c.drop()
	if c.running {
		j := c.queue[0]
		c.queue, c.running = c.queue[1:], false
		j.done <- outcome{err: errStopped}
	} else {
		c.fails++
	}
	if c.fails >= 3 { // it never gets ready: trying on would never end
		c.fails = 0
		c.failAll(errStart)
		return
	}
	c.next()
}

func (c *Client) failAll(err error) {
	for _, j := range c.queue {
		j.done <- outcome{err: err}
	}
	c.queue, c.running = nil, false
}

// drop forgets the worker. c.mu is held.
func (c *Client) drop() {
	c.serial++
	c.link, c.ready = nil, false
}

// giveUp takes a request back.
func (c *Client) giveUp(j *job) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i, q := range c.queue {
		if q != j {
			continue
		}
		c.queue = append(c.queue[:i:i], c.queue[i+1:]...)
		if i == 0 && c.running {
			c.running = false
			if c.link != nil {
				c.link.end()
			}
			c.drop()
			c.ensure() // warm again at once
			c.next()
		}
		return
	}
}

var (
	oneClient sync.Once
	client    *Client
)

// Default is the page's one worker client.
func Default() *Client {
	oneClient.Do(func() { client = newClient(startWorker) })
	return client
}
