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
	"scopewright/domain/edit"
	"scopewright/domain/propose"
	"scopewright/domain/sequence"
)

// fullRoom is a sound room of 32 devices: the classroom with 7 more sensors, 8
// more stations that do what its own does, and routers; 220 links. Its suggested
// scenarios are played at every edit.
func fullRoom() *domaintest.Builder {
	b := domaintest.Classroom().Set("devices/ps/sending", string(domain.ToLoads), "devices/st/sending", string(domain.ToLoads))
	for i := range 15 {
		like := domain.ID("ps")
		if i >= 7 {
			like = "st"
		}
		b.Do(edit.Duplicate{Part: "devices", ID: like, New: domain.ID(fmt.Sprintf("more%d", i))})
	}
	b.Devices(11, "rt-plug")
	b.Do(edit.SetParents{Parents: propose.Parents(b.P, &b.R.Design).Parent})
	for _, sc := range sequence.Generate(b.P, &b.R.Design) {
		b.Do(edit.AddScenario{Scenario: sc})
	}
	return b
}

// bigScope has n rooms; the first holds 32 devices and is the one edited.
func bigScope(n int) *domain.Scope {
	full, small := fullRoom(), domaintest.Classroom()
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

// floor is what lies beneath an edit: one row committed with WAL and
// synchronous=FULL, and one empty form posted over loopback.
func floor(b *testing.B) (commit, empty func(i int)) {
	db, err := sql.Open("sqlite", "file:"+filepath.Join(b.TempDir(), "floor.db")+"?_pragma=busy_timeout(5000)&_pragma=journal_mode(wal)&_pragma=synchronous(full)&_txlock=immediate")
	require.NoError(b, err)
	b.Cleanup(func() { require.NoError(b, db.Close()) })
	db.SetMaxOpenConns(1)
	_, err = db.Exec(`CREATE TABLE t (id INTEGER PRIMARY KEY, v TEXT); INSERT INTO t VALUES (1, '')`)
	require.NoError(b, err)
	server := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) {}))
	b.Cleanup(server.Close)
	post := poster(b, server.URL)
	return func(i int) {
		_, err := db.Exec(`UPDATE t SET v = ? WHERE id = 1`, i)
		require.NoError(b, err)
	}, func(int) { post(url.Values{}) }
}

// One edit over HTTP: form, transaction at synchronous=FULL, room of 32
// devices, all rules, the answer's parts. The same in a small and in a huge
// project, each beside its floor: the three are run in turn, so that whatever
// else the machine does falls on all alike. The ratio to aim at is 2.5.
func BenchmarkEditRoundTrip(b *testing.B) {
	for _, rooms := range []int{10, 10000} {
		b.Run(fmt.Sprintf("rooms=%d", rooms), func(b *testing.B) {
			commit, empty := floor(b)
			a := newApp(b, bigScope(rooms))
			post := poster(b, a.url+"/projects/p1/rooms/room0/set")
			change := func(i int) {
				require.Equal(b, 200, post(url.Values{"path": {"devices/ps/delay_s"}, "text": {fmt.Sprint(i%40+1, " min")}}))
			}
			change(100)
			b.ResetTimer()
			times := inTurn(b.N, commit, empty, change)
			b.ReportMetric(micros(times[0]), "commit-µs")
			b.ReportMetric(micros(times[1]), "post-µs")
			b.ReportMetric(micros(times[2]), "edit-µs")
			b.ReportMetric(micros(times[2])/(micros(times[0])+micros(times[1])), "edit/floor")
		})
	}
}

func micros(d time.Duration) float64 { return float64(d.Nanoseconds()) / 1000 }

// inTurn runs functions one after the other, n times, and gives the median
// time of each.
func inTurn(n int, functions ...func(i int)) []time.Duration {
	times := make([][]time.Duration, len(functions))
	for i := range n {
		for j, f := range functions {
			start := time.Now()
			f(i)
			times[j] = append(times[j], time.Since(start))
		}
	}
	medians := make([]time.Duration, len(functions))
	for j := range times {
		slices.Sort(times[j])
		medians[j] = times[j][n/2]
	}
	return medians
}
