package reading

import (
	"slices"

	"maskloft/layouts"
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
//	    - {id: fuel, block: [FUEL, 18 GAL], where: {fs: 130, wl: 62}}
func (r *layoutReader) stencils(v value) []layouts.MarkingSpec {
	if !v.Written() {
		return nil
	}
	f := v.block("stencils")
	shared := map[string][]entry{}
	for _, key := range []string{"figure", "where"} {
		if at := f.at(key); at.Written() {
			shared[key], _ = at.entries()
		}
	}
	list := f.at("list")
	var out []layouts.MarkingSpec
	for _, item := range list.items("stencil") {
		g := item.block("stencil")
		if !item.IsBlock() {
			continue
		}
		figure, where := shared["figure"], shared["where"]
		if block := g.at("block"); !block.IsList() || block.Len() < 2 { // what only lines have
			figure = slices.DeleteFunc(slices.Clone(figure), func(e entry) bool { return e.key.Name == "align" || e.key.Name == "leading" })
		}
		var marking []entry
		for _, key := range []string{"true", "handed", "colours", "evidence"} {
			if at := f.at(key); at.Written() {
				marking = append(marking, entry{keyAt(at, key), at})
			}
		}
		own, _ := item.entries()
		for _, e := range own {
			switch {
			case e.key.Name == "where":
				over, _ := e.value.entries()
				where = append(where[:len(where):len(where)], over...)
			case blocks().of("figure").has(e.key.Name) && blocks().of("stencil").has(e.key.Name):
				figure = append(figure[:len(figure):len(figure)], e)
			case g.at(e.key.Name).Written():
				marking = append(marking, e)
			}
		}
		marking = append(marking, entry{keyAt(item, "figure"), merged(item, figure...)})
		if len(where) > 0 {
			marking = append(marking, entry{keyAt(item, "where"), merged(item, where...)})
		}
		m := r.marking(merged(item, marking...))
		m.Stencil = true
		out = append(out, m)
	}
	if list.IsList() && len(out) == 0 {
		list.Fail("write "+exampleOf("stencils", "list"), "list is empty")
	}
	return out
}
