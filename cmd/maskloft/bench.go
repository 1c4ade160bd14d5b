//go:build !js

package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"maskloft/export/bench"
	yamldoc "maskloft/layouts/document"
	"maskloft/layouts/reading"
)

func benchCommand(out, errs io.Writer) *cobra.Command {
	var oneFile string
	c := &cobra.Command{
		Use:   "bench [LAYOUT]",
		Short: "look at the layout and change it on a page of this machine",
		Long: `Serve a page on the loopback address of this machine: see the layout, move its
markings, take the hints of findings, and save. Nobody else can reach it, and no
network is used. Without a layout the page begins with a new one, or with an example
to look at; Save then writes it into this folder, under a name that is free.

The address that is printed opens the page once, within a minute; press Enter for
another one. Files beside the layout are read, and nothing else. The layout itself
is written by Save alone: its first state is kept once as LAYOUT.first, and what is not
saved yet stands in .LAYOUT.draft. Ctrl+C ends it.

With --one-file, write the page itself instead, with the engine, the layout, its fonts
and photographs inside: a file that any browser opens from a folder, without this
program and without a network.`,
		Example: "  maskloft bench\n  maskloft bench mine.yaml\n  maskloft bench --one-file bench.html mine.yaml",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(c *cobra.Command, args []string) error {
			if oneFile != "" {
				return writeOneFile(c, out, oneFile, args)
			}
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
	c.Flags().StringVar(&oneFile, "one-file", "", "write the page with all inside to this file, and serve nothing")
	addDemo(c)
	return c
}

// writeOneFile writes the page with the engine and a layout inside.
func writeOneFile(c *cobra.Command, out io.Writer, file string, args []string) error {
	target, err := onePage(file)
	if err != nil {
		return fmt.Errorf("--one-file: %w", err)
	}
	name, text, files, err := benchText(c, args)
	if err != nil {
		return err
	}
	page, err := bench.OneFile(c.Context(), programVersion(), benchKit(), name, text, files)
	if err != nil {
		return fmt.Errorf("--one-file: %w", err)
	}
	if err := putFiles(filepath.Dir(target), []packFile{{filepath.Base(target), page}}, 0o644); err != nil {
		return fmt.Errorf("--one-file: %w", err)
	}
	fmt.Fprintf(out, "written to %s: %.1f MB, the engine and %s inside; open it from its folder\n", file, float64(len(page))/1e6, filepath.Base(name))
	return nil
}

// onePage is where the page in one file goes, links followed. What stands there and is no
// such page, as a layout whose name was put after --one-file, is not written over.
func onePage(file string) (string, error) {
	info, err := os.Stat(file)
	if errors.Is(err, fs.ErrNotExist) {
		return file, nil
	}
	foreign := fmt.Errorf("%s is there and is no page of maskloft: nothing was written: give another name", file)
	if err != nil || !info.Mode().IsRegular() {
		return "", foreign
	}
	if data, err := os.ReadFile(file); err != nil || !bench.IsOneFile(data) {
		return "", foreign
	}
	return filepath.EvalSymlinks(file)
}

// benchText is the layout that is named, or an example.
func benchText(c *cobra.Command, args []string) (name string, text []byte, files reading.Files, err error) {
	example, err := c.Flags().GetString(demoFlag)
	switch {
	case err != nil:
	case len(args) > 0 && c.Flags().Changed(demoFlag):
		err = errors.New("bench: give a layout or --demo, not both")
	case len(args) > 0:
		name, files = args[0], reading.OnDisk()
		text, err = readInput(name, yamldoc.MaxSize)
	default:
		files = reading.InFS(reading.DemoFiles())
		var one string
		if one, err = reading.Starter(example); err == nil {
			text = []byte(one)
			name, err = reading.ExampleFile(example)
		}
	}
	return name, text, files, err
}

// openBench opens the layout that is named; else an example, or nothing yet, for which the
// first save makes a file in this folder.
func openBench(c *cobra.Command, b *bench.Bench, args []string) error {
	if len(args) == 0 {
		name, text := "mine.yaml", []byte(nil)
		if c.Flags().Changed(demoFlag) {
			var err error
			if name, text, _, err = benchText(c, args); err != nil {
				return err
			}
		}
		home, err := bench.NewHome(".", name)
		if err != nil {
			return err
		}
		b.OpenNew(home, text)
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
