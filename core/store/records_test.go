package store

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/vmihailenco/msgpack/v5"
)

// aBackup is a backup of the golden session and of what records hold.
func aBackup(t *testing.T, records ...[]byte) []byte {
	t.Helper()
	b := New(NewMemory(nil), func() int64 { return 1 })
	blob, err := hex.DecodeString(strings.Join(strings.Fields(string(readGolden(t, "session-v2.hex"))), ""))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Import(context.Background(), blob); err != nil {
		t.Fatal(err)
	}
	file, err := b.Export(context.Background(), records...)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func readGolden(t *testing.T, name string) []byte {
	was := *update
	*update = false
	defer func() { *update = was }()
	return golden(t, name, nil)
}

// Backups of every kind that was ever written are read for ever.
func TestGoldenBackups(t *testing.T) {
	record := []byte("\x81\xa5Taken\xc4\x03abc")
	for name, records := range map[string][][]byte{"backup-v1.hex": nil, "backup-v1-records.hex": {record}} {
		t.Run(name, func(t *testing.T) {
			file := golden(t, name, []byte(hex.EncodeToString(aBackup(t, records...))+"\n"))
			raw, err := hex.DecodeString(strings.TrimSpace(string(file)))
			if err != nil {
				t.Fatal(err)
			}
			b := New(NewMemory(nil), func() int64 { return 1 })
			done, err := b.Import(t.Context(), raw)
			if err != nil || done.Added != 1 || done.Damaged != 0 || !slices.EqualFunc(done.Records, records, bytes.Equal) {
				t.Errorf("%+v, %v", done, err)
			}
			if _, _, err := b.Get(t.Context(), "golden"); err != nil {
				t.Errorf("%v", err)
			}
			if c, err := Contents(raw); err != nil || len(c.Sessions) != 1 || c.Records != len(records) {
				t.Errorf("%+v, %v", c, err)
			}
		})
	}
}

// A reader from before records were in a backup reads all else.
func TestAnOlderReaderOpensABackupWithRecords(t *testing.T) {
	var old struct{ Sessions, Damaged [][]byte }
	payload, version, err := unseal(kindBackup, aBackup(t, []byte{0x80}))
	if err != nil || version != 1 {
		t.Fatalf("version %d, %v: older readers take 1", version, err)
	}
	if err := msgpack.Unmarshal(payload, &old); err != nil || len(old.Sessions) != 1 || len(old.Damaged) != 0 {
		t.Errorf("%d sessions, %v", len(old.Sessions), err)
	}
}

// A record that is damaged, or was written by a newer version, is kept aside and
// the rest is read; whatever bit of the file is hit, one thing is lost at most.
func TestADamagedRecordLeavesTheRest(t *testing.T) {
	good, bad := []byte("\x81\xa1a\x01"), []byte("\x81\xa1a\xc1")
	b := New(NewMemory(nil), func() int64 { return 1 })
	for range 2 {
		done, err := b.Import(t.Context(), aBackup(t, bad, good))
		if err != nil || len(done.Records) != 1 || !bytes.Equal(done.Records[0], good) || done.Damaged != 1 || done.Added+done.Same != 1 {
			t.Fatalf("%+v, %v", done, err)
		}
	}
	if aside, err := b.Quarantine(t.Context()); err != nil || len(aside) != 1 || !bytes.Contains(aside[0].Bytes, bad) {
		t.Errorf("kept aside: %d, %v", len(aside), err)
	}
	file := aBackup(t, good, good)
	for at := range file {
		hit := bytes.Clone(file)
		hit[at] ^= 4
		in, err := decodeBackup(hit)
		if at < 5 && (errors.Is(err, ErrNoBackup) || err == nil) { // it is nobody's file any more
			continue
		}
		if err != nil || len(in.Sessions)+len(in.Records) < 2 || len(in.Damaged) != 1 {
			t.Fatalf("byte %d: %d sessions, %d records, %d damaged, %v", at, len(in.Sessions), len(in.Records), len(in.Damaged), err)
		}
	}
	if _, err := openRecord(seal(kindRecord, Version+1, good)); !errors.Is(err, ErrNewer) {
		t.Errorf("of a later version: %v", err)
	}
}
