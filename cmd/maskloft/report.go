package main

import (
	"bytes"
	"math"

	"maskloft/export/drawing"
	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
	"maskloft/layouts/survey"
)

// Report is report.json: what was computed, in inches and degrees unless a name
// says otherwise.
type Report struct {
	Name        string             `json:"name"`
	Job         string             `json:"job,omitempty"` // the layout's own id
	Aircraft    string             `json:"aircraft"`
	Frame       string             `json:"frame"`
	Tolerance   float64            `json:"tolerance_in"`
	Markings    []ReportMarking    `json:"markings"`
	Checkpoints []ReportCheckpoint `json:"checkpoints"`
	Tapes       ReportTapes        `json:"tapes"`
	Place       []ReportPlace      `json:"place"` // how the first film of each marking is laid
	Findings    []ReportFinding    `json:"findings"`
	Film        ReportFilm         `json:"film"`
	Paint       []ReportPaint      `json:"paint"`
	Balance     []ReportBalance    `json:"balance"`
}

// ReportPosition is a point of the aircraft.
type ReportPosition struct {
	FS float64 `json:"fs"`
	BL float64 `json:"bl"`
	WL float64 `json:"wl"`
}

// ReportMarking is one marking on one side.
type ReportMarking struct {
	ID         string         `json:"id"`
	Surface    string         `json:"surface"`
	Side       string         `json:"side"`
	True       string         `json:"true"`
	Anchor     ReportPosition `json:"anchor"`
	Exact      bool           `json:"exact"`
	Strain     ReportStrain   `json:"strain"`
	Outline    *ReportOutline `json:"outline,omitempty"` // of film that is not exact
	Advice     string         `json:"advice"`            // how to lay the film: practice, not a standard
	Slits      []ReportSlit   `json:"slits"`             // proposed in the waste
	Seams      []ReportSeam   `json:"seams"`             // of every pass
	Net        ReportNet      `json:"net"`
	SkinHeight float64        `json:"height_skin_in"`
	SideHeight float64        `json:"height_side_in"`
	Area       float64        `json:"area_in2"`
	Survey     ReportSurvey   `json:"survey"`
	Way        string         `json:"way"`
	Trap       float64        `json:"trap_in"`
	Skirt      float64        `json:"skirt_in"` // paper beyond the film
	Edges      []ReportEdge   `json:"edges"`
	Reasons    []string       `json:"reasons"`
	Masks      []ReportMask   `json:"masks"`
}

// ReportStrain holds peak strains of the film as fractions, and where they are;
// film on a skin that can be unrolled has no such places.
type ReportStrain struct {
	Compression   float64         `json:"compression"`
	CompressRange *[2]float64     `json:"compression_range,omitempty"` // over Poisson's ratio 0.3 to 0.45; at 0.4 else
	CompressionAt *ReportPosition `json:"compression_at,omitempty"`
	Tension       float64         `json:"tension"`
	TensionRange  *[2]float64     `json:"tension_range,omitempty"`
	TensionAt     *ReportPosition `json:"tension_at,omitempty"`
	// Energy is the integral over the film's skin of (1+nu)/2 (e11+e22)^2 + (1-nu)/2
	// (e11-e22)^2 + 2 (1-nu) e12^2, nu 0.4.
	Energy float64 `json:"energy_in2,omitempty"`
}

// ReportOutline is by how much the outline of a film may differ on the skin.
type ReportOutline struct {
	PlusMinus float64 `json:"plus_minus_in"` // both together
	Net       float64 `json:"net_in"`        // what the last halving of the net moved
	Holding   float64 `json:"holding_in"`    // what the film's law moves, held at the anchor
}

// ReportSlit is one relief slit, from the edge of the field inwards, in the
// marking's flat.
type ReportSlit struct {
	From   [2]float64 `json:"from"`
	To     [2]float64 `json:"to"`
	Length float64    `json:"length_in"`
	Closes float64    `json:"closes_in"` // by how much its edges come to lie over each other
}

