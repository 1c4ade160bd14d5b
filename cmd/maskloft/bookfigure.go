package main

import (
	"fmt"

	"maskloft/export/book"
	"maskloft/geometry"
)

// words joins words and figures to a text of the job book.
func words(parts ...any) book.Text {
	var out book.Text
	for _, p := range parts {
		switch p := p.(type) {
		case book.Part:
			out = append(out, p)
		case book.Text:
			out = append(out, p...)
		default:
			out = append(out, book.Part{Text: fmt.Sprint(p)})
		}
	}
	return out
}

// lengthFigure is a length of the report, in inches there, in the units of the sheets.
func lengthFigure(u geometry.Units, path string, inches float64, decimals int) book.Part {
	return book.Part{Text: u.Number(geometry.Length(inches), decimals), Figure: path, Value: inches}
}

// sizeFigure is a side of a film, told as the ticket does: see [geometry.Units.Size].
func sizeFigure(u geometry.Units, path string, inches float64) book.Part {
	if u.Metric() {
		return lengthFigure(u, path, inches, 2)
	}
	return lengthFigure(u, path, inches, 3)
}

// percentFigure is a fraction of the report as a percentage.
func percentFigure(path string, value float64) book.Part {
	return book.Part{Text: percent(value), Figure: path, Value: value}
}

// namedFigure is a figure that people read in other words: a tape in its fractions.
func namedFigure(path string, value float64, text string) book.Part {
	return book.Part{Text: text, Figure: path, Value: value}
}
