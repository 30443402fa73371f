package wire

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// settings is how many settings of a report make a parcel: six take a phone a
// few milliseconds to decode, the forty of a report longer than two frames.
const settings = 6

// balls is how many balls of a file make a parcel.
const balls = 300

// Pack writes r in parcels, to be read by Unpack: a msgpack list of byte
// strings, so that none needs to be looked through to find the next. They are
// the result without its report or a file's balls, then either the report without
// its settings and the settings, or the balls, some at a time. Structs are lists of their fields: page and worker
// are built together, and names would make the message twice as long.
func (r Result) Pack() ([]byte, error) {
	var parcels [][]byte
	add := func(v any) error {
		var b bytes.Buffer
		e := msgpack.NewEncoder(&b)
		e.UseArrayEncodedStructs(true)
		err := e.Encode(v)
		parcels = append(parcels, b.Bytes())
		return err
	}
	whole := r.Report
	r.Report = nil
	var shots []shot.Shot
	if whole == nil && r.Table != nil {
		t := *r.Table
		shots, t.Shots = t.Shots, nil
		r.Table = &t
	}
	if err := add(&r); err != nil {
		return nil, err
	}
	if whole != nil {
		head := *whole
		head.Settings = nil
		if err := add(&head); err != nil {
			return nil, err
		}
		for some := range slices.Chunk(whole.Settings, settings) {
			if err := add(some); err != nil {
				return nil, err
			}
		}
	}
	for some := range slices.Chunk(shots, balls) {
		if err := add(some); err != nil {
			return nil, err
		}
	}
	return msgpack.Marshal(parcels)
}

// Unpack reads what Pack wrote, with pause called between the parcels.
func Unpack(message []byte, pause func()) (Result, error) {
	var r Result
	var parcels [][]byte
	if err := msgpack.Unmarshal(message, &parcels); err != nil {
		return r, err
	}
	if len(parcels) == 0 {
		return r, fmt.Errorf("an empty list, want a result")
	}
	if err := msgpack.Unmarshal(parcels[0], &r); err != nil || len(parcels) == 1 {
		return r, err
	}
	if r.Table != nil {
		for _, parcel := range parcels[1:] {
			pause()
			var some []shot.Shot
			if err := msgpack.Unmarshal(parcel, &some); err != nil {
				return r, fmt.Errorf("balls from %d on: %w", len(r.Table.Shots)+1, err)
			}
			r.Table.Shots = append(r.Table.Shots, some...)
		}
		return r, nil
	}
	pause()
	r.Report = new(report.Report)
	if err := msgpack.Unmarshal(parcels[1], r.Report); err != nil {
		return r, fmt.Errorf("report: %w", err)
	}
	for _, parcel := range parcels[2:] {
		pause()
		var some []report.Setting
		if err := msgpack.Unmarshal(parcel, &some); err != nil {
			return r, fmt.Errorf("settings from %d on: %w", len(r.Report.Settings)+1, err)
		}
		r.Report.Settings = append(r.Report.Settings, some...)
	}
	return r, nil
}
