package domain_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"scopewright/domain"
)

func TestCompareNumbersOrdersAsPeopleDo(t *testing.T) {
	want := []string{"", "1", "2", "10", "99a", "100", "101", "101A", "101b", "B1", "b2", "B10", "S-1"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, domain.CompareNumbers)
	assert.Equal(t, want, got)
	assert.Zero(t, domain.CompareNumbers(" 007a", "7A "))
}

func TestCompareNumbersIsAnOrder(t *testing.T) {
	text := rapid.StringOfN(rapid.SampledFrom([]rune("0129aB-é ")), 0, 6, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := text.Draw(t, "a"), text.Draw(t, "b"), text.Draw(t, "c")
		assert.Equal(t, domain.CompareNumbers(a, b), -domain.CompareNumbers(b, a))
		if domain.CompareNumbers(a, b) <= 0 && domain.CompareNumbers(b, c) <= 0 {
			assert.LessOrEqual(t, domain.CompareNumbers(a, c), 0)
		}
	})
}
