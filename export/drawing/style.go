package drawing

// Style is how a mark looks. The screen has a rule for each in plan.css under
// the style's name, paper takes the Look; a test holds the line widths alike.
type Style string

// The styles.
const (
	StyleRoom      Style = "p-room"      // the ground of a room
	StyleRoomLine  Style = "p-room-line" // its outline where no walls are drawn
	StyleRoomEdge  Style = "p-room-edge" // the same beside drawn walls
	StyleAround    Style = "p-around"    // the ground of a room beside the one drawn
	StyleWall      Style = "p-wall"      // cut walls
	StylePartition Style = "p-partition"
	StyleBoundary  Style = "p-boundary"
	StyleGlass     Style = "p-glass"
	StyleJamb      Style = "p-jamb"
	StyleDoor      Style = "p-door"
	StyleRooflight Style = "p-rooflight" // lies above what is cut
	StyleSeat      Style = "p-seat"
	StyleLuminaire Style = "p-luminaire"
	StyleDevice    Style = "p-device"
	StyleMains     Style = "p-mains"  // ground of devices that switch mains
	StyleFacing    Style = "p-facing" // pointer of a directional device
	StyleLeader    Style = "p-leader" // from a place to the symbol that stands aside
	StyleText      Style = "p-text"
	StyleSoft      Style = "p-soft" // text of less weight
	StyleError     Style = "p-error"
	StyleWarning   Style = "p-warning"
	StyleInfo      Style = "p-info"
	StyleOnMark    Style = "p-on-mark" // sign within a finding's mark
	StyleBar       Style = "p-bar"     // filled fields of the scale bar
	StyleFrame     Style = "p-frame"   // outlines of scale bar, north arrow, legend
	StyleHatch     Style = "p-hatch"   // lines of daylight zones
	StyleZone      Style = "p-zone"    // their edges, and contours
	StyleContour   Style = "p-contour" // the contour that counts
)

// RGB is a color on paper.
type RGB [3]int

// Look is how a style prints. Pen is the line's width in millimeters, 0 for
// none; a Dash of 0 is a full line.
type Look struct {
	Pen   float64
	Line  RGB
	Fill  RGB
	Solid bool // filled
	Dash  float64
}

// Contrast of text and lines that carry meaning is at least 4.5 to 1 on white.
var (
	ink   = RGB{24, 28, 33}
	soft  = RGB{92, 101, 112}
	faint = RGB{176, 183, 190}
	paper = RGB{255, 255, 255}
	teal  = RGB{19, 69, 72}
	red   = RGB{160, 34, 26}
	amber = RGB{134, 84, 0}
	blue  = RGB{44, 75, 125}
)

var looks = map[Style]Look{
	StyleRoom:      {Fill: RGB{247, 249, 249}, Solid: true},
	StyleRoomLine:  {Pen: 0.25, Line: ink},
	StyleRoomEdge:  {Pen: 0.13, Line: soft},
	StyleAround:    {Pen: 0.1, Line: faint},
	StyleWall:      {Fill: RGB{74, 82, 90}, Solid: true},
	StylePartition: {Pen: 0.15, Line: soft, Fill: paper, Solid: true},
	StyleBoundary:  {Pen: 0.15, Line: soft, Dash: 1.2},
	StyleGlass:     {Pen: 0.13, Line: ink, Fill: paper, Solid: true},
	StyleJamb:      {Pen: 0.2, Line: ink},
	StyleDoor:      {Pen: 0.15, Line: soft, Dash: 0.7},
	StyleRooflight: {Pen: 0.18, Line: ink, Dash: 0.5},
	StyleSeat:      {Pen: 0.13, Line: soft},
	StyleLuminaire: {Pen: 0.15, Line: soft, Fill: paper, Solid: true},
	StyleDevice:    {Pen: 0.25, Line: teal, Fill: paper, Solid: true},
	StyleMains:     {Pen: 0.25, Line: teal, Fill: RGB{217, 233, 230}, Solid: true},
	StyleFacing:    {Fill: teal, Solid: true},
	StyleLeader:    {Pen: 0.15, Line: ink},
	StyleText:      {Fill: ink, Solid: true},
	StyleSoft:      {Fill: soft, Solid: true},
	StyleError:     {Fill: red, Solid: true},
	StyleWarning:   {Fill: amber, Solid: true},
	StyleInfo:      {Fill: blue, Solid: true},
	StyleOnMark:    {Fill: paper, Solid: true},
	StyleBar:       {Pen: 0.15, Line: ink, Fill: ink, Solid: true},
	StyleFrame:     {Pen: 0.15, Line: ink},
	StyleHatch:     {Pen: 0.1, Line: soft},
	StyleZone:      {Pen: 0.2, Line: ink, Dash: 1},
	StyleContour:   {Pen: 0.4, Line: ink},
}

// Look gives how the style prints.
func (s Style) Look() Look { return looks[s] }

// Styles lists all styles.
func Styles() []Style {
	return []Style{StyleRoom, StyleRoomLine, StyleRoomEdge, StyleAround, StyleWall, StylePartition, StyleBoundary, StyleGlass, StyleJamb, StyleDoor, StyleRooflight, StyleSeat,
		StyleLuminaire, StyleDevice, StyleMains, StyleFacing, StyleLeader, StyleText, StyleSoft, StyleError, StyleWarning, StyleInfo, StyleOnMark, StyleBar, StyleFrame, StyleHatch, StyleZone, StyleContour}
}
