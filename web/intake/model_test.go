package intake

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/store"
)

// threeRooms is a school of our own in feet: 101 Classroom (600 ft2, two
// windows, a door) and 104 Store (200 ft2) on Ground, a Gallery without a
// number (800 ft2) on Upper.
func threeRooms(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("testdata/three-rooms.gbxml.xml")
	require.NoError(t, err)
	return string(data)
}

const squareFoot = 0.09290304 // m2, exact by the international foot of 1959

func TestModel_previewStoresNothing(t *testing.T) {
	a := newApp(t)
	before := a.rooms()
	_, body := a.preview("school.xml", threeRooms(t))
	for _, want := range []string{
		"What this plan would do", "gbXML 6.01, read in feet", "Storeys of the file", "Add 2 rooms, change 1 room, draw 7 walls",
		"Ground", "Upper", "104 Store", "Gallery", "the file gives it no number: U1 stands until you give it one",
		"2 windows, 1 door", `class="thumb-update"`, `class="thumb-new"`, "600 sq ft", "All 3", "Not in the file 1",
	} {
		assert.Contains(t, body, want)
	}
	assert.Equal(t, before, a.rooms(), "nothing is stored yet")
}

func TestModel_applyIsOneEditThatCanBeUndone(t *testing.T) {
	a := newApp(t)
	before := a.rooms()
	address, body := a.preview("school.xml", threeRooms(t))
	got := a.Plain(address+"/apply", "seen", seen(t, body))
	require.Equal(t, http.StatusSeeOther, got.Code, got.Body.String())
	assert.Equal(t, address, got.Header().Get("Location"))
	report := a.Get(address).Body.String()
	assert.Contains(t, report, "The plan is in")
	assert.Contains(t, report, "imported plan school.xml: add 2 rooms, change 1 room, draw 7 walls")
	assert.NotContains(t, report, `name="seen"`)

	now := a.rooms()
	require.Len(t, now, 4)
	assert.InDelta(t, 600*squareFoot, now["101"].Outline.Area(), 0.01)
	assert.Equal(t, before["101"].Design, now["101"].Design, "nothing designed is lost")
	assert.Equal(t, before["101"].Area, now["101"].Area)
	assert.EqualValues(t, 18.58, now["104"].Area, "200 ft2 to a hundredth of a square meter")
	assert.Equal(t, domain.ID("s2"), now["U1"].StoreyID, "Upper is there by its name")
	assert.True(t, now["101"].Windows)
	assert.False(t, now["104"].Windows)
	assert.Contains(t, report, "/rooms/"+string(now["104"].ID), "new rooms can be opened")

	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	require.Len(t, plan.Walls, 7)
	assert.Len(t, plan.Walls[0].Openings, 2)
	assert.InDelta(t, 3*0.3048, float64(plan.Walls[0].Openings[0].Sill), 1e-3)

	again := a.Plain(address+"/apply", "seen", "x")
	assert.Equal(t, http.StatusSeeOther, again.Code, "a second click does nothing more")
	_, body = a.preview("school.xml", threeRooms(t))
	assert.Contains(t, body, "Nothing to store.")
	assert.Contains(t, body, "Unchanged 3")

	history, err := a.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	require.Len(t, history, 2, "the project itself came in by one")
	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: "project:p1"})
	require.NoError(t, err)
	assert.Equal(t, before, a.rooms())
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.True(t, plan.Empty())
}

func TestModel_choices(t *testing.T) {
	a := newApp(t)
	address, _ := a.preview("school.xml", threeRooms(t))
	require.Equal(t, 303, a.Plain(address+"/read", "unit", "", "storeys", "yes", "storey-0", "s1", "storey-1", "leave", "facts", "yes").Code)
	body := a.Get(address).Body.String()
	assert.Contains(t, body, "left out, as chosen")
	assert.NotContains(t, body, "U1 Gallery")
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body)).Code)
	now := a.rooms()
	assert.InDelta(t, 55.74, float64(now["101"].Area), 0.001, "600 ft2: the drawing's area wins")
	assert.Nil(t, now["U1"])

	// Both to one storey: refused, and nothing stored.
	address, _ = a.preview("school.xml", threeRooms(t))
	require.Equal(t, 303, a.Plain(address+"/read", "storeys", "yes", "storey-0", "s1", "storey-1", "s1").Code)
	body = a.Get(address).Body.String()
	assert.Contains(t, body, "Two storeys of the file, Ground and Upper, go to")
	assert.NotContains(t, body, `name="seen"`)
	assert.Equal(t, 422, a.Plain(address+"/apply", "seen", "").Code)

	// In another unit the rooms have another size.
	require.Equal(t, 303, a.Plain(address+"/read", "unit", "in").Code)
	assert.Contains(t, a.Get(address).Body.String(), "read in inches")
	assert.Equal(t, 422, a.Plain(address+"/read", "unit", "furlongs").Code)
}

