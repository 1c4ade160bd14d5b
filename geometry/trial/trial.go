// Package trial serves tests alone. Imported for its effect, it gives their random cases
// the seed 1, so that a change fails for what it does and not for what was drawn;
// -rapid.seed picks another (0 a new one each time), as .ci/long does.
package trial

import (
	"flag"

	_ "pgregory.net/rapid" // makes the flag
)

func init() {
	if err := flag.Set("rapid.seed", "1"); err != nil {
		panic(err)
	}
}
