package adjust

import "math"

// Chances of the tests.
const (
	// FalseAlarm is the chance that readings without a mistake are accused, all tests
	// of a set together.
	FalseAlarm = 0.001
	// Missed is the chance that a mistake as large as [Reliability.Named] is not
	// found, or another reading accused of it.
	Missed = 0.01
)

// baarda is the shift of the test, in deviations, that is found in 80 of 100 cases
// with one false alarm in 1,000 a reading: TailAt(0.0005) + TailAt(0.2).
var baarda = TailAt(0.0005) + TailAt(0.2)

// Reliability says what would show of a mistake in one reading.
type Reliability struct {
	// Detectable is the minimal detectable blunder of Baarda: found in 80 of 100
	// cases by a test of this reading that accuses one sound reading in 1,000
	// (internal reliability). +Inf where the reading is not checked.
	Detectable float64
	// Named is the least mistake for which this very reading is named in 99 of 100
	// cases, with one false alarm in 1,000 sets. +Inf where no size does: where
	// another reading explains the same.
	Named float64
	// Moves is how an error of Detectable that is not found moves each unknown:
	// Q A' p Detectable (external reliability).
	Moves []float64
	// Rival is the reading whose test goes most with this one's, and Alike how much:
	// from 0 to 1, where no size tells them apart. -1 where there is none.
	Rival int
	Alike float64
}

// steps is into how many classes rho is sorted, each counted as its upper end: the sizes
// come out a little large, and quickly.
const steps = 16

// Reliability returns that of each reading that is used; tests is over how many
// tests the false alarm is spread.
//
// Detection: the test w of a mistake of d deviations has the mean d and must exceed
// the limit k. Naming: its size must exceed that of every other reading's test, the
// mean of which is rho d; their difference has the deviation sqrt(2 (1 - rho)). Named
// is the d at which the chances of both failures add up to [Missed].
func (s *Solution) Reliability(tests int) []Reliability {
	limit := TestLimit(tests)
	count := len(s.rows)
	onto := make([][]float64, count) // Q A'
	for i, r := range s.rows {
		if s.used[i] {
			onto[i] = times(s.Q, r.Terms)
		}
	}
	out := make([]Reliability, count)
	for i, r := range s.rows {
		f := s.Rows[i]
		e := Reliability{Detectable: math.Inf(1), Named: math.Inf(1), Moves: make([]float64, len(s.unknowns)), Rival: -1}
		if s.used[i] && f.Share >= leastShare {
			size := r.Sigma / math.Sqrt(f.Share)
			e.Detectable = float64(baarda * size)
			p := 1 / float64(r.Sigma*r.Sigma)
			for k := range e.Moves {
				e.Moves[k] = float64(float64(onto[i][k]*p) * e.Detectable)
			}
			var alike [steps + 1]int // how many rivals, by rho rounded up to the step
			for j, o := range s.rows {
				if j == i || !s.used[j] || s.Rows[j].Share < leastShare {
					continue
				}
				rho := math.Abs(dot(r.Terms, onto[j])) / float64(float64(r.Sigma*o.Sigma)*math.Sqrt(float64(f.Share*s.Rows[j].Share)))
				alike[int(math.Ceil(float64(min(1, rho)*steps)))]++
				if rho > e.Alike {
					e.Alike, e.Rival = min(1, rho), j
				}
			}
			fails := func(d float64) float64 {
				sum := Tail(d - limit)
				for k, rivals := range alike {
					if rivals > 0 {
						sum += float64(float64(rivals) * Tail(float64(d*math.Sqrt(float64(steps-k)/(2*steps)))))
					}
				}
				return sum
			}
			low, high := 0.0, 1024.0
			for range 24 { // to 1/16,000 of a deviation
				if mid := (low + high) / 2; fails(mid) > Missed {
					low = mid
				} else {
					high = mid
				}
			}
			if high < 1000 {
				e.Named = float64(high * size)
			}
		}
		out[i] = e
	}
	return out
}

// TestLimit returns what the size of a test may be by chance: with so many tests one
// set in 1/[FalseAlarm] exceeds it anywhere.
func TestLimit(tests int) float64 {
	return TailAt(FalseAlarm / float64(2*max(1, tests)))
}
