package gbxml

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// Figures in this file are worked out by hand from the sketched shapes; the
// quirks are those that real files were seen to have.

func messages(m *building.Model) string {
	var all []string
	for _, p := range m.Problems {
		all = append(all, p.Message)
	}
	return strings.Join(all, "\n")
}

func one(t *testing.T, m *building.Model) building.Space {
	t.Helper()
	require.Len(t, m.Storeys, 1)
	require.Len(t, m.Storeys[0].Spaces, 1, messages(m))
	return m.Storeys[0].Spaces[0]
}

func TestOutline_planarGeometryFirst(t *testing.T) {
	r := one(t, readAll(t, []byte(file(metric, space(`id="s"`, "101 Lobby", area(12)+planar(flat(0, 0, 4, 3, 1)...)+box(0, 0, 5, 3, 0, 3)), ""))))
	assert.Equal(t, building.FromPlanarGeometry, r.OutlineFrom)
	assert.InDelta(t, 12, float64(r.Area), 1e-9)
	assert.InDelta(t, 1, float64(r.Floor), 1e-9, "the outline's own height")
	assert.Equal(t, "101", r.Number)
	assert.Equal(t, "Lobby", r.Name)
}

func TestOutline_leavesAnalyticalShellOut(t *testing.T) {
	shell := strings.Replace(box(0, 0, 4, 3, 0, 3), "</ShellGeometry>",
		"<AnalyticalShell><ShellSurface>"+polyLoop(flat(-0.1, -0.1, 4.2, 3.2, -0.2)...)+"</ShellSurface>"+polyLoop(flat(-1, -1, 9, 9, -0.2)...)+"</AnalyticalShell></ShellGeometry>", 1)
	r := one(t, readAll(t, []byte(file(metric, space(`id="s"`, "Lobby", area(12)+shell), ""))))
	assert.Equal(t, building.FromClosedShell, r.OutlineFrom)
	assert.InDelta(t, 12, float64(r.Area), 1e-9)
	assert.InDelta(t, 3, float64(r.Ceiling), 1e-9)
}

func TestOutline_agreesWhicheverWayLoopsRun(t *testing.T) {
	reversed := strings.Replace(box(0, 0, 4, 3, 0, 3), polyLoop(flat(0, 0, 4, 3, 0)...),
		polyLoop([]float64{0, 3, 0}, []float64{4, 3, 0.01}, []float64{4, 0, 0.01}, []float64{0, 0, 0}), 1)
	r := one(t, readAll(t, []byte(file(metric, space(`id="s"`, "Lobby", area(12)+reversed), ""))))
	assert.InDelta(t, 12, float64(r.Area), 1e-9)
	assert.Positive(t, geom.SignedArea(r.Outline.Outer), "the outer ring runs counterclockwise")
}

func TestOutline_planShadowRescuesARoomWithAPit(t *testing.T) {
	shell := "<ShellGeometry><ClosedShell>" + polyLoop(flat(0, 0, 2, 2, -1)...) + // the pit's bottom
		polyLoop([]float64{2, 0, 0}, []float64{10, 0, 0}, []float64{10, 6, 0}, []float64{0, 6, 0}, []float64{0, 2, 0}, []float64{2, 2, 0}) +
		polyLoop(flat(0, 0, 10, 6, 3)...) + "</ClosedShell></ShellGeometry>"
	r := one(t, readAll(t, []byte(file(metric, space(`id="s"`, "Plant", area(60)+shell), ""))))
	assert.Equal(t, building.FromPlanShadow, r.OutlineFrom)
	assert.InDelta(t, 60, float64(r.Area), 1e-6)
	assert.InDelta(t, -1, float64(r.Floor), 1e-9)
}

func TestOutline_fromSurfacesWithoutAShell(t *testing.T) {
	walls := surface(`id="f" surfaceType="SlabOnGrade"`, "s", planar(flat(0, 0, 4, 3, 0.5)...)) +
		surface(`id="f2" surfaceType="SlabOnGrade"`, "s", planar(flat(4, 0, 2, 3, 0.5)...)) +
		surface(`id="r" surfaceType="Roof"`, "s", planar(flat(-1, -1, 8, 5, 3.5)...))
	r := one(t, readAll(t, []byte(file(metric, space(`id="s"`, "Lobby", area(18)), walls))))
	assert.Equal(t, building.FromSurfaces, r.OutlineFrom)
	assert.InDelta(t, 18, float64(r.Area), 1e-6)
	assert.InDelta(t, 0.5, float64(r.Floor), 1e-9)
	assert.InDelta(t, 3.5, float64(r.Ceiling), 1e-9)
	assert.Len(t, r.Outline.Outer, 4)
}

