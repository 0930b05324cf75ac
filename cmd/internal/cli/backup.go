package cli

import (
	"fmt"

	"github.com/spf13/cobra"
)

func (a *app) backup() *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: "Write a checked copy of the record to a file, best on another disc",
		Long: "Writes a copy of the workshop's record, photographs with it, to FILE: checked, and in place of\n" +
			"an older backup of the same workshop. Prints and changes may go on meanwhile. The settings in\n" +
			"workshop.toml are not in it: copy that file too, or use floatmark export.",
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			done, err := shop.Backup(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(done)
			}
			fmt.Fprintf(a.out, "%s: %d bytes, checked; last change %s\n", done.File, done.Bytes, lastChange(done.Latest))
			return nil
		},
	}
}

func lastChange(at string) string {
	if at == "" {
		return "never"
	}
	return when(at)
}

func (a *app) restore() *cobra.Command {
	var replace bool
	cmd := &cobra.Command{
		Use:   "restore FILE",
		Short: "Put a backup in the place of the workshop's record",
		Long: "Puts a backup in the place of the record. A record that knows of anything the backup does not is\n" +
			"left alone, unless --replace; in either case what was there is kept beside it.",
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			done, err := shop.Restore(cmd.Context(), args[0], replace)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(done)
			}
			fmt.Fprintf(a.out, "restored from %s; last change %s\n", done.File, lastChange(done.Latest))
			if done.Kept != "" {
				fmt.Fprintln(a.out, "the record that was there is kept as "+done.Kept)
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&replace, "replace", false, "even if the record there is newer, or of another workshop")
	return cmd
}

func (a *app) export() *cobra.Command {
	return &cobra.Command{
		Use:   "export DIR | FILE.csv",
		Short: "Write all that was ever recorded as JSON and photographs, and the floats for a spreadsheet",
		Long: "Writes to DIR: workshop.json (everything, a row on a line), floats.csv (a float on a line), photos/\n" +
			"and workshop.toml. A name that ends in .csv is the spreadsheet alone. The folder holds what you do\n" +
			"not publish and the key that ids are made from: keep it as you keep the workshop's own folder.",
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			done, err := shop.Export(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(done)
			}
			fmt.Fprintf(a.out, "%s: %d floats, %d photographs\n", args[0], done.Floats, done.Photos)
			return nil
		},
	}
}

func (a *app) importing() *cobra.Command {
	return &cobra.Command{
		Use:   "import DIR",
		Short: "Read what export wrote into the workshop, all of it or nothing",
		Long: "Reads a folder that floatmark export wrote. What is in the workshop already and equal is left\n" +
			"alone; what is there with other contents is listed, and nothing is imported.",
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			done, err := shop.Import(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(done)
			}
			fmt.Fprintf(a.out, "%d rows imported, %d known before\n", done.Added, done.Known)
			return nil
		},
	}
}

// keeping lists the commands that keep the record and change it.
func (a *app) keeping() []*cobra.Command {
	return []*cobra.Command{a.build(), a.note(), a.coat(), a.material(), a.field(), a.status(), a.photo(), a.edit(), a.remove(), a.search(),
		a.backup(), a.restore(), a.export(), a.importing()}
}
