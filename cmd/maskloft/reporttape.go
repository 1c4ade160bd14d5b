package main

import (
	"math"

	"maskloft/layouts/taping"
)

// ReportTapes is how well tapes place the markings, and what is measured besides.
type ReportTapes struct {
	Budgets   []ReportBudget    `json:"budgets"`
	Checks    []ReportCheck     `json:"check_lengths"` // tick to tick on the film, once it is laid
	Structure []ReportStructure `json:"structure"`     // the hardpoints as measured against the drawing
	Attitude  *ReportAttitude   `json:"attitude,omitempty"`
}

// ReportBudget is the expected error of one marking as laid.
type ReportBudget struct {
	Marking    string       `json:"marking"`
	Within95   [2]float64   `json:"within95_in"` // half axes
	Axis       float64      `json:"within95_deg"`
	Rotation95 float64      `json:"rotation95_deg"`
	From       string       `json:"from"`
	To         string       `json:"to"`
	Seen       *float64     `json:"error_seen_in,omitempty"`  // in one reading of the film as laid, all points read: found in 80 of 100; none where a reading is not checked
	Named      *float64     `json:"error_named_in,omitempty"` // named in 99 of 100
	Terms      []ReportTerm `json:"terms"`                    // the largest first
	Sections   *ReportDoubt `json:"sections,omitempty"`       // where the skin is faired through sections
}

// ReportDoubt is by how much tapes to the centre may err for what lies between sections.
type ReportDoubt struct {
	Limit  *float64 `json:"limit95_in,omitempty"` // none where the sections are too few to tell
	Second float64  `json:"other_laws_in"`
	At     *float64 `json:"one_more_frame_fs,omitempty"`
	After  *float64 `json:"then_limit95_in,omitempty"`
}

// ReportTerm is one source of error and what makes it less.
type ReportTerm struct {
	Name  string  `json:"name"`
	Sigma float64 `json:"sigma_in"`
	Help  string  `json:"help"`
}

// ReportCheck is a length on the film.
type ReportCheck struct {
	Marking string  `json:"marking"`
	Tile    string  `json:"tile,omitempty"`
	From    string  `json:"from"`
	To      string  `json:"to"`
	Length  float64 `json:"length_in"`
	Limit   float64 `json:"limit_in"`
}

// ReportStructure is the rigid motion that brings the drawing's hardpoints best to those
// measured.
type ReportStructure struct {
	Which  string                 `json:"which"`
	Moved  [3]float64             `json:"moved_in"`   // aft, right, up
	Turned [3]float64             `json:"turned_deg"` // right side up, nose up, nose to the left
	RMS    float64                `json:"rms_in"`
	Points []ReportStructurePoint `json:"points"`
}

// ReportStructurePoint is what the fit leaves of one hardpoint.
type ReportStructurePoint struct {
	ID         string   `json:"id"`
	Side       string   `json:"side"`
	Left       float64  `json:"left_in"`
	FromOthers *float64 `json:"from_others_in,omitempty"` // from where all others say it is
}

// ReportAttitude is the way by level and height.
type ReportAttitude struct {
	Ground    float64        `json:"ground_deg"`
	TailStand float64        `json:"tail_stand_in"`
	Heights   []ReportHeight `json:"heights"`
}

// ReportHeight is the height of a point above the floor.
type ReportHeight struct {
	ID     string  `json:"id"`
	Parked float64 `json:"parked_in"`
	Level  float64 `json:"level_in"`
}

func reportTapes(list taping.TapeList) ReportTapes {
	r := ReportTapes{Budgets: []ReportBudget{}, Checks: []ReportCheck{}, Structure: []ReportStructure{}}
	for _, b := range list.Budgets {
		major, minor := b.Position.Within95()
		one := ReportBudget{
			Marking: b.Marking, Within95: [2]float64{round6(major.Inches()), round6(minor.Inches())}, Axis: degrees(b.Position.Angle),
			Rotation95: degrees(b.Rotation95()), From: b.From, To: b.To, Seen: finite6(b.Seen.Inches()), Named: finite6(b.Named.Inches()), Terms: []ReportTerm{},
		}
		if d := b.Sections; d != nil {
			one.Sections = &ReportDoubt{Limit: finite6(d.Limit.Inches()), Second: round6(d.Second.Inches()), After: finite6(d.After.Inches())}
			if one.Sections.After != nil {
				one.Sections.At = finite6(d.At.Inches())
			}
		}
		for _, t := range b.Terms {
			one.Terms = append(one.Terms, ReportTerm{t.Name, round6(t.Sigma.Inches()), t.Help})
		}
		r.Budgets = append(r.Budgets, one)
	}
	for _, c := range list.Checks {
		r.Checks = append(r.Checks, ReportCheck{c.Marking, c.Tile, c.From, c.To, round6(c.Length.Inches()), round6(c.Limit.Inches())})
	}
	for _, f := range list.Structure {
		one := ReportStructure{
			Which: f.Which, Moved: [3]float64{round6(f.Moved.X), round6(f.Moved.Y), round6(f.Moved.Z)},
			Turned: [3]float64{round6(f.Turned.X), round6(f.Turned.Y), round6(f.Turned.Z)}, RMS: round6(f.RMS.Inches()), Points: []ReportStructurePoint{},
		}
		for _, p := range f.Points {
			point := ReportStructurePoint{ID: p.ID, Side: p.Side.String(), Left: round6(p.Left.Norm())}
			if apart := p.FromOthers.Inches(); !math.IsNaN(apart) {
				apart = round6(apart)
				point.FromOthers = &apart
			}
			one.Points = append(one.Points, point)
		}
		r.Structure = append(r.Structure, one)
	}
	if a := list.Attitude; a != nil {
		at := &ReportAttitude{Ground: round6(a.Ground), TailStand: round6(a.TailStand.Inches()), Heights: []ReportHeight{}}
		for _, h := range a.Heights {
			at.Heights = append(at.Heights, ReportHeight{h.ID, round6(h.Parked.Inches()), round6(h.Level.Inches())})
		}
		r.Attitude = at
	}
	return r
}

// finite6 rounds a figure; nil where it is endless or not known.
func finite6(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	v = round6(v)
	return &v
}

// tapeReport is what tape --json prints.
type tapeReport struct {
	Place       []ReportPlace      `json:"place"`
	Checkpoints []ReportCheckpoint `json:"checkpoints"` // every point that can be found
	Tapes       ReportTapes        `json:"tapes"`
	Findings    []ReportFinding    `json:"findings"`
}
