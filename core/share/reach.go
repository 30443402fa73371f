package share

import (
	"strconv"
	"strings"
)

// Reach is who can follow a link to an address.
type Reach string

// The reaches.
const (
	Everybody Reach = "everybody"
	Network   Reach = "network" // who is in the same network: a name without a dot, private and link-local addresses (RFC 1918, 4193, 3927, 6598), names of RFC 6762
	Nobody    Reach = "nobody"  // this device alone (RFC 6761, 1122)
)

// ReachOf tells who can reach a host, as an address names it without its port. It
// reads addresses by hand: net/netip is a two-hundredth of the page's bytes.
func ReachOf(host string) Reach {
	host = strings.ToLower(strings.TrimSuffix(strings.Trim(host, "[]"), "."))
	if strings.Contains(host, ":") { // no name holds one
		return reachOfSix(host)
	}
	if a, b, ok := fourOf(host); ok {
		return reachOfFour(a, b)
	}
	switch {
	case host == "" || host == "localhost" || strings.HasSuffix(host, ".localhost"):
		return Nobody
	case !strings.Contains(host, ".") || strings.HasSuffix(host, ".local") || strings.HasSuffix(host, ".home.arpa") || strings.HasSuffix(host, ".internal"):
		return Network
	}
	return Everybody
}

// fourOf is the first two numbers of an IPv4 address, and whether host is one.
func fourOf(host string) (a, b uint64, ok bool) {
	parts := strings.Split(host, ".")
	if len(parts) != 4 {
		return 0, 0, false
	}
	for i := 3; i >= 0; i-- {
		v, err := strconv.ParseUint(parts[i], 10, 8)
		if err != nil || len(parts[i]) > 1 && parts[i][0] == '0' {
			return 0, 0, false
		}
		a, b = v, a
	}
	return a, b, true
}

func reachOfFour(a, b uint64) Reach {
	switch {
	case a == 127 || a == 0:
		return Nobody
	case a == 10 || a == 172 && b>>4 == 1 || a == 192 && b == 168 || a == 169 && b == 254 || a == 100 && b>>6 == 1:
		return Network
	}
	return Everybody
}

func reachOfSix(host string) Reach {
	host, _, _ = strings.Cut(host, "%") // the zone
	bare := strings.TrimLeft(host, "0:")
	if inner, ok := strings.CutPrefix(bare, "ffff:"); ok && len(bare) < len(host) { // an IPv4 address in it (RFC 4291, 2.5.5.2)
		if a, b, ok := fourOf(inner); ok {
			return reachOfFour(a, b)
		}
		high, _, two := strings.Cut(inner, ":")
		if v, err := strconv.ParseUint(high, 16, 16); err == nil && two && strings.Count(inner, ":") == 1 {
			return reachOfFour(v>>8, v&255)
		}
	}
	first, _, _ := strings.Cut(host, ":")
	v, _ := strconv.ParseUint(first, 16, 16)
	switch {
	case bare == "" || bare == "1":
		return Nobody
	case v>>9 == 0xfc00>>9 || v>>6 == 0xfe80>>6:
		return Network
	}
	return Everybody
}
