package audit

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"maskloft/export/drawing"
	"maskloft/geometry/same"

	g "maskloft/geometry"
)

// Fault is one way in which a returned file differs from what was sent.
type Fault struct {
	Kind     string // one of faultOrder
	Message  string
	Hint     string
	Harmless bool // it may be cut as it is
	said     error
}

// In is the message in the units of the reader; Message is in inches.
func (f Fault) In(u g.Units) string { return g.ErrorIn(u, f.said) }

// faultOrder is the order in which faults are told: what explains all before what
// explains a piece.
var faultOrder = []string{"size", "mirror", "turn", "offset", "shape", "moved", "missing", "extra", "double", "open", "welded"}

// Returned is a cut file that came back, measured against the one that was sent.
type Returned struct {
	Along, Up   float64 // size found over size sent, along the sent drawing's x and y
	Turned      float64 // degrees, counter-clockwise
	Mirrored    bool
	Offset      float64 // inches of the sent drawing: above 0 where the region to cut was grown
	Matched     int     // outlines to cut that were found again
	Deviation   float64 // inches: largest distance of a found outline from the one sent, size, turn, mirror and offset undone
	Nodes       [2]int  // of the matched outlines: sent, found
	Faults      []Fault // in their order
	unexplained float64 // area of what was not matched, for choosing between sent files
	format      drawing.Format
}

// Harmed tells whether a fault stands in the way of cutting.
func (r Returned) Harmed() bool {
	return slices.ContainsFunc(r.Faults, func(f Fault) bool { return !f.Harmless })
}

// Limits of a returned file.
const (
	sizeLimit  = 0.001 // fraction: an eighth of the width of a saw-tooth in 10 in
	turnLimit  = 0.05  // degrees
	shapeLimit = 0.005 // inches: ten times what rounding to three decimals of a point gives
	movedLimit = 0.01  // inches: a piece that lies farther from its place was moved
	mostPieces = 4000  // outlines of one page that are looked at
)

var errTooMany = errors.New("it has too many closed outlines for a cut file: send the one file alone")

var errNothingToCut = errors.New("it holds no closed outline: it is no cut file, or its outlines were left out")

// CompareReturned measures a drawing that came back against the one that was sent.
// Outlines are found again by their shape and place, whatever the size, the turn
// and the mirror; what the sent file holds beside the cut may be missing. The format is
// that of the file that came back: a mistake that only one format allows is not named
// for another.
//
// Errors: no closed outline; nothing in it resembles the sent file.
func CompareReturned(sent, got drawing.Drawing, format drawing.Format) (Returned, error) {
	if n := closedOutlines(got); n > mostPieces {
		return Returned{}, fmt.Errorf("%w: it holds %d, more than %d", errTooMany, n, mostPieces)
	}
	open, joined := openLines(got)
	ours, theirs := sentPieces(sent), piecesOf(got)
	for _, c := range joined {
		if p, ok := pieceOf(c); ok {
			theirs = append(theirs, p)
		}
	}
	sortPieces(theirs)
	if len(theirs) == 0 {
		return Returned{}, errNothingToCut
	}
	if len(theirs) > mostPieces {
		return Returned{}, fmt.Errorf("%w: it holds %d, more than %d", errTooMany, len(theirs), mostPieces)
	}
	fit, ok := bestFit(ours, theirs)
	if !ok {
		return Returned{}, errors.New("nothing in it resembles the cut outlines that were sent")
	}
	holes := holesOf(ours)
	d := fit.deform(holes)
	c := &comparison{deformation: d, ours: ours, theirs: theirs, holes: holes, open: open, sent: sent}
	r := Returned{format: format}
	r.measure(d, sent)
	c.pair(r.scale())
	r.shapes(c)
	r.pieces(c)
	slices.SortStableFunc(r.Faults, func(a, b Fault) int {
		return cmp.Compare(slices.Index(faultOrder, a.Kind), slices.Index(faultOrder, b.Kind))
	})
	return r, nil
}

// scale returns the size found over the size sent, the mean of both axes.
func (r *Returned) scale() float64 { return math.Sqrt(r.Along * r.Up) }

func (r *Returned) fault(kind, hint, format string, args ...any) {
	said := g.Errorf(format, args...)
	r.Faults = append(r.Faults, Fault{Kind: kind, Message: said.Error(), Hint: hint, said: said})
}

// measure takes the map apart: size along the axes of the sent drawing, turn and
// mirror, and the offset.
func (r *Returned) measure(d deformation, sent drawing.Drawing) {
	a := d.m
	r.Along, r.Up = same.Hypot(a[0], a[1]), same.Hypot(a[2], a[3])
	r.Mirrored = float64(a[0]*a[3])-float64(a[1]*a[2]) < 0
	r.Turned = same.Atan2(a[1], a[0]) * 180 / math.Pi
	if r.Mirrored { // told as a mirror image left to right, then turned
		r.Turned = same.Atan2(-a[1], -a[0]) * 180 / math.Pi
	}
	if math.Abs(r.Turned) < 1e-9 {
		r.Turned = 0
	}
	r.Offset = d.offset / r.scale()
	if math.Abs(r.Along-1) > sizeLimit || math.Abs(r.Up-1) > sizeLimit {
		cause, known := causeOf(r.Along, r.Up, [2]float64{slackOf(sent.Width), slackOf(sent.Height)}, r.format)
		if known {
			r.fault("size", cause.Fix, "%.4f along and %.4f up of the size sent: %s", r.Along, r.Up, cause.Text)
		} else {
			r.fault("size", fmt.Sprintf("scale it to %.2f %%", 100/r.scale()), "%.4f along and %.4f up of the size sent: no known cause", r.Along, r.Up)
		}
	}
	if r.Mirrored {
		r.fault("mirror", "cut it not mirrored: the outlines are seen from outside the aircraft", "it is mirrored")
	}
	if off := math.Abs(math.Mod(math.Abs(r.Turned)+turnLimit, 360)); off > 2*turnLimit {
		if quarter := math.Mod(math.Abs(r.Turned), 90); math.Min(quarter, 90-quarter) <= turnLimit {
			r.fault("turn", "a quarter turn does no harm on the web as long as UP and NOSE are kept", "it is turned by %.0f degrees", r.Turned)
			r.Faults[len(r.Faults)-1].Harmless = true
		} else {
			r.fault("turn", "turn it back: seams and scale bars no longer run along the web", "it is turned by %.2f degrees", r.Turned)
		}
	}
	if math.Abs(r.Offset) >= offsetLeast {
		word := "grown"
		if r.Offset < 0 {
			word = "shrunk"
		}
		r.fault("offset", "send the outlines themselves to the cutter: no contour offset, no allowance for a tool's radius", "what is cut is %s by %v all round: an offset, such as a tool's radius", word, g.Length(math.Abs(r.Offset)).Rounded(3))
	}
}
