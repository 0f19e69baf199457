package ifc

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/store/intake/building"
)

// Areas here are by hand; arcs are drawn as chords, at most 0.02 % smaller.
const arcShare = 2e-4

func TestProfiles_ofEveryKind(t *testing.T) {
	for name, c := range map[string]struct {
		profile func(p *plot) string
		area    float64
	}{
		"rectangle, turned": {func(p *plot) string {
			at := p.add("IFCAXIS2PLACEMENT2D(%s,%s)", p.point(3, 1), p.add("IFCDIRECTION((1.,1.))"))
			return p.add("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,6.,4.)", at)
		}, 24},
		"polyline": {func(p *plot) string {
			return p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 5, 0, 5, 2, 2, 2, 2, 4, 0, 4))
		}, 14},
		"with a hole": {func(p *plot) string {
			return p.add("IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,%s,(%s))", p.polyline(0, 0, 10, 0, 10, 10, 0, 10), p.polyline(4, 4, 6, 4, 6, 6, 4, 6))
		}, 96},
		"circle": {func(p *plot) string {
			return p.add("IFCCIRCLEPROFILEDEF(.AREA.,$,%s,3.)", p.add("IFCAXIS2PLACEMENT2D(%s,$)", p.point(1, 1)))
		}, 9 * math.Pi},
		"lines and an arc": {func(p *plot) string {
			circle := p.add("IFCCIRCLE(%s,2.)", p.add("IFCAXIS2PLACEMENT2D(%s,$)", p.point(4, 2)))
			arc := p.add("IFCTRIMMEDCURVE(%s,(IFCPARAMETERVALUE(%g)),(IFCPARAMETERVALUE(%g)),.T.,.PARAMETER.)", circle, -math.Pi/2, math.Pi/2)
			// The last side is drawn the other way round and turned by SameSense.
			parts := []string{
				p.add("IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,%s)", p.add("IFCPOLYLINE((%s,%s))", p.point(0, 0), p.point(4, 0))),
				p.add("IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,%s)", arc),
				p.add("IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.F.,%s)", p.add("IFCPOLYLINE((%s,%s,%s))", p.point(0, 0), p.point(0, 4), p.point(4, 4))),
			}
			return p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.add("IFCCOMPOSITECURVE((%s),.F.)", strings.Join(parts, ",")))
		}, 16 + 2*math.Pi},
		"arc trimmed by points": {func(p *plot) string {
			circle := p.add("IFCCIRCLE(%s,2.)", p.add("IFCAXIS2PLACEMENT2D(%s,$)", p.point(0, 0)))
			arc := p.add("IFCTRIMMEDCURVE(%s,(%s),(%s),.T.,.CARTESIAN.)", circle, p.point(2, 0), p.point(-2, 0))
			return p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.add("IFCCOMPOSITECURVE((%s),.F.)", p.add("IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,%s)", arc)))
		}, 2 * math.Pi},
		"indexed curve with an arc": {func(p *plot) string {
			list := p.add("IFCCARTESIANPOINTLIST2D(((0.,0.),(4.,0.),(6.,2.),(4.,4.),(0.,4.)))")
			return p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.add("IFCINDEXEDPOLYCURVE(%s,(IFCLINEINDEX((1,2)),IFCARCINDEX((2,3,4)),IFCLINEINDEX((4,5,1))),.F.)", list))
		}, 16 + 2*math.Pi},
		"indexed curve, all lines": {func(p *plot) string {
			list := p.add("IFCCARTESIANPOINTLIST2D(((0.,0.),(4.,0.),(4.,4.),(0.,4.),(0.,0.)))")
			return p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.add("IFCINDEXEDPOLYCURVE(%s,$,.F.)", list))
		}, 16},
		"mirrored and doubled": {func(p *plot) string {
			inner := p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 3, 0, 3, 1, 0, 1))
			op := p.add("IFCCARTESIANTRANSFORMATIONOPERATOR2D(%s,$,%s,2.)", p.add("IFCDIRECTION((-1.,0.))"), p.point(0, 0))
			return p.add("IFCDERIVEDPROFILEDEF(.AREA.,$,%s,%s,$)", inner, op)
		}, 12},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			storey, at := p.storey("L", 0)
			p.space(storey, p.placement(at, 0, 0, 0), p.shape("Body", p.extruded(c.profile(p), 3)), "1", "Room")
			s := only(t, read(t, p.bytes()))
			assert.InEpsilon(t, c.area, float64(s.Area), arcShare)
			assert.Equal(t, FromExtrusion, s.OutlineFrom)
			assert.InDelta(t, 3, float64(s.Ceiling-s.Floor), 1e-9)
		})
	}
}