// ReportNet says how far the net was refined.
type ReportNet struct {
	Nodes   int     `json:"nodes"`
	Spacing float64 `json:"spacing_in"`
	Moved   float64 `json:"moved_in"`
}

// ReportMask is the film of one pass.
type ReportMask struct {
	ID        string         `json:"id"`
	Pass      int            `json:"pass"`
	Colour    string         `json:"colour"`
	Polarity  string         `json:"polarity"`        // open: film round an opening; keep-down: pieces
	Keeps     string         `json:"keeps,omitempty"` // the paint under a keep-down film
	Role      string         `json:"role"`
	Area      float64        `json:"area_in2"`
	Opening   float64        `json:"opening_in2"` // what is sprayed
	Shows     float64        `json:"shows_in2"`   // of it to be seen at the end
	Coats     int            `json:"coats"`
	Under     int            `json:"under_coats"`
	Sprays    int            `json:"coats_while_on"`
	Pieces    int            `json:"pieces"`
	Islands   int            `json:"islands"` // pieces that hang on no other
	Smallest  ReportFeatures `json:"smallest"`
	Acute     []ReportAcute  `json:"acute"`
	Width     float64        `json:"width_in"` // of the field, arms left out
	Height    float64        `json:"height_in"`
	Field     float64        `json:"field_in"` // width of the film kept round the paint
	Common    []string       `json:"common"`   // registration marks shared with the film before
	Paper     [][4]float64   `json:"paper"`    // left, low, right and top of what paper covers instead of film
	Open      [][4]float64   `json:"open"`     // cells that are painted all over: neither film nor paper
	Nodes     int            `json:"nodes"`
	Deviation float64        `json:"max_deviation_in"`
	Tiles     []ReportTile   `json:"tiles"`
}

// ReportTile is one tile to cut, written in three forms.
type ReportTile struct {
	ID           string       `json:"id"`
	SVG          string       `json:"svg"`
	PDF          string       `json:"pdf"`
	DXF          string       `json:"dxf"`
	Arcs         float64      `json:"dxf_deviation_in"` // of its lines and arcs from the outlines
	Film         float64      `json:"film_in2"`         // that stays
	Sheet        float64      `json:"sheet_in2"`        // within the frame, openings included
	Cell         [4]float64   `json:"cell"`             // left, low, right and top of what the film covers, arms and overlaps left out
	Width        float64      `json:"width_in"`
	Height       float64      `json:"height_in"`
	PageWidth    float64      `json:"page_width_in"`
	PageHeight   float64      `json:"page_height_in"`
	Audited      float64      `json:"audited_in"` // largest deviation of the files read back
	FilmMin      [2]float64   `json:"film_min"`   // lower left corner of the tile in the marking's flat
	Registration []ReportMark `json:"registration"`
	Ticks        []string     `json:"match_ticks"` // the same number on the neighbour

	Weed    [][2][2]float64 `json:"weed"`     // lines through the waste, in the marking's flat
	WeedBox [][2][2]float64 `json:"weed_box"` // round the pieces of a keep-down film
}

// ReportMark is one registration mark: in the marking's flat, and on the skin.
type ReportMark struct {
	ID   string         `json:"id"`
	Film [2]float64     `json:"film"`
	Skin ReportPosition `json:"skin"`
}

// ReportFinding is one place to look at.
type ReportFinding struct {
	Level   string         `json:"level"`
	Rule    string         `json:"rule"`
	Marking string         `json:"marking"`
	Place   ReportPosition `json:"place"`
	Message string         `json:"message"`
	Hint    string         `json:"hint,omitempty"`

	// Proposals are values of the layout file that make it go away.
	Proposals []ReportProposal `json:"proposals,omitempty"`

	Measured  string `json:"measured,omitempty"`
	Expected  string `json:"expected,omitempty"`
	Tolerance string `json:"tolerance,omitempty"`
	Source    string `json:"source"`
}

