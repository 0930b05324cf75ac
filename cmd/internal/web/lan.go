package web

import (
	"net"
	"net/netip"
	"slices"
	"strings"

	"floatmark/loading/fault"
)

// Lan returns the addresses that this computer has in home networks (those of
// RFC 1918, IPv4), the one that phones are likeliest to reach first; none where it
// is in no such network.
func Lan() ([]netip.Addr, error) {
	all, err := net.Interfaces()
	if err != nil {
		return nil, fault.New(fault.Machine, "", "the addresses of this computer cannot be had", "give the address with --addr", err)
	}
	var found []lanAddr
	for _, one := range all {
		if one.Flags&net.FlagUp == 0 || one.Flags&net.FlagLoopback != 0 {
			continue
		}
		at, err := one.Addrs()
		if err != nil {
			continue // gone since it was listed
		}
		for _, a := range at {
			if p, err := netip.ParsePrefix(a.String()); err == nil {
				found = append(found, lanAddr{name: one.Name, wire: one.Flags&net.FlagPointToPoint != 0, ip: p.Addr().Unmap()})
			}
		}
	}
	return likeliest(found, routed()), nil
}

// lanAddr is an address of an interface; wire is one with a single other end, as of
// a tunnel.
type lanAddr struct {
	name string
	wire bool
	ip   netip.Addr
}

// inside are the beginnings of names that networks inside a computer have, of
// containers and machines within it. From memory, no source; a name that is missing
// only makes a worse guess.
var inside = []string{"docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "vEthernet", "podman", "lxc", "cni"}

// likeliest are the private addresses of IPv4, in the order of what a phone may
// reach: real networks before tunnels and networks inside the computer, that of the
// way out before others, then as home routers give them.
func likeliest(all []lanAddr, routed netip.Addr) []netip.Addr {
	rank := func(a lanAddr) (n int) {
		if a.wire || slices.ContainsFunc(inside, func(name string) bool { return strings.HasPrefix(a.name, name) }) {
			n += 100
		}
		if a.ip != routed {
			n += 10
		}
		switch a.ip.As4()[0] {
		case 192:
		case 10:
			n++
		default:
			n += 2
		}
		return n
	}
	all = slices.DeleteFunc(slices.Clone(all), func(a lanAddr) bool { return !a.ip.Is4() || !a.ip.IsPrivate() })
	slices.SortStableFunc(all, func(a, b lanAddr) int { return rank(a) - rank(b) })
	var out []netip.Addr
	for _, a := range all {
		if !slices.Contains(out, a.ip) {
			out = append(out, a.ip)
		}
	}
	return out
}

// routed is the address that this computer would ask the world from. Nothing is
// sent: a socket for datagrams is only told its other end, one of those that
// RFC 5737 keeps for examples.
func routed() netip.Addr {
	c, err := net.Dial("udp4", "203.0.113.1:9")
	if err != nil {
		return netip.Addr{} // there is no way out
	}
	defer c.Close()
	at, err := netip.ParseAddrPort(c.LocalAddr().String())
	if err != nil {
		return netip.Addr{}
	}
	return at.Addr().Unmap()
}
