package shot

import (
	"bytes"
	"io"
	"testing"
	"testing/iotest"
)

// TestReadSlowly: every byte comes, in its order, however it is asked for, with a pause
// after every piece.
func TestReadSlowly(t *testing.T) {
	want := make([]byte, 3*piece/32+17)
	for i := range want {
		want[i] = byte(i * 7)
	}
	pauses := 0
	r := ReadSlowly(want, func() { pauses++ })
	var got []byte
	for {
		b, err := r.ReadByte()
		if err == io.EOF {
			break
		}
		if b%2 == 0 {
			if err := r.UnreadByte(); err != nil {
				t.Fatal(err)
			}
			some := make([]byte, 100)
			n, err := r.Read(some)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, some[:n]...)
			continue
		}
		got = append(got, b)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%d bytes are read, otherwise than the %d that were given", len(got), len(want))
	}
	if pauses < 2 || pauses > 4 {
		t.Errorf("%d pauses in three pieces", pauses)
	}
	if err := iotest.TestReader(ReadSlowly(want, nil), want); err != nil {
		t.Error(err)
	}
}
