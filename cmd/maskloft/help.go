package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	doc "maskloft/layouts/document"
	"maskloft/layouts/reading"
)

// helpCommand is help of a verb, and help of what a layout file may hold.
func helpCommand(root *cobra.Command, out io.Writer) *cobra.Command {
	var schema bool
	c := &cobra.Command{
		Use:   "help [VERB | layout [BLOCK]]",
		Short: "help with a verb, or every key of a layout",
		Long: `Help with a verb; or, with layout, every key that a layout or an aircraft file may
hold: its type, what stands for it where it is not given, and an example. A block
or a key after it narrows the list: help layout film, help layout trap.

With --schema, help layout prints a JSON Schema (2020-12) for editors. Where the editor
has a server for YAML, save it beside your layouts and put this line at their head:

  # yaml-language-server: $schema=layout.schema.json

and layout.schema.json#/$defs/the-aircraft into the aircraft files.`,
		Example: "  maskloft help build\n  maskloft help layout film\n  maskloft help layout --schema > layout.schema.json",
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			words := []string{"layout"}
			if len(args) > 0 {
				words = nil
				for _, b := range reading.Blocks() {
					words = append(words, b.ID)
				}
			} else {
				for _, v := range root.Commands() {
					if v.IsAvailableCommand() || v.IsAdditionalHelpTopicCommand() {
						words = append(words, v.Name())
					}
				}
			}
			return words, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) > 0 && args[0] == "layout" && schema:
				text, err := reading.Schema()
				if err == nil {
					_, err = fmt.Fprintf(out, "%s\n", text)
				}
				return err
			case schema:
				return fmt.Errorf("help: --schema goes with layout: maskloft help layout --schema")
			case len(args) > 0 && args[0] == "layout":
				return layoutHelp(out, strings.Join(args[1:], " "))
			}
			verb, _, err := root.Find(args)
			if err != nil || len(args) > 0 && verb == root {
				return fmt.Errorf("help: there is no verb %q: see maskloft --help", strings.Join(args, " "))
			}
			return verb.Help()
		},
	}
	c.Flags().BoolVar(&schema, "schema", false, "with layout: a JSON Schema for editors")
	return c
}

// layoutHelp prints the blocks of keys, or those that have a word as their name, or else
// the keys of that name and the blocks that they stand in.
func layoutHelp(w io.Writer, word string) error {
	if word == "" {
		fmt.Fprint(w, `A layout file is YAML: keys with values, indented by two spaces. Lengths carry their
unit (20-1/2 in, 5 ft 3 1/4 in, 305 mm) or count in units:. ! is needed, ? is needed
where others are not given. A length is a distance, a position a place by FS, BL or WL.
maskloft start prints a layout with remarks; maskloft help layout film shows one block.
`)
	}
	found, asKey := false, false
	var ids []string
	for _, b := range reading.Blocks() {
		ids = append(ids, b.ID)
		if word != "" && b.ID != word && b.Name != word && b.Of != word && !strings.HasSuffix(b.ID, " "+word) {
			continue
		}
		found = true
		fmt.Fprintf(w, "\n%s: %s\n", b.ID, b.Means)
		for _, k := range b.Keys {
			keyHelp(w, k)
		}
	}
	for _, b := range reading.Blocks() {
		for _, k := range b.Keys {
			if !found && k.Name == word {
				fmt.Fprintf(w, "\nin %s:\n", b.ID)
				keyHelp(w, k)
				asKey = true
			}
		}
	}
	if found || asKey {
		return nil
	}
	hint := "maskloft help layout lists all"
	if near := doc.Nearest(word, ids, nil); near != "" {
		hint = "did you mean " + near + "?"
	}
	return fmt.Errorf("help: a layout has no block %q: %s", word, hint)
}

// keyHelp prints one key: whether it is needed, what it means, its type, what stands for it
// where it is not given, and an example.
func keyHelp(w io.Writer, k reading.Key) {
	mark := map[reading.Need]string{reading.Needed: "!", reading.NeededElse: "?"}[k.Need]
	usual := ""
	if k.Usual != "" {
		usual = "; usual: " + k.Usual
	}
	fmt.Fprintf(w, "  %1s %-15s %s\n%20s%s%s\n", mark, k.Name, k.Means, "", typeWords(k.Type), usual)
	fmt.Fprintf(w, "%20s%s\n", "", k.Example)
}

// typeWords writes a type of the table for people.
func typeWords(t string) string {
	words := strings.Split(t, " or ")
	for i, one := range words {
		one = strings.NewReplacer("yes-no", "yes or no", "true-false", "true or false", "list of block", "list of", "part of", "some keys of").Replace(one)
		one = strings.TrimPrefix(one, "block ")
		if list, ok := strings.CutPrefix(one, "one of "); ok {
			one = doc.OrList(strings.Fields(list))
		}
		words[i] = one
	}
	return strings.Join(words, ", or ")
}
