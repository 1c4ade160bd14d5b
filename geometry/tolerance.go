package geometry

// Named tolerances, in inches unless said. Each is passed as an argument; none is
// read behind the caller's back.
const (
	// OutlineTolerance bounds the distance of a film outline from the true
	// curve. A cutter steps 0.0005 in to 0.001 in (common practice, no
	// source), so a finer outline cannot be cut.
	OutlineTolerance = 0.001

	// NetTolerance is the largest movement of any answer taken from a skin net
	// when the net is halved. It is OutlineTolerance again: the net may not
	// be the worst part of the film.
	NetTolerance = 0.001

	// FlattenTolerance bounds chords from curves where curves are cut into
	// chords to be measured: a tenth of OutlineTolerance.
	FlattenTolerance = 0.0001

	// SnapTolerance is the distance within which two computed points are the
	// same point.
	SnapTolerance = 1e-6

	// ExactStrain is the peak strain below which a flat map is called exact:
	// lengths, angles and areas kept to 1e-6 of themselves.
	ExactStrain = 1e-6

	// SayDifference is the difference between two ways of measuring one length
	// (along the skin and across the drawing, tape pressed and taut) above
	// which both are printed: half a sixteenth, the finest a tape is read.
	SayDifference = 1.0 / 32
)

// Farthest bounds the coordinates of a drawing, in inches: a thousand times the
// longest page of a PDF, and far within what a float64 holds to 1e-9 in.
const Farthest = 2e5
