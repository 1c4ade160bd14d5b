package sprayday

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// Day is a row of readings with its verdict.
type Day struct {
	Assessed []Assessment // in order of time
	Trend    *Trend       // nil where fewer than three readings were given
	Verdict  Verdict
	Reasons  []Reason // of the last reading and of the trend
}

// Trend is the change an hour, by Theil and Sen: the median of the slopes of all
// pairs, which one wrong reading does not turn (H. Theil, 1950; P. K. Sen, 1968;
// from memory).
type Trend struct {
	Air, Humidity, Surface float64 // C, percent and C an hour
	Ahead                  Assessment
}

// DryTime is how long a coat of dope takes before the next, at 70 F: two hours
// between clear coats (AC 43.13-1B paragraph 2-20, read in a copy).
const DryTime = 2 * time.Hour

// AssessDay holds a row of readings against the windows; what the trend makes of the
// air within dry counts as well. Readings are put in order of time.
func AssessDay(readings []Reading, s Sensors, windows []Window, dry time.Duration) Day {
	rows := slices.Clone(readings)
	slices.SortStableFunc(rows, func(a, b Reading) int { return a.At.Compare(b.At) })
	d := Day{Verdict: Inside}
	for _, r := range rows {
		d.Assessed = append(d.Assessed, Assess(r, s, windows))
	}
	if len(d.Assessed) == 0 {
		return d
	}
	last := d.Assessed[len(d.Assessed)-1]
	d.Verdict, d.Reasons = last.Verdict, slices.Clone(last.Reasons)
	if d.Trend = trendOf(rows, s, windows, dry); d.Trend == nil {
		return d
	}
	for _, r := range d.Trend.Ahead.Reasons {
		if !slices.ContainsFunc(last.Reasons, func(q Reason) bool { return q.Source == r.Source }) {
			d.Verdict = worse(d.Verdict, r.Verdict)
			d.Reasons = append(d.Reasons, Reason{Verdict: r.Verdict, Source: r.Source, Forecast: true,
				Message: fmt.Sprintf("by the trend, %s from the last reading: %s", hours(dry), r.Message)})
		}
	}
	return d
}

// trendOf returns the trend of three readings or more at different times.
func trendOf(rows []Reading, s Sensors, windows []Window, dry time.Duration) *Trend {
	if len(rows) < 3 || !rows[len(rows)-1].At.After(rows[0].At) {
		return nil
	}
	slope := func(of func(Reading) float64) float64 {
		var all []float64
		for i, a := range rows {
			for _, b := range rows[i+1:] {
				if h := b.At.Sub(a.At).Hours(); h > 0 {
					all = append(all, (of(b)-of(a))/h)
				}
			}
		}
		slices.Sort(all)
		n := len(all)
		return (all[(n-1)/2] + all[n/2]) / 2
	}
	t := &Trend{
		Air:      slope(func(r Reading) float64 { return float64(r.Air) }),
		Humidity: slope(func(r Reading) float64 { return r.Humidity }),
		Surface:  slope(func(r Reading) float64 { return float64(r.Surface) }),
	}
	last, h := rows[len(rows)-1], dry.Hours()
	t.Ahead = Assess(Reading{
		At: last.At.Add(dry), Air: last.Air + Temperature(t.Air*h), Surface: last.Surface + Temperature(t.Surface*h),
		Humidity: math.Max(1, math.Min(100, last.Humidity+float64(t.Humidity*h))),
	}, s, windows)
	return t
}

// hours writes a duration in hours and minutes.
func hours(d time.Duration) string {
	h, m := int(d.Hours()), int(math.Round(d.Minutes()))%60
	switch {
	case m == 0:
		return fmt.Sprintf("%d h", h)
	case h == 0:
		return fmt.Sprintf("%d min", m)
	}
	return fmt.Sprintf("%d h %d min", h, m)
}
