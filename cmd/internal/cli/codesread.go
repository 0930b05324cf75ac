package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// codesRead adds to the command that writes the code-size sheet what stores its
// answer and shows it.
func (a *app) codesRead(cmd *cobra.Command) {
	var reads string
	var show bool
	f := cmd.Flags()
	f.StringVar(&reads, "reads", "", `store the thinnest dowel on which each size read, in mm: "8=12 7=10 6=none 7f=8", or none`)
	f.BoolVar(&show, "show", false, "show what was stored and what follows from it")
	cmd.Example += "\n  floatmark testsheet codes --reads \"8=12 7=10 6=8 8f=10 7f=8 6f=none\"\n  floatmark testsheet codes --show"
	write := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		see := "see: " + cmd.CommandPath() + " --help"
		does := 0
		for _, name := range []string{"out", "reads", "show"} {
			if f.Changed(name) {
				does++
			}
		}
		switch {
		case does != 1:
			return fault.New(fault.Input, "", "give one of --out, --reads and --show", see)
		case f.Changed("out"):
			return write(cmd, args)
		case f.Changed("paper") || show && (f.Changed("printer") || f.Changed("dpi")):
			return fault.New(fault.Input, "", "--paper, and with --show --printer and --dpi, say how the sheet is printed", see)
		case show:
			return a.showCodes()
		case f.Changed("printer") && f.Lookup("printer").Value.String() == "":
			return fault.New(fault.Input, "--printer", "the printer has no name", "leave --printer out for one that was not calibrated")
		}
		c := job.CodesRead{Reads: reads, Printer: f.Lookup("printer").Value.String()}
		if f.Changed("dpi") {
			dpi, err := f.GetFloat64("dpi")
			if err != nil || !(dpi > 0) {
				return fault.New(fault.Input, "--dpi", "a printer cannot have "+unit.Number(dpi, 0.01, unit.Style{})+" dots an inch", "give its dots an inch, usually 600")
			}
			c.DPI = dpi
		}
		shop, err := a.open()
		if err != nil {
			return err
		}
		answer, err := shop.SetCodeSizes(cmd.Context(), c)
		if err != nil {
			return err
		}
		if a.json {
			return a.writeJSON(answer)
		}
		fmt.Fprintln(a.out, "stored; codes are chosen by it from now on")
		a.say(answer.Follows)
		return nil
	}
}

func (a *app) showCodes() error {
	shop, err := a.open()
	if err != nil {
		return err
	}
	answer, ok, err := shop.CodeSizes()
	if err != nil {
		return err
	}
	if a.json {
		if !ok {
			return a.writeJSON(nil)
		}
		return a.writeJSON(answer)
	}
	if !ok {
		fmt.Fprintln(a.out, "nothing stored: codes are chosen by a simulation, no phone of yours took part; begin with: floatmark testsheet codes --out codes.pdf")
		return nil
	}
	var all []string
	for _, z := range answer.Read {
		mm := "none"
		if z.Smallest > 0 {
			mm = unit.Number(z.Smallest, 0.1, unit.Style{})
		}
		all = append(all, z.Size+"="+mm)
	}
	of := unit.Number(answer.DPI, 0.01, unit.Style{}) + " dpi"
	if answer.Printer != "" {
		of = answer.Printer + ", " + of
	}
	fmt.Fprintf(a.out, "%s (%s), %s\n", strings.Join(all, " "), of, answer.Made)
	a.say(answer.Follows)
	return nil
}
