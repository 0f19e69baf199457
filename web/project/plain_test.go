package project

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

// Each fact, the buildings' names and the storeys' cells have a form with a button
// where no script runs.
func TestSettings_everyFactIsSetWithoutScript(t *testing.T) {
	s := open(t, webtest.School())
	const at = "/projects/p1/settings"
	offered := map[string]bool{}
	for _, form := range s.PlainForms(at) {
		offered[form.Values.Get("path")] = true
		for _, path := range form.Offers["path"] {
			offered[path] = true
		}
	}
	for _, f := range domain.ProjectFields {
		assert.True(t, offered["project/"+f.Name], "fact %s", f.Name)
	}
	for _, f := range domain.StoreyFields {
		assert.True(t, offered["buildings/b1/storeys/s1/"+f.Name], "storeys' %s", f.Name)
	}
	for path, text := range map[string]string{
		"project/latitude": "47.5", "project/units": "SI (m)", "project/code_pack": "ASHRAE 90.1-2019", "project/brief": "quiet\nand warm", "project/priority": "emergency, manual, demand response, schedule, occupancy, daylight",
		"buildings/b1/name": "North", "buildings/b1/storeys/s1/server": "S-2",
	} {
		answer := s.FillPlain(at, "path", path, "text", text)
		require.Equal(t, http.StatusSeeOther, answer.Code, "%s: %s", path, answer.Body)
	}
	p := s.Project("p1")
	assert.Equal(t, 47.5, *p.Latitude)
	assert.EqualValues(t, "SI", p.Units)
	assert.EqualValues(t, "ashrae-90.1-2019", p.CodePack)
	assert.Equal(t, "quiet\nand warm", p.Brief)
	assert.Equal(t, domain.ClassManual, p.Order()[1])
	assert.Equal(t, "North", p.Buildings[0].Name)
	assert.Equal(t, "S-2", p.Buildings[0].Storeys[0].Server)
}

// A refused form says why; one that was opened before another's edit is refused; the
// buttons of rows have forms too.
func TestSettings_plainFormsAreRefusedAndMoveRows(t *testing.T) {
	s := open(t, webtest.School())
	const at = "/projects/p1/settings"
	answer := s.FillPlain(at, "path", "project/latitude", "text", "91")
	assert.Equal(t, http.StatusUnprocessableEntity, answer.Code)
	assert.Contains(t, answer.Body.String(), "90")

	base := s.Base("p1")
	require.Equal(t, http.StatusSeeOther, s.FillPlain(at, "path", "project/client", "text", "Theirs").Code)
	assert.Equal(t, http.StatusConflict, s.FillPlain(at, "path", "project/client", "text", "Mine", "base", base).Code)
	assert.Equal(t, "Theirs", s.Project("p1").Client)

	first := s.Project("p1").Buildings[0].Storeys[0].ID
	require.Equal(t, http.StatusSeeOther, s.FillPlain(at, "row", "buildings/b1/storeys/"+string(first)).Code)
	assert.NotEqual(t, first, s.Project("p1").Buildings[0].Storeys[0].ID)
}