func TestOutline_shapePrevailsOverArea(t *testing.T) {
	m := readAll(t, []byte(file(metric, space(`id="s"`, "Store", area(1042.7)+box(0, 0, 20, 10, 0, 3)), "")))
	assert.InDelta(t, 200, float64(one(t, m).Area), 1e-9)
	assert.InDelta(t, 1042.7, float64(one(t, m).DeclaredArea), 1e-9)
	assert.Contains(t, messages(m), "Store: the file says 1,042.7 m2, its outline has 200.0 m2. The outline is used.")
}

func TestOutline_columnByASlit(t *testing.T) {
	slit := planar([]float64{0, 0, 0}, []float64{10, 0, 0}, []float64{10, 10, 0}, []float64{0, 10, 0}, []float64{0, 5, 0}, []float64{4, 5, 0},
		[]float64{4, 6, 0}, []float64{6, 6, 0}, []float64{6, 4, 0}, []float64{4, 4, 0}, []float64{4, 5, 0}, []float64{0, 5, 0})
	m := readAll(t, []byte(file(metric, space(`id="s"`, "Hall", area(96)+slit), "")))
	r := one(t, m)
	assert.InDelta(t, 96, float64(r.Area), 1e-6)
	assert.Len(t, r.Outline.Holes, 1)
	assert.Empty(t, m.Problems)
}

func TestOutline_inPieces(t *testing.T) {
	two := "<ShellGeometry><ClosedShell>" + polyLoop(flat(0, 0, 4, 3, 0)...) + polyLoop(flat(5, 0, 2, 3, 0)...) + "</ClosedShell></ShellGeometry>"
	m := readAll(t, []byte(file(metric, space(`id="s"`, "Hall", area(18)+two), "")))
	r := one(t, m)
	assert.InDelta(t, 12, r.Outline.Area(), 1e-9)
	require.Len(t, r.MoreParts, 1)
	assert.InDelta(t, 18, float64(r.Area), 1e-9)
	assert.Contains(t, messages(m), "Outline of 'Hall' (s) is in 2 separate pieces (12.0 m2, 6.00 m2): see whether they are one room.")
}

func TestUnits_lengthAndAreaAreIndependent(t *testing.T) {
	m := readAll(t, []byte(file(`lengthUnit="Inches" areaUnit="SquareFeet"`, space(`id="s"`, "Lab", area(800)+box(0, 0, 960, 120, 0, 96)), "")))
	r := one(t, m)
	assert.InDelta(t, 800*squareFoot, float64(r.DeclaredArea), 1e-9)
	assert.InDelta(t, 800*squareFoot, float64(r.Area), 1e-9, "960 in x 120 in = 80 ft x 10 ft")
	assert.Empty(t, m.Problems)
}

func TestUnits_aShapesOwnUnitWins(t *testing.T) {
	shell := strings.Replace(box(0, 0, 4000, 3000, 0, 2800), "<ShellGeometry>", `<ShellGeometry id="g3" unit="Millimeters">`, 1)
	m := readAll(t, []byte(file(metric, space(`id="sp-3"`, "Lobby", area(12)+shell), "")))
	assert.InDelta(t, 12, float64(one(t, m).Area), 1e-9)
	assert.Contains(t, messages(m), "ShellGeometry is in millimeters while the file is in meters: converted.")
}

func TestUnits_missingOnesAreAsked(t *testing.T) {
	text := file(``, space(`id="s"`, "Lobby", area(12)+box(0, 0, 696, 384, 0, 96)), "")
	m := readAll(t, []byte(text))
	assert.False(t, m.Unit.Sure)
	assert.Equal(t, "The drawing names no unit. It would be 58 ft x 32 ft if inches, 6.96 m x 3.84 m if centimeters, 696 ft x 384 ft if feet, 696 m x 384 m if meters. Which?", m.Unit.Note)

	inches, _ := lengthUnit("inches")
	m, err := Read(context.Background(), strings.NewReader(text), 0, Options{Unit: inches}, nil)
	require.NoError(t, err)
	assert.True(t, m.Unit.Sure)
	assert.InDelta(t, 58*32*squareFoot, float64(one(t, m).Area), 1e-6)

	m = readAll(t, []byte(file(`lengthUnit="Parsecs"`, space(`id="s"`, "Lobby", box(0, 0, 9, 9, 0, 3)), "")))
	assert.False(t, m.Unit.Sure)
	assert.Contains(t, m.Unit.Note, `unit "Parsecs" is not known`)
}

