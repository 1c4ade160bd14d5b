package main

import (
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

// builtReport is what tape --measured --json prints: inches and degrees, as the names
// say; every sigma is one standard deviation.
type builtReport struct {
	Markings []builtMarking  `json:"markings"`
	Findings []ReportFinding `json:"findings"`
}

type builtMarking struct {
	Marking  string         `json:"marking"`
	Lies     builtMovement  `json:"lies"`
	All      *builtMovement `json:"lies_by_all_readings,omitempty"` // where some were left out or put right
	Chi2     float64        `json:"chi_square"`
	Spare    int            `json:"readings_to_spare"`
	Limit    float64        `json:"test_limit"`
	Seen     *float64       `json:"error_seen_in,omitempty"`  // in one reading, found in 80 of 100; none where a reading is not checked
	Named    *float64       `json:"error_named_in,omitempty"` // named in 99 of 100
	Wrong    []builtWrong   `json:"wrong"`
	Points   []builtPoint   `json:"points"`
	Readings []builtReading `json:"readings"`
}

type builtMovement struct {
	Right    float64    `json:"right_in"`
	Up       float64    `json:"up_in"`
	Within95 [2]float64 `json:"within95_in"` // half axes
	Axis     float64    `json:"within95_deg"`
	Turn     float64    `json:"turn_deg"` // to the left
	TurnSD   float64    `json:"turn_sigma_deg"`
	Farthest float64    `json:"farthest_in"`
	FarSD    float64    `json:"farthest_sigma_in"`
}

type builtWrong struct {
	Cause    string   `json:"cause"`
	Readings []int    `json:"readings"` // by index
	From     []string `json:"hardpoints"`
	TooLong  float64  `json:"too_long_in"`
	Sure     bool     `json:"sure"`
	Open     bool     `json:"open"` // others would explain it as well
	Text     string   `json:"text"`
}

type builtPoint struct {
	ID    string          `json:"id"`
	Right float64         `json:"right_in"`
	Up    float64         `json:"up_in"`
	At    *ReportPosition `json:"at,omitempty"`
}

type builtReading struct {
	Point  string   `json:"point"`
	From   string   `json:"from"`
	Kind   string   `json:"kind"`
	Used   bool     `json:"used"`
	Reads  float64  `json:"reads_in"`
	Should float64  `json:"should_read_in"`
	Left   float64  `json:"left_in"`
	Test   float64  `json:"left_sigmas"`
	Share  float64  `json:"redundancy"`
	Seen   *float64 `json:"error_seen_in,omitempty"`
	Named  *float64 `json:"error_named_in,omitempty"`
}

func builtReportOf(built []taping.BuiltMask, findings []layouts.Finding) builtReport {
	r := builtReport{Markings: []builtMarking{}, Findings: reportFindings(findings)}
	movement := func(m taping.Movement) builtMovement {
		major, minor := m.Error.Within95()
		return builtMovement{
			Right: round6(m.Offset.X), Up: round6(m.Offset.Y), Within95: [2]float64{round6(major.Inches()), round6(minor.Inches())}, Axis: degrees(m.Error.Angle),
			Turn: round6(m.Turn), TurnSD: round6(m.TurnSD), Farthest: round6(m.Farthest.Inches()), FarSD: round6(m.FarSD.Inches()),
		}
	}
	for _, m := range built {
		one := builtMarking{
			Marking: m.Marking, Lies: movement(m.Movement), Chi2: round6(m.Chi2), Spare: m.Spare, Limit: round6(m.Limit),
			Seen: finite6(m.Seen.Inches()), Named: finite6(m.Named.Inches()), Wrong: []builtWrong{}, Points: []builtPoint{}, Readings: []builtReading{},
		}
		if m.All != nil {
			all := movement(*m.All)
			one.All = &all
		}
		for _, w := range m.Wrong {
			one.Wrong = append(one.Wrong, builtWrong{
				Cause: string(w.Cause), Readings: append([]int{}, w.Readings...), From: append([]string{}, w.From...), TooLong: round6(w.Amount.Inches()), Sure: w.Sure, Open: w.Open, Text: w.Text,
			})
		}
		for _, p := range m.Points {
			q := builtPoint{ID: p.ID, Right: round6(p.Off.X), Up: round6(p.Off.Y)}
			if at := reportPosition(p.Real); at != reportPosition(taping.BuiltPoint{}.Real) {
				q.At = &at
			}
			one.Points = append(one.Points, q)
		}
		for _, x := range m.Readings {
			one.Readings = append(one.Readings, builtReading{
				Point: x.Point, From: x.From, Kind: string(x.Kind), Used: x.Used, Reads: round6(x.Measured.Inches()), Should: round6(x.Fitted.Inches()), Left: round6(x.Left.Inches()),
				Test: round6(x.W), Share: round6(x.Share), Seen: finite6(x.Seen.Inches()), Named: finite6(x.Named.Inches()),
			})
		}
		r.Markings = append(r.Markings, one)
	}
	return r
}
