package main

import (
	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// ReportFilm is the film of the whole job, nested on the web.
type ReportFilm struct {
	Web        float64        `json:"web_in"`
	Usable     float64        `json:"usable_in"` // between the margins that the cutter cannot reach
	Run        float64        `json:"run_in"`
	LowerBound float64        `json:"run_lower_bound_in"` // no run of these films is shorter
	Shelves    float64        `json:"run_on_shelves_in"`  // the same films on shelves across the web
	Waste      float64        `json:"waste"`              // fraction of the run that is not film of a tile
	Placed     []ReportPlaced `json:"placed"`             // in the order of the run
}

// ReportPlaced is one tile on the web: x along it from its beginning, y across it.
type ReportPlaced struct {
	Number int     `json:"number"`
	ID     string  `json:"id"`
	X      float64 `json:"x_in"`
	Y      float64 `json:"y_in"`
	Along  float64 `json:"along_in"`
	Across float64 `json:"across_in"`
	Turned bool    `json:"turned"` // by 90 degrees: the drawing's x lies across the web
}

// ReportSeam is one straight seam across the film of one pass, in its flat.
type ReportSeam struct {
	Pass      int            `json:"pass"`
	Direction string         `json:"direction"` // upright: x is at_in; level: y is
	At        float64        `json:"at_in"`
	Broken    map[string]int `json:"rules_broken"` // by name, how often; empty where all are kept
	Crossings int            `json:"edges_crossed"`
	Flat      int            `json:"edges_crossed_below_60_deg"`
	OnTape    float64        `json:"on_tape"` // fraction of it that lies on finishing tape
	Cost      float64        `json:"cost"`
}

func filmRun(r masks.Run) ReportFilm {
	out := ReportFilm{
		Web: round6(r.Web.Inches()), Usable: round6(r.Usable.Inches()), Run: round6(r.Length.Inches()),
		LowerBound: round6(r.LowerBound.Inches()), Shelves: round6(r.Shelves.Inches()), Waste: round6(r.Waste()), Placed: []ReportPlaced{},
	}
	for _, f := range r.Films {
		out.Placed = append(out.Placed, ReportPlaced{
			Number: f.Number, ID: f.ID, X: round6(f.Rect.Min.X), Y: round6(f.Rect.Min.Y),
			Along: round6(f.Rect.Width()), Across: round6(f.Rect.Height()), Turned: f.Across,
		})
	}
	return out
}

func reportSeams(t masks.Tiling) []ReportSeam {
	out := []ReportSeam{}
	for k, f := range t.Films {
		for _, s := range f.Seams {
			r := ReportSeam{
				Pass: k + 1, Direction: seamWord(s), At: round6(s.At), Broken: map[string]int{}, Crossings: s.Crossings,
				Flat: s.Flat, OnTape: round6(s.OnTape), Cost: round6(s.Cost),
			}
			for rule, n := range s.Broken {
				if n > 0 {
					r.Broken[masks.SeamRule(rule).String()] = n
				}
			}
			out = append(out, r)
		}
	}
	return out
}

func seamWord(s masks.Seam) string {
	if s.Upright {
		return "upright"
	}
	return "level"
}

// markNames returns the names of registration marks of a marking.
func markNames(t masks.Tiling, marks []int) []string {
	out := []string{}
	for _, m := range marks {
		out = append(out, t.Marks[m].ID)
	}
	return out
}

func reportRects(rects []g.Rect) [][4]float64 {
	out := [][4]float64{}
	for _, r := range rects {
		out = append(out, reportRect(r))
	}
	return out
}

func reportRect(r g.Rect) [4]float64 {
	return [4]float64{round6(r.Min.X), round6(r.Min.Y), round6(r.Max.X), round6(r.Max.Y)}
}
