package main

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/geometry/same"
)

// overlayReport is what photo --overlay --json prints: inches, degrees and pixels, as
// the names say; every sigma is one standard deviation.
type overlayReport struct {
	Photo      string          `json:"photo"`
	File       string          `json:"file"`
	Width      int             `json:"width_px"`
	Height     int             `json:"height_px"`
	Evidence   []string        `json:"evidence"`
	Camera     cameraReport    `json:"camera"`
	ChiSquare  float64         `json:"chi_square"`
	Freedom    int             `json:"equations_left"`
	Second     *secondReport   `json:"second_camera,omitempty"` // another that fits about as well
	Covariance [][]float64     `json:"covariance"`              // 3 angles about right, down, ahead (rad), position (in), log of focal
	Points     []pointReport   `json:"points"`
	Readings   []pixelReport   `json:"readings"`
	Lengths    []lengthReport  `json:"lengths"`
	Findings   []ReportFinding `json:"findings"`
}

// secondReport is a camera that the points do not rule out.
type secondReport struct {
	At        ReportPosition `json:"at"`
	ChiSquare float64        `json:"chi_square"`
}

type cameraReport struct {
	At         ReportPosition `json:"at"`
	Sigma      ReportPosition `json:"sigma_in"`
	Right      [3]float64     `json:"right"`
	Down       [3]float64     `json:"down"`
	Ahead      [3]float64     `json:"ahead"`
	Focal      float64        `json:"focal_px"`
	FocalFound bool           `json:"focal_found"`
	FocalSigma float64        `json:"focal_sigma_px"`
	Distance   float64        `json:"distance_in"`          // from the middle of the points
	Least      float64        `json:"distance_at_least_in"` // in 95 of 100
	Principal  [2]float64     `json:"principal_px"`
	Distortion float64        `json:"distortion"`
	Mirrored   bool           `json:"mirrored"`
}

type pointReport struct {
	Name     string         `json:"name"`
	At       ReportPosition `json:"at"`
	Pixel    [2]float64     `json:"pixel"`
	Left     [2]float64     `json:"left_px"`
	Standard float64        `json:"left_sigmas"`
	Suspect  bool           `json:"suspect"`
}

type pixelReport struct {
	Pixel    [2]float64     `json:"pixel"`
	On       string         `json:"on"`
	At       ReportPosition `json:"at"`
	Sigma    ReportPosition `json:"sigma_in"`
	In95     [3][2]float64  `json:"within95"`   // FS, BL, WL: from, to, inches; by either camera, where two may have taken it
	Crop     float64        `json:"cropped_in"` // by which at moves if the lens's axis is a twentieth of the width off
	Slant    float64        `json:"slant_deg"`
	Weak     bool           `json:"weak"`
	Distance float64        `json:"distance_in"`
}

type lengthReport struct {
	From          [2]float64  `json:"from_pixel"`
	To            [2]float64  `json:"to_pixel"`
	Skin          *float64    `json:"skin_in,omitempty"` // none where no skin joins the two
	SkinSigma     *float64    `json:"skin_sigma_in,omitempty"`
	Straight      float64     `json:"straight_in"`
	StraightSigma float64     `json:"straight_sigma_in"`
	Straight95    [2]float64  `json:"straight_within95_in"`
	Skin95        *[2]float64 `json:"skin_within95_in,omitempty"`
	Crop          float64     `json:"cropped_in"`
}

func overlayReportOf(f *overlaid) overlayReport {
	fit, p := f.view.Fit, f.view.Photo
	c := fit.Camera
	vec := func(v g.Vec3) [3]float64 { return [3]float64{round9(v.X), round9(v.Y), round9(v.Z)} }
	fs, bl, wl := fit.Sigma()
	is, least := fit.Distance()
	r := overlayReport{
		Photo: p.ID, File: p.File, Width: f.width, Height: f.height, Evidence: append([]string{}, p.Evidence...),
		Camera: cameraReport{
			At: reportPosition(c.At), Sigma: ReportPosition{round6(fs.Inches()), round6(bl.Inches()), round6(wl.Inches())},
			Right: vec(c.Right), Down: vec(c.Down), Ahead: vec(c.Ahead), Focal: round6(c.Focal), FocalFound: fit.Found, FocalSigma: round6(fit.FocalSigma()), Distance: round6(is.Inches()), Least: round6(least.Inches()),
			Principal: pixelPair(c.Principal), Distortion: c.K1, Mirrored: c.Mirrored,
		},
		ChiSquare: round6(fit.ChiSquare), Freedom: fit.Freedom,
		Points: []pointReport{}, Readings: []pixelReport{}, Lengths: []lengthReport{}, Findings: reportFindings(f.findings),
	}
	if o := fit.Second; o != nil {
		r.Second = &secondReport{reportPosition(o.Camera.At), round6(o.ChiSquare)}
	}
	for _, row := range fit.Covariance {
		var out []float64
		for _, x := range row {
			out = append(out, sixDigits(x))
		}
		r.Covariance = append(r.Covariance, out)
	}
	for i, s := range fit.Sights {
		r.Points = append(r.Points, pointReport{s.Name, reportPosition(s.At), pixelPair(s.Pixel), pixelPair(g.Point(fit.Left[i])), round6(fit.Standard[i]), i == fit.Suspect})
	}
	for _, x := range f.readings {
		r.Readings = append(r.Readings, pixelReport{
			Pixel: pixelPair(x.Pixel), On: skinWord(x), At: reportPosition(x.At), Sigma: ReportPosition{round6(x.FS.Inches()), round6(x.BL.Inches()), round6(x.WL.Inches())},
			In95: [3][2]float64{pair95(x.In95[0]), pair95(x.In95[1]), pair95(x.In95[2])},
			Crop: round6(x.Crop.Inches()), Slant: round6(x.Slant), Weak: x.Weak(), Distance: round6(x.Distance.Inches()),
		})
	}
	for _, x := range f.lengths {
		one := lengthReport{From: pixelPair(x.From.Pixel), To: pixelPair(x.To.Pixel), Straight: round6(x.Air.Inches()), StraightSigma: round6(x.AirSigma.Inches()), Straight95: pair95(x.Air95), Crop: round6(x.Crop.Inches())}
		if x.AlongSkin {
			skin, sigma := round6(x.Skin.Inches()), round6(x.SkinSigma.Inches())
			in := pair95(x.Skin95)
			one.Skin, one.SkinSigma, one.Skin95 = &skin, &sigma, &in
		}
		r.Lengths = append(r.Lengths, one)
	}
	return r
}

func pair95(i camera.Interval) [2]float64 { return [2]float64{round6(i.Low), round6(i.High)} }

func pixelPair(p g.Point) [2]float64 { return [2]float64{round6(p.X), round6(p.Y)} }

// sixDigits rounds to six digits that count.
func sixDigits(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	scale := same.Pow(10, 5-math.Floor(same.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}
