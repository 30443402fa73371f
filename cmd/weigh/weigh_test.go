package main

import "testing"

// A module of three bytes' code: one imported function, two own ones, named.
// Written by hand after the WebAssembly core specification 1.0, 5.5.
var tiny = []byte("\x00asm\x01\x00\x00\x00" +
	"\x02\x07\x01\x01a\x01b\x00\x00" + // import a.b, a function of type 0
	"\x0a\x08\x02\x02\x00\x0b\x03\x00\x01\x0b" + // bodies of 2 and 3 bytes
	"\x00\x24\x04name\x01\x1d\x02\x01\x0bcore_air.Of\x02\x0dgonum.org_x.F")

func TestReadAddsUpThePackages(t *testing.T) {
	m, err := read(tiny)
	if err != nil {
		t.Fatal(err)
	}
	want := []share{{"gonum.org_x", 3}, {"core_air", 2}}
	got := m.packages()
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("packages = %v, want %v", got, want)
	}
	if _, err := read(tiny[:30]); err == nil {
		t.Error("half a file was read without an error")
	}
}

func TestPackageOf(t *testing.T) {
	for name, want := range map[string]string{
		"ferrule_core_flight.__T_.At":                  "ferrule_core_flight",
		"github.com_a_b_v5.__D_.Decode":                "github.com_a_b_v5",
		"slices.pdqsort[go.shape.struct{a/b.T}]":       "slices",
		"type:.eq.ferrule_core_flight.T":               "(made by the compiler)",
		"runtime.mallocgc":                             "runtime",
		"vendor_golang.org_x_net_dns_dnsmessage.Parse": "vendor_golang.org_x_net_dns_dnsmessage",
	} {
		if got := packageOf(name); got != want {
			t.Errorf("packageOf(%q) = %q, want %q", name, got, want)
		}
	}
}
