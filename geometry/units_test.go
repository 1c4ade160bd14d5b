package geometry

import "testing"

// Factors: NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 ft2 = 0.092 903 04 m2,
// 1 lb = 453.592 37 g, 1 lbf in = 0.112 984 8 N m; 1 US fl oz = 29.573 53 ml.
func TestUnitsWrite(t *testing.T) {
	in, mm := ReadInches, ReadMillimetres
	at := Position{FS: 134, BL: -11.42, WL: 38.81}
	for _, c := range []struct{ got, want string }{
		{in.Length(14.125, 3), "14.125 in"}, {mm.Length(14.125, 3), "358.77 mm"},
		{Units("").Length(1, 3), "1 in"},
		{in.Fixed(2.3, 2), "2.30 in"}, {mm.Fixed(2.3, 2), "58.4 mm"}, {mm.Fixed(-0.0001, 2), "0.0 mm"},
		{in.Size(12, 8, 3), "12 x 8 in"}, {mm.Size(12, 8, 3), "304.8 x 203.2 mm"},
		{mm.Size(14.125, 4.875, 3), "358.8 x 123.8 mm"}, // 358.775 and 123.825
		{in.About(4), "4 in"}, {mm.About(1), "25 mm"}, {mm.About(3), "75 mm"}, {mm.About(4), "100 mm"}, {mm.About(12), "300 mm"},
		{in.Fraction(1.25, 16), "1-1/4 in"}, {mm.Fraction(1.25, 16), "31.8 mm"},
		{in.Position(at), at.String()}, {mm.Position(at), "FS 3403.6 BL -290.07 WL 985.77"},
		{in.Long(158.4), "13.2 ft"}, {mm.Long(158.4), "4.0 m"},
		{in.SmallArea(2, 2), "2 in2"}, {mm.SmallArea(2, 2), "12.9 cm2"}, {in.FixedSmallArea(2, 2), "2.00"}, {mm.FixedSmallArea(2, 2), "12.9"},
		{in.Area(2), "2.00 ft2"}, {mm.Area(2), "0.186 m2"},
		{in.Volume(8), "8 US fl oz"}, {mm.Volume(8), "237 ml"}, {mm.Volume(49), "1.45 l"},
		{in.Weight(0.009, 0.013), "0.009 to 0.013 lb"}, {mm.Weight(0.009, 0.013), "4.1 to 5.9 g"},
		{in.Moment(0.05, 0.07), "0.05 to 0.07 in-lb"}, {mm.Moment(0.05, 0.07), "5.6 to 7.9 N mm"},
	} {
		if c.got != c.want {
			t.Errorf("written %q, wanted %q", c.got, c.want)
		}
	}
}
