package layouts

import "maskloft/layouts/document"

type (
	// Place is where in a file a value was written: line and column count from one.
	Place = document.Place

	// Problem is one mistake in a layout file.
	Problem = document.Problem

	// Problems is everything wrong with a layout, in the order of the file, the layout
	// before its aircraft file.
	Problems = document.Problems
)
