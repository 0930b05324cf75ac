// Command floatmark works out what a fishing float carries, lays its mark out
// on the real body and prints decals, cards and the job sheet of a batch.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"floatmark/cmd/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := cli.Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
