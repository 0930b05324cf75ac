package cli

import (
	"fmt"
	"net"
	"net/netip"
	"os/exec"
	"runtime"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/cmd/internal/web"
	"floatmark/cmd/internal/web/bench"
	"floatmark/loading/fault"
)

// bench is the whole job in the browser; floatmark without a command is the same.
func (a *app) bench() *cobra.Command {
	var addr string
	var stay bool
	var phones string
	cmd := &cobra.Command{
		Use:   "bench",
		Short: "The whole job in the browser, on this computer",
		Long: "Serves the maker's own pages on this computer alone and opens the browser on them.\n" +
			"floatmark without a command does the same.",
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return a.atBench(cmd, addr, phones, !stay) },
	}
	f := cmd.Flags()
	f.StringVar(&addr, "addr", net.JoinHostPort(loopback, servingPort), "address and port to listen on")
	f.StringVar(&phones, "phones", "", fmt.Sprintf("address and port for phones that are let in (default: every address of this computer in a home network, port %d)", web.DoorPort))
	f.BoolVar(&stay, "no-browser", false, "do not open a browser")
	return cmd
}

func (a *app) atBench(cmd *cobra.Command, addr, phones string, open bool) error {
	host, _, err := net.SplitHostPort(addr)
	if ip := net.ParseIP(host); err != nil || host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fault.New(fault.Input, "--addr", "the bench is for this computer alone", "name an address of it, as in 127.0.0.1:8018; phones are let in under Settings", err)
	}
	shop, err := a.open()
	if err != nil {
		return err
	}
	shelf := shop.Shelf()
	defer shelf.Close()
	door, err := doorOf(shop, phones)
	if err != nil {
		return err
	}
	h, err := a.handler(shop, shelf, []string{addr}, door, true)
	if err != nil {
		return err
	}
	door.Leads(h)
	defer door.Shut() // what it has to say comes too late
	return web.Serve(cmd.Context(), addr, h, func(at string) {
		link := "http://" + at + bench.Path
		fmt.Fprintf(a.out, "the workshop %s is open at %s\n", shop.Dir, link)
		a.letIn(shop, door)
		if open {
			openBrowser(link)
		}
	})
}

// doorOf is the door for phones: at an address and port, or for "" where phones of
// the network reach this computer.
func doorOf(shop *job.Workshop, at string) (*web.Door, error) {
	if at == "" {
		return web.NewDoor(web.Lan, web.DoorPort, shop.UnlockMark), nil
	}
	one, err := netip.ParseAddrPort(at)
	if err != nil || one.Addr().IsUnspecified() {
		return nil, fault.New(fault.Input, "--phones", "that is no address and port of this computer", "name one that phones reach, as in 192.168.1.20:8019", err)
	}
	return web.NewDoor(func() ([]netip.Addr, error) { return []netip.Addr{one.Addr()}, nil }, one.Port(), shop.UnlockMark), nil
}

// letIn opens the door where the maker wants it open each time. The bench is there
// without it: why it stays shut is only told.
func (a *app) letIn(shop *job.Workshop, door *web.Door) {
	each, err := shop.PhonesEachTime()
	if err == nil && each {
		if err = door.Open(); err == nil {
			fmt.Fprintf(a.out, "phones are let in at http://%s/\n", door.State().At[0])
		}
	}
	if err != nil {
		fmt.Fprintf(a.err, "phones are not let in: %v\n", err)
	}
}

// openBrowser asks the system to show a page; where that is not possible the
// address stands on the terminal.
func openBrowser(link string) {
	name, args := "xdg-open", []string{link}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", link}
	}
	if c := exec.Command(name, args...); c.Start() == nil {
		go func() { _ = c.Wait() }() // whether it worked shows on the screen
	}
}
