package shot

import (
	"bytes"
	"io"
)

// Slowly is a buffer for what is long: Pause is called after every piece that is
// written, so that a screen's one thread can draw between two. Nil = never.
type Slowly struct {
	bytes.Buffer
	Pause func()
	since int // bytes since the last pause
}

// piece is what a page writes in a few milliseconds, a phone in a frame or two. [bytes]
const piece = 64 << 10

// Write implements io.Writer.
func (s *Slowly) Write(p []byte) (int, error) {
	if s.since += len(p); s.since > piece && s.Pause != nil {
		s.since = 0
		s.Pause()
	}
	return s.Buffer.Write(p)
}

// SlowReader reads what is long, with a pause after every piece, smaller ones than are
// written: a decoder looks for the field of every value. It is no more than a decoder
// asks for, because every method of a reader is carried in the page.
type SlowReader struct {
	b     []byte
	at    int
	pause func() // nil = never
	since int    // bytes since the last pause
}

// ReadSlowly reads b.
func ReadSlowly(b []byte, pause func()) *SlowReader { return &SlowReader{b: b, pause: pause} }

// Read implements io.Reader.
func (s *SlowReader) Read(p []byte) (n int, err error) {
	if s.since += len(p); s.since > piece/32 && s.pause != nil {
		s.since = 0
		s.pause()
	}
	if n = copy(p, s.b[s.at:]); n == 0 && len(p) > 0 {
		return 0, io.EOF
	}
	s.at += n
	return n, nil
}

// ReadByte implements io.ByteReader.
func (s *SlowReader) ReadByte() (byte, error) {
	if s.at == len(s.b) {
		return 0, io.EOF
	}
	s.at++
	return s.b[s.at-1], nil
}

// UnreadByte implements io.ByteScanner: a decoder takes back what it has just read.
func (s *SlowReader) UnreadByte() error { s.at--; return nil }
