package web

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/units"
)

func TestIntents_aFieldInTheSentenceIsStored(t *testing.T) {
	a := newApp(t, smallScope())
	page := a.get(room101).body
	assert.Contains(t, page, `id="intents_i2"`)
	assert.Contains(t, page, `aria-label="Presence: delay"`)
	assert.Contains(t, page, "When all sensors have reported vacant for 20 min", "the sentence that prints stands beneath")
	got := a.post(room101+"/set", "room:room101=1", "path", "intents/i2/delay_s", "text", "15")
	require.Equal(t, 200, got.status, got.body)
	assert.Contains(t, got.body, "reported vacant for 15 min")
	assert.Contains(t, got.body, `hx-target="#intents_i2"`, "the sentence comes anew")
	assert.NotContains(t, got.body, `id="sec-intents"`, "and nothing else of the intents")
	assert.EqualValues(t, 900, roomNow(t, a, "room101").Design.Intent("i2").Delay)
	got = a.post(room101+"/set", "room:room101=2", "path", "intents/i2/delay_s", "text", "soon")
	require.Equal(t, 422, got.status)
	assert.Contains(t, got.header.Get("HX-Trigger"), `"path":"intents/i2/delay_s"`)
	got = a.post(room101+"/set", "room:room101=1", "path", "intents/i2/delay_s", "text", "25")
	require.Equal(t, 409, got.status)
	assert.Contains(t, got.body, "Presence: delay: yours")
	assert.Contains(t, got.body, "15 min", "both values are shown")
}

// Boxes that are ticked come as one text each; none of them means all loads.
func TestIntents_loadsAreTicked(t *testing.T) {
	a := newApp(t, smallScope())
	got := a.post(room101+"/set", "", "path", "intents/i2/loads", "text", "", "text", "l1", "text", "l3")
	require.Equal(t, 200, got.status, got.body)
	assert.Equal(t, []domain.ID{"l1", "l3"}, roomNow(t, a, "room101").Design.Intent("i2").Loads)
	got = a.post(room101+"/set", "", "path", "intents/i2/loads", "text", "")
	require.Equal(t, 200, got.status, got.body)
	assert.Empty(t, roomNow(t, a, "room101").Design.Intent("i2").Loads)
	got = a.post(room101+"/set", "", "path", "intents/i2/modes", "text", "", "text", "cleaning", "text", "after hours")
	require.Equal(t, 200, got.status, got.body)
	assert.Contains(t, got.body, "Only in mode cleaning or after hours: ")
	assert.Contains(t, got.body, `id="condition-intents_i2" open`, "what is set is not folded away")
}

func TestIntents_exceptionsShowInTheSentence(t *testing.T) {
	a := newApp(t, smallScope())
	got := a.post("/projects/p1/rooms/room103/set", "", "path", "intents/i2/warning_s", "text", "30 s")
	require.Equal(t, 200, got.status, got.body)
	assert.Regexp(t, `id="s-intents_i2_warning_s"[^>]*class="slot exception"`, got.body)
	assert.Contains(t, got.body, "exception to typical CR-1")
}

// A typical under lock is read, not edited.
func TestIntents_ofALockedTypicalAreDisabled(t *testing.T) {
	a := newApp(t, smallScope())
	page := a.get("/projects/p1/typicals/t1").body
	assert.Regexp(t, `id="s-intents_i2_delay_s"[^>]* disabled`, page)
	assert.NotContains(t, page, `name="take"`)
	assert.NotRegexp(t, `id="s-intents_i2_delay_s"[^>]* disabled`, a.get("/projects/p1/typicals/t1?edit=1").body)
}

func TestIntents_startFromTheUseOfTheRoom(t *testing.T) {
	a := newApp(t, smallScope())
	for _, id := range []string{"i1", "i2", "i3", "i4", "i5"} {
		require.Equal(t, 200, a.post(room101+"/remove", "", "row", "intents/"+id).status)
	}
	page := a.get(room101).body
	assert.Contains(t, page, "Start from Classroom")
	assert.Contains(t, page, "Entering lights nothing: a person presses.", "as sentences, before anything is stored")
	require.Equal(t, 422, a.post(room101+"/start", "").status, "nothing was ticked")
	require.Equal(t, 422, a.post(room101+"/start", "", "take", "99").status)
	got := a.post(room101+"/start", "", "take", "0", "take", "1")
	require.Equal(t, 200, got.status, got.body)
	intents := roomNow(t, a, "room101").Design.Intents
	require.Len(t, intents, 2)
	assert.Equal(t, domain.ByHand, intents[0].Kind)
	assert.Equal(t, units.Seconds(900), intents[1].Delay)
	assert.Contains(t, got.body, "Start from Classroom: 3 intents of kinds that are not here yet")
	require.Equal(t, 200, a.post(room101+"/undo", "").status)
	assert.Empty(t, roomNow(t, a, "room101").Design.Intents, "one step, undone as one")
}
