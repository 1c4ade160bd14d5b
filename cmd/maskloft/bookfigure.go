package main

import (
	"fmt"

	"maskloft/export"
	"maskloft/geometry"
)

// words joins words and figures to a text of the job book.
func words(parts ...any) export.BookText {
	var out export.BookText
	for _, p := range parts {
		switch p := p.(type) {
		case export.BookPart:
			out = append(out, p)
		case export.BookText:
			out = append(out, p...)
		default:
			out = append(out, export.BookPart{Text: fmt.Sprint(p)})
		}
	}
	return out
}

// figure is a figure of the report under its path there, to at most so many decimals.
func figure(path string, value float64, decimals int) export.BookPart {
	return export.BookPart{Text: geometry.FormatNumber(value, decimals), Figure: path, Value: value}
}

// percentFigure is a fraction of the report as a percentage.
func percentFigure(path string, value float64) export.BookPart {
	return export.BookPart{Text: percent(value), Figure: path, Value: value}
}

// namedFigure is a figure that people read in other words: a tape in its fractions.
func namedFigure(path string, value float64, text string) export.BookPart {
	return export.BookPart{Text: text, Figure: path, Value: value}
}
