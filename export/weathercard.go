package export

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	g "maskloft/geometry"
	"maskloft/layouts/sprayday"
)

// WeatherCard draws the weather card: the windows with their sources, a table
// of dew points, rows to write readings into, and what was assessed where there
// is anything; temperatures in both scales, that of the units first.
func WeatherCard(paper sheet.Paper, u g.Units, day sprayday.Day) []sheet.Sheet {
	p := sheet.NewPages(paper, "Weather card")
	p.Text(sheet.SetTitle, "Weather card")
	p.Text(sheet.SetSoft, "Read the air and the surface to be sprayed every 30 minutes, before and while it dries. The paint maker's sheet comes first; these windows hold where it says nothing.")
	if len(day.Assessed) > 0 {
		assessed(p, u, day)
	}
	windows(p, u)
	dewTable(p, u)
	readingRows(p, len(day.Assessed) > 0)
	p.Cautions()
	return p.Sheets()
}

// verdictFill colours a verdict; the word stands beside it, for whoever does not
// see the colour.
var verdictFill = map[sprayday.Verdict]string{sprayday.Inside: "#cfe3cf", sprayday.Wait: "#f3e3b5", sprayday.Stop: "#efc4bb"}

func assessed(p *sheet.Pages, u g.Units, day sprayday.Day) {
	p.Heading("Verdict", 0.6)
	box := p.Block(0.42)
	p.Draw(sheet.DrawRect(box, sheet.Ink{Fill: verdictFill[day.Verdict], Stroke: "#1a1a1a", Width: 0.012}))
	p.Draw(sheet.SetTitle.At(verdictWords[day.Verdict], box.Centre().X, box.Centre().Y-sheet.SetTitle.Cap/2, 0.5))
	p.Space(0.06)
	for _, r := range day.Reasons {
		p.Bullet(sheet.SetBody, "–", fmt.Sprintf("%s: %s (%s)", r.Verdict, r.Message, r.Source), 0.14)
	}
	t := sheet.Table{Columns: []sheet.Column{{Head: "time", Share: 1.2, Align: 0}, {Head: "air", Share: 2, Align: 1}, {Head: "humidity", Share: 1.2, Align: 1}, {Head: "surface", Share: 2, Align: 1}, {Head: "dew point", Share: 2.6, Align: 1}, {Head: "surface above it", Share: 2, Align: 1}, {Head: "verdict", Share: 1, Align: 0.5}}}
	for _, a := range day.Assessed {
		at := "-"
		if !a.Reading.At.IsZero() {
			at = a.Reading.At.Format("15:04")
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: at}, {Text: a.Reading.Air.In(u)}, {Text: fmt.Sprintf("%.0f %%", a.Reading.Humidity)}, {Text: a.Reading.Surface.In(u)},
			{Text: fmt.Sprintf("%s ± %.1f C", a.Dew.In(u), a.Within)}, {Text: fmt.Sprintf("%.1f C at worst", a.Gap)}, {Text: string(a.Verdict), Fill: verdictFill[a.Verdict]}})
	}
	p.Space(0.06)
	p.Table(t)
}

var verdictWords = map[sprayday.Verdict]string{sprayday.Inside: "INSIDE THE WINDOWS: the paint maker's sheet and the painter decide", sprayday.Wait: "WAIT: look again in 30 minutes", sprayday.Stop: "STOP: do not spray"}

func windows(p *sheet.Pages, u g.Units) {
	p.Heading("Windows", 1)
	t := sheet.Table{Columns: []sheet.Column{{Head: "window", Share: 3.3, Align: 0}, {Head: "if outside", Share: 0.8, Align: 0.5}, {Head: "source", Share: 4, Align: 0}}}
	for _, w := range sprayday.Windows() {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: w.In(u)}, {Text: string(w.Outside), Fill: verdictFill[w.Outside]}, {Text: w.Source, Set: sheet.SetSoft}})
	}
	p.Table(t)
}

// dewTable prints dew points in the painting range, in both scales.
func dewTable(p *sheet.Pages, u g.Units) {
	scales := []string{"F", "C"}
	say := func(t sprayday.Temperature) []string {
		return []string{fmt.Sprintf("%.0f", t.F()), fmt.Sprintf("%.1f", float64(t))}
	}
	var airs []sprayday.Temperature
	for f := 60.0; f <= 90; f += 5 {
		airs = append(airs, sprayday.Fahrenheit(f))
	}
	if u.Metric() {
		scales = []string{"C", "F"}
		say = func(t sprayday.Temperature) []string {
			return []string{fmt.Sprintf("%.1f", float64(t)), fmt.Sprintf("%.0f", t.F())}
		}
		airs = []sprayday.Temperature{15, 17.5, 20, 22.5, 25, 27.5, 30, 32.5}
	}
	p.Heading("Dew point, "+strings.Join(scales, " / "), 1.2)
	humidities := []float64{40, 50, 55, 60, 65, 70, 75, 80, 90}
	t := sheet.Table{Columns: []sheet.Column{{Head: "air", Share: 1.9, Align: 0}}}
	for _, h := range humidities {
		t.Columns = append(t.Columns, sheet.Column{Head: fmt.Sprintf("%.0f %%", h), Share: 1, Align: 1})
	}
	for _, air := range airs {
		row := []sheet.Cell{{Text: fmt.Sprintf("%s %s / %s %s", say(air)[0], scales[0], say(air)[1], scales[1]), Set: sheet.SetStrong}}
		for _, h := range humidities {
			c := sheet.Cell{Text: strings.Join(say(sprayday.DewPoint(air, h)), " / "), Fill: dewFill(air, h)}
			row = append(row, c)
		}
		t.Rows = append(t.Rows, row)
	}
	p.Table(t)
	p.Space(0.06)
	p.Text(sheet.SetSoft, "Magnus form with the coefficients of Sonntag, 1990 (WMO-No. 8, annex 4.B). Hand instruments are good to about 0.8 C at 20 C and 70 percent: keep the surface that much more than 3 C above the dew point.")
}

// dewFill is the colour of an air temperature and a humidity by the windows, blank where
// none is broken.
func dewFill(air sprayday.Temperature, humidity float64) string {
	fill := ""
	for _, w := range sprayday.Windows() {
		outside := w.Quantity == sprayday.Humidity && !w.Holds(humidity) || w.Quantity == sprayday.Air && !w.Holds(float64(air))
		if outside && fill != verdictFill[sprayday.Stop] {
			fill = verdictFill[w.Outside]
		}
	}
	return fill
}

// readingRows draws empty rows to write into: as many as fill the page, or a few
// where readings were given.
func readingRows(p *sheet.Pages, few bool) {
	p.Heading("Readings", 2)
	t := sheet.Table{Height: 0.3}
	for _, h := range []string{"time", "air", "humidity", "surface", "dew point", "verdict", "pass, coat", "product, batch", "initials"} {
		t.Columns = append(t.Columns, sheet.Column{Head: h, Share: 1})
	}
	n := 6
	if !few {
		n = int(math.Max(6, math.Min(12, (p.Room()-2.2)/t.Height)))
	}
	for range n {
		row := make([]sheet.Cell, len(t.Columns))
		for i := range row {
			row[i].Box = true
		}
		t.Rows = append(t.Rows, row)
	}
	p.Table(t)
}
