package layouts

// Explained says which evidence explains that a dimension of a marking is not as
// its rule has it. A dimension is named part.number, bars.length; a part that is
// left out by its own name, border; the size of the whole is size.
type Explained struct {
	Dimension string
	Evidence  []string
}