func TestUnits_wrongOnesShowByTheExtents(t *testing.T) {
	m := readAll(t, []byte(file(`lengthUnit="Millimeters"`, space(`id="s"`, "Lobby", box(0, 0, 58, 32, 0, 9)), "")))
	assert.False(t, m.Unit.Sure)
	assert.Contains(t, m.Unit.Note, "The file is in millimeters, which makes the building 0.06 m x 0.03 m.")
	assert.Contains(t, m.Unit.Note, "58 ft x 32 ft if feet")
}

func TestStoreys_sortedByLevelWhateverTheOrder(t *testing.T) {
	in := storey("a", "1st", 4) + storey("b", "Basement", -3) + storey("c", "Ground", 0) + storey("d", "Roof", 8) +
		space(`id="1" buildingStoreyIdRef="a"`, "Up", box(0, 0, 4, 3, 4.3, 7)) +
		space(`id="2" buildingStoreyIdRef="gone"`, "Down", box(0, 0, 4, 3, -2.9, 0)) +
		space(`id="3"`, "Street", box(0, 0, 4, 3, -0.5, 3))
	m := readAll(t, []byte(file(metric, in, "")))
	var names []string
	for _, s := range m.Storeys {
		names = append(names, s.Name)
		for _, r := range s.Spaces {
			names = append(names, "/"+r.Name)
		}
	}
	assert.Equal(t, []string{"Basement", "/Down", "Ground", "/Street", "1st", "/Up", "Roof"}, names)
	assert.Contains(t, messages(m), "'Down' refers to the storey gone, which the file lacks; by its floor it was put on Basement.")
}

func TestStoreys_derivedFromFloors(t *testing.T) {
	in := space(`id="1"`, "Hall", box(0, 0, 10, 3, 0, 3)) + space(`id="2"`, "Stage", box(10, 0, 4, 3, 0.6, 3)) + space(`id="3"`, "Up", box(0, 0, 4, 3, 3.5, 6))
	m := readAll(t, []byte(file(metric, in, "")))
	require.Len(t, m.Storeys, 2)
	assert.Len(t, m.Storeys[0].Spaces, 2, "a stage is no storey")
	assert.Zero(t, m.Storeys[0].Level)
	assert.InDelta(t, 3.5, float64(m.Storeys[1].Level), 1e-9)
	assert.True(t, m.Storeys[0].Derived)
}

