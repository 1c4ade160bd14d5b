package adjust

import (
	"math"
	"sort"
)

// Verdict is one mistake that was found.
type Verdict struct {
	Cause Cause
	Rows  []int // the readings that it accuses
	Hooks []int // the hardpoints that it accuses
	// Amount is by how much too long the one reading accused is, or all tapes are (a
	// part of the length, where the cause is [TapeScale]), by the other readings;
	// Sigma is its standard deviation. 0 for other causes.
	Amount, Sigma float64
	// Lead is by how much the next likely cause is less likely: 6 is odds of 20 to 1.
	// Next is that cause.
	Lead      float64
	Next      Cause
	NextRows  []int
	NextHooks []int
	// Open: other readings explain it as well; none is left out. Rows are all of them.
	Open bool
}

// SureLead is the lead from which a cause is stated as the only one: odds of 20 to 1.
const SureLead = 6.0

// openLead is the lead below which one reading is not preferred to another.
const openLead = 0.5

// Answer is the outcome of a search for mistakes.
type Answer struct {
	All      *Solution // with all readings; nil where they do not settle on an answer
	Kept     *Solution // without those that are wrong
	Verdicts []Verdict
	Used     []bool    // the readings that Kept uses
	Fixed    []float64 // what Kept takes off each reading
	Tests    int       // over how many tests the false alarm is spread
}

// Search adjusts all readings, looks for mistakes one by one, and leaves out what is
// wrong (data snooping). Of the tests of single readings, of each hardpoint, and of
// the tape's zero and scale, none must be rarer by chance than [FalseAlarm] over their
// number; else the likeliest cause is taken out and the rest tested again, while there
// are more readings than unknowns.
//
// Error: the readings do not hold an unknown.
func (p Problem) Search() (Answer, error) {
	n := len(p.Readings)
	a := Answer{Used: make([]bool, n), Fixed: make([]float64, n)}
	for i := range a.Used {
		a.Used[i] = true
	}
	zero := make([]float64, len(p.Unknowns))
	start, err := p.near(a.Used, zero)
	if err != nil {
		return a, err
	}
	a.Tests = p.tests()
	a.All, _ = p.Solve(a.Used, start)

	work := p
	work.Unknowns = append([]Unknown(nil), p.Unknowns...)
	work.Model = func(x []float64) []Row {
		rows := p.Model(x)
		for i := range rows {
			rows[i].Out -= a.Fixed[i]
		}
		return rows
	}
	freed := make([]bool, len(p.Unknowns))
	for range n {
		rows := work.Model(start)
		s, err := solveRows(work.Unknowns, rows, a.Used, start, nil)
		if err != nil {
			return a, err
		}
		if s.Spare < 1 || work.clean(s, freed, a.Tests) {
			break
		}
		found := work.likeliest(s, freed)
		if found.verdict.Open {
			a.Verdicts = append(a.Verdicts, found.verdict)
			break
		}
		used, unknowns := append([]bool(nil), a.Used...), append([]Unknown(nil), work.Unknowns...)
		switch c := found.suspect; {
		case c.single():
			used[c.rows[0]] = false
		case c.cause == HookMoved:
			for _, k := range p.Hooks[c.hooks[0]] {
				unknowns[k].Sigma, freed[k] = reach, true
			}
		case c.unknown >= 0:
			unknowns[c.unknown].Sigma, freed[c.unknown] = reach, true
		default:
			for _, h := range c.fixed {
				a.Fixed[h.Row] += h.By
			}
			if c.cause == AllByStart && p.Zero >= 0 {
				freed[p.Zero] = true
			}
		}
		if _, err := solveRows(unknowns, rows, used, start, nil); err != nil {
			found.verdict.Open = true // without it nothing holds the film
			a.Verdicts = append(a.Verdicts, found.verdict)
			break
		}
		a.Used, work.Unknowns = used, unknowns
		a.Verdicts = append(a.Verdicts, found.verdict)
		if next, err := work.near(a.Used, start); err == nil {
			start = next
		}
	}
	if a.Kept, err = work.Solve(a.Used, start); err != nil { // a mistake that none can name may let it stray
		if a.Kept, err = solveRows(work.Unknowns, work.Model(start), a.Used, start, nil); err != nil {
			return a, err
		}
	}
	work.putBack(&a, start)
	return a, nil
}

