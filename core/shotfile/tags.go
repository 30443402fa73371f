package shotfile

import (
	"io"

	"ferrule/core/message"
)

// maxTag bounds one tag of a workbook: the decoder keeps all attributes of an
// element before it hands it over. [bytes] A cell's tag has some thirty.
const maxTag = 64 << 10

var errTag = message.New("problem.tag", maxTag)

// tags reads XML on to its decoder and ends at a tag that is too long.
type tags struct {
	r     io.Reader
	size  int  // bytes of the tag that is read, 0 = none
	quote byte // that the attribute stands in, 0 = none
	plain bool // a comment, a section or an instruction, where quotes mean nothing
}

// Read implements io.Reader.
func (t *tags) Read(b []byte) (int, error) {
	n, err := t.r.Read(b)
	for _, c := range b[:n] {
		switch {
		case t.size == 0:
			if c == '<' {
				t.size, t.quote, t.plain = 1, 0, false
			}
			continue
		case t.size == 1:
			t.plain = c == '!' || c == '?'
		case t.quote != 0:
			if c == t.quote {
				t.quote = 0
			}
		case c == '>':
			t.size = 0
			continue
		case !t.plain && (c == '"' || c == '\''):
			t.quote = c
		}
		if t.size++; t.size > maxTag && !t.plain {
			return 0, errTag
		}
	}
	return n, err
}
