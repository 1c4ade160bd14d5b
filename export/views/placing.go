package views

import "maskloft/layouts"

// WingWord says which face of a wing, or that it is a side.
func WingWord(p layouts.Placement) string {
	if f := p.Face(); f != layouts.NoFace {
		return "wing, " + string(f) + " face"
	}
	return "side"
}
