package main

import (
	"fmt"
	"io"

	"maskloft/layouts/survey"

	g "maskloft/geometry"
)

// ReportClearance is how far paint is from an obstacle, or from an edge of its
// surface, along the skin.
type ReportClearance struct {
	Obstacle string         `json:"obstacle"`
	Kind     string         `json:"kind"` // ring, spot, hinge, opening or edge
	Distance float64        `json:"distance_in"`
	Limit    float64        `json:"limit_in"`
	Overlap  float64        `json:"overlap_in2"`
	At       ReportPosition `json:"at"` // of the paint's edge
}

// ReportTapeEdge is paint edge that lies on the edges of one tape.
type ReportTapeEdge struct {
	Tape    string         `json:"tape"`
	Length  float64        `json:"length_in"`
	Longest float64        `json:"longest_in"`
	At      ReportPosition `json:"at"`
}

// ReportFit is the size of an insignia beside the height of its side.
type ReportFit struct {
	Size   float64 `json:"size_in"`
	Height float64 `json:"side_height_in"`
	Part   float64 `json:"part"`  // size over height
	Limit  float64 `json:"limit"` // the most that the rule lets it be
}

// ReportSurvey is what stands round a marking and lies under it.
type ReportSurvey struct {
	Clearances []ReportClearance `json:"clearances"` // near enough to be measured
	TapeEdges  []ReportTapeEdge  `json:"tape_edges"`
	Crossings  int               `json:"tape_crossings"`
	Fit        *ReportFit        `json:"fit,omitempty"`
}

func reportSurvey(s survey.Surveyed) ReportSurvey {
	r := ReportSurvey{Clearances: []ReportClearance{}, TapeEdges: []ReportTapeEdge{}, Crossings: s.Crossings}
	add := func(kind string, c survey.Clearance) {
		r.Clearances = append(r.Clearances, ReportClearance{
			Obstacle: c.Obstacle, Kind: kind, Distance: round6(c.Distance.Inches()), Limit: round6(c.Limit.Inches()),
			Overlap: round6(c.Overlap), At: reportPosition(c.Where),
		})
	}
	for _, c := range s.Clearances {
		add(string(c.Kind), c)
	}
	if s.Edge != nil {
		add("edge", *s.Edge)
	}
	for _, e := range s.TapeEdges {
		r.TapeEdges = append(r.TapeEdges, ReportTapeEdge{Tape: e.Tape, Length: round6(e.Length.Inches()), Longest: round6(e.Longest.Inches()), At: reportPosition(e.Where)})
	}
	if f := s.Fit; f != nil {
		r.Fit = &ReportFit{Size: round6(f.Size.Inches()), Height: round6(f.Height.Inches()), Part: round6(f.Part), Limit: round6(f.Limit)}
	}
	return r
}

// showSurvey prints the stage as stable text.
func showSurvey(w io.Writer, surveyed []survey.Surveyed) {
	n := func(v float64) string { return g.FormatNumber(v, 3) }
	for _, s := range surveyed {
		fmt.Fprintf(w, "surveyed %s\n", s.ID)
		all := s.Clearances
		if s.Edge != nil {
			all = append(all[:len(all):len(all)], *s.Edge)
		}
		for _, c := range all {
			fmt.Fprintf(w, "  clear of %s by %s limit %s overlap %s at %v\n", c.Obstacle, n(c.Distance.Inches()), n(c.Limit.Inches()), n(c.Overlap), c.Where)
		}
		for _, e := range s.TapeEdges {
			fmt.Fprintf(w, "  on %s %s longest %s at %v\n", e.Tape, n(e.Length.Inches()), n(e.Longest.Inches()), e.Where)
		}
		fmt.Fprintf(w, "  crossings %d\n", s.Crossings)
		if s.Fit != nil {
			fmt.Fprintf(w, "  fit %s of %s limit %s\n", n(s.Fit.Size.Inches()), n(s.Fit.Height.Inches()), n(s.Fit.Limit))
		}
	}
}