func TestModel_refusesWhatWasNotShown(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("school.xml", threeRooms(t))
	a.EditRoom("r1", "renumbered", func(r *domain.Resolved) { r.Number = "102x" })
	got := a.Plain(address+"/apply", "seen", seen(t, body))
	assert.Equal(t, http.StatusConflict, got.Code)
	assert.Contains(t, got.Body.String(), "The project or the choices changed after this preview was made")
	assert.Len(t, a.rooms(), 2)
}

func TestModel_choicesThatWereNotLookedAtAreNotLost(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("school.xml", threeRooms(t))
	got := a.Plain(address+"/apply", "seen", seen(t, body), "unit", "", "storeys", "yes", "storey-0", "s1", "storey-1", "leave")
	assert.Equal(t, http.StatusConflict, got.Code)
	assert.Contains(t, got.Body.String(), "left out, as chosen")
	assert.Len(t, a.rooms(), 2)
	got = a.Plain(address+"/apply", "seen", seen(t, got.Body.String()), "unit", "", "storeys", "yes", "storey-0", "s1", "storey-1", "leave")
	require.Equal(t, 303, got.Code)
	assert.Len(t, a.rooms(), 3)

	address, body = a.preview("school.xml", threeRooms(t))
	got = a.Plain(address+"/apply", "seen", seen(t, body), "unit", "in")
	assert.Equal(t, http.StatusConflict, got.Code)
	assert.Contains(t, got.Body.String(), "Read it like this")
}

func TestModel_projectWithoutStoreys(t *testing.T) {
	a := newApp(t)
	_, err := a.Store.Edit(t.Context(), store.Request{ProjectID: "p1"}, func(tx *store.Tx) (string, error) {
		for _, id := range []domain.ID{"r1", "r2"} {
			if err := tx.RemoveRoom(id); err != nil {
				return "", err
			}
		}
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		p.Buildings = nil
		return "emptied", tx.PutProject(p)
	})
	require.NoError(t, err)
	address, body := a.preview("school.xml", threeRooms(t))
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body)).Code)
	p := a.Project("p1")
	require.Len(t, p.Buildings, 1)
	require.Len(t, p.Buildings[0].Storeys, 2)
	assert.Equal(t, "Upper", p.Buildings[0].Storeys[1].Name)
	assert.Len(t, a.rooms(), 3)
	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: "project:p1"})
	require.NoError(t, err)
	assert.Empty(t, a.Project("p1").Buildings)
	_, err = a.Store.Redo(t.Context(), store.Request{ProjectID: "p1", Scope: "project:p1"})
	require.NoError(t, err)
	plan, _, err := a.Store.Plan(t.Context(), "p1", p.Buildings[0].Storeys[0].ID)
	require.NoError(t, err)
	assert.Len(t, plan.Walls, 7)
}

// drawing is a text DXF of our own in the unit of code: a room of 6 x 4 and one
// of 4 x 4 drawing units on a layer with a name in each, times size.
func drawn(layer string, code int, size float64) string {
	var b strings.Builder
	pair := func(code int, value any) { fmt.Fprintf(&b, "%d\n%v\n", code, value) }
	pair(0, "SECTION")
	pair(2, "HEADER")
	pair(9, "$ACADVER")
	pair(1, "AC1024")
	pair(9, "$INSUNITS")
	pair(70, code)
	pair(0, "ENDSEC")
	pair(0, "SECTION")
	pair(2, "ENTITIES")
	for i, room := range []struct {
		x, width float64
		text     string
	}{{0, 6, "101 Classroom"}, {6, 4, "102 Office"}} {
		pair(0, "LWPOLYLINE")
		pair(5, 100+i)
		pair(8, layer)
		pair(90, 4)
		pair(70, 1)
		for _, c := range [][2]float64{{room.x, 0}, {room.x + room.width, 0}, {room.x + room.width, 4}, {room.x, 4}} {
			pair(10, c[0]*size)
			pair(20, c[1]*size)
		}
		pair(0, "TEXT")
		pair(8, "NOTES")
		pair(10, (room.x+1)*size)
		pair(20, 2*size)
		pair(40, 0.2*size)
		pair(1, room.text)
	}
	pair(0, "ENDSEC")
	pair(0, "EOF")
	return b.String()
}

