package cli

import (
	"fmt"
	"net"
	"os/exec"
	"runtime"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/web"
	"floatmark/cmd/internal/web/bench"
	"floatmark/loading/fault"
)

// bench is the whole job in the browser; floatmark without a command is the same.
func (a *app) bench() *cobra.Command {
	var addr string
	var stay bool
	cmd := &cobra.Command{
		Use:   "bench",
		Short: "The whole job in the browser, on this computer",
		Long: "Serves the maker's own pages on this computer alone and opens the browser on them.\n" +
			"floatmark without a command does the same.",
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return a.atBench(cmd, addr, !stay) },
	}
	f := cmd.Flags()
	f.StringVar(&addr, "addr", net.JoinHostPort(loopback, servingPort), "address and port to listen on")
	f.BoolVar(&stay, "no-browser", false, "do not open a browser")
	return cmd
}

func (a *app) atBench(cmd *cobra.Command, addr string, open bool) error {
	host, _, err := net.SplitHostPort(addr)
	if ip := net.ParseIP(host); err != nil || host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fault.New(fault.Input, "--addr", "the bench is for this computer alone", "name an address of it, as in 127.0.0.1:8018; phones: floatmark serve --lan", err)
	}
	shop, err := a.open()
	if err != nil {
		return err
	}
	shelf := shop.Shelf()
	defer shelf.Close()
	h, err := a.handler(shop, shelf, []string{addr})
	if err != nil {
		return err
	}
	return web.Serve(cmd.Context(), addr, h, func(at string) {
		link := "http://" + at + bench.Path
		fmt.Fprintf(a.out, "the workshop %s is open at %s\n", shop.Dir, link)
		if open {
			openBrowser(link)
		}
	})
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
