package bridge

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/report"
	"ferrule/core/wire"
)

// pieces is how many settings of a report are decoded at one go. A report is
// 190 kB for 40 settings and takes a phone longer than two frames to decode;
// six settings take it a few milliseconds.
const pieces = 6

// Breathe lets the browser draw and take touches: a goroutine that only
// computes never gives the screen's one thread back.
func Breathe() { time.Sleep(time.Millisecond) }

// piecewise decodes a result as msgpack.Unmarshal does, with pause called
// between the pieces of a long report.
func piecewise(message []byte, pause func()) (wire.Result, error) {
	var r wire.Result
	var parts, body map[string]msgpack.RawMessage
	pause()
	if err := msgpack.Unmarshal(message, &parts); err != nil {
		return r, err
	}
	pause()
	raw, ok := parts["Report"]
	if !ok || msgpack.Unmarshal(raw, &body) != nil || body == nil {
		err := msgpack.Unmarshal(message, &r)
		return r, err
	}
	pause()
	delete(parts, "Report")
	if err := again(parts, &r); err != nil {
		return r, err
	}
	var settings []msgpack.RawMessage
	if s := body["Settings"]; len(s) > 0 {
		if err := msgpack.Unmarshal(s, &settings); err != nil {
			return r, fmt.Errorf("settings: %w", err)
		}
	}
	delete(body, "Settings")
	pause()
	r.Report = new(report.Report)
	if err := again(body, r.Report); err != nil {
		return r, err
	}
	if settings == nil {
		return r, nil
	}
	r.Report.Settings = make([]report.Setting, 0, len(settings))
	for some := range slices.Chunk(settings, pieces) {
		pause()
		for _, raw := range some {
			var s report.Setting
			if err := msgpack.Unmarshal(raw, &s); err != nil {
				return r, fmt.Errorf("setting %d: %w", len(r.Report.Settings)+1, err)
			}
			r.Report.Settings = append(r.Report.Settings, s)
		}
	}
	return r, nil
}

// again packs the parts that are left and reads them into v. A nil comes as
// an empty raw message, which would be written as nothing at all: it goes.
func again(parts map[string]msgpack.RawMessage, v any) error {
	maps.DeleteFunc(parts, func(_ string, raw msgpack.RawMessage) bool { return len(raw) == 0 })
	b, err := msgpack.Marshal(parts)
	if err != nil {
		return err
	}
	return msgpack.Unmarshal(b, v)
}
