package web

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/web/webtest"
)

var haveName = regexp.MustCompile(`data-have="([^"]*)"|"now":"([^"]*)"`)

// BenchmarkMovedDevice moves one device on a storey of 300 rooms and 3,000
// devices over HTTP, as an open page does: time and bytes of the answer.
func BenchmarkMovedDevice(b *testing.B) {
	a := newApp(b, bigStorey())
	page := a.get(storeyPlan).body
	have := haveName.FindStringSubmatch(page)[1]
	thing := "device/big150/" + string(a.scope.Rooms[150].Design.Devices[0].ID)
	bytes := 0
	move := func(i int) {
		raw := fmt.Sprintf(`{"do":"move","things":[%q],"by":[%g,0]}`, thing, 0.1*float64(1-i%2*2))
		r, err := http.NewRequest(http.MethodPost, a.url+storeyPlan+"/gesture", strings.NewReader(webtest.Form("gesture", raw).Encode()))
		require.NoError(b, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("HX-Request", "true")
		r.Header.Set("Origin", a.url)
		r.Header.Set("X-Have", have)
		answer := a.do(r)
		require.Equal(b, http.StatusOK, answer.status, answer.body)
		found := haveName.FindStringSubmatch(answer.body)
		require.NotNil(b, found, "what is new has a name")
		have, bytes = found[2], len(answer.body)
	}
	move(0)
	i := 1
	for b.Loop() {
		move(i)
		i++
	}
	b.ReportMetric(float64(bytes), "answer-B")
	b.ReportMetric(float64(len(page)), "page-B")
}