func TestDrawing_asksForTheUnit(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("Level 1.dxf", drawn("A-AREA", 0, 1000))
	assert.Contains(t, body, "The drawing names no unit.")
	assert.Contains(t, body, "Which?")
	assert.NotContains(t, body, `name="seen"`)
	assert.Equal(t, 422, a.Plain(address+"/apply", "seen", "").Code, "nothing is stored on a guess")

	require.Equal(t, 303, a.Plain(address+"/read", "unit", "mm", "layers", "yes", "layer-0", "rooms").Code)
	body = a.Get(address).Body.String()
	assert.Contains(t, body, "read in millimeters")
	assert.Contains(t, body, "A-AREA")
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body)).Code)
	now := a.rooms()
	assert.InDelta(t, 24, now["101"].Outline.Area(), 1e-6)
	assert.InDelta(t, 16, now["102"].Outline.Area(), 1e-6)
	assert.EqualValues(t, 10, now["102"].Area, "what was stated stays")
}

func TestDrawing_asksForLayers(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("plan.dxf", drawn("0", 6, 1))
	assert.Contains(t, body, "No layer of this drawing is named like rooms or walls")
	assert.Contains(t, body, "101 Classroom, 102 Office", "what stands on a layer")
	assert.NotContains(t, body, `name="seen"`)

	layer := "layer-0"
	if strings.Index(body, `for="layer-0">NOTES`) > 0 {
		layer = "layer-1"
	}
	require.Equal(t, 303, a.Plain(address+"/read", "unit", "", "layers", "yes", layer, "rooms", "enclose", "0").Code)
	body = a.Get(address).Body.String()
	assert.Contains(t, body, "Change 2 rooms")
	assert.Equal(t, 422, a.Plain(address+"/read", "layers", "yes", "enclose", "77").Code)
	require.Equal(t, 303, a.Plain(address+"/read", "layers", "yes").Code)
	assert.Contains(t, a.Get(address).Body.String(), "No layer of this drawing", "choices can be taken back")
}

func TestModel_progressAndCancel(t *testing.T) {
	a := newApp(t)
	a.screen.patience = 0
	release := make(chan struct{})
	for range mostReading {
		readingSlots <- struct{}{} // others are reading: this one has to wait
	}
	go func() {
		<-release
		for range mostReading {
			<-readingSlots
		}
	}()
	p := a.screen.startReading(&parcel{project: "p1", kind: isModel, name: "school.xml", data: []byte(threeRooms(t))}, answers{})
	address := imports + "/" + p.token
	body := a.Get(address).Body.String()
	assert.Contains(t, body, "Reading school.xml")
	assert.Contains(t, body, "Cancel")
	part := a.Get(address + "/progress")
	assert.Contains(t, part.Body.String(), "0 % of")
	assert.Empty(t, part.Header().Get("HX-Redirect"))

	stopped := a.screen.startReading(&parcel{project: "p1", kind: isModel, name: "other.xml", data: []byte(threeRooms(t))}, answers{})
	require.Equal(t, 303, a.Plain(imports+"/"+stopped.token+"/discard").Code)
	select {
	case <-stopped.reading.finished:
	case <-time.After(5 * time.Second):
		t.Fatal("cancel does not stop the reading")
	}
	assert.Equal(t, 404, a.Get(imports+"/"+stopped.token).Code)

	close(release)
	<-p.reading.finished
	assert.Equal(t, address, a.Get(address+"/progress").Header().Get("HX-Redirect"))
	assert.Contains(t, a.Get(address).Body.String(), "What this plan would do")
}

func TestModel_bad(t *testing.T) {
	a := newApp(t)
	for _, c := range []struct{ name, content, want string }{
		{"cut.xml", threeRooms(t)[:2000], ""},
		{"plan.dwg", "AC1032\x00\x00\x00\x00\x00", "Save it as DXF"},
		{"other.xml", `<?xml version="1.0"?><catalog/>`, "XML file, but not gbXML"},
		{"page.xml", "<!DOCTYPE html><html></html>", "HTML"},
		{"empty.dxf", "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n", ""},
		{"broken.ifc", "ISO-10303-21;\nHEADER;\nnonsense", ""},
	} {
		got := a.send(c.name, c.content, "", "")
		if c.name == "empty.dxf" {
			require.Equal(t, 303, got.Code)
			assert.NotContains(t, a.Get(got.Header().Get("Location")).Body.String(), `name="seen"`)
			continue
		}
		assert.Equal(t, 422, got.Code, c.name)
		assert.Contains(t, got.Body.String(), "The file was not taken.", c.name)
		assert.Contains(t, got.Body.String(), c.want, c.name)
	}
}

