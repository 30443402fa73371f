package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/jsontext"
	"ferrule/core/shot"
)

// Version of the blobs written now. A version is never taken out of decode:
// what was saved once is read for ever.
const Version = 2

// versionOf is the first version that a session can be read by: one club needs
// the first alone, so that a page of yesterday still opens what it can hold.
func versionOf(s shot.Session) uint16 {
	if s.Several() {
		return 2
	}
	return 1
}

// An envelope is
//
//	"FRRL"          4 bytes, says whose file it is
//	kind            1 byte: a session, a head, a backup or what was learned of a head
//	version         2 bytes, big-endian
//	length          4 bytes, big-endian: bytes that follow the checksum
//	checksum        4 bytes, big-endian: CRC-32 (IEEE) of kind, version, length and what follows
//	payload         msgpack, structs as maps by field name, fields that are empty left out
//
// The checksum covers the version, so a flipped bit there is seen as damage
// and not taken for a newer version. CRC-32 finds every burst of up to 32 bits.
const (
	magic      = "FRRL"
	headerSize = 15
	// maxSession and maxBackup bound what is decoded at all; a session of 10,000
	// balls has 4 MB.
	maxSession = 16 << 20
	maxBackup  = 128 << 20
)

type kind byte

const (
	kindSession kind = 's'
	kindHead    kind = 'h'
	kindBackup  kind = 'b'
	kindRecord  kind = 'r'
)

func checksum(k kind, version uint16, payload []byte) uint32 {
	var h [7]byte
	h[0] = byte(k)
	binary.BigEndian.PutUint16(h[1:], version)
	binary.BigEndian.PutUint32(h[3:], uint32(len(payload)))
	return crc32.Update(crc32.ChecksumIEEE(h[:]), crc32.IEEETable, payload)
}

// seal puts payload into an envelope.
func seal(k kind, version uint16, payload []byte) []byte {
	out := make([]byte, headerSize, headerSize+len(payload))
	copy(out, magic)
	out[4] = byte(k)
	binary.BigEndian.PutUint16(out[5:], version)
	binary.BigEndian.PutUint32(out[7:], uint32(len(payload)))
	binary.BigEndian.PutUint32(out[11:], checksum(k, version, payload))
	return append(out, payload...)
}

// unseal returns the payload of an envelope. Errors: ErrDamaged with what is
// wrong, or ErrNewer when the envelope is whole but of a later version.
func unseal(k kind, b []byte) (payload []byte, version uint16, err error) {
	if len(b) < headerSize {
		return nil, 0, fmt.Errorf("%w: %d bytes, at least %d expected", ErrDamaged, len(b), headerSize)
	}
	if string(b[:4]) != magic {
		return nil, 0, fmt.Errorf("%w: it does not begin as a Ferrule file", ErrDamaged)
	}
	if kind(b[4]) != k {
		return nil, 0, fmt.Errorf("%w: kind %q, expected %q", ErrDamaged, b[4], k)
	}
	version = binary.BigEndian.Uint16(b[5:])
	length := binary.BigEndian.Uint32(b[7:])
	payload = b[headerSize:]
	if uint64(length) != uint64(len(payload)) {
		return nil, version, fmt.Errorf("%w: %d bytes, expected %d", ErrDamaged, len(payload), length)
	}
	if most := mostOf(k); int64(length) > int64(most) {
		return nil, version, fmt.Errorf("%w: %d bytes are too many", ErrDamaged, length)
	}
	if got, want := checksum(k, version, payload), binary.BigEndian.Uint32(b[11:]); got != want {
		return nil, version, fmt.Errorf("%w: the checksum does not match", ErrDamaged)
	}
	if version > Version {
		return nil, version, fmt.Errorf("%w (format %d, this app reads up to %d)", ErrNewer, version, Version)
	}
	if version == 0 {
		return nil, 0, fmt.Errorf("%w: format 0", ErrDamaged)
	}
	return payload, version, nil
}

