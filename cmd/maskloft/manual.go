package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// manualCommand writes the help of every verb as pages for man(1).
func manualCommand(root *cobra.Command, out io.Writer) *cobra.Command {
	return &cobra.Command{
		Use:     "manual FOLDER",
		Short:   "write manual pages, one for each verb",
		Long:    "Write manual pages for man, one for each verb, into a folder: the same text as help.",
		Example: "  maskloft manual ~/.local/share/man/man1\n  man maskloft-build",
		Args:    arguments(1, 1, "folder"),
		RunE: func(_ *cobra.Command, args []string) error {
			made := commitTime()
			root.DisableAutoGenTag = true // its line would name the library and a day
			pages, err := manualPages(root, doc.GenManHeader{Section: "1", Source: "maskloft", Manual: "Paint masks for vintage aeroplanes", Date: &made})
			if err != nil {
				return fmt.Errorf("manual: %w", err)
			}
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return unput(args[0], "", err)
			}
			if err := putFiles(args[0], pages, 0o644); err != nil {
				_ = os.Remove(args[0]) // only while it is empty
				return err
			}
			fmt.Fprintf(out, "written to %s: read them with man -l, or man where the folder is a man1 of MANPATH\n", printable(args[0]))
			return nil
		},
	}
}

// manualPages are the pages of a verb and of those below it.
func manualPages(c *cobra.Command, head doc.GenManHeader) ([]packFile, error) {
	var pages []packFile
	for _, below := range c.Commands() {
		if !below.IsAvailableCommand() || below.IsAdditionalHelpTopicCommand() {
			continue
		}
		more, err := manualPages(below, head)
		if err != nil {
			return nil, err
		}
		pages = append(pages, more...)
	}
	var page bytes.Buffer
	err := doc.GenMan(c, &head, &page)
	return append(pages, packFile{strings.ReplaceAll(c.CommandPath(), " ", "-") + "." + head.Section, page.Bytes()}), err
}

// commitTime is when the source of this program was committed, so that one commit gives
// the same pages; the first of 2026 where the program does not know.
func commitTime() time.Time {
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key != "vcs.time" {
				continue
			}
			if at, err := time.Parse(time.RFC3339, s.Value); err == nil {
				return at.UTC()
			}
		}
	}
	return time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)
}
