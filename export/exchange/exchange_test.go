package exchange_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/export/exchange"
)

// sample is a project of one typical, a room that follows it with exceptions
// and a room of its own.
func sample(t testing.TB) *domain.Scope {
	b := domaintest.Classroom()
	own := b.R.Room.Clone()
	typical := domain.Typical{ID: "t1", Seq: 1, Name: "CR-1", Design: b.R.Design.Clone()}
	follower := domain.Room{ID: "r2", StoreyID: "s1", Number: "102", TypicalID: "t1"}
	resolved, err := domain.Resolve(&follower, &typical)
	require.NoError(t, err)
	resolved.Design = resolved.Design.Clone()
	resolved.Design.Device("ps").Delay = 900
	resolved.Design.Device("ps").At = &geom.Point{X: 7.00001, Y: 2}
	resolved.Design.Device("st").Place = "beside <door> & board"
	require.NoError(t, resolved.Settle())
	own.Outline = geom.Polygon{Outer: geom.Rectangle(0, 0, 8, 5).Outer, Holes: [][]geom.Point{geom.Rectangle(2, 2, 0.4, 0.4).Outer}}
	own.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1", At: geom.Pt(1.5, 1.25), Turn: 90}, {ID: "f2", At: geom.Pt(-3, 1.00004)}}
	own.Sitting = []domain.Seat{{ID: "a", At: geom.Pt(4, 4)}}
	own.Design.Devices[0].At, own.Design.Devices[0].Turn = &geom.Point{X: 0.1, Y: 0.2}, 45
	plan := domain.Plan{ID: "s1", North: 12.5, Underlay: &domain.Underlay{Picture: strings.Repeat("0a", 32), At: geom.Pt(-1, -1), Width: 420, Height: 297, Turn: 0.5, Opacity: 0.3},
		Walls: []domain.Wall{{ID: "w1", Seq: 2, B: geom.Pt(8, 0), Kind: domain.FullWall, Thickness: 0.2, Material: "brick", Openings: []domain.Opening{
			{ID: "o2", Seq: 2, Kind: domain.Window, At: 2, Width: 1.8, Sill: 0.9, Head: 2.1}, {ID: "o1", Seq: 1, Kind: domain.Door, At: 0.5, Width: 0.9, Head: 2.1}}},
			{ID: "w2", Seq: 1, A: geom.Pt(8, 0), B: geom.Pt(8, 5), Kind: domain.Partition, Height: 1.4}}}
	b.P.Worksheets = []domain.CodeWorksheet{{ID: "ws", Seq: 1, Title: "Ours", Base: "iecc-2021", Changes: []domain.CodeChange{
		{ID: "figure:full-off:delay", Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: "min", Mark: "read"}}}}
	b.P.CodePack = "ws"
	return &domain.Scope{Project: *b.P, Typicals: []domain.Typical{typical}, Plans: []domain.Plan{plan}, Rooms: []domain.Room{*own, follower},
		Reviews:  []domain.Review{{ID: "v1", RoomID: "r1", ItemID: "c1", At: "2026-03-31T10:00:00Z", Name: "R", Verdict: domain.Object, Comment: "Why?"}},
		SignOffs: []domain.SignOff{{ID: "s1", RoomID: "r1", Name: "R", Role: "reviewer", At: "2026-04-01T10:00:00Z", Hash: "ab"}}}
}

func written(t testing.TB, s *domain.Scope) []byte {
	var b bytes.Buffer
	require.NoError(t, exchange.Write(&b, s))
	return b.Bytes()
}

func TestReadThenWriteGivesTheSameBytes(t *testing.T) {
	first := written(t, sample(t))
	s, err := exchange.Read(bytes.NewReader(first))
	require.NoError(t, err)
	assert.Equal(t, string(first), string(written(t, s)))
	assert.True(t, bytes.HasPrefix(first, []byte("{\n  \"format\": \"scopewright-project\",\n  \"version\": 1,\n  \"project\": {\n    \"id\"")))
	assert.True(t, bytes.HasSuffix(first, []byte("\n}\n")))
	var twin bytes.Buffer
	require.NoError(t, json.Indent(&twin, first, "", "  "))
	assert.Equal(t, twin.String(), string(first), "written piece by piece, yet indented as a whole")
}

