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
//	    colours: {text: black}
//	paint:
//	  order: [black]           # light first
//	  colours: {black: {hex: "#101010"}}
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
// The aircraft may also have hardpoints (where a tape hooks), obstacles, a ground
// line and a profile for the side view.
//
// # Obstacles
//
// Paint keeps clear of rings and spots (fs, wl, size), hinge gaps (fs, to) and
// openings (points seen from the side): by 1/2 in, at a hinge 1/4 in, or by clear:.
// It may lie over tape along a line (line, size) or round a station (kind section:
// fs, size); how much of its edge lies on the edges of tape is told. On a wing they
// are given in plan, on both faces or by face: rings and spots by fs, bl and size,
// openings (an aileron's gap is one) by points [fs, bl], tape along a rib as kind
// section with bl and size. over: yes lets a marking span an opening.
// No tape along the skin runs through an opening, and none hooks on within one. solid:
// says by how much a ring, a spot or what fills an opening, such as a tailplane, stands
// off the skin: no tape runs over it, and no straight one through it.
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
// forward on both sides). colours: part and paint. evidence: ids. explains: which
// evidence says that a dimension is not as the rule has it, {bars.length: [E-3]}. over:
// the markings that it is meant to cover; any other that its paint comes to lie on is
// told, and one on the same spot stops the job.
//
// # Shapes, drawings, borders
//
// shapes lists plain shapes by true lengths, each over those before it: shape, paint,
// at (of its middle, [x, y] to the right and up), turn. drawing names a file beside
// the layout; height or width is that of all that it paints; paints gives each colour
// or group a paint, or none; anchor is the id of the element whose middle stands at
// where. border and shade go with any figure that is drawn in a plane:
//
//	figure:
//	  shapes: [{shape: arrow, length: 15 in, width: 1 in, head: 5 in, span: 5 in, paint: red}]
//	  border: [{width: 1/2 in, paint: white}, {width: 1/4 in, paint: black, corners: round}]
//	  shade: {depth: 1 in, angle: -45 deg, paint: black, joined: yes}
//
// # What follows the skin
//
// stripes cross the outline of a plate, foil or face of a wing; band goes round a body
// from fs: aft, or over a wing from bl: outwards, at true widths, or shares the room
// between two of them; demarcation has strips beside a line through points. where
// names surface, side and face alone. A strip is {paint, width}, {paint, part} or
// {gap}:
//
//	figure: {stripes: {along: hinge, count: 13, paints: [red, white]}}
//	figure: {band: {fs: 160, strips: [{paint: white, width: 18}, {paint: black, width: 18}], joins: [crown, S4, keel]}}
//	figure: {demarcation: {points: [{fs: 122, wl: 52}, {fs: 238, wl: 54}], course: smooth, width: 2, paint: red}}
//
// # Lettering
//
// text is one line; block: [line, line] several, with align (left, centre, right)
// and leading, from baseline to baseline. alphabet names an alphabet of ratios,
// or a font file beside the layout: letters.ttf, letters.otf, or letters.ttc#2 for
// the second font of a collection. Only writing systems whose characters stand side by
// side from left to right are set from a font. gap is the distance between the
// extents of two characters. as: 14-cfr-45/29 (or a list) names rules for lettering
// that the finished film is measured against, by characters.height, .width, .stroke
// and .gap in explains. fit: 40 in brings the text, or the widest line, to a
// width by its gaps alone; none closes up below least, which is usually half the
// face's own gap; squeeze: yes lets the letters be narrowed where that is not
// enough. arc: {radius: 20 in, reads: over} sets it along a circle, over the top
// or under the bottom. islands says what becomes of the film inside closed
// letters:
//
//	islands: tape                        # transfer tape carries it; it is counted
//	islands: {ties: 1/8 in}              # bars of film, cut away before painting
//	islands: {bridges: 1/4 in, run: both} # stay in the paint; run: upright, level, both
//
// stencils: holds many small markings that share a figure, a place, colours and
// evidence, and differ in words and place; what an item says goes before:
//
//	stencils:
//	  figure: {alphabet: block-6x4, height: 1/2 in, align: centre, islands: tape}
//	  where: {surface: fuselage, side: both}
//	  colours: {text: black}
//	  list:
//	    - {id: fuel, block: [FUEL, 18 GAL], where: {fs: 130, wl: 62}}
//	    - {id: no-step, text: NO STEP, height: 1 in, where: {fs: 160, wl: 60}}
//
// # Hardpoints as measured
//
// Structures differ from their drawings by 1/8 in and more. Tapes are computed from
// the places measured on this airframe where the aircraft file has them, in the
// axes of the drawing, or from straight distances between hardpoints, which need no
// level aeroplane. sigma is the standard deviation along each axis: 1/16 in as
// drawn and 1/32 in as measured, if not written.
//
//	hardpoints:
//	  - {id: P1, name: sternpost bolt, fs: 240, bl: 1.375, wl: 50,
//	     measured: {left: {fs: 240.06, bl: 1.4, wl: 50}}, sigma: 1/16 in}
//	measured-tapes:            # side: left, right, or across from left to right
//	  - {from: P1, to: P2, side: left, length: 121-5/16 in}
//	level-pegs:                # where a level is laid
//	  - {id: LP1, fs: 84, wl: 46}
//	  - {id: LP2, fs: 114, wl: 46}
//
// # The tape in hand
//
// In the layout file; these are the usual values. class: us (NIST Handbook 44),
// eu-1 or eu-2. burn: yes gives readings for a tape that is held at its 1 in mark
// (100 mm on a tape in millimetres).
//
//	tape: {class: us, reading: 1/16 in, burn: no, units: in}
//
// # Sheets
//
// What everything that people read is written in, and the paper. If not written:
// millimetres on A4 where units: is mm, cm or m, else inches on letter. Where sheets are
// in millimetres the tape in hand is divided into them, unless tape: says otherwise. The layout itself, report.json and the cut files stay as they are.
//
//	sheets: {units: mm, paper: a4}
//
// # Photographs
//
// In the layout file. Points of the aircraft that are seen in a picture, with their
// pixels, give its camera; four or more, six without focal. at: a hardpoint, a place
// {fs, bl, wl}, or a point of a surface: {surface, line, fs}, {surface, corner} of a
// plate's outline, {surface, fs, wl} as seen from the side. plus-minus is a standard
// deviation in pixels, 2 if not written. The picture is opened by the verb photo alone.
//
//	photos:
//	  - id: hangar-31
//	    file: hangar-31.jpg      # PNG or JPEG beside the layout
//	    size: [1600, 1100]       # of the picture the points were read in; may be left out
//	    side: left               # of the aircraft that is seen
//	    focal: 2400 px           # or {length: 6 in, film: 7 in}; may be left out
//	    points:
//	      - {at: P1, pixel: [1210, 640]}
//	      - {at: P3, pixel: [1208.5, 571]}
//	      - {at: {surface: fin, corner: 8}, pixel: [1195, 210], plus-minus: 4}
//	      - {at: {surface: fuselage, line: S2, fs: 180}, pixel: [820, 548]}
//	    evidence: [E-2]
//
// Also: centre (of the lens's axis in the picture), distortion, mirrored.
//
// # The rest of the file
//
// rules: date and nation, and edge, what paint keeps from the edges of its surface
// (1/2 in). film: web, margin (across, lead, tail), field,
// longest, strain, seam, grain. paint: order of spraying and colours (hex, name, standard).
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
// # Seams and grain
//
// Film wider than the web is cut in tiles. They meet edge to edge, or the upper and
// the left tile reach over the seam; grain: keep turns no film on the web:
//
//	film:
//	  seam: overlap            # or butt, the usual value
//	  overlap: 1/8 in          # where paint is near: at most 1/8 in
//	  waste-overlap: 1/2 in    # elsewhere: at most 1/2 in
//	  grain: keep              # or free, the usual value
//
// # Mistakes
//
// [Load] takes nothing it does not know. It reports everything that is wrong at
// once as [Problems], each with file:line:column, the line, a caret and what to
// type.
package layouts
