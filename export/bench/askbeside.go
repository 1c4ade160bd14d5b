package bench

import (
	"context"
	"path"
	"strings"
)

// Beside is a file that stands beside the layout.
type Beside struct {
	Data []byte `json:"data" ts:"string"`
}

// askBeside returns a picture that stands beside the layout, for the page alone: the
// engine gets points of it and its size, never pixels.
func askBeside(b *Bench, _ context.Context, q Request, _ func(Answer)) (any, error) {
	switch strings.ToLower(path.Ext(q.Name)) {
	case ".png", ".jpg", ".jpeg":
	default:
		return nil, askError{q.Name + ": a picture is a file .png, .jpg or .jpeg"}
	}
	if err := plain(q.Name); err != nil {
		return nil, askError{err.Error()}
	}
	if b.Home == nil {
		return nil, missingError{"there is no folder behind this page"}
	}
	data, err := b.Home.read(q.Name, largestBody/2)
	if err != nil {
		return nil, missingError{q.Name + " cannot be read: " + err.Error()}
	}
	return Beside{Data: data}, nil
}
