package adjust

import (
	"math"

	"maskloft/geometry/same"
)

// Tail returns the chance that a normal number of deviation 1 is above z: half of
// erfc(z / sqrt 2). By the series z + z^3/3 + z^5/15 + ... below 3, by the continued
// fraction 1/(z + 1/(z + 2/(z + 3/(z + ...)))) above (Abramowitz and Stegun 26.2.11 and
// 26.2.14, from memory).
func Tail(z float64) float64 {
	if z < 0 {
		return 1 - Tail(-z)
	}
	density := same.Exp(-float64(z*z)/2) / math.Sqrt(2*math.Pi)
	if z < 3 {
		term, sum := z, z
		for k := 3; k < 100; k += 2 {
			term = float64(term * (float64(z*z) / float64(k)))
			sum += term
		}
		return 0.5 - float64(density*sum)
	}
	fraction := z
	for k := 60; k > 0; k-- {
		fraction = z + float64(k)/fraction
	}
	return density / fraction
}

// TailAt returns the z that a normal number exceeds with chance p, 0 < p < 1.
func TailAt(p float64) float64 {
	low, high := -40.0, 40.0
	for range 80 {
		if mid := (low + high) / 2; Tail(mid) > p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// ChiTail returns the chance that chi-square of the given degrees of freedom, 1 or
// more, is above x: from one degree or two on, by Q(x, n+2) = Q(x, n) +
// (x/2)^(n/2) e^(-x/2) / Gamma(n/2 + 1) (Abramowitz and Stegun 26.4.8, from memory).
func ChiTail(x float64, degrees int) float64 {
	if x <= 0 {
		return 1
	}
	n, sum := 2, same.Exp(-x/2)
	term := float64(sum*x) / 2 // (x/2)^(n/2) e^(-x/2) / Gamma(n/2 + 1)
	if degrees%2 == 1 {
		n, sum = 1, 2*Tail(math.Sqrt(x))
		term = float64(math.Sqrt(2*x/math.Pi) * same.Exp(-x/2))
	}
	for ; n < degrees; n += 2 {
		sum += term
		term = float64(term * (x / float64(n+2)))
	}
	return sum
}