func TestReadThenWriteGivesTheSameBytesForAnyScope(t *testing.T) {
	schema := compiled(t)
	rapid.Check(t, func(t *rapid.T) {
		s := anyScope(t)
		var first, second bytes.Buffer
		require.NoError(t, exchange.Write(&first, s))
		got, err := exchange.Read(bytes.NewReader(first.Bytes()))
		require.NoError(t, err, first.String())
		require.NoError(t, exchange.Write(&second, got))
		require.Equal(t, first.String(), second.String())
		plain, err := jsonschema.UnmarshalJSON(bytes.NewReader(first.Bytes()))
		require.NoError(t, err)
		require.NoError(t, schema.Validate(plain), "what is written fits the published schema")
		want, err := s.Copy()
		require.NoError(t, err)
		delta.Sort(want)
		changes, err := delta.Diff(want, got)
		require.NoError(t, err)
		require.Empty(t, changes, "nothing is lost on the way")
	})
}

func TestWriteLeavesTheScopeAsItIs(t *testing.T) {
	s := sample(t)
	s.Rooms[0], s.Rooms[1] = s.Rooms[1], s.Rooms[0]
	before, err := json.Marshal(s)
	require.NoError(t, err)
	written(t, s)
	after, err := json.Marshal(s)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after))
}

func TestWhatWasSaidKeepsItsOrder(t *testing.T) {
	s := sample(t)
	s.Reviews = append(s.Reviews, domain.Review{ID: "a0", RoomID: "r1", ItemID: "c1", At: "2026-03-31T10:00:00Z", Name: "R", Verdict: domain.Agree})
	s.SignOffs = append(s.SignOffs, domain.SignOff{ID: "a0", RoomID: "r1", Name: "S", Role: "checker", At: "2026-04-01T10:00:00Z", Hash: "cd"})
	got, err := exchange.Read(bytes.NewReader(written(t, s)))
	require.NoError(t, err)
	assert.Equal(t, s.Reviews, got.Reviews)
	assert.Equal(t, s.SignOffs, got.SignOffs)
}

func TestReadBringsAnyOrderIntoOne(t *testing.T) {
	s := sample(t)
	want := written(t, s)
	s.Rooms[0], s.Rooms[1] = s.Rooms[1], s.Rooms[0]
	d := &s.Rooms[1].Design
	d.Loads[0], d.Loads[1] = d.Loads[1], d.Loads[0]
	raw, err := json.MarshalIndent(document(s), "", "\t")
	require.NoError(t, err)
	got, err := exchange.Read(bytes.NewReader(append([]byte("\xef\xbb\xbf"), raw...)))
	require.NoError(t, err)
	assert.Equal(t, string(want), string(written(t, got)))
	assert.Equal(t, json.RawMessage(`"beside \u003cdoor\u003e \u0026 board"`), got.Rooms[1].Exceptions[0].After, "spelled as the program itself does, so that undo recognises it")
}

func document(s *domain.Scope) map[string]any {
	return map[string]any{"format": exchange.Format, "version": exchange.Version, "project": s.Project, "typicals": s.Typicals, "plans": s.Plans, "rooms": s.Rooms, "reviews": s.Reviews, "sign_offs": s.SignOffs}
}

func compiled(t testing.TB) *jsonschema.Schema {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(exchange.Schema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("s.json", doc))
	schema, err := c.Compile("s.json")
	require.NoError(t, err)
	return schema
}