func TestUnits_millimetersFeetAndNone(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("Level 2", 3000)
	p.space(storey, p.placement(at, 1000, 2000, 50), p.box(4000, 3000, 2600), "101", "Office")
	text := string(p.bytes())
	m := read(t, []byte(strings.Replace(text, "IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)", "IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)", 1)))
	s := only(t, m)
	assert.Equal(t, "millimeters", m.Unit.Name)
	assert.InDelta(t, 12, float64(s.Area), 1e-9)
	assert.InDelta(t, 3, float64(m.Storeys[0].Level), 1e-9)
	assert.InDelta(t, 3.05, float64(s.Floor), 1e-9)
	assert.InDelta(t, 5.65, float64(s.Ceiling), 1e-9)
	assert.InDelta(t, 1, s.Outline.Bounds().Min.X, 1e-9)

	feet := strings.Replace(text, "#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);",
		"#3=IFCCONVERSIONBASEDUNIT(#9,.LENGTHUNIT.,'FOOT',#6);\n#6=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.3048),#7);\n#7=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);", 1)
	m = read(t, []byte(feet))
	assert.Equal(t, "foot", m.Unit.Name)
	assert.InDelta(t, 4000*3000*0.3048*0.3048, float64(only(t, m).Area), 1)

	none := []byte(strings.Replace(text, "#2=IFCUNITASSIGNMENT((#3));", "", 1))
	m = read(t, none)
	assert.False(t, m.Unit.Sure)
	assert.True(t, m.Problems[0].Fatal)
	m, err := Read(context.Background(), none, Options{Unit: "mm"}, nil)
	require.NoError(t, err)
	assert.True(t, m.Unit.Sure)
	assert.InDelta(t, 12, float64(only(t, m).Area), 1e-9)
	_, err = Read(context.Background(), none, Options{Unit: "cubit"}, nil)
	assert.ErrorContains(t, err, `the unit "cubit" is not known: use mm, cm, m, in or ft`)
}

func TestPlacement_turnsAndChainsKeepTheArea(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		angle := rapid.Float64Range(-3, 3).Draw(rt, "angle")
		x, y := rapid.Float64Range(-50, 50).Draw(rt, "x"), rapid.Float64Range(-50, 50).Draw(rt, "y")
		p := newPlot()
		storey, at := p.storey("L", 0)
		dir := p.add("IFCDIRECTION((%g,%g,0.))", math.Cos(angle), math.Sin(angle))
		turned := p.add("IFCLOCALPLACEMENT(%s,%s)", at, p.add("IFCAXIS2PLACEMENT3D(%s,$,%s)", p.point(x, y, 0), dir))
		p.space(storey, p.placement(turned, 2, 0, 0), p.box(4, 3, 2.6), "1", "A")
		s := only(t, read(t, p.bytes()))
		if math.Abs(float64(s.Area)-12) > 1e-6 {
			rt.Fatalf("area %g", s.Area)
		}
		// The box's middle is (2 + 2, 1.5) in the turned system.
		c := s.Outline.Centroid()
		wantX, wantY := x+4*math.Cos(angle)-1.5*math.Sin(angle), y+4*math.Sin(angle)+1.5*math.Cos(angle)
		if math.Hypot(c.X-wantX, c.Y-wantY) > 1e-6 {
			rt.Fatalf("middle (%g, %g), want (%g, %g)", c.X, c.Y, wantX, wantY)
		}
	})
}

