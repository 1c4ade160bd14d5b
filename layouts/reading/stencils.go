package reading

import (
	"slices"
	"strings"

	"maskloft/layouts"
)

// Keys of stencils: what all of them share, and what each says for itself.
const (
	stencilFigure = "text block alphabet height " + blockKeys
	stencilShared = "figure where true handed colours evidence"
)

// stencils reads data stencils: many small markings that share their lettering,
// paint and surface, and differ in words and place. Each becomes a marking; what
// an item says goes over what all of them share.
//
//	stencils:
//	  figure: {alphabet: block-6x4, height: 1/2 in, align: centre}
//	  where: {surface: fuselage, side: both}
//	  colours: {text: black}
//	  list:
//	    - {id: fuel, block: [FUEL, 18 GAL], where: {fs: 66, wl: 84}}
func (r *layoutReader) stencils(v value) []layouts.MarkingSpec {
	if !v.written() {
		return nil
	}
	f := v.fields("stencils", "list", stencilShared)
	shared := map[string][]entry{}
	for _, key := range []string{"figure", "where"} {
		if at := f.at(key); at.written() {
			shared[key], _ = at.entries()
		}
	}
	list := f.at("list")
	var out []layouts.MarkingSpec
	for _, item := range list.items("stencil") {
		g := item.fields("stencil", "id", stencilFigure+" where true handed colours evidence")
		if !item.isBlock() {
			continue
		}
		figure, where := shared["figure"], shared["where"]
		if block := g.at("block"); !block.isList() || len(block.node.Content) < 2 { // what only lines have
			figure = slices.DeleteFunc(slices.Clone(figure), func(e entry) bool { return e.key.name == "align" || e.key.name == "leading" })
		}
		var marking []entry
		for _, key := range []string{"true", "handed", "colours", "evidence"} {
			if at := f.at(key); at.written() {
				marking = append(marking, entry{keyNode(at, key), at})
			}
		}
		own, _ := item.entries()
		for _, e := range own {
			switch {
			case e.key.name == "where":
				over, _ := e.value.entries()
				where = append(where[:len(where):len(where)], over...)
			case strings.Contains(" "+stencilFigure+" ", " "+e.key.name+" "):
				figure = append(figure[:len(figure):len(figure)], e)
			case g.at(e.key.name).written():
				marking = append(marking, e)
			}
		}
		marking = append(marking, entry{keyNode(item, "figure"), mapping(item, figure...)})
		if len(where) > 0 {
			marking = append(marking, entry{keyNode(item, "where"), mapping(item, where...)})
		}
		out = append(out, r.marking(mapping(item, marking...)))
	}
	if list.isList() && len(out) == 0 {
		list.fail("write "+exampleOf("stencils", "list"), "list is empty")
	}
	return out
}
