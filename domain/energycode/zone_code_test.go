package energycode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
)

func TestZoneCodeOf(t *testing.T) {
	first := daylight.ZoneCodes()[0].ID
	for pack, want := range map[domain.CodePack]string{"": first, "nonsense": first, "iecc-2018": "iecc-2018", "california-2022": "california-2022"} {
		assert.Equal(t, want, energycode.ZoneCodeOf(&domain.Project{CodePack: pack}).ID, pack)
	}
	p := &domain.Project{CodePack: "w1", Worksheets: []domain.CodeWorksheet{{ID: "w1", Title: "Own", Base: "iecc-2018"}}}
	assert.Equal(t, "iecc-2018", energycode.ZoneCodeOf(p).ID, "a worksheet that starts from it")
}
