package web

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Under "no-referrer" Chromium sends a plain form of our own page with the
// origin "null" (seen in Chromium); only Sec-Fetch-Site says that it is ours.
func TestPlainFormsOfOurOwnPagesAreTaken(t *testing.T) {
	a := newApp(t, smallScope())
	send := func(site string) int {
		r, err := http.NewRequest(http.MethodPost, a.url+"/preferences", strings.NewReader("name=A&back=/"))
		require.NoError(t, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "null")
		if site != "" {
			r.Header.Set("Sec-Fetch-Site", site)
		}
		return a.do(r).status
	}
	assert.Equal(t, http.StatusSeeOther, send("same-origin"))
	for _, site := range []string{"", "none", "same-site", "cross-site"} {
		assert.Equal(t, http.StatusForbidden, send(site), site)
	}
}
