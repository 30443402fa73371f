package share

import (
	"math/rand/v2"
	"net/netip"
	"testing"
)

// Names and addresses that are not for everybody: RFC 6761 (localhost), RFC 1122
// (127/8), RFC 1918, RFC 4193, RFC 3927, RFC 6598, RFC 6762 (.local), RFC 8375
// (.home.arpa); the examples are of RFC 5737, 3849 and 2606.
func TestReach(t *testing.T) {
	for host, want := range map[string]Reach{
		"localhost": Nobody, "LOCALHOST.": Nobody, "ferrule.localhost": Nobody, "127.0.0.1": Nobody, "127.8.9.1": Nobody, "[::1]": Nobody, "0.0.0.0": Nobody, "::ffff:127.0.0.1": Nobody, "": Nobody,
		"10.0.0.3": Network, "172.16.4.1": Network, "172.31.255.1": Network, "192.168.178.20": Network, "169.254.1.1": Network, "100.64.0.9": Network,
		"fd12::1": Network, "fe80::1": Network, "fe80::1%25eth0": Network, "range-laptop": Network, "range.local": Network, "x.home.arpa": Network, "x.internal": Network,
		"172.32.0.1": Everybody, "192.0.2.1": Everybody, "100.128.0.1": Everybody, "2001:db8::1": Everybody, "example.org": Everybody, "localhost.example.org": Everybody, "10.example.org": Everybody,
		"1::": Everybody, "::1:0": Everybody, "10.0.0.256": Everybody, "10.0.0.03": Everybody,
	} {
		if got := ReachOf(host); got != want {
			t.Errorf("%q reaches %s, want %s", host, got, want)
		}
	}
}

// Every address is read as Go's net/netip reads it, also those with many zeros and
// those at the edges of the ranges.
func TestReachIsThatOfNetip(t *testing.T) {
	shared := netip.MustParsePrefix("100.64.0.0/10")
	want := func(ip netip.Addr) Reach {
		ip = ip.Unmap()
		switch {
		case ip.IsLoopback() || ip == netip.IPv6Unspecified() || ip.Is4() && ip.As4()[0] == 0:
			return Nobody
		case ip.IsPrivate() || ip.IsLinkLocalUnicast() || shared.Contains(ip):
			return Network
		}
		return Everybody
	}
	r := rand.New(rand.NewPCG(1, 2))
	edges := []byte{0, 0, 0, 0, 1, 10, 15, 16, 31, 32, 63, 64, 100, 127, 128, 168, 169, 172, 192, 0xbf, 0xc0, 0xfb, 0xfc, 0xfd, 254, 255}
	seen := map[Reach]int{}
	for range 200_000 {
		var b [16]byte
		some := r.IntN(17)
		for i := range some {
			b[i] = edges[r.IntN(len(edges))]
		}
		switch r.IntN(4) {
		case 0: // the last bytes are what is not zero
			var c [16]byte
			copy(c[16-some:], b[:some])
			b = c
		case 1:
			b = netip.AddrFrom4([4]byte(b[:4])).As16()
		}
		ip := netip.AddrFrom16(b)
		for _, host := range []string{ip.String(), ip.StringExpanded(), ip.Unmap().String()} {
			if got := ReachOf(host); got != want(ip) {
				t.Fatalf("%s reaches %s, want %s", host, got, want(ip))
			}
		}
		seen[want(ip)]++
	}
	if seen[Nobody] < 1000 || seen[Network] < 1000 || seen[Everybody] < 1000 {
		t.Errorf("too few of a kind: %v", seen)
	}
}
