// Package adjust finds unknowns from more readings than are needed, by least
// squares, and says how sure the answer is and which reading is wrong.
//
// A reading is a row: its derivatives by the unknowns, how much it reads more than
// is computed, and its standard deviation. An unknown may be known beforehand to a
// standard deviation of its own: the errors that several readings share, of a
// hardpoint or of the tape, are such unknowns. Nothing here knows what an unknown
// stands for.
//
// Every formula stands beside its code in plain loops over small dense arrays, so
// that it can be followed line by line in another language. Products are rounded
// before they are summed, so that all processors give the same bits.
//
// Signs: a residual is read less fitted. Positive: the reading is too long.
//
// Sources, all from memory: W. Baarda, A testing procedure for use in geodetic
// networks, Delft 1968 (data snooping, internal and external reliability, the
// numbers 0.001 and 0.8); W. F. Caspary, Concepts of network and deformation
// analysis, 1987 (tests of several shifts together); C. D. Ghilani, Adjustment
// computations, chapter on blunder detection.
package adjust
