package layouts

import (
	"fmt"
	"strings"

	"maskloft/geometry"

	"maskloft/glyphs"
	"maskloft/layouts/document"
)

// SettingSpec says how the characters of a text or a block are set.
type SettingSpec struct {
	Font    *glyphs.Font // where alphabet: names a font file; nil: an alphabet of ratios
	Align   glyphs.Align
	Leading geometry.Length // 0: the usual
	Fit     geometry.Length // 0: the text's own width
	Least   *geometry.Length
	Squeeze bool
	Arc     *glyphs.Arc
	Islands glyphs.Bridging // Way is empty where the layout does not say
}

// TextSetting is how a text came to be set: what the findings, the proof and the
// dossier say of it.
type TextSetting struct {
	Lettering glyphs.Lettering // as painted on the left side, bridges cut through; see [TextFigure] for its origin
	Bridged   *glyphs.Bridged  // nil where the layout says nothing of islands
	Way       glyphs.IslandWay
	Width     geometry.Length // of a tie or bridge
	Licence   *glyphs.Licence // nil for an alphabet of ratios
}

// setText builds the drawing of a text or a block.
func setText(f FigureSpec) (Figure, error) {
	var face glyphs.Typeface = f.Setting.Font
	t := &TextSetting{Way: f.Setting.Islands.Way, Width: f.Setting.Islands.Width}
	if f.Setting.Font == nil {
		a, err := f.letters()
		if err != nil {
			return Figure{}, err
		}
		face = a
	} else {
		t.Licence = &f.Setting.Font.Licence
	}
	s := f.Setting
	letters, err := glyphs.Set(face, f.Text, f.Height, glyphs.SetOptions{
		Gap: f.Gap, Fit: s.Fit, Least: s.Least, Squeeze: s.Squeeze, Align: s.Align, Leading: s.Leading, Arc: s.Arc,
	})
	if err != nil {
		return Figure{}, err
	}
	if t.Way != "" {
		held, islands, err := letters.HoldIslands(s.Islands)
		if err != nil {
			return Figure{}, fmt.Errorf("islands: %w", err)
		}
		letters, t.Bridged = held, &islands
	}
	t.Lettering = letters
	fig := TextFigure(strings.ReplaceAll(f.Text, "\n", " / "), letters)
	fig.Setting = t
	return fig, nil
}

// textFindings says what a text's setting leaves to look at, at one place of it.
func textFindings(u geometry.Units, m *MarkingSpec, t *TextSetting, at geometry.Position) []Finding {
	if t == nil {
		return nil
	}
	var out []Finding
	say := func(level Level, rule, message, hint, measured, expected, source string) {
		out = append(out, Finding{
			Level: level, Rule: rule, Marking: m.ID, Where: at, Message: m.ID + ": " + message, Hint: hint,
			Measured: measured, Expected: expected, Tolerance: "none", Source: source,
		})
	}
	if t.Lettering.Squeeze != 1 {
		say(Note, "squeezed", fmt.Sprintf("letters and gaps are narrowed to %s of their width; upright strokes are narrower than level ones", percent(t.Lettering.Squeeze)),
			"a larger fit:, a lower height: or none of squeeze: keeps their proportions", percent(t.Lettering.Squeeze), "100 %", "derived")
	}
	if l := t.Licence; l != nil {
		level, hint := Note, "an alphabet of ratios measured on the aircraft is better evidence than a typeface"
		if strings.HasPrefix(l.Embedding, "restricted") {
			level, hint = Warn, "ask the owner of the font before the cut files leave the house"
		}
		say(level, "font-licence", "set in a font file: "+document.ShortenTo(200, l.String()), hint, l.Embedding, "installable", "OpenType specification 1.9, OS/2 fsType and name")
	}
	h := t.Bridged
	if h == nil || h.Islands == 0 {
		return out
	}
	islands := fmt.Sprintf("%s of film", geometry.Counted(h.Islands, "island"))
	switch t.Way {
	case glyphs.IslandsTape:
		say(Note, "islands", islands+": transfer tape holds them in place", "count them when the film is laid", fmt.Sprint(h.Left), fmt.Sprint(h.Islands), "counted")
		return out
	case glyphs.IslandsTies:
		say(Note, "islands", u.Sprintf("%s, held by %s %v wide", islands, geometry.Counted(len(h.Bridges), "tie"), t.Width),
			"cut the ties away once the film is laid, before painting", fmt.Sprint(h.Left), "0", "counted")
	case glyphs.IslandsBridges:
		say(Note, "islands", u.Sprintf("%s, held by %s %v wide that stay in the paint", islands, geometry.Counted(len(h.Bridges), "bridge"), t.Width),
			"", fmt.Sprint(h.Left), "0", "counted")
		if len(m.Evidence) == 0 {
			say(Warn, "bridges-evidence", "bridges interrupt the paint, and no evidence says that the original had them",
				"add evidence: to the marking, or write islands: tape", "none", "evidence of bridges", "common practice, no source")
		}
	}
	if len(h.Unbridged) > 0 {
		level := Note
		if h.Left > 0 {
			level = Warn
		}
		say(level, "islands-unheld", fmt.Sprintf("%s left without a bridge: %s", geometry.Counted(h.Left, "island"), strings.Join(h.Unbridged, "; ")),
			"write a narrower one, run: level, upright or both, or islands: tape", fmt.Sprint(h.Left), "0", "derived")
	}
	if h.Thin {
		say(Warn, "thin-paint", u.Sprintf("strokes are narrower than %v even without bridges", glyphs.SmallestFeature),
			"write a larger height:", "below "+u.Length(glyphs.SmallestFeature, 4), u.Length(glyphs.SmallestFeature, 4), "sign shops' least for weeding, read")
	}
	return out
}

func percent(v float64) string { return geometry.FormatNumber(v*100, 1) + " %" }
