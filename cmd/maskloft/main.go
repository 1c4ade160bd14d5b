// Command maskloft computes paint masks for the markings of a vintage military
// aeroplane from one layout file: true-size cut files, a side view, and a
// tape-measure checklist. Start reading at layouts/job/plan.go.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"maskloft/geometry"
)

func main() { os.Exit(program()) }

// program sets the memory up and runs; it returns the exit code.
func program() int {
	// Most memory lives as long as the pack. Letting garbage grow to twice what lives
	// before it is looked for took the demo from 1.05 to 0.92 s and from 60 to 90 MB.
	debug.SetGCPercent(200)
	// Near this it is looked for oftener: 1,000 stencils took 780 MB without, 390 MB with it
	// and 5 % more time. A job that needs more gets more.
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(350 << 20)
	}
	// Ballast counts as memory in use but is never touched, so that it takes none: while
	// little lives, garbage is looked for every 48 MB and not every 8.
	var ballast []byte
	if runtime.GOARCH != "wasm" {
		ballast = make([]byte, 16<<20)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, func() {
		stop() // a second signal ends the program at once
		time.Sleep(mostPatience)
		fmt.Fprintln(os.Stderr, "interrupted: the next build sweeps what a pack that was begun has left")
		os.Exit(exitFailed)
	})
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	runtime.KeepAlive(ballast)
	return code
}

// mostPatience is how long a step may go on after a signal before the program ends
// without it; a pack that is not yet in place leaves a folder that the next build sweeps.
const mostPatience = 3 * time.Second

// Exit codes.
const (
	exitClean  = 0
	exitStop   = 1 // there is an answer, and a finding of level stop
	exitFailed = 2 // no answer
)

// errStop is returned by a verb whose findings hold one of level stop.
var errStop = errors.New("a finding of level stop")

// errListed is returned where some of several layouts could not be built: the summary
// says which.
var errListed = errors.New("some layouts could not be built")

// run is the program with its streams, for tests.
func run(ctx context.Context, args []string, out, errs io.Writer) int {
	said := &answer{out: out}
	root := command(said, errs)
	root.SetArgs(args)
	verb := root
	err := whole(func() (err error) { verb, err = root.ExecuteContextC(ctx); return err })
	if said.lost != nil {
		err = said.lost
	}
	switch {
	case err == nil:
		return exitClean
	case errors.Is(err, errStop):
		return exitStop
	case errors.Is(err, errListed):
		return exitFailed
	case errors.Is(err, context.Canceled):
		err = errors.New("interrupted: nothing was written")
	}
	fmt.Fprintf(errs, "%s\n", printable(geometry.ErrorIn(unitsOf(verb), err)))
	return exitFailed
}

// traceVariable names the environment variable with which a fault shows where it is.
const traceVariable = "MASKLOFT_TRACE"

// whole calls do; a panic, which only a fault of the program can be, becomes an error in
// words.
func whole(do func() error) (err error) {
	defer func() {
		r := recover()
		if r == nil {
			return
		}
		err = errors.New("this met a fault of maskloft and could not be finished; what was there before is as it was: report it, with the command and its files")
		if os.Getenv(traceVariable) != "" {
			err = fmt.Errorf("%w\n%v\n%s", err, r, debug.Stack())
		}
	}()
	return do()
}

func command(out, errs io.Writer) *cobra.Command {
	root := &cobra.Command{
		Use:   "maskloft",
		Short: "paint masks for the markings of a vintage military aeroplane",
		Long: `maskloft computes paint masks for the markings of a vintage military aeroplane.

One layout file goes in: the aircraft in stations and waterlines, and the
markings with their rule or lettering, size and place. Out come true-size cut
files for the film (SVG, PDF and DXF, tiled to the web, with registration marks),
views, and a tape checklist; the aeroplane need not stand level.

Without a layout file a verb uses the demo, an invented aircraft, and says so.
Exit codes: 0 clean, 1 a finding of level stop, 2 could not run.`,
		Example: `  maskloft start > mine.yaml      a commented layout to begin with
  maskloft help layout            every key of a layout, with examples
  maskloft build mine.yaml        the whole job pack, in maskloft-pack
  maskloft check mine.yaml        proportions and places held against the documents
  maskloft preview mine.yaml      the views only
  maskloft tape mine.yaml         the tape list, printed
  maskloft bench mine.yaml        see it, move it, save it, on a page of this machine
  maskloft rules --on 1943-07-15 --nation us
  maskloft photo mine.yaml --overlay hangar-31 -o over   drawn over a photograph
  maskloft photo --letters measured.yaml   the nearest alphabet, and one fitted
  maskloft audit maskloft-pack   the pack measured again; or a file from the shop
  maskloft diff pack-july pack-august   what changed, which films to cut anew
  maskloft weather --air 70F --rh 65% --surface 68F`,
		SilenceUsage:      true,
		SilenceErrors:     true,
		PersistentPreRunE: checkFlags,
		RunE:              func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetOut(out)
	root.SetErr(errs)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w; see `%s --help`", err, c.CommandPath())
	})
	root.AddCommand(wordsTopic(), buildCommand(out, errs), checkCommand(out, errs), previewCommand(out, errs), tapeCommand(out, errs), startCommand(out), benchCommand(out, errs), rulesCommand(out), photoCommand(out, errs), auditCommand(out), diffCommand(out), weatherCommand(out), licencesCommand(out), manualCommand(root, out))
	root.SetHelpCommand(helpCommand(root, out))
	completions(root)
	return root
}
