package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"math"
	"strconv"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts/job"

	"github.com/spf13/cobra"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/layouts"
)

// largestPicture bounds the file of a photograph, in bytes.
const largestPicture = 128 << 20

// overlayJob is photo --overlay.
type overlayJob struct {
	id, dir, strength string
	at, between       []string
	asJSON            bool
}

// overlaid is what an overlayJob found.
type overlaid struct {
	job           *job.Job
	layout        *layouts.Layout
	view          layouts.PhotoView
	picture       image.Image
	width, height int
	readings      []layouts.PhotoReading
	lengths       []layouts.PhotoLength
	findings      []layouts.Finding
}

func (j overlayJob) run(c *cobra.Command, args []string, out, errs io.Writer) error {
	strength, err := strconv.ParseFloat(j.strength, 64)
	if err != nil || !(strength >= 0 && strength <= 1) {
		return fmt.Errorf("--strength %s: write a number from 0 (the picture alone) to 1 (the drawing covers it)", j.strength)
	}
	at, between, err := j.pixels() // a slip in them is told before the work
	if err != nil {
		return err
	}
	found, err := j.find(c, args, errs)
	if err != nil {
		return err
	}
	for _, p := range at {
		r, err := found.view.ReadAt(p)
		if err != nil { // the others are told
			found.fails("--at", err)
			continue
		}
		found.readings = append(found.readings, r)
	}
	for _, p := range between {
		r, err := found.view.ReadBetween(p[0], p[1])
		if err != nil {
			found.fails("--between", err)
			continue
		}
		found.lengths = append(found.lengths, r)
	}
	if j.dir != "" {
		if err := j.write(c.Context(), found, strength); err != nil {
			return err
		}
	}
	if j.asJSON {
		if err := writeJSON(out, overlayReportOf(found)); err != nil {
			return err
		}
		return verdict(found.findings)
	}
	found.print(out)
	if j.dir != "" {
		fmt.Fprintf(out, "written to %s: %s-overlay.png and .svg, whose units are the picture's pixels\n", printable(j.dir), j.id)
	}
	return verdict(found.findings)
}

// fails reports a reading that cannot be made.
func (f *overlaid) fails(flag string, err error) {
	f.findings = append(f.findings, layouts.Finding{
		Level: layouts.Stop, Rule: "photo-reading", Message: flag + ": " + g.ErrorIn(f.layout.Spec.Sheets.Units, err),
		Hint: "give a pixel well inside the skin that is seen", Measured: "no place", Expected: "a place on the skin", Tolerance: "none", Source: "derived",
	})
}

// pixels reads --at and --between.
func (j overlayJob) pixels() (at []g.Point, between [][2]g.Point, err error) {
	for _, s := range j.at {
		p, err := parsePixel(s)
		if err != nil {
			return nil, nil, fmt.Errorf("--at %s: %w", s, err)
		}
		at = append(at, p)
	}
	for _, s := range j.between {
		first, second, two := strings.Cut(s, ":")
		if !two {
			return nil, nil, fmt.Errorf("--between %s: write two pixels, 700,480:812,478", s)
		}
		var pair [2]g.Point
		for i, one := range []string{first, second} {
			if pair[i], err = parsePixel(one); err != nil {
				return nil, nil, fmt.Errorf("--between %s: %w", s, err)
			}
		}
		if pair[0] == pair[1] {
			return nil, nil, fmt.Errorf("--between %s: the two pixels are one: write two", s)
		}
		between = append(between, pair)
	}
	return at, between, nil
}

func parsePixel(s string) (g.Point, error) {
	x, y, two := strings.Cut(s, ",")
	a, errX := strconv.ParseFloat(strings.TrimSpace(x), 64)
	b, errY := strconv.ParseFloat(strings.TrimSpace(y), 64)
	if !two || errX != nil || errY != nil || !(math.Abs(a) < 1e6 && math.Abs(b) < 1e6) {
		return g.Point{}, errors.New("write a pixel as x,y from the upper left corner, 812,455")
	}
	return g.Point{X: a, Y: b}, nil
}

// find reads the layout and the picture and finds the camera.
func (j overlayJob) find(c *cobra.Command, args []string, errs io.Writer) (*overlaid, error) {
	made, say, err := prepare(c, args, errs)
	defer say.done()
	if err != nil {
		return nil, err
	}
	photo, err := made.Spec.Photo(j.id)
	if err != nil {
		return nil, fmt.Errorf("--overlay: %w", err)
	}
	data, err := readInput(photo.File, largestPicture)
	if err != nil {
		return nil, fmt.Errorf("%v: photo %s: %w", photo.Place, photo.ID, err)
	}
	picture, err := views.ReadPicture(data)
	if err != nil {
		return nil, fmt.Errorf("%v: photo %s: %s: %w", photo.Place, photo.ID, photo.File, err)
	}
	f := &overlaid{job: made, picture: picture, width: picture.Bounds().Dx(), height: picture.Bounds().Dy()}
	if f.layout, err = made.Layout(c.Context()); err != nil {
		return nil, err
	}
	f.view, f.findings, err = f.layout.ViewPhoto(photo, f.width, f.height)
	return f, err
}

