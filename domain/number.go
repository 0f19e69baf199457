package domain

import (
	"cmp"
	"strings"
)

// CompareNumbers orders room numbers and tags as people do: 2 before 10, 101
// before 101A, letters without regard to capitals.
func CompareNumbers(a, b string) int {
	a, b = strings.ToLower(strings.TrimSpace(a)), strings.ToLower(strings.TrimSpace(b))
	for a != "" && b != "" {
		x, y := digits(a), digits(b)
		if x == 0 || y == 0 {
			if a[0] != b[0] {
				return cmp.Compare(a[0], b[0])
			}
			a, b = a[1:], b[1:]
			continue
		}
		m, n := strings.TrimLeft(a[:x], "0"), strings.TrimLeft(b[:y], "0")
		if c := cmp.Or(cmp.Compare(len(m), len(n)), strings.Compare(m, n)); c != 0 {
			return c
		}
		a, b = a[x:], b[y:]
	}
	return cmp.Compare(len(a), len(b))
}

// digits counts the digits that the text starts with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
