package sheet

var InkPoint = Ink{Stroke: "#a03a1e", Width: 0.010}

var InkText = Ink{Fill: "#1a1a1a"}

var InkTextSoft = Ink{Fill: "#5c6b73"}

var InkTextPoint = Ink{Fill: "#a03a1e"}

var InkRegister = Ink{Stroke: "#1f5f7a", Width: 0.01}

var InkNote = Ink{Stroke: "#6b6b6b", Width: 0.01}

// Groups of what is cut: the outlines of the film, and the windows of registration marks
// and of the check of size. A cut file holds no other.
const (
	LayerCut          = "cut"
	LayerRegistration = "registration"
)

// Ids of the scale bars of a proof, and of the windows on the first film by which its
// size is checked: the corner, and one along and one up from it.
const (
	ScaleAlong  = "scale-along"
	ScaleUp     = "scale-up"
	SizeCorner  = "size-corner"
	SizeAlong   = "size-along"
	SizeUpwards = "size-up"
)

// TickCap is the height of a match tick's number, in inches.
const TickCap = 0.09
