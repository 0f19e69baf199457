package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOwnPage_leadsNowhereElse(t *testing.T) {
	for _, path := range []string{"/", "/projects/p1?q=a%20b&x=//y", "/projects/p1/rooms/r1#findings"} {
		assert.Equal(t, path, ownPage(path))
	}
	for _, path := range []string{"", "x", "//evil.example", "/\\evil.example", "/\t/evil.example", "/\n/evil.example", "http://evil.example", "javascript:alert(1)", "/%zz"} {
		assert.Equal(t, "/", ownPage(path), "%q", path)
	}
}
