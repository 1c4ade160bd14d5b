package sheet

var InkPoint = Ink{Stroke: "#a03a1e", Width: 0.010}

var InkText = Ink{Fill: "#1a1a1a"}

var InkTextSoft = Ink{Fill: "#5c6b73"}

var InkTextPoint = Ink{Fill: "#a03a1e"}

var InkRegister = Ink{Stroke: "#1f5f7a", Width: 0.01}

var InkNote = Ink{Stroke: "#6b6b6b", Width: 0.01}

const LayerCut = "cut"

// Ids of the scale bars of a cut sheet.
const (
	ScaleAlong = "scale-along"
	ScaleUp    = "scale-up"
)

// TickCap is the height of a match tick's number, in inches.
const TickCap = 0.09
