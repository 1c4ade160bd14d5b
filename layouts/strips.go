package layouts

import (
	"fmt"

	g "maskloft/geometry"
)

// stripsByWidth sets strips one after another from a distance on, each at its own
// width. Parts are named stripe-1 and so on, gaps counted with them.
//
// Errors: a strip without a width; no strip that is painted.
func stripsByWidth(specs []StripSpec, from float64) ([]strip, error) {
	var out []strip
	painted := false
	for i, s := range specs {
		if s.Part != 0 || !(s.Width > 0) {
			return nil, fmt.Errorf("strip %d has no width above 0: write width: 3 in", i+1)
		}
		out = append(out, strip{from, from + s.Width.Inches(), fmt.Sprintf("stripe-%d", i+1), s.Paint})
		from += s.Width.Inches()
		painted = painted || s.Paint != ""
	}
	if !painted {
		return nil, fmt.Errorf("no strip is painted: write strips: [{paint: a paint, width: 3 in}]")
	}
	return out, nil
}

// shares returns where strips by parts begin and end, as parts of the whole: one more
// than strips.
//
// Errors: a strip with a width, or without a part; no strip.
func shares(specs []StripSpec) ([]float64, error) {
	sum := 0.0
	for i, s := range specs {
		if s.Width != 0 || !(s.Part > 0) {
			return nil, fmt.Errorf("strip %d has no part above 0: between two edges strips share the room: write part: 1", i+1)
		}
		sum += s.Part
	}
	if len(specs) == 0 {
		return nil, fmt.Errorf("no strips: write strips: [{paint: a paint, part: 1}]")
	}
	out, done := []float64{0}, 0.0
	for _, s := range specs {
		done += s.Part
		out = append(out, done/sum)
	}
	return out, nil
}

// stripLayers are layers that stand for strips before they are drawn on the skin.
func stripLayers(specs []StripSpec) []Layer {
	var out []Layer
	for i, s := range specs {
		if s.Paint != "" {
			out = append(out, Layer{Part: fmt.Sprintf("stripe-%d", i+1), Colour: s.Paint, Outline: g.Path{g.Rectangle(g.Rect{Max: g.Point{X: 1, Y: 1}})}})
		}
	}
	return out
}

// inPaintsOf gives strips the paints of the layers that stand for them.
func inPaintsOf(specs []StripSpec, layers []Layer) []StripSpec {
	out := append([]StripSpec(nil), specs...)
	k := 0
	for i := range out {
		if out[i].Paint != "" {
			out[i].Paint = layers[k].Colour
			k++
		}
	}
	return out
}
