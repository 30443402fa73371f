package share

import "testing"

// Names and addresses that are not for everybody: RFC 6761 (localhost), RFC 1122
// (127/8), RFC 1918, RFC 4193, RFC 3927, RFC 6598, RFC 6762 (.local), RFC 8375
// (.home.arpa); the examples are of RFC 5737, 3849 and 2606.
func TestReach(t *testing.T) {
	for host, want := range map[string]Reach{
		"localhost": Nobody, "LOCALHOST.": Nobody, "ferrule.localhost": Nobody, "127.0.0.1": Nobody, "127.8.9.1": Nobody, "[::1]": Nobody, "0.0.0.0": Nobody, "::ffff:127.0.0.1": Nobody, "": Nobody,
		"10.0.0.3": Network, "172.16.4.1": Network, "172.31.255.1": Network, "192.168.178.20": Network, "169.254.1.1": Network, "100.64.0.9": Network,
		"fd12::1": Network, "fe80::1": Network, "range-laptop": Network, "range.local": Network, "x.home.arpa": Network, "x.internal": Network,
		"172.32.0.1": Everybody, "192.0.2.1": Everybody, "100.128.0.1": Everybody, "2001:db8::1": Everybody, "example.org": Everybody, "localhost.example.org": Everybody, "10.example.org": Everybody,
	} {
		if got := ReachOf(host); got != want {
			t.Errorf("%q reaches %s, want %s", host, got, want)
		}
	}
}
