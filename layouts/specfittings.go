package layouts

import "maskloft/geometry"

// HardpointSpec is a point of the structure where a tape hooks.
type HardpointSpec struct {
	Place Place
	ID    string
	Name  string
	Side  Sides
	At    SectionPoint // BL >= 0; mirrored for the left side
	FS    geometry.Station

	Measured MeasuredSpec    // on this airframe
	Sigma    geometry.Length // standard deviation along each axis; 0: the usual one
}

// ObstacleKind says what an obstacle is.
type ObstacleKind string

// Kinds of obstacle.
const (
	Ring          ObstacleKind = "ring"    // round: centre and diameter
	Spot          ObstacleKind = "spot"    // a fitting: centre and diameter
	FinishingTape ObstacleKind = "tape"    // finishing tape along a named line: width
	HingeAt       ObstacleKind = "hinge"   // a gap between two surfaces: from FS to FS
	Around        ObstacleKind = "section" // tape round a station, or along a rib of a wing: FS or BL, and width
	Opening       ObstacleKind = "opening" // a slot or window: outline as seen from the side, or a wing's in plan
)

// ObstacleSpec is what a marking must clear, or that lies under its film.
type ObstacleSpec struct {
	Place   Place
	ID      string
	Kind    ObstacleKind
	Surface string
	Side    Sides
	At      geometry.SidePosition   // centre (ring, spot); FS of a section tape
	Size    geometry.Length         // diameter or width
	Line    string                  // named line of a tape
	To      geometry.Station        // aft edge of a hinge gap, whose fore edge is At.FS
	Points  []geometry.SidePosition // closed by itself (opening)
	OnWing  bool                    // in plan: BL for WL, Plan for Points
	Face    Face                    // of a wing; NoFace: both
	BL      geometry.ButtLine       // outwards, of a centre or a rib
	Plan    []PlanPosition          // closed by itself (opening)
	Over    bool                    // paint may run over it: a gap that a marking spans (opening)
	Solid   geometry.Length         // by how much it stands off the skin, so that no tape crosses it (ring, spot, opening)
	Clear   geometry.Length         // that paint keeps from it (not of tapes)
}

// GroundSpec is the ground line: where the wheels touch, aircraft level.
type GroundSpec struct {
	Place Place
	Main  geometry.SidePosition
	Tail  geometry.SidePosition
}

// ProfileSpec is a line of the side view that no marking sits on: drawn only.
type ProfileSpec struct {
	Place  Place
	ID     string
	Points []geometry.SidePosition
	Closed bool
}
