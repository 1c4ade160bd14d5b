package main

import (
	"io"

	"github.com/spf13/cobra"

	"maskloft/export/bench"
)

// benchCommand, where the program is WebAssembly, is the engine of a page: it answers
// what the worker is sent until the page ends.
func benchCommand(io.Writer, io.Writer) *cobra.Command {
	return &cobra.Command{
		Use: "bench", Hidden: true,
		RunE: func(c *cobra.Command, _ []string) error {
			b := &bench.Bench{Program: programVersion(), Engine: "wasm", Kit: benchKit()}
			return b.Work(c.Context())
		},
	}
}
