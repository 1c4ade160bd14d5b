package geometry

import (
	"flag"
	"os"
	"testing"

	_ "maskloft/geometry/trial"
)

// TestMain draws 40 random cases of each property, so that the tests of the
// package take seconds; -rapid.checks=3000 draws more.
func TestMain(m *testing.M) {
	flag.Parse()
	given := false
	flag.Visit(func(f *flag.Flag) { given = given || f.Name == "rapid.checks" })
	if !given {
		if err := flag.Set("rapid.checks", "40"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
