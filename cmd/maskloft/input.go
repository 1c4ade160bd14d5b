package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"maskloft/export/audit"
	doc "maskloft/layouts/document"
)

// Bounds of the files that are read, in bytes. They catch a wrong file, a device
// and a pipe without end before the memory is full.
const (
	largestDrawing = 32 << 20 // SVG, PDF or DXF from a shop
	largestTable   = 16 << 20 // readings, tapes
	largestFont    = 32 << 20
)

// readInput reads a file that somebody names, at most so many bytes of it. The error
// begins with its name and ends with what to do.
func readInput(file string, most int64) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, inputError(file, err)
	}
	defer f.Close()
	tooLarge := fmt.Errorf("%s: it is larger than %d MB: is this the right file? Of a drawing, send the layer to cut alone", file, most>>20)
	var data bytes.Buffer
	if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
		if info.Size() > most {
			return nil, tooLarge
		}
		data.Grow(int(info.Size()) + bytes.MinRead) // so that it need not grow as it is read
	}
	_, err = data.ReadFrom(io.LimitReader(f, most+1))
	switch {
	case err != nil:
		return nil, inputError(file, err)
	case int64(data.Len()) > most:
		return nil, tooLarge
	}
	return data.Bytes(), nil
}

func inputError(file string, err error) error {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such file: check the name and the folder", file)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: it may not be read: give yourself the right to read it, or copy it", file)
	}
	if info, e := os.Stat(file); e == nil && info.IsDir() {
		return fmt.Errorf("%s: it is a folder: give a file in it", file)
	}
	if errors.As(err, &at) {
		err = at.Err
	}
	return fmt.Errorf("%s: it cannot be read: %w: check the name and the folder", file, err)
}

// checkFlags looks at what every verb shares before its work: an option that is
// given holds something, and the folder to write to may be written to.
func checkFlags(c *cobra.Command, args []string) error {
	var err error
	c.Flags().Visit(func(f *pflag.Flag) {
		if err == nil && f.Value.Type() == "string" && strings.TrimSpace(f.Value.String()) == "" {
			err = fmt.Errorf("--%s is empty: write what it is to be, or leave the option out; see `%s --help`", f.Name, c.CommandPath())
		}
	})
	if err != nil {
		return err
	}
	if show := c.Flags().Lookup("show"); show != nil && show.Changed {
		return nil // nothing is written
	}
	if c.Name() == "build" && isFleet(args) {
		return nil // each layout has a folder of its own
	}
	if out := c.Flags().Lookup("out"); out != nil && out.Value.String() != "" {
		if err := audit.Sweep(out.Value.String()); err != nil {
			return err
		}
		return audit.CanWrite(out.Value.String())
	}
	return nil
}

// arguments accepts from least to most arguments, called what.
func arguments(least, most int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch n := len(args); {
		case n < least:
			return fmt.Errorf("%s: give %s; see `%s --help`", c.Name(), what, c.CommandPath())
		case n > most && most == 0:
			return fmt.Errorf("%s: it takes options alone, got %q; see `%s --help`", c.Name(), args[0], c.CommandPath())
		case n > most:
			return fmt.Errorf("%s: give one %s, got %d: %q; put quotes about what holds a blank, such as \"40 in\"", c.Name(), what, n, args)
		}
		return nil
	}
}

// onlyWith tells that a flag was given together with others that it would make idle.
func onlyWith(c *cobra.Command, flag string, idle ...string) error {
	if !c.Flags().Changed(flag) {
		return nil
	}
	for _, other := range idle {
		if c.Flags().Changed(other) {
			return fmt.Errorf("%s: --%s does nothing beside --%s: leave one of them out", c.Name(), other, flag)
		}
	}
	return nil
}

// typed is a name as it is typed in a command that is printed: in quotes where it holds more
// than letters, digits and what no shell reads otherwise, and without what would steer a
// terminal.
func typed(name string) string {
	name = printable(name)
	plain := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune(`._-+/\:,@%=~`, r)
	}
	if strings.ContainsFunc(name, func(r rune) bool { return !plain(r) }) {
		return `"` + name + `"`
	}
	return name
}

// printable is a message without what would steer a terminal or turn the order of its
// letters.
func printable(s string) string {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "?")
	}
	return strings.Map(func(r rune) rune {
		if r != '\n' && doc.IsControl(r) {
			return '?'
		}
		return r
	}, s)
}
