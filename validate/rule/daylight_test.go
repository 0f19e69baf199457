package rule_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// glazed gives the classroom, drawn 8 by 5 m, with a window of 4 m in its south wall.
func glazed() *domaintest.Builder {
	b := domaintest.Classroom()
	b.R.Room.Outline = geom.Rectangle(0, 0, 8, 5)
	b.R.Plan = &domain.Plan{ID: "s1"}
	for i, a := range b.R.Outline.Outer {
		b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), Seq: i + 1, A: a, B: b.R.Outline.Outer[(i+1)%4], Kind: domain.FullWall})
	}
	b.R.Plan.Walls[0].Openings = []domain.Opening{{ID: "o", Seq: 1, Kind: domain.Window, At: 2, Width: 4, Sill: 0.9, Head: 2.4}}
	at := geom.Pt(4, 4)
	b.R.Design.Device("ds").At = &at
	return b
}

func TestDaylight_isReckonedOnce(t *testing.T) {
	b := glazed()
	f := rule.NewFacts(b.P, b.R, time.Time{})
	d := f.Daylight()
	require.NotNil(t, d)
	assert.Same(t, d, f.Daylight())
	require.Len(t, d.Sensors, 1)
	s := &d.Sensors[0]
	assert.Equal(t, []domain.ID{"l3"}, s.Loads)
	assert.EqualValues(t, "ds", s.Device.ID)
	fault := s.Fault(daylight.TooNear, daylight.TooFar)
	require.NotNil(t, fault)
	assert.InDelta(t, 4, fault.Measured, 1e-9)
	assert.Nil(t, s.Fault(daylight.GlassInView))
	assert.Equal(t, daylight.ZoneCodes()[0].ID, d.Rules.ID, "no code is chosen")
	b.P.CodePack = "iecc-2018"
	assert.Equal(t, "iecc-2018", rule.NewFacts(b.P, b.R, time.Time{}).Daylight().Rules.ID)
}

func TestDaylight_notReckoned(t *testing.T) {
	for name, spoil := range map[string]func(*domaintest.Builder){
		"no plan":           func(b *domaintest.Builder) { b.R.Plan = nil },
		"no outline":        func(b *domaintest.Builder) { b.R.Room.Outline = geom.Polygon{} },
		"no window":         func(b *domaintest.Builder) { b.R.Plan.Walls[0].Openings = nil },
		"a door":            func(b *domaintest.Builder) { b.R.Plan.Walls[0].Openings[0].Kind = domain.Door },
		"an inner window":   func(b *domaintest.Builder) { b.R.Plan.Walls[0].Openings[0].Indoors = true },
		"somebody else's":   func(b *domaintest.Builder) { b.R.Plan.Walls[0].A.Y, b.R.Plan.Walls[0].B.Y = -3, -3 },
		"a ceiling too low": func(b *domaintest.Builder) { b.R.Room.Ceiling = 0.8 },
	} {
		b := glazed()
		spoil(b)
		assert.Nil(t, rule.NewFacts(b.P, b.R, time.Time{}).Daylight(), name)
	}
}
