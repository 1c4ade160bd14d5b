package book

import (
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"strings"

	"maskloft/export/tapelist"
	"maskloft/export/views"
	"maskloft/geometry/same"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// The scene holds what the view in three dimensions shows: inches, x aft, y to the
// pilot's right, z up, rounded to hundredths.
type scene struct {
	Skins  []sceneGrid  `json:"skins"`
	Plates []scenePlate `json:"plates"`
	Frames [][]float64  `json:"frames"`  // sections and lines of the structure
	Shape  [][]float64  `json:"profile"` // what is drawn in the side view only, at BL 0
	Points []scenePoint `json:"points"`
	Marks  []sceneMark  `json:"marks"`
	Tapes  []sceneTape  `json:"tapes"`
	Strain float64      `json:"strain"` // what the ends of the colour scale stand for
}

type scenePoint struct {
	ID string     `json:"id"`
	At [3]float64 `json:"p"`
}

type sceneTape struct {
	Mark  int       `json:"m"`  // place of its marking among the marks
	Point string    `json:"pt"` // id of the point
	Says  string    `json:"says"`
	Path  []float64 `json:"p"`
}

type sceneGrid struct {
	Rows   int    `json:"rows"`
	Cols   int    `json:"cols"`
	Points steps  `json:"p"`
	Colour string `json:"c,omitempty"` // of a skin
}

// steps are coordinates of points in hundredths of an inch, three to a point. They are
// written as steps from each point to the next, which takes half the room.
type steps []int

func (s *steps) add(p g.Vec3) {
	for _, v := range [3]float64{p.X, p.Y, p.Z} {
		*s = append(*s, int(math.Round(v*100)))
	}
}

// MarshalJSON writes the first point as it is and every other from the one before.
func (s steps) MarshalJSON() ([]byte, error) {
	out := make([]int, len(s))
	for i, v := range s {
		if out[i] = v; i >= 3 {
			out[i] -= s[i-3]
		}
	}
	return json.Marshal(out)
}

type scenePlate struct {
	Outline [][2]float64 `json:"o"` // FS and WL
	Y       float64      `json:"y"` // half the thickness
	Colour  string       `json:"c"`
}

type sceneMark struct {
	sceneGrid
	ID    string      `json:"id"`
	Says  string      `json:"says"`
	Out   [3]float64  `json:"out"` // from its middle outwards, square to the skin
	Field [4]float64  `json:"field"`
	Paths []scenePath `json:"paths"`
}

type scenePath struct {
	Colour string `json:"c"`
	Data   string `json:"d"`
}

// Points of a grid along a surface, at most so many, and of a marking each way.
const (
	sceneAlong = 48
	sceneRound = 64
	sceneChord = 24
	scenePatch = 26   // at most; see patchPoints
	sceneOff   = 0.06 // inches that a marking is lifted off the skin, so that it shows
)

func hundredths(v float64) float64 { return math.Round(v*100)/100 + 0 }

// Scene returns what the view in three dimensions shows, as JSON.
func Scene(l *layouts.Layout, laid []masks.Laid, tapes taping.TapeList) (template.JS, error) {
	s := scene{Skins: []sceneGrid{}, Plates: []scenePlate{}, Frames: [][]float64{}, Shape: [][]float64{}, Points: []scenePoint{}, Marks: []sceneMark{}, Tapes: []sceneTape{}, Strain: views.StrainFull(laid)}
	for _, spec := range l.Airframe.Spec.Surfaces {
		switch spec.Kind {
		case layouts.Plate:
			p := scenePlate{Y: hundredths(spec.Thickness.Inches() / 2), Colour: l.Spec.SkinColour(spec.ID)}
			for _, q := range spec.Outline {
				p.Outline = append(p.Outline, [2]float64{hundredths(q.FS.Inches()), hundredths(q.WL.Inches())})
			}
			s.Plates = append(s.Plates, p)
		case layouts.Wing:
			for _, side := range []g.Side{g.Left, g.Right} {
				for _, face := range []layouts.Face{layouts.UpperFace, layouts.LowerFace} {
					w, err := l.Airframe.WingSurface(spec.ID, side, face)
					if err != nil {
						return "", err
					}
					s.cover(w, l.Spec.SkinColour(spec.ID))
				}
			}
		case layouts.Foil:
			for _, side := range []g.Side{g.Left, g.Right} {
				fin, err := l.Airframe.Surface([]string{spec.ID}, side)
				if err != nil {
					return "", err
				}
				s.cover(fin, l.Spec.SkinColour(spec.ID))
			}
		default:
			body, err := l.Airframe.Surface([]string{spec.ID}, g.Left)
			if err != nil {
				return "", err
			}
			s.cover(body, l.Spec.SkinColour(spec.ID))
		}
	}
	s.structure(l.Airframe)
	number := map[string]int{}
	for i, one := range laid {
		m := patchOf(one, l.Spec.Paint)
		s.Marks = append(s.Marks, m)
		number[m.ID] = i
	}
	for _, c := range tapes.Points {
		for _, t := range c.All() {
			s.Tapes = append(s.Tapes, sceneTape{number[c.Marking], c.ID, t.From.ID + " " + tapelist.Reading(tapes.Tape, t.Length), tapeLine(t.Path)})
		}
	}
	data, err := json.Marshal(s)
	return template.JS(strings.ReplaceAll(string(data), "</", `<\/`)), err
}

// gridOf samples a surface along its length and round its section, on its breaks.
func gridOf(s skin.Surface) sceneGrid {
	us, vs, period := s.Breaks()
	if wing, ok := s.(*skin.LiftingSkin); ok {
		return chordsOf(wing, spread(vs, sceneRound))
	}
	if period > 0 {
		vs = append(append([]float64{}, vs...), vs[0]+period)
	}
	us, vs = spread(us, sceneAlong), spread(vs, sceneRound)
	return thinned(len(us), len(vs), func(r, c int) g.Vec3 { return skin.PointAt(s, skin.UV{U: us[r], V: vs[c]}) })
}

// chordsOf samples a wing or fin from its leading to its trailing edge, closer towards
// both, at each of some places along its span: its edges need not run square.
func chordsOf(s *skin.LiftingSkin, vs []float64) sceneGrid {
	return thinned(sceneChord+1, len(vs), func(r, c int) g.Vec3 {
		t := (1 - same.Cos(math.Pi*float64(r)/sceneChord)) / 2
		fore, aft := s.Chord(vs[c])
		return skin.PointAt(s, skin.UV{U: fore + float64(t*(aft-fore)), V: vs[c]})
	})
}

// thinned is a grid without the rows and the columns whose points all lie within sceneFine
// of the straight lines between those that stay.
func thinned(rows, cols int, at func(r, c int) g.Vec3) sceneGrid {
	pts := make([][]g.Vec3, rows)
	for r := range pts {
		for c := range cols {
			pts[r] = append(pts[r], at(r, c))
		}
	}
	rowsKept := keptLines(rows, cols, func(r, c int) g.Vec3 { return pts[r][c] })
	colsKept := keptLines(cols, rows, func(c, r int) g.Vec3 { return pts[r][c] })
	m := sceneGrid{}
	for r := range rows {
		if !rowsKept[r] {
			continue
		}
		m.Rows++
		m.Cols = 0
		for c := range cols {
			if colsKept[c] {
				m.Cols++
				m.Points.add(pts[r][c])
			}
		}
	}
	return m
}

// spread fills the spaces between breaks evenly, to about n values.
func spread(at []float64, n int) []float64 {
	out := []float64{at[0]}
	step := (at[len(at)-1] - at[0]) / float64(n)
	for i := 1; i < len(at); i++ {
		k := max(1, int(math.Round((at[i]-at[i-1])/step)))
		for j := 1; j <= k; j++ {
			out = append(out, at[i-1]+(at[i]-at[i-1])*float64(j)/float64(k))
		}
	}
	return out
}

// patchOf returns the painted box of a marking as a patch a little off the skin, with
// its outlines in the flat.
func patchOf(l masks.Laid, paint layouts.PaintSpec) sceneMark {
	box := l.Painted.Bounds().Grown(0.1)
	rows, cols := patchPoints(box.Height()), patchPoints(box.Width())
	m := sceneMark{sceneGrid: sceneGrid{Rows: rows, Cols: cols}, ID: l.ID(), Field: [4]float64{hundredths(box.Min.X), hundredths(box.Min.Y), hundredths(box.Max.X), hundredths(box.Max.Y)}}
	at := l.Placement.Anchor
	place := func(inches float64) string { // half way between two readings every processor takes the same
		return l.Placement.Read.Number(g.Length(g.OnGrid(inches, 1e-6)), 1)
	}
	m.Says = "FS " + place(float64(at.FS)) + ", WL " + place(float64(at.WL))
	s := l.Map.Surface()
	last := g.Vec3{}
	if uv, ok := l.Map.ToSkin(box.Centre()); ok {
		_, n := s.At(uv, uv)
		m.Out = [3]float64{hundredths(n.X), hundredths(n.Y), hundredths(n.Z)}
	}
	for r := range rows {
		for c := range cols {
			q := g.Point{X: box.Min.X + box.Width()*float64(c)/float64(cols-1), Y: box.Min.Y + box.Height()*float64(r)/float64(rows-1)}
			if uv, ok := l.Map.ToSkin(q); ok {
				p, n := s.At(uv, uv)
				last = p.Add(n.Scale(sceneOff))
			}
			m.Points.add(last)
		}
	}
	for _, r := range l.Regions {
		m.Paths = append(m.Paths, scenePath{views.HexOf(paint, r.Colour), pathData(r.Outline)})
	}
	return m
}

// patchPoints is how many points a patch has along so many inches: one an inch, so that a
// small stencil takes little room.
func patchPoints(inches float64) int { return min(scenePatch, max(4, int(inches)+2)) }

// pathData writes outlines as SVG path data, to hundredths.
func pathData(p g.Path) string { return pathDataTo(p, 2) }

// pathDataTo writes them to so many decimals.
func pathDataTo(p g.Path, decimals int) string {
	var b strings.Builder
	n := func(q g.Point) string { return g.FormatNumber(q.X, decimals) + " " + g.FormatNumber(q.Y, decimals) }
	for _, c := range p {
		fmt.Fprintf(&b, "M%s", n(c.Start))
		for _, s := range c.Segments {
			if s.Kind == g.Cubic {
				fmt.Fprintf(&b, "C%s %s %s", n(s.C1), n(s.C2), n(s.End))
			} else {
				fmt.Fprintf(&b, "L%s", n(s.End))
			}
		}
		b.WriteString("Z")
	}
	return b.String()
}
