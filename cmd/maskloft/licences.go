package main

import (
	_ "embed"
	"io"

	"github.com/spf13/cobra"
)

// licenceTexts are the licence texts of all that the program contains; .ci/licences
// writes them.
//
//go:embed licences.txt
var licenceTexts string

func licencesCommand(out io.Writer) *cobra.Command {
	return &cobra.Command{
		Use:   "licences",
		Short: "print the licences of the program and of all that it contains",
		Args:  arguments(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			_, err := io.WriteString(out, licenceTexts)
			return err
		},
	}
}
