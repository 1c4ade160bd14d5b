package drawing

import (
	"math"

	g "maskloft/geometry"
)

// pdfPaint is the colours and the pen of the graphics state (ISO 32000-1 clause 8.6);
// as a page begins both colours are black and the pen is 1 wide.
type pdfPaint struct {
	fill, stroke string
	width        float64 // user space
	line         g.Pen
	unread       bool // the last colour was a pattern
	set          bool
}

func (p *pdfPaint) begin() {
	if !p.set {
		*p = pdfPaint{fill: "#000000", stroke: "#000000", width: 1, line: g.Pen{Join: g.MiterJoin, Miter: 10}, set: true}
	}
}

// paintState follows the operators of colour and pen. A colour of a space of its own,
// or a pattern, is taken by the number of its parts: 1 grey, 3 red, green and blue, 4
// inks; else it is grey.
func (p *pdfPaint) operator(op pdfWord, args []any) {
	p.begin()
	var v []float64
	for _, a := range args {
		n, ok := a.(float64)
		if !ok {
			v = nil
			break
		}
		v = append(v, n)
	}
	to := &p.fill
	switch op {
	case "w":
		if len(v) == 1 {
			p.width = v[0]
		}
		return
	case "J", "j", "M":
		if len(v) == 1 {
			switch op {
			case "J": // clause 8.4.3.3
				p.line.Cap = map[float64]g.Cap{1: g.RoundCap, 2: g.SquareCap}[v[0]]
			case "j":
				p.line.Join = map[float64]g.Join{0: g.MiterJoin, 1: g.RoundJoin, 2: g.BevelJoin}[v[0]]
			default:
				p.line.Miter = v[0]
			}
		}
		return
	case "CS":
		p.stroke = "#000000"
		return
	case "cs":
		p.fill = "#000000"
		return
	case "G", "RG", "K", "SC", "SCN":
		to = &p.stroke
	case "g", "rg", "k", "sc", "scn":
	default:
		return
	}
	p.unread = len(v) == 0
	switch len(v) {
	case 1:
		*to = rgbHex(v[0], v[0], v[0])
	case 3:
		*to = rgbHex(v[0], v[1], v[2])
	case 4:
		*to = cmykHex(v[0], v[1], v[2], v[3])
	default:
		*to = "#808080"
	}
}

// of returns the paint of a path that an operator ends.
func (p *pdfPaint) of(op pdfWord, m g.Affine) Paint {
	p.begin()
	var out Paint
	switch op {
	case "f", "F", "f*", "B", "B*", "b", "b*":
		out.Fill, out.EvenOdd = p.fill, op[len(op)-1] == '*'
	}
	switch op {
	case "S", "s", "B", "B*", "b", "b*":
		out.Pen, out.Line = m, p.line
		out.Line.Width = p.width
		out.Stroke, out.Width = p.stroke, p.width*math.Sqrt(math.Abs(float64(m[0]*m[3])-float64(m[1]*m[2])))
	}
	if p.unread {
		out.Unread = "a pattern"
	}
	return out
}
