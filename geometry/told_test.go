package geometry

import (
	"errors"
	"fmt"
	"testing"
)

// 1 in = 25.4 mm (NIST SP 811, appendix B.8).
func TestErrorsAreReadInBothUnits(t *testing.T) {
	base := errors.New("base")
	at := Position{FS: 10, BL: -1, WL: 2}
	err := Errorf("%v: FS %v, %v long, %v wide, %d of it: %w", at, Station(3), Length(2), Length(1.5).Rounded(2), 7, base)
	wrapped := fmt.Errorf("star: %w", errors.Join(fmt.Errorf("tile: %w", err), base))
	for _, c := range []struct {
		u    Units
		want string
	}{
		{ReadInches, "star: tile: FS 10 BL -1 WL 2: FS 3, 2 in long, 1.50 in wide, 7 of it: base\nbase"},
		{ReadMillimetres, "star: tile: FS 254 BL -25.4 WL 50.8: FS 76.2, 50.8 mm long, 38.1 mm wide, 7 of it: base\nbase"},
	} {
		if got := ErrorIn(c.u, wrapped); got != c.want {
			t.Errorf("in %s: %q, wanted %q", c.u, got, c.want)
		}
	}
	if !errors.Is(wrapped, base) {
		t.Error("the error within is lost")
	}
}