func TestShapes_facesFootprintBoundariesAndMappings(t *testing.T) {
	face := func(p *plot, xyz ...float64) string {
		var points []string
		for i := 0; i+2 < len(xyz); i += 3 {
			points = append(points, p.point(xyz[i], xyz[i+1], xyz[i+2]))
		}
		return p.add("IFCFACE((%s))", p.add("IFCFACEOUTERBOUND(%s,.T.)", p.add("IFCPOLYLOOP((%s))", strings.Join(points, ","))))
	}
	for name, c := range map[string]struct {
		shape func(p *plot) string
		from  string
		area  float64
	}{
		"brep": {func(p *plot) string {
			faces := []string{
				face(p, 0, 0, 0, 4, 0, 0, 4, 3, 0, 0, 3, 0), face(p, 0, 0, 2, 4, 0, 2, 4, 3, 2, 0, 3, 2), face(p, 0, 0, 0, 4, 0, 0, 4, 0, 2, 0, 0, 2),
			}
			return p.shape("Body", p.add("IFCFACETEDBREP(%s)", p.add("IFCCLOSEDSHELL((%s))", strings.Join(faces, ","))))
		}, building.FromClosedShell, 12},
		"brep over a small pit": {func(p *plot) string {
			faces := []string{
				face(p, 0, 0, 0, 4, 0, 0, 4, 3, 0, 0, 3, 0), face(p, 1, 1, -1, 2, 1, -1, 2, 2, -1, 1, 2, -1), face(p, 0, 0, 2, 4, 0, 2, 4, 3, 2, 0, 3, 2),
			}
			return p.shape("Body", p.add("IFCFACETEDBREP(%s)", p.add("IFCCLOSEDSHELL((%s))", strings.Join(faces, ","))))
		}, building.FromPlanShadow, 12},
		"face set": {func(p *plot) string {
			list := p.add("IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(4.,0.,0.),(4.,3.,0.),(0.,3.,0.),(0.,0.,2.),(4.,0.,2.),(4.,3.,2.),(0.,3.,2.)))")
			f := p.add("IFCINDEXEDPOLYGONALFACE((1,2,3,4))")
			g := p.add("IFCINDEXEDPOLYGONALFACE((5,6,7,8))")
			return p.shape("Body", p.add("IFCPOLYGONALFACESET(%s,.T.,(%s,%s),$)", list, f, g))
		}, building.FromClosedShell, 12},
		"triangles": {func(p *plot) string {
			list := p.add("IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(4.,0.,0.),(4.,3.,0.),(0.,3.,0.)))")
			return p.shape("Body", p.add("IFCTRIANGULATEDFACESET(%s,$,.F.,((1,2,3),(1,3,4)),$)", list))
		}, building.FromClosedShell, 12},
		"footprint": {func(p *plot) string {
			return p.shape("FootPrint", p.add("IFCGEOMETRICCURVESET((%s))", p.polyline(0, 0, 4, 0, 4, 3, 0, 3)))
		}, FromFootprint, 12},
		"clipped": {func(p *plot) string {
			solid := p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 4, 0, 4, 3, 0, 3)), 5)
			return p.shape("Body", p.add("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,#77)", solid))
		}, FromExtrusion, 12},
		"mapped, half as large": {func(p *plot) string {
			solid := p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 8, 0, 8, 6, 0, 6)), 5)
			source := p.add("IFCREPRESENTATIONMAP(%s,%s)", p.add("IFCAXIS2PLACEMENT3D(%s,$,$)", p.point(0, 0, 0)), p.add("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))", solid))
			return p.shape("Body", p.add("IFCMAPPEDITEM(%s,%s)", source, p.add("IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,%s,0.5,$)", p.point(1, 1, 0))))
		}, FromExtrusion, 12},
		"two solids side by side": {func(p *plot) string {
			a := p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 2, 0, 2, 3, 0, 3)), 3)
			b := p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(2, 0, 4, 0, 4, 3, 2, 3)), 2)
			return p.shape("Body", a, b)
		}, FromExtrusion, 12},
		"extruded sideways": {func(p *plot) string {
			// A section of 3 x 2 m in the plane of y and z, 4 m along x.
			pos := p.add("IFCAXIS2PLACEMENT3D(%s,%s,%s)", p.point(0, 0, 0), p.add("IFCDIRECTION((1.,0.,0.))"), p.add("IFCDIRECTION((0.,1.,0.))"))
			profile := p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 3, 0, 3, 2, 0, 2))
			return p.shape("Body", p.add("IFCEXTRUDEDAREASOLID(%s,%s,%s,4.)", profile, pos, p.up()))
		}, building.FromPlanShadow, 12},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			storey, at := p.storey("L", 0)
			p.space(storey, at, c.shape(p), "1", "Room")
			m := read(t, p.bytes())
			s := only(t, m)
			assert.Equal(t, c.from, s.OutlineFrom)
			assert.InDelta(t, c.area, float64(s.Area), 1e-6)
			if name == "clipped" {
				assert.Contains(t, messages(m), "Its outline is that before the cut.")
			}
		})
	}
}

