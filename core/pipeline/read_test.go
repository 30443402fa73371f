package pipeline

import (
	"fmt"
	"strings"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/wire"
)

// BenchmarkRead10000 is what the worker does with a file of 10,000 shots: the
// message taken apart, the file read with all audits, the answer put together.
// `make read-bench` runs it as WebAssembly.
func BenchmarkRead10000(b *testing.B) {
	var s strings.Builder
	s.WriteString("Date,Sleeve,Ball Speed (mph),Club Speed (mph),Smash,Launch Angle,Launch Direction,Spin Rate,Spin Axis,Carry (yd),Total (yd),Offline (yd),Apex (ft)\n")
	for i := range 10_000 {
		fmt.Fprintf(&s, "2025-07-%02d,%s,%d.%d,%d.%d,1.4%d,12.%d,1.%d,26%02d,2.%d,24%d,26%d,%d,90\n",
			1+i/400, []string{"up", "flat", "down"}[i/50%3], 140+i%20, i%10, 98+i%14, i%10, i%10, i%10, i%7, i%100, i%9, i%10, i%10, i%30-15)
	}
	raw, err := msgpack.Marshal(&wire.Request{Version: wire.Version, Read: &wire.Read{Name: "f", Bytes: []byte(s.String())}})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		answer := Serve(raw, nil)
		b.StopTimer()
		out, err := wire.Unpack(answer, func() {})
		if err != nil || out.Table == nil || len(out.Table.Shots) != 10_000 {
			b.Fatalf("%v %s", err, out.Error)
		}
		b.StartTimer()
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/file")
}