func TestSurfaces_wallsBetweenSpaces(t *testing.T) {
	spaces := space(`id="a"`, "A", box(0, 0, 4, 3, 1, 4)) + space(`id="b"`, "B", box(4, 0, 4, 3, 1, 4))
	walls := surface(`id="1" surfaceType="ExteriorWall" constructionIdRef="brick"`, "a", "<RectangularGeometry><PolyLoop><CartesianPoint><Coordinate>9</Coordinate><Coordinate>9</Coordinate></CartesianPoint></PolyLoop></RectangularGeometry>"+
		planar(upright(0, 0, 4, 0, 1, 4)...)+opening("FixedWindow", upright(1, 0, 3, 0, 1.9, 3.4)...)+opening("NonSlidingDoor", upright(3.1, 0, 3.9, 0, 1, 3.1)...)) +
		surface(`id="2" surfaceType="InteriorWall"`, "a b", planar(upright(4, 0, 4, 3, 1, 4)...)+opening("FixedWindow", upright(4, 1, 4, 2, 2, 3)...)+opening("Air", upright(4, 2.1, 4, 2.9, 1, 3)...)) +
		surface(`id="3" surfaceType="InteriorWall"`, "b b", planar(upright(6, 0, 6, 2, 1, 3)...)) +
		surface(`id="4" surfaceType="Shade"`, "", planar(upright(-9, 0, -9, 2, 1, 3)...)) +
		surface(`id="5" surfaceType="Air"`, "a b", planar(upright(4, 3, 4, 2.9, 1, 4)...)) +
		surface(`id="6" surfaceType="Roof"`, "b", planar(flat(4, 0, 4, 3, 4)...)+opening("FixedSkylight", flat(5, 1, 2, 1, 4)...))
	text := strings.Replace(file(metric, spaces, walls), "</gbXML>", `<Construction id="brick"><LayerId layerIdRef="l"/></Construction>
<Layer id="l"><MaterialId materialIdRef="m1"/><MaterialId materialIdRef="m2"/></Layer>
<Material id="m1"><Thickness unit="Millimeters">115</Thickness></Material><Material id="m2"><Thickness unit="Meters">0.10</Thickness></Material></gbXML>`, 1)
	m := readAll(t, []byte(text))
	require.Empty(t, m.Problems, messages(m))
	w := m.Storeys[0].Walls
	require.Len(t, w, 4)

	assert.Equal(t, building.ExteriorWall, w[0].Kind)
	assert.InDelta(t, 0.215, float64(w[0].Thickness), 1e-9)
	assert.InDelta(t, 3, float64(w[0].Height), 1e-9)
	assert.InDelta(t, 4, w[0].A.Distance(w[0].B), 1e-9)
	assert.Equal(t, [2]string{"a", ""}, w[0].Spaces)
	require.Len(t, w[0].Openings, 2)
	assert.InDelta(t, 0.9, float64(w[0].Openings[0].Sill), 1e-9, "above the room's own floor")
	assert.InDelta(t, 2.4, float64(w[0].Openings[0].Head), 1e-9)
	assert.InDelta(t, 3, float64(w[0].Openings[0].Area), 1e-9)
	assert.Equal(t, building.Door, w[0].Openings[1].Kind)

	assert.Equal(t, building.InteriorWall, w[1].Kind)
	assert.Equal(t, [2]string{"a", "b"}, w[1].Spaces)
	assert.Equal(t, building.AirOpening, w[1].Openings[1].Kind)
	assert.Equal(t, building.PartitionWall, w[2].Kind)
	assert.Equal(t, building.AirWall, w[3].Kind)

	a, b := m.Storeys[0].Spaces[0], m.Storeys[0].Spaces[1]
	assert.Len(t, a.Windows, 1, "the inner window gives no daylight, a door is none")
	require.Len(t, b.Windows, 1)
	assert.Equal(t, building.Skylight, b.Windows[0].Kind)
	assert.Equal(t, b.Windows[0].Sill, b.Windows[0].Head, "a flat opening's head is its sill")
	assert.InDelta(t, 2, b.Windows[0].A.Distance(b.Windows[0].B), 1e-9)
}

func TestWindows_aboveTheShellAreTold(t *testing.T) {
	walls := surface(`id="1" surfaceType="ExteriorWall"`, "a", planar(upright(0, 0, 4, 0, 0, 4)...)+opening("FixedWindow", upright(1, 0, 3, 0, 1, 3.2)...))
	m := readAll(t, []byte(file(metric, space(`id="a"`, "A", box(0, 0, 4, 3, 0, 2.7)), walls)))
	assert.Contains(t, messages(m), "A window of 'A' reaches 0.50 m above the top of the room")
}

func TestSpaces_idsThatComeTwice(t *testing.T) {
	in := space(`id="aim0090"`, "A", box(0, 0, 4, 3, 0, 3)) + space(`id="aim0090"`, "B", box(4, 0, 4, 3, 0, 3)) + space(`id="aim0090"`, "C", box(8, 0, 4, 3, 0, 3))
	m := readAll(t, []byte(file(metric, in, "")))
	var keys []string
	for _, r := range m.Storeys[0].Spaces {
		keys = append(keys, r.Key)
	}
	assert.Equal(t, []string{"aim0090", "aim0090-2", "aim0090-3"}, keys)
	assert.Contains(t, messages(m), "Two spaces have the id aim0090 (lines 5, 6): the second got the id aim0090-2.")
}

