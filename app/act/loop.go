package act

import (
	"sync"
	"time"

	"ferrule/core/wire"
)

// Loop is the one goroutine on which the state changes, the screen's: work done
// elsewhere returns through a queue that Drain empties there, after wake has asked
// for it. Every room has it, and with it what the program was started with.
type Loop struct {
	deps  Deps
	mu    sync.Mutex
	queue []func()
	wake  func()
	busy  sync.WaitGroup
}

// Attach says how the screen is told that there is something new; nil detaches.
func (l *Loop) Attach(wake func()) {
	l.mu.Lock()
	l.wake = wake
	l.mu.Unlock()
}

// Drain runs what came back from elsewhere, on the screen's goroutine.
func (l *Loop) Drain() {
	for {
		l.mu.Lock()
		if len(l.queue) == 0 {
			l.mu.Unlock()
			return
		}
		f := l.queue[0]
		l.queue = l.queue[1:]
		l.mu.Unlock()
		f()
	}
}

// Settle waits for all work elsewhere and runs what it brought: for tests.
func (l *Loop) Settle() {
	for {
		l.busy.Wait()
		l.mu.Lock()
		n := len(l.queue)
		l.mu.Unlock()
		if n == 0 {
			return
		}
		l.Drain()
	}
}

// post queues f for the screen's goroutine.
func (l *Loop) post(f func()) {
	l.mu.Lock()
	l.queue = append(l.queue, f)
	wake := l.wake
	l.mu.Unlock()
	if wake != nil {
		wake()
	}
}

// elsewhere does work on its own goroutine and hands its outcome back.
func (l *Loop) elsewhere(work func() (done func())) {
	l.busy.Go(func() {
		done := work()
		l.deps.Rest()
		l.post(done)
	})
}

// wrong is what a worker answers, with what the analysis found wrong as its error.
func wrong(res wire.Result, err error) (wire.Result, error) {
	if err == nil && res.Error != nil {
		err = res.Error
	}
	return res, err
}

// later runs f on the screen's goroutine after a while.
func (l *Loop) later(d time.Duration, f func()) {
	l.deps.After(d, func() { l.post(f) })
}

func (l *Loop) changed() {
	l.mu.Lock()
	wake := l.wake
	l.mu.Unlock()
	if wake != nil {
		wake()
	}
}