// Every model file of the folder beside the repository comes in through the
// screen, and its rooms have the areas that its own readers' tests check.
func TestModel_sharedPlans(t *testing.T) {
	files, err := filepath.Glob("../../../shared/plans/*.*")
	require.NoError(t, err)
	if len(files) == 0 {
		t.Skip("the folder of shared plans is not there")
	}
	// Sums of outlines in square meters, from that folder's list of sources.
	areas := map[string]float64{
		"retail-two-storey-utf16.gbxml.xml": 1859.84, "office-two-storey-no-storeys.gbxml.xml": 1409.02, "labs-one-storey-inches.gbxml.xml": 1672.25,
		"office-two-storey.gbxml.xml": 723.74, "ring-three-storey.gbxml.xml": 2161.15, "clubhouse-two-storey.gbxml.xml": 1484.43,
		"derived-retail-level1-mm.dxf": 985.256, "derived-retail-level2-binary-m.dxf": 874.586, "derived-office-ground-r12-inch.dxf": 704.179,
	}
	for _, path := range files {
		name := filepath.Base(path)
		want, listed := areas[name]
		if !listed {
			continue
		}
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			a := newApp(t)
			address, body := a.preview(name, string(data))
			if strings.Contains(body, "The drawing names no unit") {
				require.Equal(t, 303, a.Plain(address+"/read", "unit", "in").Code)
			}
			require.Equal(t, 303, a.Plain(address+"/read", "storeys", "yes", "facts", "yes").Code)
			body = a.Get(address).Body.String()
			require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body)).Code)
			scope, err := a.Store.Load(t.Context(), "p1")
			require.NoError(t, err)
			assert.Empty(t, scope.Check())
			got := 0.0
			for i := range scope.Rooms {
				if r := &scope.Rooms[i]; !r.Outline.Empty() {
					got += float64(r.Area) // a floor in several pieces has all of them in its area
				}
			}
			assert.InEpsilon(t, want, got, 0.001)
		})
	}
}

// Areas of single rooms of the shared IFC file in square meters, from that
// folder's list of sources ("by geometry").
func TestModel_sharedIFC(t *testing.T) {
	data, err := os.ReadFile("../../../shared/plans/duplex-two-storey.ifc")
	if os.IsNotExist(err) {
		t.Skip("the folder of shared plans is not there")
	}
	require.NoError(t, err)
	a := newApp(t)
	address, body := a.preview("duplex.ifc", string(data))
	assert.Contains(t, body, "IFC 2x3, read in meters")
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body)).Code)
	now := a.rooms()
	for number, want := range map[string]float64{"A102": 27.660, "A103": 12.954, "A203": 22.043, "R301": 135.151} {
		require.NotNil(t, now[number], number)
		assert.InEpsilon(t, want, now[number].Outline.Area(), 0.001, number)
	}
	scope, err := a.Store.Load(t.Context(), "p1")
	require.NoError(t, err)
	assert.Empty(t, scope.Check())
}

func TestTakeFile_model(t *testing.T) {
	a := newApp(t)
	var out strings.Builder
	file := File{Name: "school.xml", Data: []byte(threeRooms(t))}
	require.NoError(t, TakeFile(t.Context(), a.Store, "p1", file, &out))
	assert.Contains(t, out.String(), "gbXML 6.01, read in feet\n")
	assert.Contains(t, out.String(), "new     Upper, U1 Gallery: 800 sq ft")
	assert.Contains(t, out.String(), "plan: 2 new, 1 changed, 0 the same, 0 skipped, 1 not in the file, ")
	assert.Len(t, a.rooms(), 2, "only told")
	file.Keep = true
	require.NoError(t, TakeFile(t.Context(), a.Store, "p1", file, &out))
	assert.Len(t, a.rooms(), 4)

	file.Storey = "Upper"
	assert.ErrorContains(t, TakeFile(t.Context(), a.Store, "p1", file, &out), "more than one storey")
	plan := File{Name: "x.dxf", Data: []byte(drawn("ROOMS", 0, 1000)), Keep: true, Storey: "upper"}
	assert.ErrorContains(t, TakeFile(t.Context(), a.Store, "p1", plan, &out), "--unit")
	plan.Unit = "mm"
	require.NoError(t, TakeFile(t.Context(), a.Store, "p1", plan, &out))
	var upper []string
	scope, err := a.Store.Load(t.Context(), "p1")
	require.NoError(t, err)
	for _, r := range scope.Rooms {
		if r.StoreyID == "s2" {
			upper = append(upper, r.Label())
		}
	}
	assert.ElementsMatch(t, []string{"U1 Gallery", "101 Classroom", "102 Office"}, upper)
	plan.Storey = "Attic"
	assert.ErrorContains(t, TakeFile(t.Context(), a.Store, "p1", plan, &out), `no storey "Attic"`)
	assert.ErrorContains(t, TakeFile(t.Context(), a.Store, "p1", File{Name: "a.dwg", Data: []byte("AC1032")}, &out), "Save it as DXF")
}
