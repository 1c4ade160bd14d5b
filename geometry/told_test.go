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

// A mirror image in BL 0 has the other sign of BL, and nothing else.
func TestMirroredError(t *testing.T) {
	within := Errorf("%v: too long by %v", Position{FS: 10, BL: -1, WL: 2}, Length(3))
	err := Errorf("%v: film: %w", Position{FS: 4, WL: 5}, within)
	for want, err := range map[string]error{
		"FS 4 BL 0 WL 5: film: FS 10 BL -1 WL 2: too long by 3 in": MirroredError(MirroredError(err)),
		"FS 4 BL 0 WL 5: film: FS 10 BL 1 WL 2: too long by 3 in":  MirroredError(err),
		"base": MirroredError(errors.New("base")),
	} {
		if err.Error() != want {
			t.Errorf("%q, wanted %q", err, want)
		}
	}
}
