package store

import (
	"fmt"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jmoiron/sqlx"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/units"
)

// quantiles reports the median and the 99th percentile beside the mean.
func quantiles(b *testing.B, took []time.Duration) time.Duration {
	slices.Sort(took)
	median := took[len(took)/2]
	b.ReportMetric(float64(median.Microseconds()), "p50-us")
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "p99-us")
	return median
}

// bareCommit gives the floor under every edit: one row, written through to the
// disk.
func bareCommit(b *testing.B) func(n int) time.Duration {
	db, err := sqlx.Open("sqlite", writeDSN(Options{Path: filepath.Join(b.TempDir(), "bare.db")}.withDefaults()))
	require.NoError(b, err)
	db.SetMaxOpenConns(1)
	_, err = db.Exec("CREATE TABLE a (id INTEGER PRIMARY KEY, n INTEGER NOT NULL); INSERT INTO a VALUES (1, 0)")
	require.NoError(b, err)
	stmt, err := db.Prepare("UPDATE a SET n = ? WHERE id = 1")
	require.NoError(b, err)
	b.Cleanup(func() { _, _ = stmt.Close(), db.Close() })
	return func(n int) time.Duration {
		from := time.Now()
		if _, err := stmt.Exec(n); err != nil {
			b.Fatal(err)
		}
		return time.Since(from)
	}
}

func BenchmarkBareCommit(b *testing.B) {
	bare := bareCommit(b)
	var took []time.Duration
	for n := 0; b.Loop(); n++ {
		took = append(took, bare(n))
	}
	quantiles(b, took)
}

func BenchmarkEditRoom(b *testing.B) {
	for _, rooms := range []int{10, 10000} {
		b.Run(fmt.Sprintf("%drooms", rooms), func(b *testing.B) {
			s := open(b, invented(rooms, 32))
			benchmarkEdit(b, s, roomID(rooms/2-rooms/2%3))
		})
	}
}

func BenchmarkEditFollower(b *testing.B) {
	s := open(b, invented(10, 32))
	benchmarkEdit(b, s, roomID(2))
}

// benchmarkEdit takes edits and bare commits by turns, so that a busy machine
// slows both; "x-floor" is the ratio of their medians.
func benchmarkEdit(b *testing.B, s *Store, id domain.ID) {
	req := Request{ProjectID: projectID, Who: "Ada Example", Scope: RoomSubject(id)}
	revision := room(b, s, id).Revision
	bare := bareCommit(b)
	var took, floor []time.Duration
	for n := 0; b.Loop(); n++ {
		floor = append(floor, bare(n))
		from := time.Now()
		req.Base = map[string]int64{req.Scope: revision}
		out, err := s.Edit(ctx, req, func(tx *Tx) (string, error) {
			r, err := tx.Room(id)
			if err != nil {
				return "", err
			}
			d := &r.Design.Devices[5]
			d.Delay = units.Seconds(60 + n%600)
			return "set a delay", tx.PutRoom(r)
		})
		if err != nil {
			b.Fatal(err)
		}
		revision = out.Revisions[req.Scope]
		took = append(took, time.Since(from))
	}
	median := quantiles(b, took)
	slices.Sort(floor)
	b.ReportMetric(float64(median)/float64(floor[len(floor)/2]), "x-floor")
	b.ReportMetric(float64(took[len(took)/10])/float64(floor[len(floor)/10]), "x-floor-p10")
}

func BenchmarkReadRoom(b *testing.B) {
	s := open(b, invented(10, 32))
	for b.Loop() {
		if _, err := s.Room(ctx, roomID(0)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRoomLines10000(b *testing.B) {
	s := open(b, invented(10000, 2))
	for name, f := range map[string]Filter{
		"page": {Limit: 50, Offset: 4000}, "text": {Limit: 50, Text: "77"}, "findings": {Limit: 50, Sort: "-findings"},
		"rule": {Limit: 50, Rule: "capacity-devices"}, "all": {},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := s.RoomLines(ctx, projectID, f); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("totals", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Totals(ctx, projectID); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkOpen10000 is from nothing to the first page of rooms.
func BenchmarkOpen10000(b *testing.B) {
	s := open(b, invented(10000, 20))
	path := s.Path()
	require.NoError(b, s.Close())
	for b.Loop() {
		s, err := Open(ctx, Options{Path: path})
		if err != nil {
			b.Fatal(err)
		}
		if _, _, err := s.RoomLines(ctx, projectID, Filter{Limit: 50}); err != nil {
			b.Fatal(err)
		}
		_ = s.Close()
	}
}

func BenchmarkLoad10000(b *testing.B) {
	s := open(b, invented(10000, 20))
	for _, held := range []bool{false, true} {
		b.Run(fmt.Sprintf("held=%v", held), func(b *testing.B) {
			for b.Loop() {
				if !held {
					s.cache = newCache(s.options.cacheSize)
				}
				if _, err := s.Load(ctx, projectID); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkLimitEdit10000 changes a limit, after which every room is judged
// again in the same transaction.
func BenchmarkLimitEdit10000(b *testing.B) {
	s := open(b, invented(10000, 20))
	for n := 0; b.Loop(); n++ {
		_, err := s.Edit(ctx, Request{ProjectID: projectID, Scope: ProjectSubject(projectID)}, func(tx *Tx) (string, error) {
			p, err := tx.Project()
			if err != nil {
				return "", err
			}
			p.Limits[0].Value = float64(10 + n)
			return "set a limit", tx.PutProject(p)
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkImport10000(b *testing.B) {
	scope := invented(10000, 20)
	s := open(b, nil)
	for b.Loop() {
		if err := s.ImportScope(ctx, "", scope, true, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIssue10000(b *testing.B) {
	s := open(b, invented(10000, 20))
	for b.Loop() {
		if _, err := s.Issue(ctx, projectID, IssueInput{Author: "Ada Example"}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkEditsInParallel shows what one commit for many edits brings.
func BenchmarkEditsInParallel(b *testing.B) {
	s := open(b, invented(100, 32))
	var next atomic.Int64
	b.SetParallelism(16)
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			n := next.Add(1)
			_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) {
				r, err := tx.Room(roomID(int(n % 100)))
				if err != nil {
					return "", err
				}
				r.Seats = int(n)
				return "seats", tx.PutRoom(r)
			})
			if err != nil {
				b.Error(err)
				return
			}
		}
	})
}

// BenchmarkCircuitShares10000 reads what 10,000 rooms put on circuits: what the
// rules over all rooms need of it.
func BenchmarkCircuitShares10000(b *testing.B) {
	s := open(b, invented(10000, 3))
	b.ResetTimer()
	for b.Loop() {
		shares, err := s.CircuitShares(ctx, projectID)
		if err != nil || len(shares) != 10000 {
			b.Fatal(len(shares), err)
		}
	}
}
