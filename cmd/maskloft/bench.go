//go:build !js

package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"maskloft/export/bench"
	"maskloft/layouts/reading"
)

func benchCommand(out, errs io.Writer) *cobra.Command {
	c := &cobra.Command{
		Use:   "bench [LAYOUT]",
		Short: "look at the layout and change it on a page of this machine",
		Long: `Serve a page on the loopback address of this machine: see the layout, move its
markings, take the hints of findings, and save. Nobody else can reach it, and no
network is used.

The address that is printed opens the page once, within a minute; press Enter for
another one. Files beside the layout are read, and nothing else. The layout itself
is written by Save alone: its first state is kept once as LAYOUT.first, and what is not
saved yet stands in .LAYOUT.draft. Ctrl+C ends it.`,
		Example: "  maskloft bench mine.yaml",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(c *cobra.Command, args []string) error {
			b := &bench.Bench{Program: programVersion(), Engine: "native", Kit: benchKit()}
			if err := openBench(c, b, args); err != nil {
				return err
			}
			if b.Home != nil {
				defer b.Home.Close()
			}
			return serveBench(c.Context(), out, b)
		},
	}
	addDemo(c)
	return c
}

// openBench opens the layout that is named, or an example without a file behind it.
func openBench(c *cobra.Command, b *bench.Bench, args []string) error {
	if len(args) == 0 {
		example, err := c.Flags().GetString(demoFlag)
		if err != nil {
			return err
		}
		text, err := reading.Starter(example)
		if err != nil {
			return err
		}
		name, err := reading.ExampleFile(example)
		if err != nil {
			return err
		}
		b.Open(name, []byte(text), reading.InFS(reading.DemoFiles()))
		return nil
	}
	if c.Flags().Changed(demoFlag) {
		return errors.New("bench: give a layout or --demo, not both")
	}
	target, err := filepath.EvalSymlinks(args[0])
	if err != nil {
		return inputError(args[0], err)
	}
	home, err := bench.OpenHome(filepath.Dir(target), filepath.Base(target))
	if err != nil {
		return inputError(args[0], err)
	}
	if err := b.OpenFile(home); err != nil {
		return errors.Join(inputError(args[0], err), home.Close())
	}
	return nil
}

// serveBench serves until the program is told to end; a line that is typed asks for
// another address.
func serveBench(ctx context.Context, out io.Writer, b *bench.Bench) error {
	s, err := bench.Listen(b)
	if err != nil {
		return fmt.Errorf("no port of this machine can be opened: %w", err)
	}
	fmt.Fprintf(out, "open this address in a browser of this machine, once, within a minute:\n%s\nEnter: another address; Ctrl+C: end\n", s.Address())
	go func() {
		lines := bufio.NewScanner(os.Stdin)
		for lines.Scan() {
			fmt.Fprintln(out, s.Address())
		}
	}()
	return s.Serve(ctx)
}
