package act

import (
	"bytes"
	"context"
	"fmt"
	"hash/crc32"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/wire"
)

// takenRecords are the records of heads for a backup: what was taken from files.
// What this device's own players say is learned again from their sessions.
func (m *Model) takenRecords() (out [][]byte) {
	for _, key := range m.deps.Pocket.Keys(recordsKey) {
		r := m.records[key]
		if r == nil || len(r.Taken) == 0 {
			continue
		}
		if b, err := msgpack.Marshal(&HeadRecord{Head: r.Head, Taken: r.Taken, Theirs: r.Theirs}); err == nil {
			out = append(out, b)
		}
	}
	return out
}

// takeRecords adds the records of a backup to what is kept of their heads, and
// hands then how many said something new. One that cannot be added is put aside
// and said.
func (m *Model) takeRecords(records [][]byte, added int, then func(added int)) {
	if len(records) == 0 {
		then(added)
		return
	}
	in, rest := HeadRecord{}, records[1:]
	err := msgpack.Unmarshal(records[0], &in)
	if err == nil {
		err = in.Head.Bounded()
	}
	if err != nil {
		m.recordAside(records[0], err.Error())
		m.takeRecords(rest, added, then)
		return
	}
	have := HeadRecord{Head: in.Head}
	if _, r := m.RecordOf(in.Head); r != nil {
		have = *r
	}
	q := wire.Learn{Memory: wire.Memory{Head: have.Head, Record: have.Taken}, Other: in.Taken}
	m.elsewhere(func() func() {
		res, err := m.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Learn: &q})
		return func() {
			now := HeadRecord{Head: in.Head}
			if _, r := m.RecordOf(in.Head); r != nil {
				now = *r
			}
			switch {
			case err != nil: // no word on the record: the person has the file still
				m.alert("error.restore", m.reason(err))
				return
			case res.Learned == nil:
				m.recordAside(records[0], res.Error)
			case !bytes.Equal(now.Taken, have.Taken): // another was taken meanwhile
				rest = records
			case res.Learned.New > 0:
				now.Taken, now.Theirs = res.Learned.Record, res.Learned.Players
				m.keepRecord(now)
				added++
			}
			m.takeRecords(rest, added, then)
		}
	})
}

// recordAside keeps a record that cannot be added, once, and says why.
func (m *Model) recordAside(record []byte, why string) {
	m.note(spoiltKey+fmt.Sprintf("%08x", crc32.ChecksumIEEE(record)), string(record))
	m.alert("error.record-refused", textArg("", why))
}
