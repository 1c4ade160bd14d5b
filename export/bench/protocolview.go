package bench

// Point2 is [x, y], Point3 [x, y, z] and Box [x0, y0, x1, y1], inches.
type (
	Point2 [2]float64
	Point3 [3]float64
	Box    [4]float64
)

// Skins are the surfaces of the aircraft.
type Skins struct {
	Skins []Skin `json:"skins"`
}

// Skin is one surface as a net of points. Between its nodes it is the polynomial
// through the four nodes nearest to a cell within its panel, or through as many as the
// panel has, each way by itself: see [netOf].
type Skin struct {
	ID       string             `json:"id"`      // fuselage; fin/left; wing/left/upper
	Surface  string             `json:"surface"` // its name in the layout
	Kind     string             `json:"kind"`    // stringers, round, faired, scan, wing, foil, plate
	Side     string             `json:"side"`    // both, left, right
	Face     string             `json:"face,omitempty"`
	Mirror   bool               `json:"mirror"`           // it is the right half, crown to keel: the left one is its mirror image
	Closed   bool               `json:"closed"`           // v goes once round: the last column is the first
	U        []float64          `json:"u"`                // of the rows: stations; of wings and foils the root of the part of the chord
	V        []float64          `json:"v"`                // of the columns: round the body; of wings BL, of foils and plates WL
	PanelsU  []int              `json:"panelsU"`          // rows where panels meet, both ends among them
	PanelsV  []int              `json:"panelsV"`          // columns
	XYZ      []int              `json:"xyz"`              // rows by columns, thousandths of an inch; steps from each point to the next
	Within   float64            `json:"within"`           // the most that it was off at points midway
	Lines    map[string]float64 `json:"lines"`            // v of the named lines of the right side
	Outlines [][]Point2         `json:"outlines"`         // of a plate: FS and WL; else none
	Chords   []Chord            `json:"chords,omitempty"` // of a wing or foil, at each of V: station = fore + u*u*(aft-fore)
}

// Chord is the stations of the edges of a wing or foil.
type Chord struct {
	Fore float64 `json:"fore"`
	Aft  float64 `json:"aft"`
}

// Scene is what stands round the markings.
type Scene struct {
	Name       string            `json:"name"`
	Aircraft   string            `json:"aircraft"`
	Datum      string            `json:"datum"`
	Units      string            `json:"units"` // of bare numbers
	Min        Point3            `json:"min"`
	Max        Point3            `json:"max"`
	Stations   []SceneFrame      `json:"stations"` // sections
	Lines      []SceneLine       `json:"lines"`    // named lines and ribs
	Obstacles  []SceneBar        `json:"obstacles"`
	Hardpoints []ScenePoint      `json:"hardpoints"`
	Pegs       []ScenePoint      `json:"pegs"`
	Profile    []SceneShape      `json:"profile"` // of the side view: [FS, WL]
	Ground     *SceneGround      `json:"ground,omitempty"`
	Paints     []Paint           `json:"paints"`
	Coats      map[string]string `json:"coats"` // by surface: the colour under the markings, where it is said
	Edge       float64           `json:"edge"`  // that paint keeps from the edges of its surface
	Evidence   []ScenePlace      `json:"evidence"`
	Rules      SceneRules        `json:"rules"`
	Photos     []ScenePhoto      `json:"photos"`
	Web        float64           `json:"web"`
	Skipped    []SceneReason     `json:"skipped"` // what could not be drawn
}

// SceneRules are the words of rules: in the layout.
type SceneRules struct {
	Date    string   `json:"date"`
	Nation  string   `json:"nation"`
	Service string   `json:"service"`
	Finish  string   `json:"finish"`
	Types   []string `json:"types"`
}

// ScenePhoto is a photograph that the layout names.
type ScenePhoto struct {
	ID   string `json:"id"`
	File string `json:"file"`
}

// SceneReason says why something is not drawn.
type SceneReason struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

// SceneFrame is a section of a body, its right half from crown to keel, or a rib of a
// wing or plate.
type SceneFrame struct {
	Surface string   `json:"surface"`
	At      float64  `json:"at"` // FS; of a rib BL or WL
	Points  []Point3 `json:"points"`
}

// SceneLine is a named line of the right side.
type SceneLine struct {
	Surface string   `json:"surface"`
	Name    string   `json:"name"`
	Points  []Point3 `json:"points"`
}

