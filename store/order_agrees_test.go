package store

import (
	"cmp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"scopewright/domain"
)

// The database sorts rooms by a key, everything else by comparing numbers: a
// list and a document must show the same order.
func TestSortKey_ordersAsNumbersCompare(t *testing.T) {
	// What CleanLine lets into a room number, runs of zeros and digits most of all.
	number := rapid.StringOfN(rapid.SampledFrom([]rune("000111299aAbBzZ -./_:~éÉß中")), 0, 12, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b := number.Draw(t, "a"), number.Draw(t, "b")
		assert.Equal(t, domain.CompareNumbers(a, b), cmp.Compare(sortKey(a), sortKey(b)), "%q and %q", a, b)
	})
	long := strings.Repeat("9", domain.MaxName)
	assert.Negative(t, cmp.Compare(sortKey(long), sortKey("1"+long)))
}
