package web

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func worksheetNow(t *testing.T, a *app) *domain.CodeWorksheet {
	p, _, err := a.store.Project(t.Context(), "p1")
	require.NoError(t, err)
	return p.Worksheet("ws")
}

// The duties are edited like a spreadsheet: from the keyboard, in blocks, with undo.
func TestBrowser_worksheetIsEditedFromTheKeyboard(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + "/projects/p1/code/worksheets/ws?part=duties")
	b.focus("duty/local_control.corridor/duty")
	b.paste("none\tA\r\nnone\tA\r\n")
	b.waitFor(`document.querySelector('[data-path="duty/local_control.corridor/duty"]').matches('.exception')`)
	w := worksheetNow(t, a)
	assert.Equal(t, domain.CodeDuty("none"), w.Change("duty:local-control:corridor").Duty)
	assert.Equal(t, domain.CodeDuty("A"), w.Change("duty:manual-on:corridor").Duty)
	assert.Equal(t, domain.CodeMark("memory"), w.Change("duty:manual-on:corridor").Mark)
	assert.NotNil(t, w.Change("duty:local-control:corridor-hospital"), "the row beneath")
	b.chord("z", "ctrlKey: true")
	b.waitFor(`!document.querySelector('[data-path="duty/local_control.corridor/duty"]').matches('.exception')`)
	assert.Empty(t, worksheetNow(t, a).Changes, "one step")
}

// The kind of space is confirmed with one click, in the table of rooms and on the
// code's own screen.
func TestBrowser_kindOfSpaceIsConfirmedByAClick(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + "/projects/p1")
	b.click(`[aria-label="Confirm the kind of space of room 101"]`)
	b.waitFor(`!document.querySelector('[aria-label="Confirm the kind of space of room 101"]')`)
	assert.Equal(t, domain.SpaceType("classroom_lecture_training"), roomNow(t, a, "room101").Space)
	b.open(a.url + "/projects/p1/code")
	b.click(`[aria-label="Confirm the kind of space of room 102"]`)
	b.waitFor(`!document.querySelector('[aria-label="Confirm the kind of space of room 102"]')`)
	assert.Equal(t, domain.SpaceType("conference_meeting"), roomNow(t, a, "room102").Space)
}
