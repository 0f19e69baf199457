package daylighting

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

func TestNoWindow_oneForEachSensor(t *testing.T) {
	b := domaintest.Classroom().Working(1, "ds-open")
	assert.Empty(t, found(&NoWindow, b))
	assert.Len(t, found(&NoWindow, b.Set("facts/windows", "no")), 2)
	assert.Empty(t, found(&NoWindow, b.Set("loads/l1/zone", string(domain.ZoneRoof))), "daylight comes from above")
}

func TestNoControl(t *testing.T) {
	bare := func(zone, windows string) *domaintest.Builder {
		return domaintest.Room().Load("l1", "a", 1).Set("loads/l1/zone", zone, "facts/windows", windows)
	}
	for zone, want := range map[domain.WindowZone][2]int{ // with windows, without
		domain.ZoneWindow: {1, 0}, domain.ZoneRoof: {1, 1}, domain.ZoneNone: {0, 0}, domain.ZoneSecondary: {0, 0},
	} {
		assert.Len(t, found(&NoControl, bare(string(zone), "yes")), want[0], zone)
		assert.Len(t, found(&NoControl, bare(string(zone), "no")), want[1], zone)
	}
	assert.Empty(t, found(&NoControl, bare("window row", "yes").Device("ds", "ds-open").Link("ds", 0, "", "l1", "ACT")), "sensor alone: another rule's")
	assert.Empty(t, found(&NoControl, bare("window row", "yes").Do(edit.AddIntent{ID: "i", Kind: domain.ByDaylight})), "intent alone: another rule's")
}

func TestNoSensorAndNoIntent_areTheTwoSides(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Load("l2", "a", 1).Device("ds", "ds-open").Link("ds", 0, "", "l1", "ACT")
	got := found(&NoIntent, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "acts on L1, and no daylight intent does")
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&NoIntent, b))
	assert.Empty(t, found(&NoSensor, b), "the intent is for L1 alone")

	b.Set("intents/"+string(b.R.Design.Intents[0].ID)+"/loads", "all")
	got = found(&NoSensor, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "acts on L2, and no daylight sensor does")
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&NoSensor, b))

	b.Do(edit.Remove{Part: "devices", ID: "ds"})
	got = found(&NoSensor, b)
	require.Len(t, got, 1)
	assert.Nil(t, got[0].Fix, "no load would be left")
}

// Type A of the test schedule dims to 10 %.
func TestBelowLowest_oneBelowAtAndOneAbove(t *testing.T) {
	for level, want := range map[string]int{"0": 1, "9": 1, "9.9": 1, "10": 0, "11": 0} {
		assert.Len(t, found(&BelowLowest, domaintest.Classroom().Set("intents/i3/lowest", level)), want, level)
	}
	got := found(&BelowLowest, domaintest.Classroom().Set("intents/i3/lowest", "9"))[0]
	assert.Equal(t, []float64{9, 10, -1}, []float64{got.Measured, got.Limit, got.Margin})
	assert.Empty(t, found(&BelowLowest, domaintest.Classroom().Set("intents/i3/lowest", "1", "loads/l3/dimming", "switched")), "a switched load does not dim")
}
