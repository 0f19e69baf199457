package sheets

import (
	"bytes"
	"cmp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/export/sheet"
	"scopewright/store/intake/dxf"
	"scopewright/web/webtest"
)

// The reader of architects' drawings shares no code with our writer: what one says, the
// other must understand.
func TestDocument_dxfReadsBackAsTheStoreysRooms(t *testing.T) {
	scope := demo.Scope()
	storey := scope.Rooms[0].StoreyID
	in, err := export.InputOf(scope, webtest.Start)
	require.NoError(t, err)
	doc, err := export.Build("plan", in, sheet.Only{Storeys: []domain.ID{storey}})
	require.NoError(t, err)
	var file bytes.Buffer
	require.NoError(t, export.Write(&file, export.DXF, doc, export.Options{}))

	model, err := dxf.Read(t.Context(), file.Bytes(), dxf.Options{RoomLayers: []string{"ROOMS"}, WallLayers: []string{"WALLS"}, TextLayers: []string{"ROOM_NUMBERS"}}, nil)
	require.NoError(t, err)
	assert.True(t, model.Unit.Sure)
	assert.InDelta(t, 0.0254, model.Unit.Metres, 1e-12, "inches, by definition")
	require.Len(t, model.Storeys, 1)
	areas := map[string]float64{}
	for _, s := range model.Storeys[0].Spaces {
		areas[cmp.Or(s.Number, strings.Join(s.Texts, " "))] = float64(s.Area) // "1S1" is a name to a stranger
	}
	rooms := 0
	for i := range scope.Rooms {
		if r := &scope.Rooms[i]; r.StoreyID == storey {
			rooms++
			assert.InDelta(t, float64(r.Measured()), areas[r.Number], float64(r.Measured())*0.001, "room %s", r.Number)
		}
	}
	assert.Len(t, areas, rooms)
	assert.NotEmpty(t, model.Storeys[0].Walls)
}
