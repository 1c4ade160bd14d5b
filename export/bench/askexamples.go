package bench

import (
	"context"

	"maskloft/layouts/reading"
)

// Examples are the layouts that are carried to look at or to start from.
type Examples struct {
	Examples []Example `json:"examples"`
}

// Example is one of them, whole: it names no other file.
type Example struct {
	ID   string `json:"id"`
	Name string `json:"name"` // of its layout
	Text string `json:"text"`
}

func askExamples(*Bench, context.Context, Request, func(Answer)) (any, error) {
	out := Examples{Examples: []Example{}}
	for _, e := range reading.Examples {
		text, err := reading.Starter(e.Name)
		if err != nil {
			return nil, err
		}
		spec, err := reading.LoadFS(reading.DemoFiles(), e.File)
		if err != nil {
			return nil, err
		}
		out.Examples = append(out.Examples, Example{e.Name, spec.Name, text})
	}
	return out, nil
}
