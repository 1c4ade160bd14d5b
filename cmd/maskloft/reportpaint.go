package main

import (
	"maskloft/layouts/survey"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// ReportEdge is where two paints meet, or one and the bare skin, with the coats on
// both sides.
type ReportEdge struct {
	Earlier string  `json:"earlier"`
	Later   string  `json:"later"` // empty: bare skin
	Length  float64 `json:"length_in"`
	On      int     `json:"coats_on"`
	Over    int     `json:"coats_over"`
	Beyond  int     `json:"coats_beyond_trap"`
}

// ReportFeatures are the narrowest pieces and places of a film and of what is
// weeded from it; what there is none of is left out.
type ReportFeatures struct {
	FilmPiece    *ReportFeature `json:"film_piece,omitempty"`
	FilmNeck     *ReportFeature `json:"film_neck,omitempty"`
	OpeningPiece *ReportFeature `json:"opening_piece,omitempty"`
	OpeningNeck  *ReportFeature `json:"opening_neck,omitempty"`
}

// ReportFeature is one of them: its width, and its middle in the flat and on the
// skin.
type ReportFeature struct {
	Width float64        `json:"width_in"`
	Film  [2]float64     `json:"film"`
	Skin  ReportPosition `json:"skin"`
}

// ReportAcute is a sharp corner, cut to its full depth.
type ReportAcute struct {
	Degrees float64        `json:"angle_deg"`
	Of      string         `json:"of"` // what ends in the point: film or opening
	Film    [2]float64     `json:"film"`
	Skin    ReportPosition `json:"skin"`
}

// ReportPaint is what one paint takes over all markings.
type ReportPaint struct {
	Colour  string     `json:"colour"`
	Area    float64    `json:"area_ft2"`   // sprayed with one coat, traps included
	Shows   float64    `json:"shows_ft2"`  // of it to be seen at the end
	Coated  float64    `json:"coated_ft2"` // area times coats
	Gallons float64    `json:"us_gal"`     // with waste
	Mix     float64    `json:"mix_us_fl_oz"`
	Weight  [2]float64 `json:"weight_lb"` // of dope, from and to
}

// ReportBalance is a control surface that is painted.
type ReportBalance struct {
	Surface string            `json:"surface"`
	Hinge   *float64          `json:"hinge_fs,omitempty"`
	Area    float64           `json:"area_ft2"`
	Weight  [2]float64        `json:"weight_lb"`
	Arm     float64           `json:"arm_in"`
	Moment  [2]float64        `json:"moment_in_lb"`
	Whole   *ReportWholePaint `json:"whole_surface_one_coat,omitempty"`
	Check   string            `json:"check"`
}

// ReportWholePaint is one coat over both faces of a control surface.
type ReportWholePaint struct {
	Face   float64    `json:"face_ft2"`
	Arm    float64    `json:"arm_in"`
	Weight [2]float64 `json:"weight_lb"`
	Moment [2]float64 `json:"moment_in_lb"`
}

func reportPoint(p g.Point) [2]float64 { return [2]float64{round6(p.X), round6(p.Y)} }

func reportWeights(w survey.Weights) [2]float64 { return [2]float64{round6(w.Low), round6(w.High)} }

func reportEdges(edges []masks.Edge) []ReportEdge {
	out := []ReportEdge{}
	for _, e := range edges {
		out = append(out, ReportEdge{e.Earlier, e.Later, round6(e.Length.Inches()), e.On, e.Over, e.Beyond})
	}
	return out
}

func reportFeatures(f masks.Features) ReportFeatures {
	one := func(f *masks.Feature) *ReportFeature {
		if f == nil {
			return nil
		}
		return &ReportFeature{round6(f.Width.Inches()), reportPoint(f.At), reportPosition(f.Skin)}
	}
	return ReportFeatures{one(f.FilmPiece), one(f.FilmNeck), one(f.OpeningPiece), one(f.OpeningNeck)}
}

func reportAcute(points []masks.AcutePoint) []ReportAcute {
	out := []ReportAcute{}
	for _, a := range points {
		of := "opening"
		if a.Film {
			of = "film"
		}
		out = append(out, ReportAcute{round6(a.Degrees), of, reportPoint(a.At), reportPosition(a.Skin)})
	}
	return out
}

func reportWeed(lines []masks.WeedLine) [][2][2]float64 {
	out := [][2][2]float64{}
	for _, l := range lines {
		out = append(out, [2][2]float64{reportPoint(l.From), reportPoint(l.To)})
	}
	return out
}

func reportPaint(f survey.PaintFigures) []ReportPaint {
	out := []ReportPaint{}
	for _, t := range f.Totals {
		out = append(out, ReportPaint{t.Paint, round6(t.Sprayed), round6(t.Shows), round6(t.Coated), round6(t.Gallons), round6(t.Ounces), reportWeights(t.Weight)})
	}
	return out
}

func reportBalance(f survey.PaintFigures) []ReportBalance {
	out := []ReportBalance{}
	for _, b := range f.Balance {
		r := ReportBalance{Surface: b.Surface, Area: round6(b.Area), Weight: reportWeights(b.Weight), Arm: round6(b.Arm.Inches()), Moment: reportWeights(b.Moment), Check: survey.BalanceCheck}
		if b.Hinge != nil {
			at := round6(float64(*b.Hinge))
			r.Hinge = &at
		}
		if w := b.Whole; w != nil {
			r.Whole = &ReportWholePaint{round6(w.Face), round6(w.Arm.Inches()), reportWeights(w.Weight), reportWeights(w.Moment)}
		}
		out = append(out, r)
	}
	return out
}
