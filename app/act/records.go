package act

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash/crc32"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/store"
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

// HasTaken reports whether a record of a head was taken from a file, which a backup
// holds beside the sessions.
func (m *Model) HasTaken() bool {
	for _, r := range m.records {
		if len(r.Taken) > 0 {
			return true
		}
	}
	return false
}

// takeRecords adds the records of a backup to what is kept of their heads, one
// after the other, and says how many said something new. One that cannot be added is
// put aside and said.
func (m *Model) takeRecords(n store.Imported, added int) {
	if len(n.Records) == 0 {
		if added > 0 && !m.s.Notice.Alert {
			m.say("notice.restored-records", false, countArg(n.Added+n.Beside), countArg(added))
		}
		return
	}
	var in HeadRecord
	err := msgpack.Unmarshal(n.Records[0], &in)
	if err == nil {
		err = in.Head.Bounded()
	}
	have := m.recordOf(in.Head)
	then := func(l *wire.Learned, err error) {
		now := m.recordOf(in.Head)
		switch {
		case err != nil:
			m.recordAside(string(n.Records[0]), err)
		case !bytes.Equal(now.Taken, have.Taken): // another was taken meanwhile
			m.takeRecords(n, added)
			return
		case l.New > 0:
			now.Taken, now.Theirs = l.Record, l.Players
			m.keepRecord(now)
			added++
		}
		n.Records = n.Records[1:]
		m.takeRecords(n, added)
	}
	if err != nil {
		then(nil, err)
		return
	}
	m.learning(wire.Learn{OfHead: wire.OfHead{Head: have.Head, Record: have.Taken}, Other: in.Taken}, then)
}

// learning asks the worker and hands its answer, or why there is none, to then.
func (m *Model) learning(q wire.Learn, then func(*wire.Learned, error)) {
	m.elsewhere(func() func() {
		res, err := m.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Learn: &q})
		if err == nil && res.Learned == nil {
			err = errors.New(res.Error)
		}
		return func() { then(res.Learned, err) }
	})
}

// recordAside keeps what cannot be used of a head, once, and says why.
func (m *Model) recordAside(record string, why error) {
	m.note(spoiltKey+fmt.Sprint(crc32.ChecksumIEEE([]byte(record))), record)
	m.alert("error.record-spoilt", textArg("", why.Error()))
}
