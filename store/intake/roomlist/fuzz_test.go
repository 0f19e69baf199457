package roomlist

import (
	"os"
	"path/filepath"
	"testing"
	"time"
	"unicode/utf8"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/table"
)

func FuzzRoomList(f *testing.F) {
	files, err := filepath.Glob("testdata/*.*")
	if err != nil || len(files) < 12 {
		f.Fatal(files, err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data, false)
		f.Add(data, true)
	}
	project, rooms := twoBuildings()
	f.Fuzz(func(t *testing.T, data []byte, us bool) {
		start := time.Now()
		opt := Options{Units: units.SI}
		if us {
			opt.Units = units.US
		}
		l, err := Read("x", data, table.Options{Limits: table.Limits{Bytes: 1 << 20, Unpacked: 4 << 20, Rows: 2000, Columns: 64, Cells: 20_000, Letters: 5000}}, opt)
		if err != nil {
			return
		}
		p := l.Plan(project, nil, rooms, domain.NewID)
		if took := time.Since(start); took > 5*time.Second {
			t.Fatalf("took %s", took)
		}
		if len(p.Steps) != len(l.Rooms)+len(l.Refused) {
			t.Fatalf("%d steps of %d rooms and %d refused lines", len(p.Steps), len(l.Rooms), len(l.Refused))
		}
		for _, s := range p.Steps {
			if (s.Room == nil) != (s.Action == Skip) || s.Action == Skip && s.Problem == "" {
				t.Fatalf("%+v", s)
			}
			if s.Room != nil {
				check(t, s.Room)
			}
		}
	})
}

// check holds a room against what any form would take.
func check(t *testing.T, r *domain.Room) {
	if r.Number == "" || r.StoreyID == "" || r.ID == "" {
		t.Fatalf("room without number, storey or ID: %+v", r)
	}
	for _, text := range []string{r.Number, r.Name} {
		if clean, err := domain.CleanLine(text, domain.MaxName); err != nil || clean != text || !utf8.ValidString(text) {
			t.Fatalf("%q: %v", text, err)
		}
	}
	if !(r.Area >= 0 && r.Area <= maxArea && r.Ceiling >= 0 && r.Ceiling <= maxCeiling && r.Seats >= 0 && r.Seats <= maxSeats) {
		t.Fatalf("%+v", r)
	}
}