func TestSpaces_voidsAndSpacesWithoutShape(t *testing.T) {
	in := space(`id="1"`, "2-05 Room", box(0, 0, 4, 3, 0, 3)) + space(`id="2"`, "Analytical Space", box(4, 0, 4, 3, 0, 3)) +
		space(`id="3"`, "Orphaned Shades", "") + space(`id="4"`, "Shaft A", planar([]float64{0, 0, 0}, []float64{1, 0, 0}, []float64{2, 0, 0})) +
		space(`id="5"`, "Listed", area(14))
	m := readAll(t, []byte(file(metric, in, "")))
	require.Len(t, m.Storeys[0].Spaces, 3)
	assert.True(t, m.Storeys[0].Spaces[1].Unassigned)
	assert.Contains(t, m.Notes, "1 left-over void came as unassigned.")
	assert.Contains(t, messages(m), "2 spaces have no area (Orphaned Shades, Shaft A) and were left out.")
	assert.Contains(t, messages(m), "'Listed' has no outline, only its area of 14.0 m2; draw it by hand.")
}

func TestSpaces_overlapsAreTold(t *testing.T) {
	in := space(`id="1"`, "Corridor", box(0, 0, 20, 3, 0, 3)) + space(`id="2"`, "Closet", box(1, 1, 1.9, 1, 0, 3)) + space(`id="3"`, "Above", box(0, 0, 20, 3, 3, 6))
	m := readAll(t, []byte(file(metric, in, "")))
	assert.Contains(t, messages(m), "'Closet' lies inside 'Corridor' (1.90 m2).")
	assert.NotContains(t, messages(m), "Above")
}

func TestSpaces_otherNamespacesAreSkipped(t *testing.T) {
	in := space(`id="s"`, "Lobby", area(12)+box(0, 0, 4, 3, 0, 3)+`<Results xmlns="" id="s"><Space id="s"/><Area>99</Area></Results>`)
	assert.InDelta(t, 12, float64(one(t, readAll(t, []byte(file(metric, in, "")))).DeclaredArea), 1e-9)

	prefixed := strings.NewReplacer("</", "</g:", "<?", "<?", "<", "<g:").Replace(file(metric, in, ""))
	prefixed = strings.Replace(strings.Replace(prefixed, "<g:?xml", "<?xml", 1), `xmlns="http`, `xmlns:g="http`, 1)
	m, err := Read(context.Background(), strings.NewReader(strings.ReplaceAll(prefixed, `<g:Results xmlns="" id="s">`, `<g:Results id="s">`)), 0, Options{}, nil)
	require.NoError(t, err)
	assert.InDelta(t, 12, float64(one(t, m).Area), 1e-9, "a prefix for the same namespace")

	without := strings.Replace(file(metric, in, ""), ` xmlns="http://www.gbxml.org/schema"`, "", 1)
	m = readAll(t, []byte(without))
	assert.InDelta(t, 12, float64(one(t, m).Area), 1e-9, "no namespace at all")
}

func TestSpaces_lightPowerInWattsPerSquareMeter(t *testing.T) {
	in := space(`id="s"`, "Lobby", `<LightPowerPerArea unit="WattPerSquareFoot">1.5</LightPowerPerArea>`+box(0, 0, 4, 3, 0, 3))
	assert.InDelta(t, 1.5*10.7639104, one(t, readAll(t, []byte(file(metric, in, "")))).PowerDensity, 1e-6)
}

func TestNames_keptWholeWhenAsked(t *testing.T) {
	text := file(metric, space(`id="s"`, "101-Vest.", box(0, 0, 4, 3, 0, 3)), "")
	assert.Equal(t, "Vest.", one(t, readAll(t, []byte(text))).Name)
	m, err := Read(context.Background(), strings.NewReader(text), 0, Options{KeepNames: true}, nil)
	require.NoError(t, err)
	assert.Equal(t, "101-Vest.", one(t, m).Name)
}

// The schema's azimuth is the angle from north clockwise to the model's y axis
// (from memory): a model turned by 30 degrees has north at 330 on its plan.
func TestNorth(t *testing.T) {
	m := readAll(t, []byte(file(metric, space(`id="s"`, "A", box(0, 0, 4, 3, 0, 3)), "<Location><CADModelAzimuth>30</CADModelAzimuth></Location>")))
	assert.True(t, m.HasNorth)
	assert.InDelta(t, 330, m.NorthDegrees, 1e-9)
	assert.False(t, readAll(t, []byte(file(metric, "", ""))).HasNorth)
}
