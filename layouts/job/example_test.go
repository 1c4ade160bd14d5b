package job_test

import (
	"context"
	"fmt"
	"io/fs"

	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// A page opens a layout, changes one value by its path, and asks again: what the change
// does not touch is not computed anew. The splice is what the page does in its own copy
// of the text, and what it keeps to undo it.
func Example() {
	ctx := context.Background()
	text, _ := fs.ReadFile(reading.DemoFiles(), reading.DemoName)
	silent := func(string) func(string) { return func(string) {} }
	file := job.Open(reading.DemoName, text, reading.InFS(reading.DemoFiles()), silent)

	show := func() {
		j, err := file.Job()
		if err != nil {
			fmt.Println(err)
			return
		}
		layout, err := j.Layout(ctx)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(layout.Placed[0].ID(), "at", layout.Placed[0].Anchor)
	}
	show()

	change, undo, err := file.Set("markings[insignia].where.fs", "136 in")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("bytes %d to %d become %q, and again %q\n", change.From, change.To, change.Insert, undo.Insert)
	show()

	if err := file.Apply(undo); err != nil {
		fmt.Println(err)
	}
	show()
	fmt.Println("as it was:", string(file.Text()) == string(text))
	// Output:
	// insignia-left at FS 134 BL -12.985 WL 51
	// bytes 629 to 632 become "136 in", and again "134"
	// insignia-left at FS 136 BL -12.773 WL 51
	// insignia-left at FS 134 BL -12.985 WL 51
	// as it was: true
}

// What a finding proposes is listed and taken by its number or its name.
func ExampleFile_Take() {
	ctx := context.Background()
	text, _ := fs.ReadFile(reading.DemoFiles(), reading.DemoName)
	silent := func(string) func(string) { return func(string) {} }
	file := job.Open(reading.DemoName, text, reading.InFS(reading.DemoFiles()), silent)
	find := func(ctx context.Context, j *job.Job) ([]layouts.Finding, error) {
		_, err := j.Surveyed(ctx)
		return j.Findings(), err
	}
	taken, err := file.Take(ctx, []string{"code/obstacle"}, "", find)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(taken[0].Name(), "wrote", taken[0].Path, taken[0].Value)
	// Output:
	// code-left/obstacle wrote markings[code].where.wl 53.125 in
}
