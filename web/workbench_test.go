package web

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

const room101 = "/projects/p1/rooms/room101"

func roomNow(t *testing.T, a *app, id string) *domain.Resolved {
	t.Helper()
	state, err := a.store.Room(t.Context(), domain.ID(id))
	require.NoError(t, err)
	return state.Resolved
}

func TestWorkbench_showsTheWholeRoom(t *testing.T) {
	a := newApp(t, smallScope())
	page := a.get(room101)
	require.Equal(t, 200, page.status, page.body)
	for _, part := range []string{"sec-facts", "sec-loads", "sec-devices", "sec-matrix", "sec-scenes", "sec-intents", `id="findings"`, "Window row", "ST-1", "SC2", "room:room101=1"} {
		assert.Contains(t, page.body, part)
	}
	assert.Equal(t, 404, a.get("/projects/p1/rooms/nope").status)
	assert.Equal(t, 404, a.get("/projects/other/rooms/room101").status, "a room is shown in its own project only")
}

func TestWorkbench_anEditIsStoredAndAnsweredWithFreshFindings(t *testing.T) {
	a := newApp(t, smallScope())
	got := a.post(room101+"/set", "room:room101=1", "path", "loads/l1/count", "text", "0")
	require.Equal(t, 200, got.status, got.body)
	assert.Contains(t, got.body, `id="loads_l1"`, "the row comes anew")
	assert.Contains(t, got.body, `id="findings"`)
	assert.Contains(t, got.body, "power-", "and the findings say that its watts are not known")
	assert.Contains(t, got.body, "Saved 09:00:00")
	assert.Contains(t, got.body, "room:room101=2")
	assert.NotContains(t, got.body, "loads_l2", "and nothing that did not change")
	assert.Zero(t, roomNow(t, a, "room101").Design.Load("l1").Count)
}

func TestWorkbench_aPastedBlockIsOneStep(t *testing.T) {
	a := newApp(t, smallScope())
	got := a.post(room101+"/set", "room:room101=1", "edits", `[["loads/l1/count","3"],["loads/l2/count","4"],["loads/l3/count","5"]]`)
	require.Equal(t, 200, got.status, got.body)
	d := roomNow(t, a, "room101").Design
	assert.Equal(t, []int{3, 4, 5}, []int{d.Load("l1").Count, d.Load("l2").Count, d.Load("l3").Count})
	got = a.post(room101+"/undo", "")
	require.Equal(t, 200, got.status, got.body)
	assert.Equal(t, 6, roomNow(t, a, "room101").Design.Load("l1").Count)
	got = a.post(room101+"/redo", "")
	require.Equal(t, 200, got.status, got.body)
	assert.Equal(t, 3, roomNow(t, a, "room101").Design.Load("l1").Count)
}

func TestWorkbench_oneBadCellStoresNothingOfTheBlock(t *testing.T) {
	a := newApp(t, smallScope())
	got := a.post(room101+"/set", "room:room101=1", "edits", `[["loads/l1/count","3"],["loads/l2/count","many €"]]`)
	require.Equal(t, 422, got.status)
	assert.Contains(t, got.header.Get("HX-Trigger"), `"path":"loads/l2/count"`)
	assert.Contains(t, got.header.Get("HX-Trigger"), `\u20ac`, "a header carries ASCII only")
	assert.Contains(t, got.body, "is not a number")
	assert.Equal(t, 6, roomNow(t, a, "room101").Design.Load("l1").Count)
}

func TestWorkbench_anEditOnAnOldVersionShowsBothValues(t *testing.T) {
	a := newApp(t, smallScope())
	require.Equal(t, 200, a.post(room101+"/set", "room:room101=1", "path", "loads/l1/circuit", "text", "LP-7").status)
	got := a.post(room101+"/set", "room:room101=1", "path", "loads/l1/circuit", "text", "LP-9")
	require.Equal(t, 409, got.status)
	assert.Contains(t, got.body, "LP-7")
	assert.Contains(t, got.body, "LP-9")
	assert.Equal(t, "LP-7", roomNow(t, a, "room101").Design.Load("l1").Circuit, "nothing is overwritten")
}