// SceneBar is an obstacle on one side.
type SceneBar struct {
	ID      string   `json:"id"`
	Kind    string   `json:"kind"`
	Surface string   `json:"surface"`
	Side    string   `json:"side"`
	Face    string   `json:"face,omitempty"`
	At      *Point3  `json:"at,omitempty"` // its middle
	Size    float64  `json:"size"`         // diameter, or width
	Clear   float64  `json:"clear"`        // that paint keeps from it; 0: none
	Closed  bool     `json:"closed"`
	Points  []Point3 `json:"points"` // its outline on the skin, or the middle of a tape
	Line    string   `json:"line,omitempty"`
}

// ScenePoint is a hardpoint or a peg.
type ScenePoint struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Side     string `json:"side"`
	At       Point3 `json:"at"`
	Measured bool   `json:"measured"`
}

// SceneShape is a line of the side view.
type SceneShape struct {
	ID     string   `json:"id"`
	Closed bool     `json:"closed"`
	Points []Point2 `json:"points"`
}

// SceneGround is the ground line, aircraft level.
type SceneGround struct {
	Angle float64 `json:"angle"` // radians, nose up
	Main  Point2  `json:"main"`
	Tail  Point2  `json:"tail"`
}

// ScenePlace is a piece of evidence.
type ScenePlace struct {
	ID    string `json:"id"`
	Class string `json:"class"`
	What  string `json:"what"`
}

// Paint is one paint of the layout.
type Paint struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Hex  string `json:"hex"`
}

// Markings are those of the layout, in its order.
type Markings struct {
	Markings []Marking `json:"markings"`
}

// Marking is one marking as it is written, and where it stands.
type Marking struct {
	ID       string   `json:"id"`
	Path     string   `json:"path"` // markings[code]
	Line     int      `json:"line"` // in the text
	Kind     string   `json:"kind"` // rule, text, discs, shapes, drawing, stripes, band, line
	Rule     string   `json:"rule,omitempty"`
	Text     string   `json:"text,omitempty"`
	Alphabet string   `json:"alphabet,omitempty"`
	Size     float64  `json:"size,omitempty"`
	Height   float64  `json:"height,omitempty"` // of a text
	Surfaces []string `json:"surfaces"`
	Side     string   `json:"side"`
	Face     string   `json:"face,omitempty"`
	True     string   `json:"true"`
	Hold     string   `json:"hold"`
	Align    string   `json:"align"`
	Angle    float64  `json:"angle"` // degrees
	Baseline string   `json:"baseline"`
	Held     string   `json:"held"` // how its height is given: wl, bl, girth, between, or own where it brings its own place
	FS       float64  `json:"fs"`
	WL       float64  `json:"wl"`
	BL       float64  `json:"bl"`
	From     string   `json:"from,omitempty"` // line that a girth is measured from, or the upper of two
	Down     float64  `json:"down,omitempty"` // along the skin
	To       string   `json:"to,omitempty"`   // the lower of two lines
	Evidence []string `json:"evidence"`
	Placed   []Placed `json:"placed"` // one a side; none where it could not be placed
}

// Placed is a marking on one side.
type Placed struct {
	ID     string `json:"id"` // with its side
	Side   string `json:"side"`
	Skin   string `json:"skin"` // id of the skin
	Anchor Point3 `json:"anchor"`
	Right  Point3 `json:"right"` // directions of the drawing at the anchor, of length one
	Up     Point3 `json:"up"`
	Out    Point3 `json:"out"`
}

// Figures are the drawings of a marking, one a side.
type Figures struct {
	Figures []Figure `json:"figures"`
}

// Figure is a drawing about its anchor.
type Figure struct {
	ID         string      `json:"id"`
	Marking    string      `json:"marking"`
	Side       string      `json:"side"`
	Regions    []Region    `json:"regions"`
	Bounds     Box         `json:"bounds"`
	Characters []Character `json:"characters"`
}

// Region is what one paint shows: M, L, C and Z as in SVG, y up.
type Region struct {
	Paint string `json:"paint"`
	Hex   string `json:"hex"`
	D     string `json:"d"`
}

// Character is a character of a text with its cell.
type Character struct {
	Rune string `json:"rune"`
	Cell Box    `json:"cell"`
}

// Outlines are those of a marking on the skin.
type Outlines struct {
	Exact    bool      `json:"exact"`
	Within   float64   `json:"within"` // of the true outline, inches
	Outlines []Outline `json:"outlines"`
}

// Outline is the outline of one paint, closed lines.
type Outline struct {
	ID    string     `json:"id"`
	Side  string     `json:"side"`
	Paint string     `json:"paint"`
	Hex   string     `json:"hex"`
	Lines [][]Point3 `json:"lines"`
}

// Films are the films of a marking, one a side.
type Films struct {
	Films []Film `json:"films"`
}

