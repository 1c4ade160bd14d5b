package drawing

// Format is a kind of file that the auditor reads.
type Format string

// Formats.
const (
	SVG Format = "svg"
	PDF Format = "pdf"
	DXF Format = "dxf" // of release 12, in text
)