func TestWorkbench_exceptionsOfAFollowerAreSeenAndGivenBack(t *testing.T) {
	a := newApp(t, smallScope())
	const room103 = "/projects/p1/rooms/room103"
	got := a.post(room103+"/set", "room:room103=1,typical:t1=1", "path", "devices/ps/delay_s", "text", "10")
	require.Equal(t, 200, got.status, got.body)
	assert.Contains(t, got.body, "exception to typical CR-1")
	require.Len(t, roomNow(t, a, "room103").Exceptions, 1)
	got = a.post("/projects/p1/typicals/t1/set", "typical:t1=1", "path", "loads/l1/count", "text", "9")
	require.Equal(t, 200, got.status, got.body)
	r := roomNow(t, a, "room103")
	assert.Equal(t, 9, r.Design.Load("l1").Count, "the room follows")
	assert.EqualValues(t, 600, r.Design.Device("ps").Delay, "and keeps its exception")
	assert.Equal(t, 409, a.post(room103+"/set", "room:room103=2,typical:t1=1", "path", "facts/name", "text", "x").status, "an edit based on the old typical is refused")
	got = a.post(room103+"/give-back", "", "path", "devices/ps/delay_s")
	require.Equal(t, 200, got.status, got.body)
	assert.Empty(t, roomNow(t, a, "room103").Exceptions)
}

func TestWorkbench_aTypicalSaysFirstWhichRoomsChange(t *testing.T) {
	a := newApp(t, smallScope())
	page := a.get("/projects/p1/typicals/t1")
	assert.Contains(t, page.body, "Every edit here changes 1 room: 103")
	assert.NotContains(t, page.body, `data-path="loads/l1/count"`, "no cell can be edited before the designer said yes")
	assert.Contains(t, a.get("/projects/p1/typicals/t1?edit=1").body, `data-path="loads/l1/count"`)
}

func TestWorkbench_fixWaiveAndTakeBack(t *testing.T) {
	a := newApp(t, smallScope())
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "devices/ps/parent", "text", "").status)
	got := a.post(room101+"/fix", "", "rule", "capacity-parents-unassigned", "key", "")
	require.Equal(t, 200, got.status, got.body)
	assert.NotEmpty(t, roomNow(t, a, "room101").Design.Device("ps").Parent)
	assert.Equal(t, 422, a.post(room101+"/fix", "", "rule", "capacity-parents-unassigned", "key", "").status, "it is gone")

	require.Equal(t, 200, a.post(room101+"/set", "", "path", "facts/area_m2", "text", "2000 ft2").status)
	got = a.post(room101+"/waive", "", "rule", "presence-area", "key", "", "reason", "", "name", "A. Designer")
	require.Equal(t, 422, got.status, got.body)
	got = a.post(room101+"/waive", "", "rule", "presence-area", "key", "", "reason", "One sensor over the door is the owner's wish", "name", "A. Designer")
	require.Equal(t, 200, got.status, got.body)
	assert.Contains(t, got.body, "Waived by A. Designer on 2026-03-02")
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "facts/area_m2", "text", "2100 ft2").status)
	assert.Contains(t, a.get(room101).body, "lapsed", "a waiver lapses when the numbers get worse")
}

func TestWorkbench_namesAreShownAsTextOnly(t *testing.T) {
	a := newApp(t, smallScope())
	hostile := `<script>alert(1)</script>"'=1+1`
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "facts/name", "text", hostile).status)
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "loads/l1/name", "text", hostile).status)
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "devices/st/buttons/1", "text", `<img src=x onerror=alert(1)>`).status)
	page := a.get(room101).body
	assert.NotContains(t, page, "<script>alert")
	assert.NotContains(t, page, "<img src=x")
}
