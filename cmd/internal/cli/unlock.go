package cli

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"floatmark/loading/fault"
)

func (a *app) unlock() *cobra.Command {
	var clear bool
	cmd := &cobra.Command{
		Use:   "unlock",
		Short: "Set the word that lets a phone change records",
		Long: `Set the word that lets a phone change records on the pages of "floatmark serve".
It is typed here, or comes in on standard input as one line, and is kept as a hash
alone. It is in force at once; whoever was unlocked with another is locked again.`,
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			if clear {
				if err := shop.SetUnlock(""); err != nil {
					return err
				}
				fmt.Fprintln(a.out, "no unlock word: records are only read")
				return nil
			}
			a.prompt("the unlock word, 8 letters or more: ")
			word, err := bufio.NewReader(io.LimitReader(cmd.InOrStdin(), mostLine)).ReadString('\n')
			if err != nil && err != io.EOF {
				return fault.New(fault.Machine, "", "the word cannot be read", "try again", err)
			}
			if word = strings.TrimRight(word, "\r\n"); word == "" {
				return fault.New(fault.Input, "", "no word was given", "type some words in a row, or take the old one away with --clear")
			}
			if err := shop.SetUnlock(word); err != nil {
				return err
			}
			fmt.Fprintln(a.out, "the unlock word is set")
			return nil
		},
	}
	cmd.Flags().BoolVar(&clear, "clear", false, "take the word away: records are then only read")
	return cmd
}
