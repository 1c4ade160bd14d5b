// Package layouts reads a layout file and lays its markings on the aircraft.
//
// # The layout file
//
// A layout says which aircraft, which markings, where they go, and what they
// rest on. It is YAML: keys and values, indented with spaces, # for remarks.
// The smallest useful one:
//
//	name: Hack 2, code on the fuselage
//	units: in                  # a bare number is inches
//	aircraft:                  # or the name of a file with these keys: hack.yaml
//	  name: Test Hack 2
//	  datum: FS 0 is the firewall, positive aft; WL 0 is the thrust line, positive up
//	  surfaces:
//	    - id: fuselage
//	      kind: stringers      # points on named lines, crown to keel, right side
//	      lines: [T, S1, B]
//	      sections:            # from nose to tail; a point is [BL, WL]
//	        - {fs: 20, points: [[0, 30], [12, 10], [0, -12]]}
//	        - {fs: 140, points: [[0, 12], [2, 6], [0, 2]]}
//	markings:
//	  - id: code               # names files: a to z, 0 to 9 and -
//	    figure: {text: K4, alphabet: block-6x4, height: 12}
//	    where: {surface: fuselage, side: both, fs: 70, wl: 8}
//
// # Numbers
//
// A length is written as people write it: 20-1/2 in, 5 ft 3 1/4 in, 305 mm. A
// bare number is in the file's units:, and refused when the file has none; an
// aircraft file has its own. FS counts aft, WL up, BL to the pilot's right.
// BL of sections and hardpoints is that of the right side; the left is its
// mirror image. Everything else stays as written: the serial 0417 is 0417.
//
// # Surfaces
//
// stringers: lines, sections of [BL, WL] points, hard (longerons). round:
// sections of fs, radius and wl of the centre. plate: a flat surface of one
// thickness, with an outline of [FS, WL] points that closes by itself, and ribs.
// The aircraft may also have hardpoints (where a tape hooks), obstacles (ring,
// spot, tape, hinge, section), a ground line and a profile for the side view.
//
// # Markings
//
// A figure is a published rule with its governing size (and options, where the
// rule has more than one reading), or a text with alphabet (a name, or a file of
// ratios beside the layout: mine.yaml) and height (and gap),
// or plain discs, largest first. where: surface (or a list of plates in one
// plane), side (both), fs, wl, hold (centre; fore and aft are mid-height of that
// edge), angle. true: skin (lengths along the skin) or side (as seen in side
// elevation). handed: text (never mirrored), symmetric, or handed (points
// forward on both sides). colours: part and paint. evidence: ids.
//
// # The rest of the file
//
// rules: date and nation. film: web, margin (across, lead, tail), field,
// longest, strain. paint: order of spraying and colours (hex, name, standard).
// evidence: id, class E1 (paint on this airframe) to E7 (guess), what.
//
// # Strain of the film
//
// Film on a skin that bulges both ways is squeezed and stretched. film: strain:
// says how much of it asks for what; practice, not a standard. The usual values:
//
//	film:
//	  strain:
//	    easy: 0.5 %      # squeezed by no more: lay it cold
//	    warm: 2 %        # no more: lay it warm, from the centre out
//	    split: 4 %       # no more: slit it in the waste, or split it; above: pieces
//	    stretched: {easy: 2 %, warm: 5 %, split: 15 %}
//
// # Mistakes
//
// [Load] takes nothing it does not know. It reports everything that is wrong at
// once as [Problems], each with file:line:column, the line, a caret and what to
// type.
package layouts
