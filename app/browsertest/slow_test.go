package browsertest

import (
	"net"
	"strconv"
	"sync"
	"testing"
	"time"
)

// A slow mobile network, as Lighthouse's and Chromium's "slow 4G" has it:
// 1.6 Mbit/s down, .75 Mbit/s up, 150 ms a round trip.
const (
	slowDown = 200e3 // [byte/s]
	slowUp   = 94e3  // [byte/s]
	slowTrip = 150 * time.Millisecond
)

// pipe is one direction of a network that all connections share.
type pipe struct {
	rate float64 // [byte/s]
	mu   sync.Mutex
	free time.Time // when the last byte so far will have passed
}

// pass says when n bytes that come now are through.
func (p *pipe) pass(n int) time.Time {
	p.mu.Lock()
	defer p.mu.Unlock()
	if now := time.Now(); p.free.Before(now) {
		p.free = now
	}
	p.free = p.free.Add(time.Duration(float64(n) / p.rate * float64(time.Second)))
	return p.free
}

// overSlowNetwork returns a server that is reached over a slow network only,
// whoever asks: the page, its workers, the service worker. (Chromium's own
// emulation slows one of these down and lets the others race past it.)
func overSlowNetwork(t *testing.T, s *server) *server {
	t.Helper()
	l, err := net.Listen("tcp", "localhost:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	down, up := &pipe{rate: slowDown}, &pipe{rate: slowUp}
	go func() {
		for {
			near, err := l.Accept()
			if err != nil {
				return
			}
			go func() {
				time.Sleep(slowTrip) // the handshake
				far, err := net.Dial("tcp", s.host)
				if err != nil {
					near.Close()
					return
				}
				go flow(far, near, up)
				flow(near, far, down)
			}()
		}
	}()
	port := l.Addr().(*net.TCPAddr).Port
	return &server{t: t, host: net.JoinHostPort("localhost", strconv.Itoa(port))}
}

// flow carries what comes from one side to the other, late and slowly.
func flow(to, from net.Conn, p *pipe) {
	type part struct {
		bytes []byte
		due   time.Time
	}
	parts := make(chan part, 64)
	go func() {
		defer close(parts)
		for {
			b := make([]byte, 4096)
			n, err := from.Read(b)
			if n > 0 {
				parts <- part{b[:n], p.pass(n).Add(slowTrip / 2)}
			}
			if err != nil {
				return
			}
		}
	}()
	defer to.Close()
	for part := range parts {
		time.Sleep(time.Until(part.due))
		if _, err := to.Write(part.bytes); err != nil {
			from.Close() // which ends the reader
			for range parts {
			}
			return
		}
	}
}
