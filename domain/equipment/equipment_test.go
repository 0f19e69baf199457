package equipment_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/equipment"
)

func TestGenericBookIsSoundAndCoversEveryKind(t *testing.T) {
	seen, ids := map[equipment.Kind]int{}, map[string]bool{}
	for _, typ := range equipment.Generic() {
		require.NoError(t, typ.Validate())
		assert.False(t, ids[typ.ID], typ.ID)
		ids[typ.ID], seen[typ.Kind] = true, seen[typ.Kind]+1
		assert.NotEmpty(t, typ.Source)
		if typ.Supply == equipment.Battery {
			assert.Positive(t, typ.LifeYears, "%s: battery plan needs a life", typ.ID)
			assert.NotEmpty(t, typ.Cell, typ.ID)
		}
	}
	for _, k := range equipment.Kinds() {
		assert.Positive(t, seen[k], "no generic type of kind %s", k)
		assert.NotEmpty(t, k.Traits().Prefix)
	}
	assert.Len(t, equipment.Kinds(), 10)
}

func TestValidateNamesWhatIsWrong(t *testing.T) {
	good := equipment.Generic()[0]
	for name, spoil := range map[string]func(*equipment.Type){
		"type ID":  func(x *equipment.Type) { x.ID = "Bad ID" },
		"a name":   func(x *equipment.Type) { x.Name = " " },
		"kind":     func(x *equipment.Type) { x.Kind = "robot" },
		"supply":   func(x *equipment.Type) { x.Supply = "steam" },
		"route":    func(x *equipment.Type) { x.Supply = equipment.Battery },
		"outputs":  func(x *equipment.Type) { x.Outputs = 0 },
		"output A": func(x *equipment.Type) { x.OutputAmps = -1 },
		"dimming":  func(x *equipment.Type) { x.Dims = []equipment.Dimming{"wishful"} },
	} {
		bad := good
		spoil(&bad)
		assert.ErrorContains(t, bad.Validate(), name)
	}
}

func TestCanDim(t *testing.T) {
	b := equipment.Generic()
	assert.True(t, b.Find("lc-1").CanDim(equipment.Analog))
	assert.False(t, b.Find("lc-1").CanDim(equipment.PhaseForward))
	assert.True(t, b.Find("rc-20").CanDim(equipment.Switched))
	assert.False(t, b.Find("rc-20").CanDim(equipment.Analog))
	assert.Nil(t, b.Find("nothing"))
}