// Expected returns the solution of readings that all agree with unknowns 0, and over how
// many tests a false alarm would be spread: what would be known, and seen, before
// anything is read.
func (p Problem) Expected() (*Solution, int, error) {
	used := make([]bool, len(p.Readings))
	for i := range used {
		used[i] = true
	}
	x := make([]float64, len(p.Unknowns))
	s, err := solveRows(p.Unknowns, p.Model(x), used, x, nil)
	return s, p.tests(), err
}

// near returns unknowns near which the readings agree best, most of them being
// right: steps of least squares in which each reading weighs less the more it is
// out, which ends near the least sum of sizes (E. J. Schlossmacher 1973, from
// memory). Where that moves a computed value by more than Longest it is start itself.
func (p Problem) near(used []bool, start []float64) ([]float64, error) {
	x := append([]float64(nil), start...)
	weights := make([]float64, len(p.Readings))
	const steps = 12
	for range steps {
		rows := p.Model(x)
		for i, r := range rows {
			weights[i] = 1 / max(1, math.Abs(r.Out)/float64(2*r.Sigma))
		}
		s, err := solveRows(p.Unknowns, rows, used, x, weights)
		if err != nil {
			return nil, err
		}
		most := 0.0
		for i, r := range rows {
			if used[i] {
				most = max(most, math.Abs(dot(r.Terms, s.X)-dot(r.Terms, x)))
			}
		}
		by := p.stepBy(most)
		for k := range x {
			x[k] += float64(by * (s.X[k] - x[k]))
		}
	}
	if p.Longest > 0 { // many wrong readings may agree on an answer far off
		for i, r := range p.Model(start) {
			if used[i] && math.Abs(dot(r.Terms, x)-dot(r.Terms, start)) > p.Longest {
				return append([]float64(nil), start...), nil
			}
		}
	}
	return x, nil
}

// tests returns how many tests a set of readings is put to.
func (p Problem) tests() int {
	n := len(p.Readings)
	for h := range p.Hooks {
		count := 0
		for _, r := range p.Readings {
			if r.From == h {
				count++
			}
		}
		if count > 2 && len(p.Hooks[h]) > 0 {
			n++
		}
	}
	if p.Zero >= 0 {
		n++
	}
	if p.Scale >= 0 {
		n++
	}
	return n
}

// clean tells whether no test is rarer by chance than [FalseAlarm] over all tests.
func (p Problem) clean(s *Solution, freed []bool, tests int) bool {
	rare := FalseAlarm / float64(max(1, tests))
	for _, f := range s.Rows {
		if f.Used && 2*Tail(math.Abs(f.W())) < rare {
			return false
		}
	}
	for _, c := range p.shared(s, freed) { // with as many readings as ways to move those tests are the readings' own
		if len(c.rows) > c.test.Rank && ChiTail(c.test.Drop, c.test.Rank) < rare {
			return false
		}
	}
	return true
}

// finding is the likeliest cause and what is said of it.
type finding struct {
	suspect suspect
	verdict Verdict
}

// explained is the chance below which a cause of several readings does not explain
// what it leaves; but one that leaves no more than bent of chi-square does: derivatives
// were taken where mistakes had moved the answer to.
const (
	explained = 1e-4
	bent      = 1e-3
)

