// Package document reads YAML files strictly, and changes single values in them
// while every other byte stays.
//
// # Reading
//
// [Parse] returns the root [Value] of a file. A reader walks from there with
// [Value.Fields], [Value.Items] and [Value.Entries]. A mistake does not end the
// walk: it is kept as a [Problem] with file, line, column, the source line, a caret
// and what to type, and the value reads as empty. [Document.Problems] returns all of
// them in the order of the file.
//
// The text of a value is kept as it was written: 0417, 1_000, 12.50 and yes are
// texts. What hides the meaning of a file is refused: anchors, aliases, merge keys,
// tags, a key written twice, a second document.
//
//	doc, root, ok := document.Parse("mine.yaml", data, document.Form{Kind: "layout"})
//	if !ok {
//		return doc.Problems()
//	}
//	f := root.Fields("the layout", "name", "units film")
//	name := f.At("name").Text()
//
// Files whose form Go structs say are read by [Value.Into]: a key for a field.
//
// # Changing
//
// A [Path] names one value: markings[insignia].where.fs is the key fs of the key
// where of the item of the list markings whose id is insignia. [Document.Set],
// [Document.Put], [Document.Remove], [Document.Add] and [Document.Duplicate] each
// return a [Splice]: the bytes from..to of the file are replaced by a text. Nothing
// outside is touched: comments, spacing, order, line ends and the style of other
// values stay. [Splice.Inverse] takes the change back.
//
//	splice, err := doc.Set(path, "136 in")
//	after := splice.Apply(data)
//
// Before a splice is returned, the changed text is parsed and held against the old
// content with that one change made. Where they differ, the change is refused; so a
// splice that was returned changes what was asked for and nothing else.
package document
