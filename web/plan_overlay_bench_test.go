package web

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/web/webtest"
)

// BenchmarkMovedDeviceWithOverlay moves a device of a room of 32 over HTTP, as a
// page does that shows an overlay: the edit, its findings, and what is new of the
// overlay, in one answer.
func BenchmarkMovedDeviceWithOverlay(b *testing.B) {
	for name, query := range map[string]string{"plan only": "", "margin": "show=margin&room=room101", "sight": "show=sight&motion=walk&room=room101"} {
		b.Run(name, func(b *testing.B) {
			a := newApp(b, overlayScope())
			have := haveName.FindStringSubmatch(a.get(storeyPlan).body)[1]
			bytes := 0
			move := func(i int) {
				raw := fmt.Sprintf(`{"do":"move","things":["device/room101/d%02d"],"by":[%g,0]}`, 2+i/2%2, 0.1*float64(1-i%2*2)) // a sensor, a router
				r, err := http.NewRequest(http.MethodPost, a.url+storeyPlan+"/gesture", strings.NewReader(webtest.Form("gesture", raw).Encode()))
				require.NoError(b, err)
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
				r.Header.Set("HX-Request", "true")
				r.Header.Set("Origin", a.url)
				r.Header.Set("X-Have", have)
				if query != "" {
					r.Header.Set("X-Overlay", have+" "+query)
				}
				answer := a.do(r)
				require.Equal(b, http.StatusOK, answer.status, answer.body)
				require.Equal(b, query != "", strings.Contains(answer.body, `"overlay":`))
				have, bytes = haveName.FindStringSubmatch(answer.body)[2], len(answer.body)
			}
			for i := range 4 {
				move(i)
			}
			i := 4
			for b.Loop() {
				move(i)
				i++
			}
			b.ReportMetric(float64(bytes), "answer-B")
		})
	}
}

// BenchmarkWholeStoreyOverlay fetches the overlay of 300 rooms and 3,000 devices
// from a page that is open.
func BenchmarkWholeStoreyOverlay(b *testing.B) {
	for _, query := range []string{"show=margin", "show=sight&motion=walk"} {
		b.Run(query, func(b *testing.B) {
			a := newApp(b, bigStorey())
			a.get(storeyPlan)
			first := a.get(storeyPlan + "/overlay?" + query)
			require.Equal(b, http.StatusOK, first.status)
			for b.Loop() {
				a.get(storeyPlan + "/overlay?" + query)
			}
			b.ReportMetric(float64(len(first.body)), "answer-B")
		})
	}
}
