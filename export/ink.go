package export

var inkPoint = Ink{Stroke: "#a03a1e", Width: 0.010}

var inkText = Ink{Fill: "#1a1a1a"}

var inkTextSoft = Ink{Fill: "#5c6b73"}

var inkTextPoint = Ink{Fill: "#a03a1e"}

var inkRegister = Ink{Stroke: "#1f5f7a", Width: 0.01}

var inkNote = Ink{Stroke: "#6b6b6b", Width: 0.01}

const LayerCut = "cut"

// Ids of the scale bars of a cut sheet.
const (
	scaleAlong = "scale-along"
	scaleUp    = "scale-up"
)

// tickCap is the height of a match tick's number, in inches.
const tickCap = 0.09