// ReportProposal is one value of the layout file, with its unit, at its path.
type ReportProposal struct {
	Path  string `json:"path"`
	Value string `json:"value"`
	Why   string `json:"why"`
}

// round6 keeps six decimals, so that the text does not change with the last bit.
func round6(v float64) float64 {
	r := math.Round(v*1e6) / 1e6
	if r == 0 {
		return 0
	}
	return r
}

func reportPosition(p g.Position) ReportPosition {
	return ReportPosition{round6(p.FS.Inches()), round6(p.BL.Inches()), round6(p.WL.Inches())}
}

func reportOf(j *job.Whole, files []cutFile) Report {
	spec := j.Layout.Spec
	r := Report{Name: spec.Name, Job: spec.Job, Aircraft: spec.Aircraft.Name, Frame: spec.Aircraft.Datum, Tolerance: g.NetTolerance,
		Markings: []ReportMarking{}, Checkpoints: []ReportCheckpoint{}, Paint: reportPaint(j.Figures), Balance: reportBalance(j.Figures)}
	next := 0
	surveyed := map[string]survey.Surveyed{}
	for _, s := range j.Surveyed {
		surveyed[s.ID] = s
	}
	for _, t := range j.Tilings {
		l := t.Laid
		along, side := l.Heights()
		settled := l.Map.Settled()
		m := ReportMarking{
			ID: l.ID(), Surface: l.Placement.On, Side: l.Placement.Side.String(), True: string(l.Placement.Marking.True),
			Anchor: reportPosition(l.Placement.Anchor), Exact: l.Exact,
			Strain: reportStrain(l), Outline: reportOutline(l), Advice: string(l.Advice), Slits: []ReportSlit{}, Seams: reportSeams(t),
			Net:        ReportNet{Nodes: settled.Nodes, Spacing: round6(settled.Spacing), Moved: round7(settled.Moved)},
			SkinHeight: round6(along), SideHeight: round6(side),
			Survey: reportSurvey(surveyed[l.ID()]),
			Way:    string(l.Plan.Way), Trap: round6(l.Plan.Trap.Inches()), Skirt: round6(l.Plan.Skirt.Inches()), Edges: reportEdges(l.Plan.Edges), Reasons: l.Plan.Reasons,
		}
		for _, s := range l.Slits {
			m.Slits = append(m.Slits, ReportSlit{
				From: [2]float64{round6(s.From.X), round6(s.From.Y)}, To: [2]float64{round6(s.To.X), round6(s.To.Y)}, Length: round6(s.Length.Inches()), Closes: round6(s.Closes.Inches()),
			})
		}
		for _, mask := range l.Masks {
			m.Area = round6(m.Area + mask.Shows.Area())
			rm := ReportMask{
				ID: mask.ID, Pass: mask.Pass, Colour: mask.Paint, Polarity: string(mask.Polarity), Keeps: mask.Keeps, Role: mask.Role,
				Coats: mask.Coats, Under: mask.Under, Sprays: mask.Sprays, Pieces: mask.Pieces, Islands: mask.Islands(),
				Smallest: reportFeatures(mask.Features), Acute: reportAcute(mask.Features.Acute),
				Area: round6(mask.Area()), Opening: round6(mask.Opening.Area()), Shows: round6(mask.Shows.Area()), Width: round6(mask.Field.Width()), Height: round6(mask.Field.Height()),
				Field: round6(mask.FieldWidth.Inches()), Common: markNames(t, t.Common(mask.Pass-1)), Paper: reportRects(t.FilmOf(mask).Paper), Open: reportRects(t.FilmOf(mask).Open),
				Nodes: mask.Film.Nodes(), Deviation: round7(l.Deviation),
			}
			for ; next < len(files) && files[next].mask == mask.ID; next++ {
				rm.Tiles = append(rm.Tiles, reportTile(t, mask, files[next]))
			}
			m.Masks = append(m.Masks, rm)
		}
		r.Markings = append(r.Markings, m)
	}
	for _, c := range j.Tapes.Points {
		r.Checkpoints = append(r.Checkpoints, reportCheckpoint(c))
	}
	r.Tapes = reportTapes(j.Tapes)
	r.Place = reportPlaces(j.Tapes.Tape, j.Tapes.Placings)
	r.Findings = reportFindings(j.Findings)
	r.Film = filmRun(j.Run)
	return r
}

