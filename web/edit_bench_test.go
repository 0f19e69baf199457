package web

import (
	"database/sql"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	_ "modernc.org/sqlite"

	"scopewright/domain"
	"scopewright/domain/domaintest"
)

// bigScope has n rooms; the first holds 32 devices and is the one edited.
func bigScope(n int) *domain.Scope {
	full := domaintest.Classroom().Devices(10, "ps-ceiling").Devices(8, "st-4-battery").Devices(8, "lc-1")
	small := domaintest.Classroom()
	scope := &domain.Scope{Project: *full.P}
	for i := range n {
		r := *small.R.Room
		if i == 0 {
			r = *full.R.Room
		}
		r.ID, r.Number = domain.ID(fmt.Sprintf("room%d", i)), fmt.Sprint(1000+i)
		scope.Rooms = append(scope.Rooms, r)
	}
	return scope
}

// measure runs f n times and gives the median time.
func measure(b *testing.B, f func(i int)) time.Duration {
	times := make([]time.Duration, 0, b.N)
	for i := range b.N {
		start := time.Now()
		f(i)
		times = append(times, time.Since(start))
	}
	slices.Sort(times)
	return times[len(times)/2]
}

func poster(b *testing.B, address string) func(form url.Values) int {
	client := &http.Client{}
	return func(form url.Values) int {
		r, err := http.NewRequest(http.MethodPost, address, strings.NewReader(form.Encode()))
		require.NoError(b, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("HX-Request", "true")
		res, err := client.Do(r)
		require.NoError(b, err)
		_, err = io.Copy(io.Discard, res.Body)
		require.NoError(b, err)
		require.NoError(b, res.Body.Close())
		return res.StatusCode
	}
}

// The floor beneath an edit: one row committed with WAL and synchronous=FULL,
// and one empty form posted over loopback.
func BenchmarkFloor(b *testing.B) {
	db, err := sql.Open("sqlite", "file:"+filepath.Join(b.TempDir(), "floor.db")+"?_pragma=busy_timeout(5000)&_pragma=journal_mode(wal)&_pragma=synchronous(full)&_txlock=immediate")
	require.NoError(b, err)
	defer db.Close()
	db.SetMaxOpenConns(1)
	_, err = db.Exec(`CREATE TABLE t (id INTEGER PRIMARY KEY, v TEXT); INSERT INTO t VALUES (1, '')`)
	require.NoError(b, err)
	server := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) {}))
	defer server.Close()
	post := poster(b, server.URL)
	commit := measure(b, func(i int) {
		_, err := db.Exec(`UPDATE t SET v = ? WHERE id = 1`, i)
		require.NoError(b, err)
	})
	empty := measure(b, func(int) { post(url.Values{}) })
	b.ReportMetric(float64(commit.Microseconds()), "commit-µs")
	b.ReportMetric(float64(empty.Microseconds()), "post-µs")
	b.ReportMetric(float64((commit + empty).Microseconds()), "floor-µs")
}

// One edit over HTTP: form, transaction at synchronous=FULL, room of 32
// devices, all rules, the answer's parts. The same in a small and a huge project.
func BenchmarkEditRoundTrip(b *testing.B) {
	for _, rooms := range []int{10, 10000} {
		b.Run(fmt.Sprintf("rooms=%d", rooms), func(b *testing.B) {
			a := newApp(b, bigScope(rooms))
			post := poster(b, a.url+"/projects/p1/rooms/room0/set")
			b.ResetTimer()
			median := measure(b, func(i int) {
				require.Equal(b, 200, post(url.Values{"path": {"devices/ps/delay_s"}, "text": {fmt.Sprint(i%40+1, " min")}}))
			})
			b.ReportMetric(float64(median.Microseconds()), "median-µs")
		})
	}
}
