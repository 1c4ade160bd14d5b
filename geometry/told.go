package geometry

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Rounded is a length that is told with so many decimals of an inch, all of them.
type Rounded struct {
	Length   Length
	Decimals int
}

// Rounded returns l to be told with so many decimals of an inch.
func (l Length) Rounded(decimals int) Rounded { return Rounded{l, decimals} }

func (r Rounded) String() string { return ReadInches.Fixed(r.Length, r.Decimals) }

// Extent is a width and a height that are told as [Rounded] is, the unit once.
type Extent struct {
	Width, Height Length
	Decimals      int
}

// Extent returns the width and the height of r, to be told with so many decimals of an inch.
func (r Rect) Extent(decimals int) Extent {
	return Extent{Length(r.Width()), Length(r.Height()), decimals}
}

func (e Extent) String() string { return e.in(ReadInches) }

func (e Extent) in(u Units) string {
	return u.FixedNumber(e.Width, e.Decimals) + " x " + u.Fixed(e.Height, e.Decimals)
}

// told is an error that keeps its lengths, so that it can be read in other units.
type told struct {
	error  // in inches
	format string
	args   []any
}

func (t told) Unwrap() error { return errors.Unwrap(t.error) }

// In is the text in units.
func (t told) In(u Units) string {
	return u.Sprintf(strings.ReplaceAll(t.format, "%w", "%v"), t.args...)
}

// Errorf makes an error as fmt.Errorf does. Its lengths and places are values, which
// [ErrorIn] writes in the units of the reader: [Length], [Rounded] and [Extent] with their unit
// (%v), [Position] in full, [Station], [ButtLine] and [Waterline] as numbers.
func Errorf(format string, args ...any) error {
	return told{fmt.Errorf(format, ReadInches.places(args)...), format, args}
}

// MirroredError is what an error of [Errorf] says of the mirror image in BL 0: its places
// lie on the other side. Any other error is returned as it is.
func MirroredError(err error) error {
	t, ok := err.(told)
	if !ok {
		return err
	}
	args := slices.Clone(t.args)
	for i, a := range args {
		switch a := a.(type) {
		case Position:
			a.BL = 0 - a.BL // not -0
			args[i] = a
		case error:
			args[i] = MirroredError(a)
		}
	}
	return Errorf(t.format, args...)
}

// ErrorIn is the text of an error in units, however it was wrapped. An error of another
// kind that knows units has a method In.
func ErrorIn(u Units, err error) string {
	if !u.Metric() {
		return err.Error()
	}
	if t, ok := err.(interface{ In(Units) string }); ok {
		return t.In(u)
	}
	text := err.Error()
	within := []error{errors.Unwrap(err)}
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		within = several.Unwrap()
	}
	for _, e := range within {
		if e != nil {
			text = strings.Replace(text, e.Error(), ErrorIn(u, e), 1)
		}
	}
	return text
}

// Sprintf is fmt.Sprintf with lengths, places and errors written in u, see [Errorf].
func (u Units) Sprintf(format string, args ...any) string {
	out := u.places(args)
	if !u.Metric() {
		return fmt.Sprintf(format, out...)
	}
	for i, a := range out {
		switch a := a.(type) {
		case Length:
			out[i] = u.Length(a, 4)
		case Rounded:
			out[i] = u.Fixed(a.Length, a.Decimals)
		case Extent:
			out[i] = a.in(u)
		case Position:
			out[i] = u.Position(a)
		case error:
			out[i] = ErrorIn(u, a)
		}
	}
	return fmt.Sprintf(format, out...)
}

// places returns args with coordinates as numbers, to a hundredth of a millimetre or to
// 0.0001 in.
func (u Units) places(args []any) []any {
	place := func(inches float64) float64 {
		if u.Metric() {
			return math.Round(inches*2540) / 100
		}
		return math.Round(inches*1e4) / 1e4
	}
	out := slices.Clone(args)
	for i, a := range args {
		switch a := a.(type) {
		case Station:
			out[i] = place(float64(a))
		case ButtLine:
			out[i] = place(float64(a))
		case Waterline:
			out[i] = place(float64(a))
		}
	}
	return out
}