func reportFindings(findings []layouts.Finding) []ReportFinding {
	out := []ReportFinding{}
	for _, f := range findings {
		out = append(out, reportFinding(f))
	}
	return out
}

func reportFinding(f layouts.Finding) ReportFinding {
	r := ReportFinding{Level: string(f.Level), Rule: f.Rule, Marking: f.Marking, Place: reportPosition(f.Where), Message: f.Message, Hint: f.Hint,
		Measured: f.Measured, Expected: f.Expected, Tolerance: f.Tolerance, Source: f.Source}
	for _, p := range f.Proposals {
		r.Proposals = append(r.Proposals, ReportProposal(p))
	}
	return r
}

// round7 and degrees are for what an iteration found, whose last digits the processor
// chooses; an angle is kept to 0.0001 degrees.
func round7(v float64) float64  { return math.Round(v*1e7) / 1e7 }
func degrees(v float64) float64 { return round6(math.Round(v*1e4) / 1e4) }

func round9(v float64) float64 { return math.Round(v*1e9) / 1e9 }

func reportStrain(l masks.Laid) ReportStrain {
	s := ReportStrain{Compression: round7(l.Strain.Compression), Tension: round7(l.Strain.Tension)}
	if !l.Exact {
		c, t := reportPosition(l.Strain.CompressionAt), reportPosition(l.Strain.TensionAt)
		s.CompressionAt, s.TensionAt = &c, &t
		s.CompressRange = &[2]float64{round7(l.Range.CompressionLeast), round7(l.Range.CompressionMost)}
		s.TensionRange = &[2]float64{round7(l.Range.TensionLeast), round7(l.Range.TensionMost)}
		s.Energy = round9(l.Map.Energy())
	}
	return s
}

func reportOutline(l masks.Laid) *ReportOutline {
	if l.Exact {
		return nil
	}
	return &ReportOutline{round6(l.Outline.PlusMinus().Inches()), round7(l.Outline.Net), round7(l.Outline.Holding)}
}

func reportTile(t masks.Tiling, mask masks.Mask, f cutFile) ReportTile {
	rect := f.tile.Cell.Bounds()
	weeding := masks.WeedingOf(t, mask, f.tile)
	rt := ReportTile{
		ID: f.tile.ID, SVG: f.file(drawing.SVG), PDF: f.file(drawing.PDF), DXF: f.file(drawing.DXF), Arcs: round7(f.arcs), Film: round6(math.Abs(f.tile.Film.Area())), Sheet: round6(f.tile.Frame.Area()), Cell: reportRect(f.tile.Cell.Rect), Width: round6(rect.Width()), Height: round6(rect.Height()),
		PageWidth: round6(f.sheet.Width), PageHeight: round6(f.sheet.Height), Audited: round7(f.audited),
		FilmMin: [2]float64{round6(rect.Min.X), round6(rect.Min.Y)}, Registration: []ReportMark{}, Ticks: []string{},
		Weed: reportWeed(weeding.Lines), WeedBox: reportWeed(weeding.Box),
	}
	for _, i := range f.tile.Cell.Ticks {
		rt.Ticks = append(rt.Ticks, t.FilmOf(mask).Ticks[i].ID)
	}
	for _, i := range f.tile.Cell.Marks {
		m := t.Marks[i]
		rt.Registration = append(rt.Registration, ReportMark{m.ID, [2]float64{round6(m.Film.X), round6(m.Film.Y)}, reportPosition(m.Skin)})
	}
	return rt
}

// bytes returns the report as indented JSON with a final newline.
func (r Report) bytes() ([]byte, error) {
	var b bytes.Buffer
	err := writeJSON(&b, r)
	return b.Bytes(), err
}