func TestShapes_fromBoundariesOrAreaOnly(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("L", 0)
	s := p.space(storey, at, "$", "1", "Store")
	q := p.add("IFCQUANTITYAREA('GrossFloorArea',$,$,13.)")
	q2 := p.add("IFCQUANTITYAREA('NetFloorArea',$,$,12.5)")
	p.add("IFCRELDEFINESBYPROPERTIES('x',$,$,$,(%s),%s)", s, p.add("IFCELEMENTQUANTITY('y',$,$,$,$,(%s,%s))", q, q2))
	m := read(t, p.bytes())
	got := only(t, m)
	assert.True(t, got.Outline.Empty())
	assert.InDelta(t, 12.5, float64(got.DeclaredArea), 1e-9, "net before gross")
	assert.Contains(t, messages(m), "'1 Store' has no shape: it comes with its area only (12.5 m2).")

	plane := p.add("IFCPLANE(%s)", p.add("IFCAXIS2PLACEMENT3D(%s,$,$)", p.point(0, 0, 0)))
	surface := p.add("IFCCURVEBOUNDEDPLANE(%s,%s,())", plane, p.polyline(0, 0, 4, 0, 4, 3, 0, 3))
	p.add("IFCRELSPACEBOUNDARY('b',$,$,$,%s,$,%s,.PHYSICAL.,.INTERNAL.)", s, p.add("IFCCONNECTIONSURFACEGEOMETRY(%s,$)", surface))
	got = only(t, read(t, p.bytes()))
	assert.Equal(t, FromBoundaries, got.OutlineFrom)
	assert.InDelta(t, 12, float64(got.Area), 1e-9)
}

// house is a room of 4 x 3 m with a wall on its south side and a window in it,
// 1.2 m wide, 1.5 m high, sill 0.9 m over the room's floor.
func house(p *plot, opening bool) {
	storey, at := p.storey("Level 1", 10)
	p.space(storey, p.placement(at, 0, 0, 0.1), p.box(4, 3, 2.7), "101", "Office")
	wallAt := p.placement(at, 0, -0.1, 0)
	axis := p.add("IFCSHAPEREPRESENTATION($,'Axis','Curve2D',(%s))", p.add("IFCPOLYLINE((%s,%s))", p.point(0, 0), p.point(4, 0)))
	body := p.add("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))",
		p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, -0.1, 4, -0.1, 4, 0.1, 0, 0.1)), 3))
	wall := p.add("IFCWALL('w',$,'W',$,$,%s,%s,$,$)", wallAt, p.add("IFCPRODUCTDEFINITIONSHAPE($,$,(%s,%s))", axis, body))
	p.add("IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(%s),%s)", wall, storey)
	holeAt := p.placement(wallAt, 1, 0, 1)
	window := p.add("IFCWINDOW('win',$,'V1',$,$,%s,$,$,1.5,1.2,$,$,$)", holeAt)
	if !opening {
		return
	}
	profile := p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, -0.2, 1.2, -0.2, 1.2, 0.2, 0, 0.2))
	hole := p.add("IFCOPENINGELEMENT('o',$,'O',$,$,%s,%s,$,$)", holeAt, p.shape("Body", p.extruded(profile, 1.5)))
	p.add("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", wall, hole)
	p.add("IFCRELFILLSELEMENT('f',$,$,$,%s,%s)", hole, window)
}

func TestWindows_sillAndHeadOverTheRoomsFloor(t *testing.T) {
	for _, opening := range []bool{true, false} {
		p := newPlot()
		house(p, opening)
		m := read(t, p.bytes())
		s := only(t, m)
		require.Len(t, s.Windows, 1, "opening %v", opening)
		w := s.Windows[0]
		assert.Equal(t, building.Window, w.Kind)
		assert.InDelta(t, 0.9, float64(w.Sill), 1e-9)
		assert.InDelta(t, 2.4, float64(w.Head), 1e-9)
		assert.InDelta(t, 1.8, float64(w.Area), 1e-9)
		assert.InDelta(t, 1, math.Min(w.A.X, w.B.X), 1e-9)
		assert.InDelta(t, 1.2, w.A.Distance(w.B), 1e-9)
		wall := m.Storeys[0].Walls[0]
		assert.InDelta(t, 0.2, float64(wall.Thickness), 1e-9)
		assert.InDelta(t, 3, float64(wall.Height), 1e-9)
		if opening {
			require.Len(t, wall.Openings, 1)
			assert.InDelta(t, 1, float64(wall.Openings[0].Sill), 1e-9, "over the storey")
		}
	}
}

