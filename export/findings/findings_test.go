package findings_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/export/findings"
	"scopewright/validate/rule"
)

var update = flag.Bool("update", false, "write the golden files anew")

var today = time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)

// report holds a finding of each sort: with and without numbers, waived,
// lapsed, of the project, with letters that must not be taken for markup.
func report() *findings.Report {
	p := &domain.Project{ID: "p1", Number: "P-1", Name: "Test & Co. <office>"}
	lobby, hall := &domain.Room{ID: "r1", Number: "101", Name: "Lobby"}, &domain.Room{ID: "r2", Number: "102"}
	over := rule.AtMost(40, 32, "devices")
	over.Rule, over.Severity, over.Message = "capacity-devices", rule.Error, "40 devices in the room, limit 32: 8 over."
	over.Fix = &rule.Fix{Title: "Split the room"}
	label := rule.Finding{Rule: "paperwork-label", Severity: rule.Info, Key: "st.2", Subjects: []rule.Subject{{Part: "devices", ID: "st", Tag: "ST-1"}}, Message: "Button 2 of ST-1 has no label: \"engrave\" one."}
	wide := rule.AtMost(520, 500, "ft2")
	wide.Rule, wide.Severity, wide.Message = "presence-area", rule.Warning, "520 ft2 for each sensor, limit 500 ft2."
	lapsed := wide
	wide.Waiver = &domain.Waiver{ID: "w1", Reason: "A niche.", Name: "A. Designer", Date: "2026-03-05"}
	lapsed.Lapsed = wide.Waiver
	servers := rule.AtMost(201, 200, "rooms")
	servers.Rule, servers.Severity, servers.Message = "capacity-rooms-server", rule.Error, "201 rooms under one server, limit 200: 1 over."
	return findings.New(p, 2, []findings.Line{{Room: lobby, Finding: over}, {Room: lobby, Finding: label}, {Room: hall, Finding: wide}, {Room: hall, Finding: lapsed}, {Finding: servers}})
}

func golden(t *testing.T, name string, got []byte) {
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "run with -update to take this for right")
}

func TestReportAsText(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, report().Text(&out))
	golden(t, "report.txt", out.Bytes())
}

func TestReportAsJSON(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, report().JSON(&out))
	golden(t, "report.json", out.Bytes())
}

// The field names are a contract: programs of other people read them.
func TestJSONKeepsItsContract(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, report().JSON(&out))
	var doc struct{ Findings []map[string]any }
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	require.Len(t, doc.Findings, 5)
	for _, f := range doc.Findings {
		for _, name := range []string{"rule", "severity", "room", "subjects", "measured", "limit", "unit", "message", "waived"} {
			assert.Contains(t, f, name)
		}
	}
	assert.Equal(t, 40.0, doc.Findings[0]["measured"])
	assert.Nil(t, doc.Findings[1]["measured"], "no number where there is none")
	assert.Equal(t, true, doc.Findings[2]["waived"])
	assert.Empty(t, doc.Findings[4]["room"])
}

func TestRunCountsAndOrdersByStoreyAndNumber(t *testing.T) {
	b := domaintest.Classroom()
	clean := *b.R.Room.Clone()
	bad := clean.Clone()
	dropped := &domain.Resolved{Room: bad, Design: bad.Design.Clone()}
	_, err := edit.All(edit.OfRoom(b.P, dropped), []edit.Edit{edit.SetField{Path: "devices/ps/parent", Text: ""}})
	require.NoError(t, err)
	require.NoError(t, dropped.Settle())
	b.P.Buildings[0].Storeys = append([]domain.Storey{{ID: "s0", Seq: 0, Name: "Cellar"}}, b.P.Buildings[0].Storeys...)
	s := &domain.Scope{Project: *b.P}
	for _, at := range []struct {
		id, storey domain.ID
		number     string
	}{{"x", "s1", "12"}, {"y", "s1", "2"}, {"z", "s0", "99"}} {
		r := *bad
		r.ID, r.StoreyID, r.Number = at.id, at.storey, at.number
		s.Rooms = append(s.Rooms, r)
	}
	s.Rooms = append(s.Rooms, clean)
	report, err := findings.Run(s, today)
	require.NoError(t, err)
	var order []string
	for _, l := range report.Lines {
		order = append(order, l.Room.Number+" "+l.Rule)
	}
	assert.Equal(t, []string{"99 capacity-parents-unassigned", "2 capacity-parents-unassigned", "12 capacity-parents-unassigned"}, order)
	assert.Equal(t, "4 rooms: 0 errors, 3 warnings, 0 notes, 0 waived", report.Summary())
	s.Rooms[0].TypicalID = "nowhere"
	_, err = findings.Run(s, today)
	assert.ErrorContains(t, err, "typical")
}

// What is wrong with the demo is wrong on purpose; all else must be clean.
func TestDemoHasOnlyItsDeliberateFindings(t *testing.T) {
	report, err := findings.Explore(demo.Scope(), today)
	require.NoError(t, err)
	assert.Empty(t, report.Explored.Unended, "all states of all rooms are looked at")
	assert.Greater(t, report.Explored.States, 10_000)
	want := map[string]string{
		"316 sight-leak waived":              "open to the corridor: shows a waiver with its reason",
		"301 sight-seat warning":             "eight sensors, as many as a room may have, are too few: another reason to split it",
		"301 sight-share warning":            "the same of the floor",
		"301 capacity-devices error":         "40 devices where 32 fit: shows the rule that asks to split the room",
		"3S2 controls-egress-bypass warning": "the stair's bypass device is still to be named: shows an exception that a rule catches",

		"101 energycode-daylight-side warning":    "the waiting area lies in the daylight and does not answer it: shows a check that is not met",
		"101 energycode-separate-control warning": "spots that only scenes of the whole lobby turn on and off",
		"103 energycode-daylight-side warning":    "the same under the clerestory",
		"301 energycode-daylight-side warning":    "second row of the room that is to be split",
		"113 energycode-bilevel warning":          "a switched copy room: shows what only other luminaires mend",
		"312 energycode-bilevel warning":          "the same on level 3",
		"205 energycode-full-off warning":         "30 min suit exams and not the code: shows a fix of one click",
		"205 energycode-receptacles warning":      "the same of the receptacles",
		"113 energycode-receptacles waived":       "machines in continuous operation: shows an exception that the designer claims",
		"312 energycode-receptacles waived":       "the same on level 3",
		"316 energycode-receptacles waived":       "the kitchenette's refrigerator",
		"100 energycode-local-control waived":     "light on the way out without a switch, claimed",
		"200 energycode-local-control waived":     "the same on level 2",
		"300 energycode-local-control waived":     "the same on level 3",
		"101 energycode-local-control info":       "the same in the lobby, not claimed yet: shows what a person has to say",
		"101 energycode-space-type info":          "shows a kind of space that nobody has confirmed",
		"111 energycode-power-density info":       "over its own value, which other rooms leave: shows the space method",
		"112 energycode-power-density info":       "the same",
		"113 energycode-power-density info":       "the same",
		"312 energycode-power-density info":       "the same",
		"301 energycode-power-density info":       "the same, by most",
	}
	for _, l := range report.Lines {
		state := string(l.Severity)
		if l.Waived() {
			state = "waived"
		}
		key := "project"
		if l.Room != nil {
			key = l.Room.Number
		}
		key += " " + l.Rule + " " + state
		assert.Contains(t, want, key, l.Message)
		delete(want, key)
	}
	assert.Empty(t, want, "deliberate findings that no rule reports")
}
