package share

import (
	"net/netip"
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

// ReachOf tells who can reach a host, as an address names it without its port.
func ReachOf(host string) Reach {
	host = strings.ToLower(strings.TrimSuffix(strings.Trim(host, "[]"), "."))
	if ip, err := netip.ParseAddr(host); err == nil {
		ip = ip.Unmap()
		switch {
		case ip.IsLoopback() || ip.IsUnspecified():
			return Nobody
		case ip.IsPrivate() || ip.IsLinkLocalUnicast() || netip.MustParsePrefix("100.64.0.0/10").Contains(ip):
			return Network
		}
		return Everybody
	}
	switch {
	case host == "" || host == "localhost" || strings.HasSuffix(host, ".localhost"):
		return Nobody
	case !strings.Contains(host, ".") || strings.HasSuffix(host, ".local") || strings.HasSuffix(host, ".home.arpa") || strings.HasSuffix(host, ".internal"):
		return Network
	}
	return Everybody
}
