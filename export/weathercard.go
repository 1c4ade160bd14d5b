package export

import (
	"fmt"
	"math"

	"maskloft/layouts/sprayday"
)

// WeatherCard draws the spray-day card: the windows with their sources, a table
// of dew points, rows to write readings into, and what was assessed where there
// is anything.
func WeatherCard(paper Paper, day sprayday.Day) []Sheet {
	p := newPages(paper, "Spray-day card")
	p.text(setTitle, "Spray-day card")
	p.text(setSoft, "Read the air and the surface to be sprayed every 30 minutes, before and while it dries. The paint maker's sheet comes first; what stands here holds where it says nothing.")
	if len(day.Assessed) > 0 {
		p.assessed(day)
	}
	p.windows()
	p.dewTable()
	p.readingRows(len(day.Assessed) > 0)
	p.cautions()
	return p.Sheets()
}

// verdictFill colours a verdict; the word stands beside it, for whoever does not
// see the colour.
var verdictFill = map[sprayday.Verdict]string{sprayday.Go: "#cfe3cf", sprayday.Wait: "#f3e3b5", sprayday.Stop: "#efc4bb"}

func (p *pages) assessed(day sprayday.Day) {
	p.heading("Verdict", 0.6)
	box := p.block(0.42)
	p.draw(drawRect(box, Ink{Fill: verdictFill[day.Verdict], Stroke: "#1a1a1a", Width: 0.012}))
	p.draw(setTitle.at(verdictWords[day.Verdict], box.Centre().X, box.Centre().Y-setTitle.cap/2, 0.5))
	p.space(0.06)
	for _, r := range day.Reasons {
		p.bullet(setBody, "–", fmt.Sprintf("%s: %s (%s)", r.Verdict, r.Message, r.Source), 0.14)
	}
	t := table{columns: []column{{"time", 1.2, 0}, {"air", 2, 1}, {"humidity", 1.2, 1}, {"surface", 2, 1}, {"dew point", 2.6, 1}, {"surface above it", 2, 1}, {"verdict", 1, 0.5}}}
	for _, a := range day.Assessed {
		at := "-"
		if !a.Reading.At.IsZero() {
			at = a.Reading.At.Format("15:04")
		}
		t.rows = append(t.rows, []cell{{text: at}, {text: a.Reading.Air.String()}, {text: fmt.Sprintf("%.0f %%", a.Reading.Humidity)}, {text: a.Reading.Surface.String()},
			{text: fmt.Sprintf("%v ± %.1f C", a.Dew, a.Within)}, {text: fmt.Sprintf("%.1f C at worst", a.Gap)}, {text: string(a.Verdict), fill: verdictFill[a.Verdict]}})
	}
	p.space(0.06)
	p.table(t)
}

var verdictWords = map[sprayday.Verdict]string{sprayday.Go: "GO", sprayday.Wait: "WAIT: look again in 30 minutes", sprayday.Stop: "STOP: do not spray"}

func (p *pages) windows() {
	p.heading("Windows", 1)
	t := table{columns: []column{{"what", 3.4, 0}, {"outside", 0.7, 0.5}, {"source", 4, 0}}}
	for _, w := range sprayday.Windows() {
		t.rows = append(t.rows, []cell{{text: w.Text()}, {text: string(w.Outside), fill: verdictFill[w.Outside]}, {text: w.Source, set: setSoft}})
	}
	p.table(t)
}

// dewTable prints dew points in the painting range, in both scales.
func (p *pages) dewTable() {
	p.heading("Dew point, F / C", 1.2)
	humidities := []float64{40, 50, 55, 60, 65, 70, 75, 80, 90}
	t := table{columns: []column{{"air", 1.9, 0}}}
	for _, h := range humidities {
		t.columns = append(t.columns, column{fmt.Sprintf("%.0f %%", h), 1, 1})
	}
	for f := 60.0; f <= 90; f += 5 {
		row := []cell{{text: fmt.Sprintf("%.0f F / %.1f C", f, float64(sprayday.Fahrenheit(f))), set: setStrong}}
		for _, h := range humidities {
			d := sprayday.DewPoint(sprayday.Fahrenheit(f), h)
			c := cell{text: fmt.Sprintf("%.0f / %.1f", d.F(), float64(d))}
			c.fill = dewFill(h)
			row = append(row, c)
		}
		t.rows = append(t.rows, row)
	}
	p.table(t)
	p.space(0.06)
	p.text(setSoft, "Magnus form with the coefficients of Sonntag, 1990 (WMO-No. 8, annex 4.B). Hand instruments leave about 0.8 C open at 20 C and 70 percent: take the surface 3 C above the dew point and that much more.")
}

// dewFill is the colour of a humidity by the windows, blank where none is broken.
func dewFill(humidity float64) string {
	fill := ""
	for _, w := range sprayday.Windows() {
		if w.Quantity == sprayday.Humidity && humidity > w.High && fill != verdictFill[sprayday.Stop] {
			fill = verdictFill[w.Outside]
		}
	}
	return fill
}

// readingRows draws empty rows to write into: as many as fill the page, or a few
// where readings were given.
func (p *pages) readingRows(few bool) {
	p.heading("Readings", 2)
	t := table{height: 0.3}
	for _, h := range []string{"time", "air", "humidity", "surface", "dew point", "surface above", "go, wait, stop", "initials"} {
		t.columns = append(t.columns, column{head: h, share: 1})
	}
	n := 6
	if !few {
		n = int(math.Max(6, math.Min(12, (p.room()-2.2)/t.height)))
	}
	for range n {
		row := make([]cell, len(t.columns))
		for i := range row {
			row[i].box = true
		}
		t.rows = append(t.rows, row)
	}
	p.table(t)
}
