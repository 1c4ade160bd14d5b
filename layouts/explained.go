package layouts

// Explained says which evidence explains that a dimension of a marking is not as
// its rule has it. The dimension is named part.number: bars.length.
type Explained struct {
	Dimension string
	Evidence  []string
}
