package shot

import "bytes"

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