func mostOf(k kind) int {
	if k == kindBackup {
		return maxBackup
	}
	return maxSession
}

// marshal writes a value as msgpack: structs as maps by name, empty fields
// left out, so that fields may be added without a new version.
func marshal(v any) ([]byte, error) { return marshalSlowly(v, nil) }

func marshalSlowly(v any, pause func()) ([]byte, error) {
	b := shot.Slowly{Pause: pause}
	enc := msgpack.NewEncoder(&b)
	enc.SetOmitEmpty(true)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// unmarshal reads msgpack into v. Shape and depth are checked first: lengths
// that lie must not make it take memory or stack.
func unmarshal(payload []byte, v any) error { return unmarshalSlowly(payload, v, nil) }

func unmarshalSlowly(payload []byte, v any, pause func()) error {
	if err := wellFormed(payload); err != nil {
		return fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	dec := msgpack.NewDecoder(shot.ReadSlowly(payload, pause))
	dec.UsePreallocateValues(true)
	if err := dec.Decode(v); err != nil {
		return fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return nil
}

// Encode writes a session as a blob. It refuses what Decode would not take:
// nothing is stored that could not be read again. Error: errTooBig.
func Encode(s shot.Session) ([]byte, error) { return encode(s, nil) }

// encode is Encode with pause called between the pieces of a long session.
func encode(s shot.Session, pause func()) ([]byte, error) {
	if err := bounded(s, pause); err != nil {
		return nil, fmt.Errorf("%w: %w", errTooBig, err)
	}
	payload, err := marshalSlowly(&s, pause)
	if err != nil {
		return nil, fmt.Errorf("session %q cannot be encoded: %w", s.ID, err)
	}
	if len(payload) > maxSession {
		return nil, fmt.Errorf("%w: %d bytes, at most %d", errTooBig, len(payload), maxSession)
	}
	return seal(kindSession, versionOf(s), payload), nil
}

// some is how many balls are checked between two pauses.
const some = 1000

func bounded(s shot.Session, pause func()) error {
	if pause == nil || len(s.Shots) > shot.MaxShots {
		return s.Bounded()
	}
	for from := 0; ; from += some {
		part := s
		part.Shots = s.Shots[from:min(from+some, len(s.Shots))]
		if part.Bounded() != nil {
			return s.Bounded() // says where
		}
		if from+some >= len(s.Shots) {
			return nil
		}
		pause()
	}
}

// Decode reads a session from a blob of any version. Errors: ErrDamaged, ErrNewer.
func Decode(blob []byte) (shot.Session, error) { return decode(blob, nil) }

// decode is Decode with pause called between the pieces.
func decode(blob []byte, pause func()) (shot.Session, error) {
	payload, version, err := unseal(kindSession, blob)
	if err != nil {
		return shot.Session{}, err
	}
	var s shot.Session
	switch version {
	case 1, 2: // 2 has clubs after the first
		err = unmarshalSlowly(payload, &s, pause)
	}
	if err != nil {
		return shot.Session{}, err
	}
	if pause != nil {
		pause()
	}
	if err := bounded(s, pause); err != nil {
		return shot.Session{}, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	return s, nil
}

// HeadOf is what a list shows of s.
func HeadOf(s shot.Session, revision, size int) Head {
	var clubs []string
	for _, h := range s.All() {
		if h.Name != "" && len(h.Sleeve.Rings)+len(h.Sleeve.Table)+len(h.Weights) > 0 {
			clubs = append(clubs, h.Name)
		}
	}
	return Head{ID: s.ID, Title: s.Title, Player: s.Player.Name, Clubs: clubs, Created: s.Created, Changed: s.Changed,
		Revision: revision, Shots: len(s.Shots), Size: size}
}

func encodeHead(h Head) ([]byte, error) {
	payload, err := marshal(&h)
	if err != nil {
		return nil, err
	}
	return seal(kindHead, 1, payload), nil
}

func decodeHead(b []byte) (Head, error) {
	payload, _, err := unseal(kindHead, b)
	if err != nil {
		return Head{}, err
	}
	var h Head
	return h, unmarshal(payload, &h)
}

// backup is the payload of an exported file. Every blob in it is an envelope
// of its own, so damage to one leaves the others readable. A reader older than a
// field passes over it.
type backup struct {
	Sessions [][]byte
	Damaged  [][]byte
	Records  [][]byte // of heads
}

func encodeBackup(b backup) ([]byte, error) {
	payload, err := marshal(&b)
	if err != nil {
		return nil, err
	}
	return seal(kindBackup, 1, payload), nil
}

// IsFile reports whether file begins like a session or a backup as this package
// writes them.
func IsFile(file []byte) bool { return len(file) >= len(magic) && string(file[:len(magic)]) == magic }

// decodeBackup takes a backup, a single session, or the remains of a damaged
// backup. Errors: ErrNoBackup, ErrNewer.
func decodeBackup(file []byte) (backup, error) {
	if len(file) < headerSize || string(file[:4]) != magic {
		return backup{}, ErrNoBackup
	}
	if kind(file[4]) == kindSession {
		return backup{Sessions: [][]byte{file}}, nil
	}
	var b backup
	payload, _, err := unseal(kindBackup, file)
	if err == nil {
		err = unmarshal(payload, &b)
	}
	if err == nil || errors.Is(err, ErrNewer) {
		return b, err
	}
	return salvage(file), nil
}

// Content is what a file holds.
type Content struct {
	Sessions []shot.Session
	Clubs    int // different ones, by all that describes them
	Shots    int
	Records  int // of heads, damaged ones too
	Damaged  int // blobs that cannot be read
}

// Contents says what a backup or a single session holds, and keeps nothing of
// it. Errors: ErrNoBackup, ErrNewer, ErrDamaged for a single session.
func Contents(file []byte) (Content, error) {
	var c Content
	in, err := decodeBackup(file)
	if err != nil {
		return c, err
	}
	clubs := map[string]bool{}
	c.Damaged = len(in.Damaged)
	c.Records = len(in.Records)
	for _, blob := range in.Sessions {
		s, err := Decode(blob)
		if err != nil {
			if len(in.Sessions) == 1 && len(in.Damaged)+len(in.Records) == 0 {
				return c, err
			}
			c.Damaged++
			continue
		}
		for _, h := range s.All() {
			if print, err := jsontext.Marshal(h); err == nil {
				clubs[string(print)] = true
			}
		}
		c.Sessions = append(c.Sessions, s)
		c.Shots += len(s.Shots)
	}
	c.Clubs = len(clubs)
	return c, nil
}

// openRecord returns what an application put into a backup as a record, which
// is msgpack. Errors: ErrDamaged, ErrNewer.
func openRecord(blob []byte) ([]byte, error) {
	payload, _, err := unseal(kindRecord, blob)
	if err == nil {
		if err = wellFormed(payload); err != nil {
			err = fmt.Errorf("%w: %v", ErrDamaged, err)
		}
	}
	return payload, err
}

// salvage finds the whole envelopes of sessions and records in a damaged file,
// and keeps the file itself as a damaged blob.
func salvage(file []byte) backup {
	b := backup{Damaged: [][]byte{file}}
	mark := []byte(magic)
	for at := 0; ; {
		i := bytes.Index(file[at:], mark)
		if i < 0 {
			return b
		}
		at += i
		if len(file)-at >= headerSize {
			end := uint64(at) + headerSize + uint64(binary.BigEndian.Uint32(file[at+7:]))
			if end <= uint64(len(file)) {
				one := file[at:end]
				_, err := Decode(one)
				if err == nil {
					b.Sessions = append(b.Sessions, one)
				} else if _, err = openRecord(one); err == nil {
					b.Records = append(b.Records, one)
				}
				if err == nil {
					at = int(end)
					continue
				}
			}
		}
		at += len(mark)
	}
}
