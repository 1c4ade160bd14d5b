package main

import (
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"maskloft/layouts/reading"
)

// completions tells the shell what may follow each verb and option: words where there is a
// list of them, folders, or the files that hold layouts.
func completions(root *cobra.Command) {
	var examples []string
	for _, e := range reading.Examples {
		examples = append(examples, e.Name)
	}
	words := map[string][]string{
		"units": {"in", "mm"}, "paper": {"letter", "a4"}, "svg-units": {"px96", "pt72", "px90", "mm"},
		"show": stages, "view": viewWords, demoFlag: examples,
		"terms": {"nation", "service", "place", "finish", "type", "kind"},
	}
	folders := func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return nil, cobra.ShellCompDirectiveFilterDirs
	}
	layoutFiles := func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	for _, verb := range root.Commands() {
		switch verb.Name() {
		case "build", "check", "preview", "tape", "bench", "photo":
			verb.ValidArgsFunction = layoutFiles
		case "diff", "manual":
			verb.ValidArgsFunction = folders
		case "start", "licences", "weather":
			verb.ValidArgsFunction = cobra.NoFileCompletions
		}
		verb.Flags().VisitAll(func(f *pflag.Flag) {
			var complete cobra.CompletionFunc
			switch list, known := words[f.Name]; {
			case known && f.Name == "paper" && verb.Name() == "preview":
				complete = cobra.FixedCompletions([]string{"letter", "a4", "tabloid", "a3"}, cobra.ShellCompDirectiveNoFileComp)
			case known:
				complete = cobra.FixedCompletions(list, cobra.ShellCompDirectiveNoFileComp)
			case f.Name == "out" || f.Name == "against":
				complete = folders
			default:
				return // a number, a word of no list, or a file
			}
			if err := verb.RegisterFlagCompletionFunc(f.Name, complete); err != nil {
				panic(err) // an option is registered once
			}
		})
	}
}
