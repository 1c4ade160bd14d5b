package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

// words takes from least to most words after a verb, flags apart; of another number
// it says how many there are, and what to type.
func words(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch n := len(args); {
		case n < least:
			return fmt.Errorf("%s: %s given, wanted %d: write %s", c.Name(), counted(n, "name"), least, c.UseLine())
		case n > 0 && most == 0:
			return fmt.Errorf("%s: takes no name, %q given: write %s", c.Name(), args[0], c.UseLine())
		case n > most:
			return fmt.Errorf("%s: %s given (%q too many), at most %d: write %s, and quotes about what holds a blank, such as \"40 in\"", c.Name(), counted(n, "name"), args[most], most, c.UseLine())
		}
		return nil
	}
}

// alone tells that a flag was given together with others that it would make idle.
func alone(c *cobra.Command, flag string, idle ...string) error {
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
