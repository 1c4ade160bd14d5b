package reading

import (
	"encoding/json"
	"fmt"
	"strings"
)

// SchemaVersion is the form of the schema: JSON Schema, draft 2020-12.
const SchemaVersion = "https://json-schema.org/draft/2020-12/schema"

// Schema returns the JSON Schema of a layout file, for editors; "$defs/the-aircraft" in
// it is that of an aircraft file. It is made of the table that the reader itself uses. It
// knows keys, words and what must be there, not the rules between keys.
func Schema() ([]byte, error) {
	defs := map[string]any{}
	for _, b := range Blocks() {
		defs[schemaName(b.ID)] = b.schema()
		defs[schemaName("part of "+b.ID)] = b.part()
	}
	used := map[string]bool{"the-layout": true, "the-aircraft": true}
	for grew := true; grew; {
		grew = false
		for name := range used {
			text, err := json.Marshal(defs[name])
			if err != nil {
				return nil, err
			}
			for other := range defs {
				if !used[other] && strings.Contains(string(text), `"#/$defs/`+other+`"`) {
					used[other], grew = true, true
				}
			}
		}
	}
	for name := range defs {
		if !used[name] {
			delete(defs, name)
		}
	}
	return json.MarshalIndent(map[string]any{
		"$schema": SchemaVersion, "title": "maskloft layout", "$ref": "#/$defs/the-layout", "$defs": defs,
	}, "", "  ")
}

func schemaName(id string) string { return strings.ReplaceAll(id, " ", "-") }

// schema is the schema of a block; of one that has kinds, of any of them.
func (b Block) schema() any {
	if kinds := blocks().kinds(b.ID); len(kinds) > 0 && b.kindsStandForIt() {
		var any1 []any
		for _, k := range kinds {
			if k.ID != "stencil" {
				any1 = append(any1, refTo(k.ID))
			}
		}
		return map[string]any{"description": b.Means, "anyOf": any1}
	}
	properties, required := map[string]any{}, []string{}
	for _, k := range b.Keys {
		p := k.schema()
		if key, word, ok := strings.Cut(b.When, "="); ok && key == k.Name {
			p["const"] = word
		}
		properties[k.Name] = p
		if k.Need == Needed {
			required = append(required, k.Name)
		}
	}
	return map[string]any{"description": b.Means, "type": "object", "additionalProperties": false, "properties": properties, "required": required}
}

// part is the schema of some keys of a block.
func (b Block) part() any {
	properties := map[string]any{}
	for _, k := range b.Keys {
		properties[k.Name] = k.schema()
	}
	return map[string]any{"description": b.Means, "type": "object", "additionalProperties": false, "properties": properties}
}

// kindsStandForIt tells whether a block is always one of its kinds.
func (b Block) kindsStandForIt() bool { return b.ID != "obstacle of a wing" }

func (k Key) schema() map[string]any {
	s := typeSchema(k.Type)
	says := k.Means
	if k.Usual != "" {
		says += "; " + k.Usual + " where not given"
	}
	s["description"] = says
	if k.Example != "" {
		s["examples"] = []string{k.Example}
	}
	return s
}

func refTo(id string) map[string]any { return map[string]any{"$ref": "#/$defs/" + schemaName(id)} }

// typeSchema is the schema of a type of the table.
func typeSchema(t string) map[string]any {
	if strings.HasPrefix(t, "list of ") {
		return map[string]any{"type": "array", "items": typeSchema(strings.TrimPrefix(t, "list of "))}
	}
	if first, rest, ok := strings.Cut(t, " or "); ok {
		return map[string]any{"anyOf": []any{typeSchema(first), typeSchema(rest)}}
	}
	kind, of, _ := strings.Cut(t, " ")
	number := func(n int) map[string]any {
		return map[string]any{"type": "array", "items": typeSchema(strings.TrimPrefix(of, "of ")), "minItems": n, "maxItems": n}
	}
	switch kind {
	case "block":
		return refTo(of)
	case "part":
		return refTo("part " + of)
	case "keys":
		return map[string]any{"type": "object", "additionalProperties": typeSchema(strings.TrimPrefix(of, "to "))}
	case "pair":
		return number(2)
	case "three":
		return number(3)
	case "one":
		var words []any
		for _, w := range strings.Fields(strings.TrimPrefix(of, "of ")) {
			words = append(words, w)
			if w == "yes" { // which some editors read as true
				words = append(words, true, false)
			}
		}
		return map[string]any{"enum": words}
	case "yes-no":
		return map[string]any{"enum": []any{"yes", "no", "true", "false", true, false}}
	case "true-false":
		return map[string]any{"enum": []any{"true", "false", true, false}}
	case "whole":
		return map[string]any{"type": "integer"}
	case "number", "share":
		return map[string]any{"type": "number"}
	case "percent", "coverage", "pixels", "hex", "file":
		return map[string]any{"type": "string"}
	case "text", "id", "length", "position", "angle", "date", "paint", "evidence", "surface", "hardpoint", "line", "rule":
		return map[string]any{"type": []string{"string", "number"}}
	}
	panic(fmt.Sprintf("reading: keys.txt has the type %q", t))
}
