package main

import (
	"bytes"
	"fmt"
	"strings"
	"sync"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// viewWords are the views that can be asked for, in the order of the document.
var viewWords = []string{"left", "right", "fin", "above", "below"}

// viewDots are the pixels to the inch of the views of a pack.
const viewDots = 100

// viewChoice is what to draw of the aircraft, and how.
type viewChoice struct {
	views []string // of viewWords; nil: all there are
	dots  float64  // pixels to the inch
	fins  bool     // a PNG of the fin as well, which the sides show smaller
	paper sheet.Paper
	with  views.ViewOptions
}

// aircraftView is one view: the name of its files, and its sheet with given options.
type aircraftView struct {
	word, name string
	draw       func(views.ViewOptions) sheet.Sheet
	shows      func(layouts.Placement) bool // a marking
}

// id is what the view is called in the job book: left, right, upper or lower.
func (v aircraftView) id() string { return v.name[strings.LastIndex(v.name, "-")+1:] }

// aircraftViews returns the views there are of a layout: the sides, the fin and rudder
// where there is more beside them, and the wings where there are any.
func aircraftViews(l *layouts.Layout, laid []masks.Laid) []aircraftView {
	var out []aircraftView
	sides, wings := views.Shows(l)
	both := []geometry.Side{geometry.Left, geometry.Right}
	seen := func(side geometry.Side) func(layouts.Placement) bool {
		return func(p layouts.Placement) bool { return p.Side == side && p.Face() == layouts.NoFace }
	}
	for _, side := range both {
		if sides {
			out = append(out, aircraftView{side.String(), "side-view-" + side.String(),
				func(o views.ViewOptions) sheet.Sheet { return views.SideView(l, laid, side, o) }, seen(side)})
		}
	}
	for _, side := range both {
		if views.ShowsFin(l) {
			out = append(out, aircraftView{"fin", "fin-and-rudder-" + side.String(),
				func(o views.ViewOptions) sheet.Sheet { return views.FinView(l, laid, side, o) }, seen(side)})
		}
	}
	for _, f := range []struct {
		word string
		face layouts.Face
	}{{"above", layouts.UpperFace}, {"below", layouts.LowerFace}} {
		if wings {
			out = append(out, aircraftView{f.word, "plan-view-" + string(f.face),
				func(o views.ViewOptions) sheet.Sheet { return views.PlanView(l, laid, f.face, o) }, func(p layouts.Placement) bool { return p.Face() == f.face }})
		}
	}
	return out
}

// chosen returns the views asked for.
//
// Errors: a view that the aircraft does not have; parked where no ground line is
// given, or of a wing.
func (c viewChoice) chosen(l *layouts.Layout, laid []masks.Laid) ([]aircraftView, error) {
	all := aircraftViews(l, laid)
	var out []aircraftView
	for _, word := range c.views {
		n := len(out)
		for _, v := range all {
			if v.word == word {
				out = append(out, v)
			}
		}
		if len(out) == n {
			return nil, fmt.Errorf("--view %s: %s", word, lacking[word])
		}
	}
	if c.views == nil {
		out = all
	}
	if !c.with.Parked {
		return out, nil
	}
	if _, ok := l.Airframe.GroundAngle(); !ok {
		return nil, fmt.Errorf("--parked: the layout's aircraft has no ground line: give `ground:` with the contacts of the main and the tail wheel")
	}
	var turned []aircraftView
	for _, v := range out {
		switch {
		case v.word != "above" && v.word != "below":
			turned = append(turned, v)
		case c.views != nil:
			return nil, fmt.Errorf("--parked: the view from %s is drawn level: ask for left, right or fin", v.word)
		}
	}
	return turned, nil
}

// lacking says why an aircraft has no such view.
var lacking = map[string]string{
	"left":  "the aircraft has nothing to be seen from the side",
	"right": "the aircraft has nothing to be seen from the side",
	"fin":   "the aircraft has no fin or rudder beside a body: its side views show all there is",
	"above": "the aircraft has no wings",
	"below": "the aircraft has no wings",
}

// parseViews reads the views asked for; none is all.
func parseViews(words []string) ([]string, error) {
	for _, w := range words {
		if _, ok := lacking[w]; !ok {
			return nil, fmt.Errorf("--view %q is unknown: write some of %s, with commas between", w, strings.Join(viewWords, ", "))
		}
	}
	if len(words) == 0 {
		return nil, nil
	}
	return words, nil
}

// pictures draws views, each as SVG and as PNG, and all of them as one document on
// paper.
func pictures(views []aircraftView, c viewChoice) []part {
	var parts []part
	for _, v := range views {
		page := sync.OnceValue(func() sheet.Sheet { return v.draw(c.with) })
		if v.word != "fin" || c.fins {
			parts = append(parts, one(func() (packFile, error) {
				var img bytes.Buffer
				err := sheet.WritePNG(&img, page(), c.dots)
				return packFile{v.name + ".png", img.Bytes()}, err
			}))
		}
		parts = append(parts, one(func() (packFile, error) { return picture(v.name+".svg", page()) }))
	}
	return append(parts, one(func() (packFile, error) {
		with := c.with
		with.Paper = &c.paper
		var sheets []sheet.Sheet
		for _, v := range views {
			sheets = append(sheets, v.draw(with))
		}
		return document("side-view.pdf", "Views of the aircraft", sheets)
	}))
}
