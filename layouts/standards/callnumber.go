package standards

import (
	"fmt"
	"regexp"
)

var serialText = regexp.MustCompile(`^([0-9]{2})-([0-9]{1,6})$`)

// CallNumber returns the radio call number of a United States serial such as
// 42-50123: the year's first digit and the hyphen dropped, and zeros put in after
// the year where fewer than four numerals are left (order of the Army Air Forces,
// paragraph 13a, copied out at ourairports.biz/?p=6083: 41-7 is 1007).
//
// Errors: a text that is not two digits of the year, a hyphen and up to six digits.
func CallNumber(serial string) (string, error) {
	m := serialText.FindStringSubmatch(serial)
	if m == nil {
		return "", fmt.Errorf("serial %q: write the year's two digits, a hyphen and the number, like 42-50123", serial)
	}
	number := m[2]
	for len(number) < 3 {
		number = "0" + number
	}
	return m[1][1:] + number, nil
}
