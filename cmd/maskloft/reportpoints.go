package main

import "maskloft/layouts/taping"

// ReportTape is one tape.
type ReportTape struct {
	From     string  `json:"from"`
	Length   float64 `json:"length_in"`
	Kind     string  `json:"kind"`
	Taut     float64 `json:"taut_in"`
	Sigma    float64 `json:"sigma_in"`
	Measured bool    `json:"hardpoint_measured"`
}

// ReportCheckpoint is one point placed by two tapes; none where tapes cannot.
type ReportCheckpoint struct {
	ID       string         `json:"id"`
	Role     string         `json:"role"`
	Step     int            `json:"step"` // in the working order of its marking
	Skin     ReportPosition `json:"skin"`
	Tapes    []ReportTape   `json:"tapes"`
	Crossing float64        `json:"crossing_deg"`
	Grade    string         `json:"grade"`
	Closure  *ReportTape    `json:"closure,omitempty"`
	Limit    float64        `json:"closure_limit_in"`
	Sigma    float64        `json:"sigma_in"`     // of the distance from the point meant
	Within95 [2]float64     `json:"within95_in"`  // half axes of the ellipse of 95 in 100
	Axis     float64        `json:"within95_deg"` // of its major axis from the drawing's x
	String   *ReportString  `json:"string,omitempty"`
	Girth    *ReportGirth   `json:"girth,omitempty"`
}

// ReportString places a point by a string between hardpoints.
type ReportString struct {
	From    string  `json:"from"`
	To      string  `json:"to"`
	View    string  `json:"view"`
	Along   float64 `json:"along_in"`
	Offset  float64 `json:"offset_in"`
	Towards string  `json:"towards"`
}

// ReportGirth places a point along the skin from a line, in one plane.
type ReportGirth struct {
	Line    string  `json:"line"`
	Plane   string  `json:"plane"`
	At      float64 `json:"at_in"`
	Length  float64 `json:"length_in"`
	Towards string  `json:"towards"`
}

func reportTape(t taping.Taping) ReportTape {
	return ReportTape{From: t.From.ID, Length: round6(t.Length.Inches()), Kind: string(t.Kind), Taut: round6(t.Taut.Inches()), Sigma: round6(t.Sigma.Inches()), Measured: t.From.Measured}
}

func reportCheckpoint(c taping.Checkpoint) ReportCheckpoint {
	major, minor := c.Error.Ellipse.Within95()
	out := ReportCheckpoint{
		ID: c.ID, Role: string(c.Role), Step: c.Step, Skin: reportPosition(c.Mark.Skin), Tapes: []ReportTape{}, Crossing: degrees(c.Crossing), Grade: string(c.Grade),
		Limit: taping.ClosureLimit.Inches(), Sigma: round6(c.Error.Ellipse.RMS().Inches()),
		Within95: [2]float64{round6(major.Inches()), round6(minor.Inches())}, Axis: degrees(c.Error.Ellipse.Angle),
	}
	for _, t := range c.Tapes {
		out.Tapes = append(out.Tapes, reportTape(t))
	}
	if c.Closure != nil {
		tape := reportTape(*c.Closure)
		out.Closure = &tape
	}
	if s := c.Baseline; s != nil {
		out.String = &ReportString{From: s.From.ID, To: s.To.ID, View: s.View, Along: round6(s.Along.Inches()), Offset: round6(s.Offset.Inches()), Towards: s.Towards}
	}
	if r := c.Girth; r != nil {
		out.Girth = &ReportGirth{Line: r.Line, Plane: r.Plane, At: round6(r.At), Length: round6(r.Length.Inches()), Towards: r.Towards}
	}
	return out
}
