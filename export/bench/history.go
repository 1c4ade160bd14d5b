package bench

import "maskloft/layouts/document"

// history is what can be taken back, without end, and what can be made again.
type history struct{ Undo, Redo []step }

// step is what one undo takes back: changes in the order they were made.
type step struct {
	Label   string   `json:"label"`
	Group   string   `json:"group,omitempty"`
	Changes []change `json:"changes"`
}

type change struct {
	Splice  document.Splice `json:"splice"`
	Inverse document.Splice `json:"inverse"`
}

// add keeps a change; one of the group of the last goes with it.
func (h *history) add(label, group string, c change) {
	h.Redo = nil
	if n := len(h.Undo); n > 0 && group != "" && h.Undo[n-1].Group == group {
		h.Undo[n-1].Changes = append(h.Undo[n-1].Changes, c)
		return
	}
	h.Undo = append(h.Undo, step{label, group, []change{c}})
}

// labels are those of steps, the next to be taken first, at most so many.
func labels(steps []step) []string {
	const most = 20
	out := []string{}
	for i := len(steps) - 1; i >= 0 && len(out) < most; i-- {
		out = append(out, steps[i].Label)
	}
	return out
}
