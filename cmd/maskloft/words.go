package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export"
)

// wordsTopic is the glossary as a topic of help: maskloft help words.
func wordsTopic() *cobra.Command {
	var b strings.Builder
	b.WriteString("What the words mean, in the order of the alphabet.\n\n")
	for _, t := range export.Glossary {
		fmt.Fprintf(&b, "  %-22s %s\n", t.Word, t.Means)
	}
	return &cobra.Command{Use: "words", Short: "what the words mean: field, trap, hardpoint, girth, likely error", Long: strings.TrimSuffix(b.String(), "\n")}
}
