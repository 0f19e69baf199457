package energycode

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
)

// twoRows is the drawn classroom with 300 W at the windows, which answer daylight, and
// its load L1 at a depth in meters behind them: the head at 2.4 m makes a primary area
// of 2.4 m and a secondary one to 4.8 m (reference on energy codes, zones by 90.1).
func twoRows(depth float64) *domaintest.Builder {
	b := sidelitBy(100, "yes")
	for i := range b.R.Fixtures {
		if f := &b.R.Fixtures[i]; f.Load == "l1" {
			f.At = geom.Pt(f.At.X, depth)
		}
	}
	return b.Set("intents/i3/loads", "l3").Link("ds", 0, "", "l1", "-").Link("ds", 0, "", "l2", "-")
}

func TestDaylightFix_joinsOnlyLoadsOfTheSameArea(t *testing.T) {
	for _, c := range []struct {
		name  string
		depth float64
		says  string
	}{
		{"the same area", 1, "Let the daylight intent act on L1, let L1 answer daylight"},
		{"the area behind", 3.6, "Add a daylight sensor, add a daylight intent for L1, let L1 answer daylight"},
	} {
		b := twoRows(c.depth)
		f := found(&DaylightSide, b)
		require.Len(t, f, 1, c.name)
		require.NotNil(t, f[0].Fix, "%s: %s", c.name, f[0].Message)
		assert.Equal(t, c.says, f[0].Fix.Title, c.name)
		b.Do(f[0].Fix.Edits...)
		assert.Empty(t, found(&DaylightSide, b), c.name)
	}
	assert.Empty(t, found(&DaylightSide, twoRows(5.5)), "beyond the daylight nothing is asked")
}

// Without a sensor to add, nothing is offered for the row behind.
func TestDaylightFix_needsASensorInTheBook(t *testing.T) {
	b := twoRows(3.6)
	for i := range b.P.Book {
		if t := &b.P.Book[i]; t.Kind == equipment.Daylight {
			t.Supply = equipment.Wired
		}
	}
	f := found(&DaylightSide, b)
	require.Len(t, f, 1)
	assert.Nil(t, f[0].Fix)
	assert.Equal(t, domain.ID("l1"), f[0].Subjects[0].ID)
}
