package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"
)

func photoCommand(out, errs io.Writer) *cobra.Command {
	var letters lettersJob
	var over overlayJob
	var asJSON bool
	c := &cobra.Command{
		Use:   "photo [LAYOUT]",
		Short: "a photograph: the aircraft drawn over it, places and lengths read from it; letters measured on it",
		Long: `With --overlay: find the camera of a photograph that the layout lists under photos:
from points of the aircraft seen in it; draw the aircraft and its markings over the
picture as that camera sees them; tell what a pixel shows on the skin.

  photos:
    - id: hangar-31
      file: hangar-31.jpg            # PNG or JPEG beside the layout
      side: left                     # of the aircraft that is seen
      focal: 2400 px                 # or {length: 6 in, film: 7 in}, the width of the film
                                     # that the picture shows; left out, it is found
      points:                        # pixels from the upper left corner, right and down
        - {at: P1, pixel: [1210, 640]}
        - {at: {fs: 120, bl: -13, wl: 65}, pixel: [431.5, 512], plus-minus: 4}
        - {at: {surface: fuselage, line: S2, fs: 150}, pixel: [700, 480]}
        - {at: {surface: fin, corner: 8}, pixel: [1195, 210]}
        - {at: P2, side: right, pixel: [380, 655]} # on the other side of the aircraft

Four points or more; six without focal:, and not in one plane. plus-minus: is one
standard deviation of a pixel, 2 if not written. May also be given: size: [w, h] of
the picture the points were read in, centre: [x, y] where the lens's axis meets it
(the middle, if not cropped), distortion: (first radial term: a point at r focal
lengths from the centre is seen at r + distortion r^3), mirrored: true, evidence:.
A hardpoint brings its own standard deviation (its sigma:); other points are taken
as exact.

Every place comes with an interval that holds it in 95 of 100 cases, from the plus or
minus of the camera and of the pixel. Where two cameras explain the picture, as with
four points of one plane, it covers both. It does not cover a skin that is not as
drawn, a datum in another place, a print that shrank one way, or a lens that bends
lines where no distortion: is given. Of a cropped print "if cropped" says by how much a
figure moves where the axis of the lens is a twentieth of the width off the middle, as
when a tenth is trimmed from one edge. Hold each figure against other evidence before it
is painted. The picture is not straightened: the drawing is bent as the lens bends.
Lines of the profile: are drawn on BL 0. Edges are fitted, and a drawing of a side view,
which has no camera, is traced on the page of maskloft bench.

With --letters: hold measures of letters, taken from a photograph or from old paint,
against the alphabets known and any files named: which is nearest, and how far each
character is off; and fit an alphabet of ratios to the measures. What was not
measured is taken from the nearest alphabet and marked so.

A file of measures is YAML; every value carries its plus or minus:

  height: 12 in +- 1/16 in          # left out, all values are ratios to it
  widths: {A: 8 in +- 1/8 in, "4": 7.9 in +- 1/8 in}
  stroke: {vertical: 2 in +- 1/16 in, horizontal: 2 in +- 1/16 in}
  gap: 2 in +- 1/8 in
  corner: {kind: chamfer, size: 2 in +- 1/8 in}
  waists: {A: 4.5 in +- 1/8 in}     # above the baseline, to the bar's centre line`,
		Example: "  maskloft photo mine.yaml --overlay hangar-31 -o over --strength 0.6\n  maskloft photo mine.yaml --overlay hangar-31 --at 812,455 --between 700,480:812,478\n  maskloft photo --letters measured.yaml\n  maskloft photo --letters measured.yaml --candidate house.ttf -o fitted",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(c *cobra.Command, args []string) error {
			letters.asJSON, over.asJSON, over.dir = asJSON, asJSON, letters.dir
			for _, err := range []error{onlyWith(c, "letters", "overlay", "strength", "at", "between"), onlyWith(c, "overlay", "candidate", "paper")} {
				if err != nil {
					return err
				}
			}
			switch {
			case over.id != "":
				return over.run(c, args, out, errs)
			case len(args) > 0 || c.Flags().Changed("at") || c.Flags().Changed("between") || c.Flags().Changed("strength"):
				return errors.New("photo: give --overlay ID, one of the photos: of the layout; see maskloft photo --help")
			case letters.file == "":
				return errors.New("photo: give --letters FILE with the measures, or a layout and --overlay ID; see maskloft photo --help")
			}
			return letters.run(out)
		},
	}
	f := c.Flags()
	f.StringVar(&over.id, "overlay", "", "photo of the layout to find the camera of and to draw over")
	f.StringVar(&over.strength, "strength", "0.5", "of the drawing over the picture, 0 to 1: paint has this share, lines twice, at most all")
	f.StringArrayVar(&over.at, "at", nil, "pixel x,y whose place on the skin is told; may be repeated")
	f.StringArrayVar(&over.between, "between", nil, "two pixels x,y:x,y whose distance on the skin is told; may be repeated")
	f.StringVar(&letters.file, "letters", "", "file of measures of letters")
	f.StringArrayVar(&letters.candidates, "candidate", nil, "alphabet (.yaml) or font (.ttf, .otf, .ttc#1) to hold them against as well; may be repeated")
	f.StringVarP(&letters.dir, "out", "o", "", "folder to write to: the overlay as PNG and SVG, or the fitted alphabet and its specimen")
	f.StringVar(&letters.paper, "paper", "letter", "paper of the specimen: letter or a4")
	f.BoolVar(&asJSON, "json", false, "print one JSON document")
	addUnits(c)
	addDemo(c)
	return c
}