// Film is a marking laid flat.
type Film struct {
	ID           string      `json:"id"`
	Side         string      `json:"side"`
	Exact        bool        `json:"exact"` // it unrolls
	Field        Box         `json:"field"`
	Regions      []Region    `json:"regions"`
	Strain       Strain      `json:"strain"`
	OutlineError float64     `json:"outlineError"`
	Height       float64     `json:"height"`     // of the paint along the skin
	SideHeight   float64     `json:"sideHeight"` // as seen from the side
	Passes       []Pass      `json:"passes"`
	Marks        []FilmMark  `json:"marks"`
	Clearances   []Clearance `json:"clearances"`
}

// Strain is that of a film, fractions: below 0 squeezed.
type Strain struct {
	Least  float64     `json:"least"`
	Most   float64     `json:"most"`
	Advice string      `json:"advice"`
	Grid   *StrainGrid `json:"grid,omitempty"` // none where the film unrolls
}

// StrainGrid is the larger principal strain at points of the film, row by row.
type StrainGrid struct {
	X0      float64    `json:"x0"`
	Y0      float64    `json:"y0"`
	DX      float64    `json:"dx"`
	DY      float64    `json:"dy"`
	Columns int        `json:"columns"`
	Rows    int        `json:"rows"`
	Values  []*float64 `json:"values"` // null: no skin
}

// Pass is one film of a marking.
type Pass struct {
	ID       string     `json:"id"`
	Paint    string     `json:"paint"`
	Hex      string     `json:"hex"`
	Keeps    string     `json:"keeps,omitempty"`
	Polarity string     `json:"polarity"` // open or keep-down
	Role     string     `json:"role"`
	Coats    int        `json:"coats"`
	D        string     `json:"d"` // the film as cut
	Field    Box        `json:"field"`
	Area     float64    `json:"area"`    // of the film, square inches
	Opening  float64    `json:"opening"` // what is sprayed, square inches
	Islands  int        `json:"islands"`
	Tiles    []FilmTile `json:"tiles"`
	Paper    []Box      `json:"paper"` // painted round, but no film: paper covers it
	Seams    []FilmSeam `json:"seams"`
}

// FilmTile is one piece that fits the web.
type FilmTile struct {
	ID   string `json:"id"`
	Rect Box    `json:"rect"`
	D    string `json:"d"`
}

// FilmSeam is where tiles meet.
type FilmSeam struct {
	Upright bool    `json:"upright"`
	At      float64 `json:"at"`
}

// FilmMark is a registration mark.
type FilmMark struct {
	ID   string `json:"id"`
	At   Point2 `json:"at"`
	Skin Point3 `json:"skin"`
}

// Clearance is how far paint stands from what it must keep clear of.
type Clearance struct {
	Obstacle string  `json:"obstacle"`
	Distance float64 `json:"distance"`
	Limit    float64 `json:"limit"`
	At       Point3  `json:"at"` // of the paint's edge, where they come nearest
}

// Run is all films on the web.
type Run struct {
	Web       float64   `json:"web"`
	Usable    float64   `json:"usable"`
	Length    float64   `json:"length"`
	Waste     float64   `json:"waste"` // fraction of the film
	Films     []RunFilm `json:"films"`
	Stretches []Point2  `json:"stretches"` // from and to along the web
}

// RunFilm is one film on the web: x along it, y across.
type RunFilm struct {
	ID     string `json:"id"`
	Number int    `json:"number"`
	Rect   Box    `json:"rect"`
	Across bool   `json:"across"` // the drawing's x lies across the web
}

// RuleFigure is the figure of a rule, or a text in an alphabet, to look at.
type RuleFigure struct {
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	Size    float64  `json:"size"`
	Bounds  Box      `json:"bounds"`
	Regions []Region `json:"regions"`
	Why     string   `json:"why,omitempty"` // why it has no picture
}

// Alphabets are a text set in each alphabet.
type Alphabets struct {
	Alphabets []RuleFigure `json:"alphabets"`
}

// Drawing is a drawing that was dropped on the page.
type Drawing struct {
	Pages []DrawingPage `json:"pages"`
	File  string        `json:"file,omitempty"` // the name that it was kept under
}

// DrawingPage is one page of a drawing.
type DrawingPage struct {
	Name       string       `json:"name"`
	Width      float64      `json:"width"`
	Height     float64      `json:"height"`
	Bounds     Box          `json:"bounds"`
	Regions    []Region     `json:"regions"` // paint is what the key of paints: would be: the colour, or the group
	Recognised []Recognised `json:"recognised"`
}

// Recognised is a rule that a drawing fits.
type Recognised struct {
	Rule string  `json:"rule"`
	Name string  `json:"name"`
	Size float64 `json:"size"`
	Says string  `json:"says"`
}