// The schema's lists of energy codes and kinds of space are those that can be chosen.
func TestSchemaListsTheCodesAndTheirSpaces(t *testing.T) {
	var doc struct {
		Defs map[string]struct{ Enum []string } `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(exchange.Schema(), &doc))
	packs, spaces := []string{""}, []string{""}
	for _, p := range domain.CodePacks() {
		packs = append(packs, string(p.ID))
	}
	for _, s := range domain.SpaceTypes() {
		spaces = append(spaces, string(s.Type))
	}
	assert.Equal(t, packs, doc.Defs["code_pack"].Enum)
	assert.Equal(t, spaces, doc.Defs["space_type"].Enum)
}

// The schema is written by hand: it must name each field of the types and no
// other.
func TestSchemaNamesEachFieldOfTheTypes(t *testing.T) {
	var doc struct {
		Defs map[string]struct {
			Properties map[string]json.RawMessage
			Required   []string
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(exchange.Schema(), &doc))
	for name, v := range map[string]any{
		"project": domain.Project{}, "building": domain.Building{}, "storey": domain.Storey{}, "luminaire": domain.Luminaire{},
		"limit": domain.Limit{}, "checklist_item": domain.ChecklistItem{}, "typical": domain.Typical{}, "room": domain.Room{},
		"exception": delta.Change{}, "waiver": domain.Waiver{}, "design": domain.Design{}, "load": domain.Load{}, "device": domain.Device{},
		"button": domain.Button{}, "link": domain.Link{}, "scene": domain.Scene{}, "scene_level": domain.SceneLevel{}, "intent": domain.Intent{},
		"scenario": domain.Scenario{}, "scenario_step": domain.ScenarioStep{},
		"circuit": domain.Circuit{}, "code_worksheet": domain.CodeWorksheet{}, "code_change": domain.CodeChange{}, "plan": domain.Plan{}, "wall": domain.Wall{}, "rooflight": domain.Rooflight{}, "opening": domain.Opening{}, "underlay": domain.Underlay{}, "fixture": domain.Fixture{}, "seat": domain.Seat{},
		"review": domain.Review{}, "sign_off": domain.SignOff{}, "type": domaintest.Project("US").Book[0],
	} {
		var fields, named []string
		typ := reflect.TypeOf(v)
		for i := range typ.NumField() {
			field, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			fields = append(fields, field)
		}
		for p := range doc.Defs[name].Properties {
			named = append(named, p)
		}
		assert.ElementsMatch(t, fields, named, name)
		assert.Subset(t, fields, doc.Defs[name].Required, name)
	}
}

// spoiled documents: what is done to the sample, and what the answer names.
var spoiled = []struct {
	name  string
	spoil func(doc map[string]any)
	says  []string
}{
	{"no format", func(d map[string]any) { delete(d, "format") }, []string{"/format", "not an exchange file"}},
	{"other format", func(d map[string]any) { d["format"] = "something" }, []string{"/format"}},
	{"newer version", func(d map[string]any) { d["version"] = 2; d["novelty"] = true }, []string{"newer version", "update"}},
	{"version as text", func(d map[string]any) { d["version"] = "1" }, []string{"/version"}},
	{"no project", func(d map[string]any) { delete(d, "project") }, []string{"/project", "missing"}},
	{"project of null", func(d map[string]any) { d["project"] = nil }, []string{"/project", "object"}},
	{"rooms no list", func(d map[string]any) { d["rooms"] = 7 }, []string{"/rooms", "list"}},
	{"rooms of null", func(d map[string]any) { d["rooms"] = nil }, []string{"/rooms", "list"}},
	{"unknown field at the top", func(d map[string]any) { d["roomz"] = 1 }, []string{"/roomz", "spelling"}},
	{"unknown field in a room", func(d map[string]any) { room(d, 0)["colour"] = "red" }, []string{"/rooms/0", "colour", "spelling"}},
	{"field in other letters", func(d map[string]any) { room(d, 0)["Number"] = "7" }, []string{"/rooms/0", "Number"}},
	{"unknown field deep down", func(d map[string]any) { part(d, "loads", 1)["wats"] = 3 }, []string{"/rooms/0/design/loads/1", "wats"}},
	{"room without ID", func(d map[string]any) { delete(room(d, 0), "id") }, []string{"/rooms/0", "id", "missing"}},
	{"room without number", func(d map[string]any) { room(d, 0)["number"] = "" }, []string{"/rooms/0/number", "empty"}},
	{"missing storey", func(d map[string]any) { room(d, 0)["storey"] = "s9" }, []string{"/rooms/0/storey", "s9", "101"}},
	{"missing typical", func(d map[string]any) { room(d, 1)["typical"] = "t9" }, []string{"/rooms/1/typical", "t9", "102"}},
	{"two rooms of one ID", func(d map[string]any) { room(d, 1)["id"] = "r1" }, []string{"/rooms", "r1", "0 and 1"}},
	{"ID in capitals", func(d map[string]any) { room(d, 0)["id"] = "R 1" }, []string{"/rooms/0/id"}},
	{"two loads of one ID", func(d map[string]any) { part(d, "loads", 1)["id"] = "l1" }, []string{"/rooms/0/design/loads", "l1"}},
	{"negative area", func(d map[string]any) { room(d, 0)["area_m2"] = -1 }, []string{"/rooms/0/area_m2", "too small", "0"}},
	{"huge area", func(d map[string]any) { room(d, 0)["area_m2"] = 1e30 }, []string{"/rooms/0/area_m2", "too large", "100000"}},
	{"area as text", func(d map[string]any) { room(d, 0)["area_m2"] = "40" }, []string{"/rooms/0/area_m2", "string", "number"}},
	{"half a seat", func(d map[string]any) { room(d, 0)["seats"] = 1.5 }, []string{"/rooms/0/seats", "integer"}},
	{"unknown energy code", func(d map[string]any) { d["project"].(map[string]any)["code_pack"] = "iecc-1066" }, []string{"/project/code_pack", "iecc-1066", "iecc-2021"}},
	{"worksheet of no built-in code", func(d map[string]any) { worksheet(d)["base"] = "iecc-1066" }, []string{"/project/worksheets/0/base", "iecc-2021"}},
	{"worksheet with a built-in code's ID", func(d map[string]any) { worksheet(d)["id"] = "iecc-2021" }, []string{"/project/worksheets/0/id", "built-in"}},
	{"change of another row than its ID says", func(d map[string]any) { change(d)["control"] = "partial_off" }, []string{"/project/worksheets/0/changes/0/id", "figure:partial-off:delay"}},
	{"change with an unknown duty", func(d map[string]any) { change(d)["duty"] = "perhaps" }, []string{"/project/worksheets/0/changes/0/duty", "unknown"}},
	{"change in an unknown kind of space", func(d map[string]any) {
		change(d)["kind"], change(d)["space"] = "density", "dungeon"
	}, []string{"/project/worksheets/0/changes/0/space", "dungeon"}},
	{"change of nothing", func(d map[string]any) { delete(change(d), "control") }, []string{"/project/worksheets/0/changes/0/control", "missing"}},
	{"change with a huge figure", func(d map[string]any) { change(d)["value"] = 1e9 }, []string{"/project/worksheets/0/changes/0/value", "10000000"}},
	{"unknown kind of space", func(d map[string]any) { room(d, 0)["space_type"] = "dungeon" }, []string{"/rooms/0/space_type", "dungeon", "corridor"}},
	{"unknown use", func(d map[string]any) { room(d, 0)["use"] = "ballroom" }, []string{"/rooms/0/use", "ballroom", "classroom"}},
	{"unknown load kind", func(d map[string]any) { part(d, "loads", 0)["kind"] = "heating" }, []string{"/rooms/0/design/loads/0/kind", "lighting or receptacle"}},
	{"unknown intent kind", func(d map[string]any) { part(d, "intents", 0)["kind"] = "magic" }, []string{"/rooms/0/design/intents/0/kind"}},
	{"level over 100", func(d map[string]any) { part(d, "intents", 0)["level"] = 101 }, []string{"/rooms/0/design/intents/0/level", "100"}},
	{"no such day", func(d map[string]any) { part(d, "devices", 0)["fitted"] = "2026-02-30" }, []string{"/rooms/0/design/devices/0/fitted", "2026-02-30"}},
	{"no such hour", func(d map[string]any) { part(d, "intents", 0)["on_at"] = "29:00" }, []string{"/rooms/0/design/intents/0/on_at", "07:00"}},
	{"link with another ID", func(d map[string]any) { part(d, "links", 0)["id"] = "zz:l1" }, []string{"/rooms/0/design/links/", "zz:l1"}},
	{"control letter in a name", func(d map[string]any) { room(d, 0)["name"] = "a\u0007b" }, []string{"/rooms/0/name", "U+0007"}},
	{"line break in a name", func(d map[string]any) { room(d, 0)["name"] = "a\nb" }, []string{"/rooms/0/name", "U+000A"}},
	{"endless name", func(d map[string]any) { room(d, 0)["name"] = strings.Repeat("é", 4001) }, []string{"/rooms/0/name", "4001", "4000"}},
	{"follower with a design", func(d map[string]any) { room(d, 1)["design"] = room(d, 0)["design"] }, []string{"/rooms/1/design", "CR-1"}},
	{"exceptions without typical", func(d map[string]any) { delete(room(d, 1), "typical") }, []string{"/rooms/1/exceptions"}},
	{"exception to no field", func(d map[string]any) { exception(d)["path"] = "devices/ps/colour" }, []string{"/rooms/1/exceptions/0", "colour"}},
	{"exception of another type", func(d map[string]any) { exception(d)["after"] = map[string]any{"x": 1} }, []string{"/rooms/1/exceptions/0"}},
	{"exception to an unknown value", func(d map[string]any) {
		exception(d)["path"], exception(d)["before"], exception(d)["after"] = "loads/l1/kind", "lighting", "heating"
	}, []string{"/rooms/1/exceptions/loads/0/kind", "heating"}},
	{"exception of nothing", func(d map[string]any) { delete(exception(d), "before"); delete(exception(d), "after") }, []string{"/rooms/1/exceptions/0", "nothing"}},
	{"501 devices", func(d map[string]any) {
		var many []any
		for i := range 501 {
			many = append(many, map[string]any{"id": fmt.Sprint(i), "seq": i, "tag": "x", "type": "lc-1"})
		}
		room(d, 0)["design"] = map[string]any{"devices": many}
	}, []string{"/rooms/0/design/devices", "501", "500"}},
	{"review without time", func(d map[string]any) { d["reviews"].([]any)[0].(map[string]any)["at"] = "yesterday" }, []string{"/reviews/0/at", "yesterday"}},
	{"sign-off without room", func(d map[string]any) { d["sign_offs"].([]any)[0].(map[string]any)["room"] = "" }, []string{"/sign_offs/0/room"}},
	{"plan of no storey", func(d map[string]any) { plan(d)["id"] = "s9" }, []string{"/plans/0/id", "s9"}},
	{"two plans of a storey", func(d map[string]any) { d["plans"] = []any{plan(d), plan(d)} }, []string{"/plans", "s1", "0 and 1"}},
	{"plans no list", func(d map[string]any) { d["plans"] = map[string]any{} }, []string{"/plans", "list"}},
	{"unknown wall", func(d map[string]any) { wall(d, 0)["kind"] = "hedge" }, []string{"/plans/0/walls/0/kind", "hedge", "partition"}},
	{"two walls of one ID", func(d map[string]any) { wall(d, 1)["id"] = "w2" }, []string{"/plans/0/walls", "w2"}},
	{"unknown opening", func(d map[string]any) { opening(d)["kind"] = "hatch" }, []string{"/plans/0/walls/1/openings/0/kind", "hatch"}},
	{"opening of negative width", func(d map[string]any) { opening(d)["width_m"] = -1 }, []string{"/plans/0/walls/1/openings/0/width_m", "too small"}},
	{"opening too wide", func(d map[string]any) { opening(d)["width_m"] = 100001 }, []string{"/plans/0/walls/1/openings/0/width_m", "too large"}},
	{"wall far out", func(d map[string]any) { wall(d, 0)["b"] = []any{1e7 + 1, 0} }, []string{"/plans/0/walls/0/b/0", "too large", "10000000"}},
	{"point of three", func(d map[string]any) { wall(d, 0)["a"] = []any{1, 2, 3} }, []string{"/plans/0/walls/0/a"}},
	{"point of text", func(d map[string]any) { wall(d, 0)["a"] = []any{"1", 2} }, []string{"/plans/0/walls/0/a/0", "string"}},
	{"picture without its hash", func(d map[string]any) { plan(d)["underlay"].(map[string]any)["picture"] = "plan.png" }, []string{"/plans/0/underlay/picture", "plan.png"}},
	{"outline of two corners", func(d map[string]any) { room(d, 0)["outline"] = []any{[]any{[]any{0, 0}, []any{1, 1}}} }, []string{"/rooms/0/outline", "2 corners", "3"}},
	{"endless outline", func(d map[string]any) {
		ring, hole := make([]any, 19997), []any{[]any{0, 0}, []any{0, 1}, []any{1, 1}, []any{1, 0}}
		for i := range ring {
			ring[i] = []any{i, i % 7}
		}
		room(d, 0)["outline"] = []any{ring, hole}
	}, []string{"/rooms/0/outline", "20001", "20000"}},
	{"outline far out", func(d map[string]any) { room(d, 0)["outline"] = []any{[]any{[]any{0, 0}, []any{1, 1}, []any{-2e7, 1}}} }, []string{"/rooms/0/outline/0/2/0", "too small"}},
	{"two seats of one ID", func(d map[string]any) {
		room(d, 0)["sitting"] = []any{map[string]any{"id": "a", "at": []any{0, 0}}, map[string]any{"id": "a", "at": []any{1, 0}}}
	}, []string{"/rooms/0/sitting", "0 and 1"}},
	{"luminaire without place", func(d map[string]any) { delete(room(d, 0)["fixtures"].([]any)[0].(map[string]any), "at") }, []string{"/rooms/0/fixtures/0", "at", "missing"}},
	{"device far out by exception", func(d map[string]any) { exceptionTo(d, "devices/ps/at")["after"] = []any{1e8, 0} }, []string{"/rooms/1/exceptions", "10,000 km"}},
	{"device nowhere by exception", func(d map[string]any) { exceptionTo(d, "devices/ps/at")["after"] = []any{1} }, []string{"/rooms/1/exceptions/", "2 coordinates"}},
	{"turned too far", func(d map[string]any) { part(d, "devices", 0)["turn_deg"] = 361 }, []string{"/rooms/0/design/devices/0/turn_deg", "360"}},
	{"unknown limit", func(d map[string]any) {
		d["project"].(map[string]any)["limits"].([]any)[0].(map[string]any)["id"] = "patience"
	}, []string{"/project/limits/0", "patience"}},
	{"unsound type", func(d map[string]any) {
		d["project"].(map[string]any)["book"].([]any)[0].(map[string]any)["outputs"] = 0
	}, []string{"/project/book/0", "outputs"}},
}

func room(d map[string]any, i int) map[string]any { return d["rooms"].([]any)[i].(map[string]any) }

func part(d map[string]any, name string, i int) map[string]any {
	return room(d, 0)["design"].(map[string]any)[name].([]any)[i].(map[string]any)
}

func worksheet(d map[string]any) map[string]any {
	return d["project"].(map[string]any)["worksheets"].([]any)[0].(map[string]any)
}

func change(d map[string]any) map[string]any {
	return worksheet(d)["changes"].([]any)[0].(map[string]any)
}

func plan(d map[string]any) map[string]any { return d["plans"].([]any)[0].(map[string]any) }

func wall(d map[string]any, i int) map[string]any {
	return plan(d)["walls"].([]any)[i].(map[string]any)
}

func opening(d map[string]any) map[string]any {
	return wall(d, 1)["openings"].([]any)[0].(map[string]any)
}

func exceptionTo(d map[string]any, path string) map[string]any {
	for _, e := range room(d, 1)["exceptions"].([]any) {
		if e.(map[string]any)["path"] == path {
			return e.(map[string]any)
		}
	}
	panic("no exception at " + path)
}

func exception(d map[string]any) map[string]any {
	return room(d, 1)["exceptions"].([]any)[0].(map[string]any)
}

func TestSpoiledDocumentsAreRefusedWithTheirPlace(t *testing.T) {
	good := written(t, sample(t))
	for _, c := range spoiled {
		var doc map[string]any
		require.NoError(t, json.Unmarshal(good, &doc))
		c.spoil(doc)
		bad, err := json.Marshal(doc)
		require.NoError(t, err)
		_, err = exchange.Read(bytes.NewReader(bad))
		var refused *exchange.Refused
		if !assert.ErrorAs(t, err, &refused, c.name) {
			continue
		}
		for _, say := range c.says {
			assert.ErrorContains(t, err, say, c.name)
		}
	}
}

func TestHostileBytesAreRefusedWithASentence(t *testing.T) {
	good := string(written(t, sample(t)))
	for _, c := range []struct{ name, bytes, says string }{
		{"empty", "", "empty"},
		{"blank", " \n\t ", "empty"},
		{"binary", "\x89PNG\r\n\x1a\n\x00\x00", "binary"},
		{"no JSON", "room,name\n101,Lobby\n", "does not start as JSON"},
		{"truncated", good[:len(good)/2], "cut off"},
		{"trailing garbage", good + "x", "after the end"},
		{"two documents", good + good, "after the end"},
		{"invalid UTF-8", strings.Replace(good, "101", "10\xff", 1), "UTF-8"},
		{"name twice", strings.Replace(good, `"number": "101"`, `"number": "101", "number": "102"`, 1), `/rooms/0/number: line`},
		{"name twice, escaped", strings.Replace(good, `"number": "101"`, `"number": "101", "n\u0075mber": "102"`, 1), "twice"},
		{"twice at the top", strings.Replace(good, `"version": 1`, `"version": 1, "version": 1`, 1), "/version"},
		{"NaN", strings.Replace(good, `"area_m2": 40`, `"area_m2": NaN`, 1), "is not JSON"},
		{"number beyond all", strings.Replace(good, `"area_m2": 40`, `"area_m2": 1e999`, 1), "/rooms/0"},
		{"number of a thousand digits", strings.Replace(good, `"area_m2": 40`, `"area_m2": `+strings.Repeat("9", 1000), 1), "/rooms/0"},
		{"whole number as 1.0", strings.Replace(good, `"seq": 1`, `"seq": 1.0`, 1), "whole numbers"},
		{"too deep", strings.Repeat("[", 65) + strings.Repeat("]", 65), "deeper than 64"},
		{"far too deep", `{"a":` + strings.Repeat("[", 20000) + strings.Repeat("]", 20000) + "}", "deeper than 64"},
		{"a list", "[]", "no JSON object"},
		{"null", "null", "no JSON object"},
		{"something else", `{"a": 1}`, "not an exchange file"},
	} {
		_, err := exchange.Read(strings.NewReader(c.bytes))
		var refused *exchange.Refused
		if assert.ErrorAs(t, err, &refused, c.name) {
			assert.ErrorContains(t, err, c.says, c.name)
			assert.Less(t, len(err.Error()), 2000, c.name)
		}
	}
}

type broken struct{}

func (broken) Read([]byte) (int, error)  { return 0, errors.New("disk on fire") }
func (broken) Write([]byte) (int, error) { return 0, errors.New("disk on fire") }

func TestTroubleWithTheFileItselfIsPassedOn(t *testing.T) {
	_, err := exchange.Read(broken{})
	assert.ErrorContains(t, err, "disk on fire")
	assert.ErrorContains(t, exchange.Write(broken{}, sample(t)), "disk on fire")
}

func FuzzRead(f *testing.F) {
	good := written(f, sample(f))
	f.Add(good)
	f.Add(good[:len(good)/3])
	f.Add([]byte(`{"format":"scopewright-project","version":1,"project":{"id":"p","name":"n","units":"SI"}}`))
	f.Add([]byte(`{"format":"scopewright-project","version":1,"project":{"id":"p","name":"n","units":"SI"},"rooms":[{"id":"r","storey":"s","number":"1","design":{},"exceptions":[{"path":"loads/l1","after":{"id":"l1"}}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := exchange.Read(bytes.NewReader(data))
		if err != nil {
			var refused *exchange.Refused
			require.ErrorAs(t, err, &refused)
			require.NotEmpty(t, refused.Problems)
			return
		}
		first := written(t, s)
		again, err := exchange.Read(bytes.NewReader(first))
		require.NoError(t, err)
		require.Equal(t, string(first), string(written(t, again)))
		for i := range s.Rooms {
			_, err := s.Resolve(&s.Rooms[i])
			require.NoError(t, err, "what is taken in can be resolved")
		}
	})
}

func BenchmarkRead1000Rooms(b *testing.B) {
	s := sample(b)
	base := s.Rooms[0]
	s.Rooms = nil
	for i := range 1000 {
		r := base
		r.ID = domain.ID(fmt.Sprintf("r%04d", i))
		s.Rooms = append(s.Rooms, r)
	}
	data := written(b, s)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := exchange.Read(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}