func TestWindows_betweenTwoRoomsGiveNoDaylight(t *testing.T) {
	p := newPlot()
	house(p, true)
	storey, at := p.storey("Level 1 again", 10)
	p.space(storey, p.placement(at, 0, -3.2, 0), p.box(4, 3, 2.7), "102", "Hall")
	m := read(t, p.bytes())
	for _, st := range m.Storeys {
		for _, s := range st.Spaces {
			assert.Empty(t, s.Windows)
		}
	}
	assert.Contains(t, messages(m), "1 window was left out of daylight for lying between two spaces.")
}

func TestStoreys_derivedWhereTheFileNamesNone(t *testing.T) {
	p := newPlot()
	for i, z := range []float64{0, 0.3, 3.5, 7, 7.2} {
		p.add("IFCSPACE('s%d',$,'%d',$,$,%s,%s,'Room',.ELEMENT.,.INTERNAL.,$)", i, i, p.placement("$", float64(i)*10, 0, z), p.box(4, 3, 2.7))
	}
	m := read(t, p.bytes())
	require.Len(t, m.Storeys, 3)
	for i, n := range []int{2, 1, 2} {
		assert.Len(t, m.Storeys[i].Spaces, n)
		assert.True(t, m.Storeys[i].Derived)
	}
	assert.InDelta(t, 3.5, float64(m.Storeys[1].Level), 1e-9)
	assert.Contains(t, messages(m), "The file names no storeys")
}

func TestStoreys_elevationIsTheZeroOfHeights(t *testing.T) {
	// The site lies at 120 m, the storey says 0: the room's floor is at 0.05.
	p := newPlot()
	site := p.placement("$", 0, 0, 120)
	storey := p.add("IFCBUILDINGSTOREY('l',$,'Ground',$,$,%s,$,$,.ELEMENT.,0.)", p.placement(site, 0, 0, 0))
	p.space(storey, p.placement(site, 0, 0, 0.05), p.box(4, 3, 2.7), "1", "A")
	s := only(t, read(t, p.bytes()))
	assert.InDelta(t, 0.05, float64(s.Floor), 1e-9)
	assert.InDelta(t, 2.75, float64(s.Ceiling), 1e-9)
}

func TestNorth_fromTheContext(t *testing.T) {
	p := newPlot()
	p.add("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,$,%s)", p.add("IFCDIRECTION((1.,1.))"))
	m := read(t, p.bytes())
	assert.True(t, m.HasNorth)
	assert.InDelta(t, 45, m.NorthDegrees, 1e-9, "to the upper right")
}

func TestAreas_toldOncePerHabitOrEachWhereOdd(t *testing.T) {
	model := func(stated ...float64) *building.Model {
		p := newPlot()
		storey, at := p.storey("L", 0)
		for i, v := range stated {
			s := p.space(storey, p.placement(at, float64(i)*10, 0, 0), p.box(4, 3, 2.7), string(rune('1'+i)), "Room")
			q := p.add("IFCQUANTITYAREA('Area',$,$,%g)", v)
			p.add("IFCRELDEFINESBYPROPERTIES('x',$,$,$,(%s),%s)", s, p.add("IFCELEMENTQUANTITY('y',$,$,$,$,(%s))", q))
		}
		return read(t, p.bytes())
	}
	assert.Contains(t, messages(model(13.2, 13.2, 14)), "mostly above those of the outlines, by 10 % in the middle (10 to 17 %)")
	odd := messages(model(12, 12.01, 30))
	assert.Contains(t, odd, "3 Room: the file says 30.0 m2, its outline has 12.0 m2. The outline is used.")
	assert.NotContains(t, odd, "2 Room")
}

func TestCurtainWalls_areToldOf(t *testing.T) {
	p := newPlot()
	house(p, true)
	p.add("IFCCURTAINWALL('cw',$,'CW',$,$,$,$,$)")
	assert.Contains(t, messages(read(t, p.bytes())), "1 curtain wall was not read")
}
