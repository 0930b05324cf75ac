package cli

import (
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"strings"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/cmd/internal/web"
	"floatmark/cmd/internal/web/bench"
	"floatmark/label/symbol"
	"floatmark/loading/fault"
)

const (
	loopback    = "127.0.0.1"
	servingPort = "8017"
)

func (a *app) serve() *cobra.Command {
	var addr string
	var hosts []string
	var lan bool
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Answer the link of a scanned code with the float's record",
		Long: `Answer the link of a scanned code with the float's record, on this computer
alone or, with --lan, for phones in the same network too. Records are only read;
whoever knows the unlock word (floatmark unlock) can change them from a phone.
Plain http: whoever listens in on the network can read along, so use one you trust.`,
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			if lan {
				if cmd.Flags().Changed("addr") {
					return fault.New(fault.Input, "--lan", "it chooses the address itself", "give --lan or --addr, not both")
				}
				all, err := web.Lan()
				if err != nil {
					return err
				}
				if len(all) == 0 {
					return fault.New(fault.Machine, "--lan", "this computer is in no home network", "join the one the phone is in, or give an address with --addr")
				}
				addr = net.JoinHostPort(all[0].String(), servingPort)
			}
			shelf := shop.Shelf()
			defer shelf.Close()
			h, err := a.handler(shop, shelf, append(hosts, addr), nil, false)
			if err != nil {
				return err
			}
			return web.Serve(cmd.Context(), addr, h, func(at string) {
				fmt.Fprintf(a.out, "serving the records of %s at http://%s/\n", shop.Dir, at)
				if lan {
					a.showCode("HTTP://" + at + "/")
				}
			})
		},
	}
	f := cmd.Flags()
	f.StringVar(&addr, "addr", net.JoinHostPort(loopback, servingPort), "address and port to listen on")
	f.BoolVar(&lan, "lan", false, "listen for phones in the same network and show the address as a code")
	f.StringSliceVar(&hosts, "host", nil, "further host names that requests may name")
	return cmd
}

// handler is the server of a workshop, logging to standard error; door lets phones
// in, nil for none; atHome lets who is at this computer change records without the word.
func (a *app) handler(shop *job.Workshop, shelf *job.Shelf, hosts []string, door bench.Door, atHome bool) (http.Handler, error) {
	own, err := shop.Hosts()
	if err != nil {
		return nil, err
	}
	o := web.Options{Hosts: append(own, hosts...), Own: shop.Own(), Language: shop.Language(), Log: a.logger(),
		Unlock: shop.CheckUnlock, Word: shop.UnlockMark, Keeper: shop, AtHome: atHome}
	var gate bench.Gate
	alone := func(do func() error) error { return gate.Alone(func() error { return shelf.Apart(do) }) }
	o.Bench = bench.New(shop, bench.Options{Language: shop.Language(), Ahead: true, Door: door, Alone: alone, Site: func(language string) (job.Site, error) {
		return web.NewPlain(shop.Own(), language)
	}})
	return gate.Through(web.New(shelf, o)), nil
}

func (a *app) logger() *slog.Logger {
	if a.json {
		return slog.New(slog.NewJSONHandler(a.err, nil))
	}
	return slog.New(slog.NewTextHandler(a.err, nil))
}

// showCode draws a link on a terminal, for a phone to scan.
func (a *app) showCode(link string) {
	if !isTerminal(a.out) {
		return
	}
	m, err := symbol.QR(link)
	if err != nil {
		return // the address stands above
	}
	writeCode(a.out, m)
}

// quietEdge is the pale edge that ISO/IEC 18004 asks for, in squares.
const quietEdge = 4

// writeCode draws a code in half blocks, two squares in a character, black on
// white whatever the colours of the terminal are.
func writeCode(w io.Writer, m symbol.Matrix) {
	const blackOnWhite, plain = "\x1b[38;5;16;48;5;231m", "\x1b[0m"
	halves := [2][2]string{{" ", "▄"}, {"▀", "█"}} // upper dark, lower dark
	index := func(dark bool) int {
		if dark {
			return 1
		}
		return 0
	}
	var b strings.Builder
	for y := -quietEdge; y < m.N+quietEdge; y += 2 {
		b.WriteString(blackOnWhite)
		for x := -quietEdge; x < m.N+quietEdge; x++ {
			b.WriteString(halves[index(m.Dark(x, y))][index(m.Dark(x, y+1))])
		}
		b.WriteString(plain + "\n")
	}
	_, _ = io.WriteString(w, b.String()) // a terminal that is gone shows nothing
}
