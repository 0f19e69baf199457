package delta_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/delta"
)

// tenths is written with one decimal.
type tenths float64

func (v tenths) MarshalJSON() ([]byte, error) { return json.Marshal(math.Round(float64(v)*10) / 10) }

func TestValuesThatAreWrittenAlikeDoNotDiffer(t *testing.T) {
	type mark struct {
		At *tenths `json:"at,omitempty"`
	}
	at := func(v tenths) mark { return mark{At: &v} }
	same, err := delta.Diff(at(1.51), at(1.5201))
	require.NoError(t, err)
	assert.Empty(t, same)
	other, err := delta.Diff(at(1.51), at(1.58))
	require.NoError(t, err)
	require.Len(t, other, 1)
	assert.Equal(t, `1.6`, string(other[0].After))
}
