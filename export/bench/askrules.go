package bench

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"maskloft/export/drawing"
	"maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/proportions"
	"maskloft/layouts/standards"
)

// askRule returns the figure of a rule, to look at, in its own colours by name.
func askRule(b *Bench, _ context.Context, q Request, _ func(Answer)) (any, error) {
	rule, err := standards.Find(q.Rule)
	if err != nil {
		return nil, missingError{err.Error()}
	}
	size := rule.OwnSize()
	if q.Size != "" {
		l, err := geometry.ParseLength(q.Size, 0)
		if err != nil || !(l > 0) {
			return nil, askError{fmt.Sprintf("size: %q is no length above 0: write it with its unit, such as 20 in", q.Size)}
		}
		size = l.Inches()
	}
	out := RuleFigure{ID: q.Rule, Name: rule.Name, Size: round6(size), Regions: []Region{}}
	fig, err := layouts.InsigniaFigure(rule, geometry.Length(size), nil)
	if err == nil && len(fig.Layers) > 0 {
		var regions []layouts.Region
		if regions, err = fig.Regions(); err == nil {
			out.Bounds = boxOf(fig.Bounds())
			for _, r := range regions {
				out.Regions = append(out.Regions, Region{r.Colour, b.hexOfRole(r.Colour), pathData(r.Outline)})
			}
		}
	}
	if err != nil {
		out.Why = err.Error()
	} else if len(out.Regions) == 0 {
		out.Why = strings.TrimSpace("it is described in words: " + rule.NotDrawn)
	}
	return out, nil
}

// hexOfRole is the colour of a role where the layout has a paint of its name; else grey
// by what the name says.
func (b *Bench) hexOfRole(role string) string {
	name := strings.ReplaceAll(role, "_", "-")
	if j, err := b.job(); err == nil {
		for _, c := range j.Spec.Paint.Colours {
			if (c.ID == role || c.ID == name) && c.Hex != "" {
				return strings.ToLower(c.Hex)
			}
		}
	}
	for _, c := range []struct{ word, hex string }{
		{"white", "#f4f4f0"}, {"blue", "#1d3f7a"}, {"red", "#b3202a"}, {"yellow", "#e8b81f"}, {"green", "#2f6b3c"},
		{"black", "#1b1b1b"}, {"orange", "#d96a1d"}, {"grey", "#8a8f92"}, {"gray", "#8a8f92"}, {"silver", "#c4c9cb"},
	} {
		if strings.Contains(role, c.word) {
			return c.hex
		}
	}
	return "#9aa0a3"
}

// askAlphabets sets a text in every alphabet, 10 in high.
func askAlphabets(_ *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	text := ""
	if q.Text != nil {
		text = *q.Text
	}
	const longest, height = 64, 10.0
	if n := len([]rune(text)); n == 0 || n > longest {
		return nil, askError{fmt.Sprintf("text: it has %d characters, must have 1 to %d", n, longest)}
	}
	out := Alphabets{Alphabets: []RuleFigure{}}
	for _, name := range glyphs.Names() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		a, err := glyphs.Load(name)
		if err != nil {
			return nil, err
		}
		one := RuleFigure{ID: name, Name: a.Title, Size: height, Regions: []Region{}}
		run, err := glyphs.Set(a, text, geometry.Length(height), glyphs.SetOptions{})
		if err != nil {
			one.Why = err.Error()
		} else {
			outline := run.Outline()
			one.Bounds = boxOf(outline.Bounds())
			one.Regions = append(one.Regions, Region{"text", "#1b1b1b", pathData(outline)})
		}
		out.Alphabets = append(out.Alphabets, one)
	}
	return out, nil
}

// askDrawing reads a drawing that was dropped on the page, and says which rules it fits;
// with To "keep" it stands beside the layout afterwards, under a name that was free.
func askDrawing(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	format, ok := map[string]drawing.Format{".svg": drawing.SVG, ".pdf": drawing.PDF, ".dxf": drawing.DXF}[strings.ToLower(path.Ext(q.Name))]
	if !ok {
		return nil, askError{fmt.Sprintf("%q: a drawing is a file .svg, .pdf or .dxf", q.Name)}
	}
	shown, err := drawing.ReadShown(q.Data, format)
	if err != nil {
		return nil, codedError{CodeRefused, q.Name + ": " + err.Error(), ""}
	}
	out := Drawing{Pages: []DrawingPage{}}
	page := DrawingPage{Name: q.Name, Regions: []Region{}, Recognised: []Recognised{}}
	var all geometry.Path
	var drawn []proportions.Drawn
	for _, s := range shown {
		all = append(all, s.Outline...)
		key := s.Colour
		if key == "" {
			key = s.Group
		}
		page.Regions = append(page.Regions, Region{key, s.Colour, pathData(s.Outline)})
		drawn = append(drawn, proportions.Drawn{Path: s.Outline, Fill: s.Colour})
	}
	box := all.Bounds()
	page.Bounds, page.Width, page.Height = boxOf(box), round6(box.Width()), round6(box.Height())
	if ctx.Err() == nil {
		list, _, err := proportions.Rank(drawn, proportions.Options{Until: ctx})
		if err != nil {
			return nil, err
		}
		for _, c := range list {
			says := "all conforms"
			if !c.Sound {
				says = geometry.Counted(c.Number, "dimension") + " deviate"
				if c.Number == 1 {
					says = "1 dimension deviates"
				}
			}
			page.Recognised = append(page.Recognised, Recognised{c.Rule.Document.ID + "/" + strings.TrimPrefix(c.Rule.ID, c.Rule.Document.Family+"/"), c.Rule.Name, round6(2 * c.Radius.Inches()), says})
		}
	}
	out.Pages = append(out.Pages, page)
	if q.To == "keep" {
		if b.Keep == nil {
			return nil, missingError{"there is no folder behind this page"}
		}
		out.File, err = keepNew(b.Keep, q.Name, q.Data)
	}
	return out, err
}

// keepNew keeps a file under its name, or the first of name-2, name-3 and so on that is
// free.
func keepNew(keep func(string, []byte) error, name string, data []byte) (string, error) {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	if err := plain(name); err != nil {
		return "", askError{err.Error()}
	}
	ext := path.Ext(name)
	stem := strings.TrimSuffix(name, ext)
	for n := 1; n < 1000; n++ {
		if n > 1 {
			name = fmt.Sprintf("%s-%d%s", stem, n, ext)
		}
		if err := keep(name, data); !errors.Is(err, fs.ErrExist) {
			return name, err
		}
	}
	return "", askError{stem + ": a thousand files are called so"}
}
