package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCell_printsNumbersWithTheirDecimals(t *testing.T) {
	for _, c := range []struct {
		value    float64
		decimals int
		want     string
	}{
		{14.25, 1, "14.2"}, // half to even of the binary value, as strconv does
		{1234567.891, 2, "1234567.89"},
		{-0.0004, 2, "0.00"}, // no sign on what rounds to nothing
		{-0.5, 1, "-0.5"},
		{0, 0, "0"},
	} {
		assert.Equal(t, c.want, NumberCell(c.value, c.decimals).String())
	}
}

func TestCell_textStandsBeforeNumber(t *testing.T) {
	c := NumberCell(3, 0)
	c.Text = "3 of 4"
	assert.Equal(t, "3 of 4", c.String())
	assert.Empty(t, Cell{}.String())
}

func TestMark_everyMarkHasASymbolOfItsOwnAndAMeaning(t *testing.T) {
	seen := map[string]Mark{}
	for _, m := range Marks() {
		assert.NotEmpty(t, m.Symbol(), m)
		assert.NotEmpty(t, m.Meaning(), m)
		assert.NotContains(t, seen, m.Symbol(), "%s and %s look alike", m, seen[m.Symbol()])
		seen[m.Symbol()] = m
	}
	assert.Equal(t, "?", Mark("purple").Symbol())
}
