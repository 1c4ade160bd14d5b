package main

import (
	"fmt"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// lengthFlag is a length above 0 on the command line; 0 is none.
type lengthFlag geometry.Length

func (f *lengthFlag) Type() string { return "length" }
func (f *lengthFlag) String() string {
	if *f == 0 {
		return ""
	}
	return geometry.Length(*f).String()
}

func (f *lengthFlag) Set(text string) error {
	l, err := geometry.ParseLength(text, 0)
	if _, bare := geometry.ParseLength(text, geometry.Inch); err != nil && bare == nil {
		return fmt.Errorf("%q has no unit: write \"%s in\" with the quotes, or %smm", text, text, text)
	}
	if err == nil && l <= 0 {
		err = fmt.Errorf("%q must be above 0: write it as 40 in, 5 ft 3 1/4 in or 305 mm", text)
	}
	*f = lengthFlag(l)
	return err
}

// dateFlag is a day, a month or a year on the command line.
type dateFlag standards.Date

func (f *dateFlag) Type() string   { return "date" }
func (f *dateFlag) String() string { return string(*f) }
func (f *dateFlag) Set(text string) error {
	_, _, err := standards.Date(text).Span()
	*f = dateFlag(text)
	return err
}
