// Package cli is the command line: arguments in, tables or JSON on standard
// output, messages on standard error, an exit code out. What the commands do is
// in job, so that the web does the same.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// The exit codes, by who must act.
const (
	exitDone = iota
	exitOurs
	exitInput
	exitNotFound
	exitNoFit
	exitMachine
)

// app is what every command needs.
type app struct {
	out, err io.Writer
	workshop string
	json     bool
}

// Run runs one command and returns its exit code: 0 done, 1 our fault, 2 input
// wrong, 3 not found, 4 does not fit or will not read, 5 the machine.
func Run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) int {
	a := &app{out: out, err: errOut}
	root := a.root()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitDone
	}
	report(errOut, err)
	return exitCode(err)
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:           "floatmark",
		Short:         "Marks for fishing floats: the load worked out, laid out on the real body, printed and recorded",
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.atBench(cmd, net.JoinHostPort(loopback, servingPort), "", true)
		},
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.PersistentFlags().StringVar(&a.workshop, "workshop", "", "workshop folder (default: the user's own)")
	root.PersistentFlags().BoolVar(&a.json, "json", false, "results as JSON")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return fault.New(fault.Input, "", err.Error(), "see: "+cmd.CommandPath()+" --help", err)
	})
	root.AddCommand(a.demo(), a.print(), a.check(), a.one(), a.convert(), a.bench(), a.serve(), a.publish(), a.checkLinks(), a.unlock(), a.record(), a.tank(), a.trim(), a.sheets(), a.prints(), a.spares(), a.tick(), a.pack(), a.host(), a.testsheet(), a.conventions(), a.stocks())
	root.AddCommand(a.keeping()...)
	return root
}

// args wraps cobra's own argument checks so that a wrong call is an Input error
// with a remedy.
func args(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, list []string) error {
		if err := check(cmd, list); err != nil {
			return fault.New(fault.Input, "", err.Error(), "see: "+cmd.CommandPath()+" --help", err)
		}
		return nil
	}
}

var noArgs = args(cobra.NoArgs)

func exactly(n int) cobra.PositionalArgs { return args(cobra.ExactArgs(n)) }

// open opens the workshop that --workshop names, or the user's own.
func (a *app) open() (*job.Workshop, error) {
	dir := a.workshop
	if dir == "" {
		var err error
		if dir, err = job.Default(); err != nil {
			return nil, err
		}
	}
	return job.Open(dir)
}

// report writes each finding as one line of what is wrong and where, and one
// line of what to do.
func report(w io.Writer, err error) {
	if errors.Is(err, context.Canceled) {
		fmt.Fprintln(w, "floatmark: stopped; nothing was written")
		return
	}
	for _, e := range fault.Grouped(err) {
		fmt.Fprintln(w, "floatmark: "+e.Error())
		if e.Do != "" {
			fmt.Fprintln(w, "  "+e.Do)
		}
	}
}

func exitCode(err error) int {
	switch fault.ClassOf(err) {
	case fault.Input:
		return exitInput
	case fault.NotFound:
		return exitNotFound
	case fault.NoFit:
		return exitNoFit
	case fault.Machine:
		return exitMachine
	}
	return exitOurs
}

// isTerminal reports whether w is a terminal: progress is shown there only.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
