package adjust

// Unknown is one number to find.
type Unknown struct {
	Name string
	// Sigma is the standard deviation to which the unknown is known to be 0 before
	// anything is read. 0: nothing is known of it.
	Sigma float64
}

// Row is one reading at given values of the unknowns.
type Row struct {
	Terms []float64 // derivative of the computed value by each unknown
	Out   float64   // read less computed
	Sigma float64   // standard deviation of the reading's own error
}

// Model returns the rows at values of the unknowns: the same rows in the same order
// at all values.
type Model func(x []float64) []Row

// Reading says of a row what the search for the cause of a mistake asks.
type Reading struct {
	Read  float64 // as read, in inches, the tape's start taken off
	Typed float64 // the number as typed, in Unit
	Unit  float64 // inches
	Start float64 // the mark of the tape that is held instead of its hook, as the trade does: 1 in, or 100 mm
	Tape  bool    // the errors common to the tape are in it
	From  int     // index into Hooks; -1: from none
	Point int     // what was measured to
}

// Problem is a set of readings and what they are to tell.
type Problem struct {
	Unknowns []Unknown
	Readings []Reading
	Model    Model
	Hooks    [][]int // of each hook, the unknowns that move it
	Zero     int     // the unknown that is added to every tape; -1: none
	Scale    int     // the unknown times length that is added to every tape; -1: none
	Longest  float64 // movement of a computed value that one step of an iteration may make; 0: any
}

// dot returns the sum of products, each rounded.
func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}
