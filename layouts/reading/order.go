package reading

import "maskloft/layouts/document"

// order are the keys of the blocks that a marking or the head of a layout is made of,
// as people write them: a key that an edit adds goes to its place among them.
var order = map[string][]string{
	"":        {"name", "job", "units", "aircraft", "rules", "film", "paint", "evidence", "tape", "sheets", "stencils", "markings", "photos"},
	"marking": {"id", "figure", "where", "true", "handed", "colours", "evidence", "explains"},
	"where":   {"surface", "side", "face", "fs", "wl", "bl", "from", "between", "hold", "align", "angle", "baseline"},
	"film":    {"web", "margin", "field", "longest", "strain", "seam", "overlap", "waste-overlap", "grain"},
	"paint":   {"way", "trap", "skirt", "coats", "coverage", "under", "skin", "order", "colours"},
	"rules":   {"date", "nation", "edge"},
}

// orderOf returns the order of the block at a path.
func orderOf(block document.Path) []string {
	switch {
	case len(block) == 0:
		return order[""]
	case block[len(block)-1].Key == "":
		return order["marking"]
	}
	return order[block[len(block)-1].Key]
}

// Document parses the text of a layout for edits; ok is false when it is no YAML, and
// the document then says why.
func Document(name string, text []byte) (doc *document.Document, ok bool) {
	form := layoutForm
	form.Order = orderOf
	doc, _, ok = document.Parse(name, text, form)
	return doc, ok
}