// likeliest chooses among the causes. Which reading is wrong is told by what its
// leaving out explains, and only then how: an exact amount must not draw the blame to
// a neighbour. A cause of several readings must explain all that is wrong.
func (p Problem) likeliest(s *Solution, freed []bool) finding {
	list := p.suspects(s, freed)
	if p.oneCures(s, list, freed) {
		list = only(list, func(c suspect) bool { return c.single() })
	}
	list = only(list, func(c suspect) bool {
		several := c.cause == HookMoved || c.cause == Exchanged || c.cause == HooksExchanged
		return !several || c.chi2 < float64(bent*s.Chi2) || ChiTail(c.chi2, max(1, s.Spare-c.test.Rank)) >= explained
	})
	sort.SliceStable(list, func(i, j int) bool { return list[i].score < list[j].score-1e-9 })
	best := list[0]
	v := Verdict{}
	if best.single() {
		free, second := math.Inf(1), math.Inf(1)
		row := -1
		for _, c := range list {
			if c.cause != Misread {
				continue
			}
			if c.chi2 < free {
				free, second, row = c.chi2, free, c.rows[0]
			} else if c.chi2 < second {
				second = c.chi2
			}
		}
		for _, c := range list { // sorted: its likeliest cause first
			if c.single() && c.rows[0] == row {
				best = c
				break
			}
		}
		if second-free < openLead {
			v.Open = true
			for _, c := range list {
				if c.cause == Misread && c.chi2-free < openLead {
					v.Rows = append(v.Rows, c.rows[0])
				}
			}
			sort.Ints(v.Rows)
		}
	}
	v.Cause, v.Hooks, v.Lead = best.cause, best.hooks, math.Inf(1)
	if !v.Open {
		v.Rows = best.rows
	}
	for _, c := range list {
		if sameSuspect(c, best) {
			continue
		}
		v.Lead, v.Next, v.NextRows, v.NextHooks = c.score-best.score, c.cause, c.rows, c.hooks
		break
	}
	shape := []Shift{}
	switch {
	case best.single():
		shape = one(best.rows[0])
	case best.cause == AllByStart && p.Zero >= 0:
		shape = []Shift{{len(p.Readings) + p.Zero, -1}}
	case best.unknown >= 0:
		shape = best.shapes[0]
	}
	if len(shape) > 0 {
		t := s.Allow([][]Shift{shape})
		v.Amount, v.Sigma = t.Amounts[0], t.Sigmas[0]
	}
	return finding{best, v}
}

// oneCures tells whether leaving out one reading leaves nothing to accuse: then one
// reading is wrong, whatever else would explain it.
func (p Problem) oneCures(s *Solution, list []suspect, freed []bool) bool {
	row, least := -1, math.Inf(1)
	for _, c := range list {
		if c.cause == Misread && c.chi2 < least {
			row, least = c.rows[0], c.chi2
		}
	}
	if row < 0 {
		return false
	}
	used := append([]bool(nil), s.used...)
	used[row] = false
	x := make([]float64, len(s.X)) // rows are straight: Out at unknowns 0
	rows := make([]Row, len(s.rows))
	for i, r := range s.rows {
		rows[i] = Row{Terms: r.Terms, Out: s.Rows[i].Left + dot(r.Terms, s.X), Sigma: r.Sigma}
	}
	rest, err := solveRows(p.Unknowns, rows, used, x, nil)
	return err == nil && p.clean(rest, freed, p.tests())
}

// only returns the suspects that a test lets through.
func only(list []suspect, keep func(suspect) bool) []suspect {
	var out []suspect
	for _, c := range list {
		if keep(c) {
			out = append(out, c)
		}
	}
	return out
}

// sameSuspect tells whether two suspects are one: of one cause and the same readings.
func sameSuspect(a, b suspect) bool {
	if a.cause != b.cause || len(a.rows) != len(b.rows) || len(a.hooks) != len(b.hooks) {
		return false
	}
	for i := range a.rows {
		if a.rows[i] != b.rows[i] {
			return false
		}
	}
	for i := range a.hooks {
		if a.hooks[i] != b.hooks[i] {
			return false
		}
	}
	return true
}

// putBack takes back into the answer, one by one, single readings that agree with it
// after all: of several mistakes a good reading may have been left out first.
func (p Problem) putBack(a *Answer, start []float64) {
	if len(a.Verdicts) < 2 {
		return
	}
	limit := TestLimit(a.Tests)
	kept := a.Verdicts[:0:0]
	for _, v := range a.Verdicts {
		if len(v.Rows) == 1 && !v.Open && !a.Used[v.Rows[0]] {
			if f := a.Kept.Rows[v.Rows[0]]; math.Abs(f.Left) < float64(limit*f.Sigma) {
				a.Used[v.Rows[0]] = true
				s, err := p.Solve(a.Used, start)
				if err != nil { // with it there is no answer
					a.Used[v.Rows[0]] = false
					kept = append(kept, v)
					continue
				}
				a.Kept = s
				continue
			}
		}
		kept = append(kept, v)
	}
	a.Verdicts = kept
}
