package layouts

import "strings"

// Kind says in plain words what a finding is about. Rule is its id, which report.json,
// scripts and `check --take` go by; people read the kind.
func (f Finding) Kind() string { return KindOf(f.Rule) }

// KindOf is the kind of a rule id: no check tape. An id that is not listed here is read
// as the words it is made of.
func KindOf(rule string) string {
	if words, ok := kinds[rule]; ok {
		return words
	}
	return strings.ReplaceAll(rule, "-", " ")
}

var kinds = map[string]string{
	"balance-check":         "balance check needed",
	"bay-twist":             "skin twists between frames",
	"bridges-evidence":      "bridges not in the photograph",
	"built-few":             "too few readings",
	"built-misfit":          "readings do not fit",
	"built-open":            "readings not checked",
	"built-outside":         "film laid out of place",
	"built-weak":            "film weakly measured",
	"built-wrong":           "wrong reading",
	"closes-round":          "film meets itself",
	"date-window":           "not in use at that date",
	"edge-clearance":        "near an edge",
	"equality":              "sides not opposite",
	"few-sections":          "skin between frames not known",
	"film-over-edge":        "film runs over an edge",
	"film-strain":           "film is strained",
	"font-licence":          "licence of the font",
	"handedness":            "which way it points",
	"hardpoint-far":         "hardpoint far from the drawing",
	"hardpoint-suspect":     "hardpoint looks wrong",
	"hardpoint-within":      "hardpoint within a fitting",
	"hardpoint-tape":        "wrong tape between hardpoints",
	"height-limit":          "higher than the rule allows",
	"islands-unheld":        "loose pieces",
	MissingRule:             "marking left out",
	"no-closure":            "no check tape",
	"no-hardpoints":         "no hardpoints",
	"no-tapes":              "films that nothing places",
	"not-surveyed":          "surroundings not looked at",
	"obstacle":              "near a fitting",
	"obstacle-off-skin":     "fitting off the skin",
	"off-skin":              "film off the skin",
	"one-hardpoint":         "one hardpoint only",
	"paint-on-paint":        "paint on paint",
	"photo-few":             "few points on the photograph",
	"photo-flat":            "points of the photograph in one plane",
	"photo-focal":           "focal length poorly known",
	"photo-mirrored":        "photograph mirrored",
	"photo-misfit":          "points of the photograph do not fit",
	"photo-reading":         "place not on the aircraft",
	"photo-rival":           "two cameras fit",
	"photo-side":            "other side of the aircraft",
	"photo-suspect":         "point of the photograph looks wrong",
	"poor-crossing":         "tapes cross badly",
	"poor-place":            "large placing error",
	"no-place":              "no way to place it",
	"proportion":            "proportion",
	"registration-common":   "too few marks in common",
	"registration-on-paint": "registration mark on paint",
	"registration-room":     "no room for registration marks",
	"registration-turned":   "film may be laid turned",
	"scan-fit":              "fit of the scan",
	"scan-hole":             "hole in the scan",
	"scan-inside-out":       "scan inside out",
	"scan-mesh":             "mesh of the scan",
	"scan-smooth":           "scan made smooth",
	"seam":                  "seam in a poor place",
	"seam-spared":           "smaller field, no seam",
	"sharp-fold":            "sharp fold of the skin",
	"side-view-hidden":      "partly hidden from the side",
	"side-view-stretch":     "stretched by the side view",
	"size":                  "size",
	"size-offered":          "size not as published",
	"small-feature":         "smaller than film holds",
	"soft-edge":             "soft edge",
	"tape-edge":             "paint edge on a finishing tape",
	"tape-tie":              "tape may be led the wrong way",
	"thin-paint":            "thin strokes",
	"two-baselines":         "baseline not level",
	"two-heights":           "height on the skin and as seen",
	"use":                   "form and place",
}
