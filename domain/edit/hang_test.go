package edit_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

// drawPlacing draws an edit that puts things of the classroom on its plan.
func drawPlacing(t *rapid.T, n int) edit.Edit {
	load := domain.ID(rapid.SampledFrom([]string{"l1", "l2", "r1", "nope"}).Draw(t, "load"))
	at := geom.Pt(rapid.Float64Range(-1e3, 1e3).Draw(t, "x"), rapid.Float64Range(-1e3, 1e3).Draw(t, "y"))
	switch rapid.IntRange(0, 2).Draw(t, "edit") {
	case 0:
		return edit.Stand{Device: domain.ID(rapid.SampledFrom([]string{"ps", "st", "nope"}).Draw(t, "device")), At: at, Turn: rapid.Float64Range(-720, 720).Draw(t, "turn")}
	case 1:
		return edit.Hang{Load: load, IDs: []domain.ID{domain.ID(fmt.Sprint("f", n))}, At: []geom.Point{at}}
	}
	return edit.Adopt{Load: load, Fixtures: []domain.ID{domain.ID(fmt.Sprint("f", rapid.IntRange(0, n).Draw(t, "fixture")))}}
}

func TestPlacing_hasAnExactInverse(t *testing.T) { checkInverses(t, 8, drawPlacing) }

func TestPlacing_refusesWithASentence(t *testing.T) {
	b := domaintest.Classroom().Do(edit.Hang{Load: "l1", IDs: []domain.ID{"f1"}, At: []geom.Point{geom.Pt(1, 1)}})
	for want, e := range map[string]edit.Edit{
		"the device is no longer":     edit.Stand{Device: "nope"},
		"a place must lie within":     edit.Stand{Device: "ps", At: geom.Pt(math.Inf(1), 0)},
		"R1 is no lighting load":      edit.Hang{Load: "r1", IDs: []domain.ID{"f2"}, At: []geom.Point{{}}},
		"the load is no longer":       edit.Adopt{Load: "nope", Fixtures: []domain.ID{"f1"}},
		"place 1 to 500 at once":      edit.Hang{Load: "l1"},
		"no luminaire is named":       edit.Adopt{Load: "l1"},
		"the luminaire is no longer":  edit.Adopt{Load: "l1", Fixtures: []domain.ID{"f9"}},
		"R1 is no lighting load: it ": edit.Adopt{Load: "r1", Fixtures: []domain.ID{"f1"}},
	} {
		_, err := apply(b.P, b.R, e)
		assert.ErrorContains(t, err, want)
	}
	typical := edit.OfTypical(b.P, &domain.Typical{ID: "t1", Design: b.R.Design.Clone()})
	for _, e := range []edit.Edit{edit.Stand{Device: "ps"}, edit.Hang{Load: "l1", IDs: []domain.ID{"f2"}, At: []geom.Point{{}}}, edit.Adopt{Load: "l1", Fixtures: []domain.ID{"f1"}}} {
		_, err := e.Apply(typical)
		assert.ErrorContains(t, err, "a typical has no place on a plan")
	}
}

func TestAdopt_movesALuminaireToAnotherLoad(t *testing.T) {
	b := domaintest.Classroom().Do(edit.Hang{Load: "l1", IDs: []domain.ID{"f1", "f2"}, At: []geom.Point{geom.Pt(1, 1), geom.Pt(2, 1)}}, edit.Adopt{Load: "l2", Fixtures: []domain.ID{"f2"}})
	assert.Equal(t, domain.ID("l1"), b.R.Fixtures[0].Load)
	assert.Equal(t, domain.ID("l2"), b.R.Fixtures[1].Load)
	b.Do(edit.Stand{Device: "ps", At: geom.Pt(3, 2), Turn: -90})
	assert.Equal(t, geom.Pt(3, 2), *b.R.Design.Device("ps").At)
	assert.InDelta(t, 270, b.R.Design.Device("ps").Turn, 1e-9)
}