// write lays the markings and draws the overlay, as a pack of its own.
func (j overlayJob) write(ctx context.Context, f *overlaid, strength float64) error {
	return writeFolder(j.dir, func() ([]packFile, error) {
		laid, err := f.job.Laid(ctx)
		if err != nil {
			return nil, err
		}
		page := views.Overlay(f.layout, laid, f.view, f.width, f.height)
		var svg, png bytes.Buffer
		if err := sheet.WriteSVG(&svg, page, sheet.Px96); err != nil {
			return nil, err
		}
		if err := views.WriteOverlay(&png, f.picture, page, strength); err != nil {
			return nil, err
		}
		return []packFile{{j.id + "-overlay.svg", svg.Bytes()}, {j.id + "-overlay.png", png.Bytes()}}, nil
	})
}

// print writes the camera, what is left at each point, the readings and the findings.
func (f *overlaid) print(w io.Writer) {
	fit, n := f.view.Fit, g.FormatNumber
	fs, bl, wl := fit.Sigma()
	c, u := fit.Camera, f.layout.Spec.Sheets.Units
	fmt.Fprintf(w, "photo %s, %d x %d pixels: camera at FS %s +- %s, BL %s +- %s, WL %s +- %s\n", f.view.Photo.ID, f.width, f.height,
		u.Number(g.Length(c.At.FS), 1), u.Number(fs, 1), u.Number(g.Length(c.At.BL), 1), u.Number(bl, 1), u.Number(g.Length(c.At.WL), 1), u.Length(wl, 1))
	is, least := fit.Distance()
	fmt.Fprintf(w, "%s from the middle of its points, %s at least (95 of 100)\n", u.Length(is, 0), u.Length(least, 0))
	if fit.Found {
		fmt.Fprintf(w, "focal length found: %s +- %s px\n", n(c.Focal, 0), n(fit.FocalSigma(), 0))
	} else {
		fmt.Fprintf(w, "focal length given: %s px\n", n(c.Focal, 0))
	}
	fmt.Fprintf(w, "%d points, chi-square %s for %d equations left over\n\n", len(fit.Sights), n(fit.ChiSquare, 1), fit.Freedom)
	fmt.Fprintf(w, "%3s %-34s %18s %18s %10s\n", "", "point", "seen at, px", "left, px", "in its +-")
	for i, s := range fit.Sights {
		mark := ""
		if i == fit.Suspect {
			mark = "  SUSPECT"
		}
		fmt.Fprintf(w, "%3d %-34s %18s %18s %10s%s\n", i+1, s.Name, n(s.Pixel.X, 1)+", "+n(s.Pixel.Y, 1), fmt.Sprintf("%+.1f, %+.1f", fit.Left[i].X, fit.Left[i].Y), n(fit.Standard[i], 1), mark)
	}
	fmt.Fprintln(w, "left: seen less computed, to the right and down; +- is one standard deviation, what stands in brackets holds in 95 of 100")
	for i, r := range f.readings {
		if i == 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "pixel %s, %s: %s: FS %s (%s), BL %s (%s), WL %s (%s) %s%s; line of sight %s deg off square%s\n", n(r.Pixel.X, 1), n(r.Pixel.Y, 1), skinWord(r),
			u.Number(g.Length(r.At.FS), 2), between(u, r.In95[0]), u.Number(g.Length(r.At.BL), 2), between(u, r.In95[1]), u.Number(g.Length(r.At.WL), 2), between(u, r.In95[2]), u.Word(), cropWord(u, r.Crop), n(r.Slant, 0), weakWord(r))
	}
	for i, x := range f.lengths {
		if i == 0 {
			fmt.Fprintln(w)
		}
		from, to := x.From.Pixel, x.To.Pixel
		fmt.Fprintf(w, "pixel %s, %s to %s, %s: ", n(from.X, 1), n(from.Y, 1), n(to.X, 1), n(to.Y, 1))
		if x.AlongSkin {
			fmt.Fprintf(w, "%s (%s) %s along the skin of %s, ", u.Number(x.Skin, 2), between(u, x.Skin95), u.Word(), skinWord(x.From))
		} else {
			fmt.Fprintf(w, "from %s to %s, which no skin joins, ", skinWord(x.From), skinWord(x.To))
		}
		fmt.Fprintf(w, "%s (%s) %s straight%s%s\n", u.Number(x.Air, 2), between(u, x.Air95), u.Word(), cropWord(u, x.Crop), weakWord(x.From, x.To))
	}
	if len(f.findings) > 0 {
		fmt.Fprintln(w)
	}
	printFindings(w, f.findings)
}

// between writes an interval.
func between(u g.Units, i camera.Interval) string {
	return u.Number(g.Length(i.Low), 2) + " to " + u.Number(g.Length(i.High), 2)
}

// skinWord names the skin of a reading.
func skinWord(r layouts.PhotoReading) string {
	side := "left"
	if r.At.BL > 0 {
		side = "right"
	}
	if r.On.Face != layouts.NoFace {
		side += " " + string(r.On.Face)
	}
	return fmt.Sprintf("%s, %s", r.On.On, side)
}

// cropWord says what a cropped print would do; nothing where the centre is given.
func cropWord(u g.Units, l g.Length) string {
	if l == 0 {
		return ""
	}
	return fmt.Sprintf(", %s more or less if cropped", u.Number(l, 2))
}

// weakWord warns of skin that is seen at a great slant.
func weakWord(readings ...layouts.PhotoReading) string {
	for _, r := range readings {
		if r.Weak() {
			return ": WEAK, the skin is seen at a great slant"
		}
	}
	return ""
}
