package audit

import (
	"errors"
	"fmt"
	"math"

	"maskloft/export/drawing"

	g "maskloft/geometry"
)

// Fault is one way in which a returned file differs from what was sent.
type Fault struct {
	Kind    string // size, mirror, turn, missing, extra, double, shape
	Message string
	Hint    string
}

// Returned is a cut file that came back, measured against the one that was sent.
type Returned struct {
	Along, Up   float64 // size found over size sent, along the sent drawing's x and y
	Turned      float64 // degrees, counter-clockwise
	Mirrored    bool
	Matched     int     // outlines to cut that were found again
	Deviation   float64 // inches: largest distance of a found outline from the one sent, size, turn and mirror undone
	Nodes       [2]int  // of the matched outlines: sent, found
	Faults      []Fault
	unexplained float64 // area of what was not matched, for choosing between sent files
}

// Limits of a returned file.
const (
	sizeLimit  = 0.001 // fraction: an eighth of the width of a saw-tooth in 10 in
	turnLimit  = 0.05  // degrees
	shapeLimit = 0.005 // inches: ten times what rounding to three decimals of a point gives
	mostPieces = 4000  // outlines of one page that are looked at
)

var errTooMany = errors.New("it has too many closed outlines for a cut file: send the one file alone")

var errNothingToCut = errors.New("it holds no closed outline: it is no cut file, or its outlines were left out")

// CompareReturned measures a drawing that came back against the one that was sent.
// Outlines are found again by their shape and place, whatever the size, the turn
// and the mirror; what the sent file holds beside the cut may be missing.
//
// Errors: no closed outline; nothing in it resembles the sent file.
func CompareReturned(sent, got drawing.Drawing) (Returned, error) {
	ours, theirs := sentPieces(sent), piecesOf(got)
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
	r := Returned{}
	r.measure(fit)
	r.count(fit, ours, theirs)
	return r, nil
}

// measure takes the map apart: size along the axes of the sent drawing, turn and
// mirror; and measures what remains between the outlines.
func (r *Returned) measure(f pieceFit) {
	a := f.m
	r.Along, r.Up = math.Hypot(a[0], a[1]), math.Hypot(a[2], a[3])
	r.Mirrored = float64(a[0]*a[3])-float64(a[1]*a[2]) < 0
	r.Turned = math.Atan2(a[1], a[0]) * 180 / math.Pi
	if r.Mirrored { // told as a mirror image left to right, then turned
		r.Turned = math.Atan2(-a[1], -a[0]) * 180 / math.Pi
	}
	if math.Abs(r.Turned) < 1e-9 {
		r.Turned = 0
	}
	var worst g.Point
	size := math.Sqrt(r.Along * r.Up)
	for _, p := range f.pairs {
		if !p.ours.cut {
			continue
		}
		r.Matched++
		r.Nodes[0] += p.ours.nodes
		r.Nodes[1] += p.theirs.nodes
		if d, at := f.apart(p, fine); d/size > r.Deviation {
			r.Deviation, worst = d/size, at
		}
	}
	fault := func(kind, hint, format string, args ...any) {
		r.Faults = append(r.Faults, Fault{Kind: kind, Message: fmt.Sprintf(format, args...), Hint: hint})
	}
	if r.Mirrored {
		fault("mirror", "cut it not mirrored: the outlines are seen from outside the aircraft", "it is mirrored")
	}
	if off := math.Abs(math.Mod(math.Abs(r.Turned)+turnLimit, 360)); off > 2*turnLimit {
		if quarter := math.Mod(math.Abs(r.Turned), 90); math.Min(quarter, 90-quarter) <= turnLimit {
			fault("turn", "a quarter turn does no harm on the web as long as UP and NOSE are kept", "it is turned by %.0f degrees", r.Turned)
		} else {
			fault("turn", "turn it back: seams and scale bars no longer run along the web", "it is turned by %.2f degrees", r.Turned)
		}
	}
	if math.Abs(r.Along-1) > sizeLimit || math.Abs(r.Up-1) > sizeLimit {
		cause, known := CauseOf(r.Along, r.Up)
		if known {
			fault("size", cause.Fix, "%.4f along and %.4f up of the size sent: %s", r.Along, r.Up, cause.Text)
		} else {
			fault("size", fmt.Sprintf("scale it to %.2f %%", 100/math.Sqrt(r.Along*r.Up)), "%.4f along and %.4f up of the size sent: no known cause", r.Along, r.Up)
		}
	}
	if r.Deviation > shapeLimit {
		word := "changed"
		if r.Nodes[1] < r.Nodes[0] {
			word = "simplified"
		}
		fault("shape", "do not simplify, smooth, trace or weld the outlines",
			"an outline was %s: it is off by %.3f in at x %.2f, y %.2f in of the file sent; %d nodes where %d were sent", word, r.Deviation, worst.X, worst.Y, r.Nodes[1], r.Nodes[0])
	}
}

// count names what is missing, what was added and what is there twice.
func (r *Returned) count(f pieceFit, ours, theirs []piece) {
	matched, taken := map[int]bool{}, map[int]bool{}
	for _, p := range f.pairs {
		matched[p.i], taken[p.j] = true, true
	}
	for i, o := range ours {
		if o.cut && !matched[i] {
			r.unexplained += o.area
			r.Faults = append(r.Faults, Fault{"missing", fmt.Sprintf("a piece to cut is missing: %.2f x %.2f in at x %.2f, y %.2f in of the file sent",
				o.box.Width(), o.box.Height(), o.centre.X, o.centre.Y), "send the file again; an island left out is paint where film should be"})
		}
	}
	back := f.m.Inverse()
	for j, t := range theirs {
		if taken[j] {
			continue
		}
		at := back.Apply(t.centre)
		kind, message := "extra", "an outline was added"
		for _, p := range f.pairs {
			if p.theirs.centre.Dist(t.centre) < 1e-3*p.theirs.size() && math.Abs(p.theirs.area/t.area-1) < 1e-3 {
				kind, message = "double", "an outline stands twice: it would be cut twice"
			}
		}
		r.unexplained += t.area / (r.Along * r.Up)
		r.Faults = append(r.Faults, Fault{kind, fmt.Sprintf("%s: %.2f x %.2f in at x %.2f, y %.2f in of the file sent",
			message, t.box.Width()/r.Along, t.box.Height()/r.Up, at.X, at.Y), "remove it before cutting"})
	}
}
