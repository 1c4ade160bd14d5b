package document

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
)

// spot is how far a path leads: the values from the root down to the last that is
// there, and the keys that are not.
type spot struct {
	nodes []*yaml.Node
	index []int // of nodes[i+1] in nodes[i].Content
	rest  Path
}

func (s spot) node() *yaml.Node { return s.nodes[len(s.nodes)-1] }

// up is the spot of what holds the value.
func (s spot) up() spot {
	n := len(s.nodes) - 1
	return spot{nodes: s.nodes[:n], index: s.index[:n-1]}
}

// last is the index of the value in what holds it.
func (s spot) last() int { return s.index[len(s.index)-1] }

func (s spot) parent() *yaml.Node { return s.nodes[len(s.nodes)-2] }

// Value returns the value at a path; ok is false where there is none.
func (d *Document) Value(path Path) (v Value, ok bool) {
	at, err := d.locate(path)
	if err != nil || len(at.rest) > 0 {
		return Value{}, false
	}
	return Value{Doc: d, node: at.node(), Name: path.String()}, true
}

// Span returns the bytes, from..to, of the value at a path; ok is false where there
// is none.
func (d *Document) Span(path Path) (from, to int, ok bool) {
	v, ok := d.Value(path)
	if !ok {
		return 0, 0, false
	}
	s := d.spansOf()
	return s.start(v.node), s.end(v.node), true
}

// locate follows a path. Keys may be missing at its end; an item that is not there
// is an error.
func (d *Document) locate(path Path) (spot, error) {
	if !d.parsed {
		return spot{}, d.Problems()
	}
	if len(d.extras) > 0 {
		return spot{}, d.extras
	}
	at := spot{nodes: []*yaml.Node{d.root}}
	for i, step := range path {
		n, here := at.node(), path[:i]
		next := -1
		switch {
		case step.Item == 0 && step.ID == "":
			if isEmpty(n) && i > 0 {
				at.rest = path[i:]
				return at, d.onlyKeys(n, at.rest)
			}
			if n.Kind != yaml.MappingNode {
				return spot{}, d.refuse(n, "write a path that ends here, or one of its items", "%s is %s and has no key %s", nameOf(here), kindOf(n), step.Key)
			}
			for k := 0; k+1 < len(n.Content); k += 2 {
				if n.Content[k].Kind == yaml.ScalarNode && n.Content[k].Value == step.Key {
					next = k + 1
					break
				}
			}
			if next < 0 {
				at.rest = path[i:]
				return at, d.onlyKeys(n, at.rest)
			}
		case n.Kind != yaml.SequenceNode:
			return spot{}, d.refuse(n, "write a key of it: "+here.Key("fs").String(), "%s is %s and has no items", nameOf(here), kindOf(n))
		case step.Item > 0:
			if next = step.Item - 1; next >= len(n.Content) {
				return spot{}, d.refuse(n, fmt.Sprintf("write a number from 1 to %d", len(n.Content)), "%s has %d items and no item %d", nameOf(here), len(n.Content), step.Item)
			}
		default:
			var ids []string
			for k, item := range n.Content {
				if id := itemID(item); id != nil {
					ids = append(ids, id.Value)
					if id.Value == step.ID && next < 0 {
						next = k
					}
				}
			}
			if next < 0 {
				hint := "its items: " + strings.Join(ids, ", ")
				if len(ids) == 0 {
					hint = "name an item by its number: " + here.Item(1).String()
				} else if near := d.Nearest(step.ID, ids); near != "" {
					hint = "did you mean " + here.ID(near).String() + "?"
				}
				return spot{}, d.refuse(n, hint, "%s has no item %q", nameOf(here), Shorten(step.ID))
			}
		}
		at.nodes, at.index = append(at.nodes, n.Content[next]), append(at.index, next)
	}
	return at, nil
}

// onlyKeys refuses items of a list that is not there.
func (d *Document) onlyKeys(n *yaml.Node, rest Path) error {
	for _, s := range rest {
		if s.Key == "" {
			return d.refuse(n, "add the list first", "there is no list yet for %s", rest)
		}
	}
	return nil
}

// itemID is the value of the key id of an item, nil where it has none.
func itemID(item *yaml.Node) *yaml.Node {
	if item.Kind == yaml.MappingNode {
		for k := 0; k+1 < len(item.Content); k += 2 {
			if v := item.Content[k+1]; item.Content[k].Value == "id" && v.Kind == yaml.ScalarNode {
				return v
			}
		}
	}
	return nil
}

func nameOf(p Path) string {
	if len(p) == 0 {
		return "the file"
	}
	return p.String()
}

// refuse is the problem of a change that cannot be made, at the place of a value.
func (d *Document) refuse(n *yaml.Node, hint, format string, args ...any) error {
	at := d.placeOf(n)
	return Problem{Place: at, Message: fmt.Sprintf(format, args...), Excerpt: d.line(at.Line), Hint: hint}
}
