package gbxml

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"scopewright/store/intake/building"
)

// Run it with -fuzzminimizetime 20x: minimizing XML takes a minute by default.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		file(metric, storey("a", "Ground", 0)+space(`id="s" buildingStoreyIdRef="a"`, "101 Lobby", area(12)+planar(flat(0, 0, 4, 3, 0)...)), ""),
		file(`lengthUnit="Feet" areaUnit="SquareFeet"`, space(`id="s"`, "A", area(12)+box(0, 0, 4, 3, 0, 3)),
			surface(`id="1" surfaceType="ExteriorWall"`, "s", planar(upright(0, 0, 4, 0, 0, 3)...)+opening("FixedWindow", upright(1, 0, 3, 0, 1, 2)...))+
				surface(`id="f" surfaceType="SlabOnGrade"`, "s s", planar(flat(0, 0, 4, 3, 0.5)...))),
		file("", space(`id="s"`, "A", planar([]float64{0, 0, 0}, []float64{4, 4, 0}, []float64{4, 0, 0}, []float64{0, 3, 0})), "<Location><CADModelAzimuth>30</CADModelAzimuth></Location>"),
		`<!DOCTYPE gbXML><gbXML/>`, "PK\x03\x04", "\xff\xfe<\x00", "<gbXML>", "",
	} {
		f.Add([]byte(text))
		f.Add(utf16Bytes(text, littleEndian, true))
	}
	limits := Limits{Bytes: 1 << 20, Points: 5000, LoopPoints: 500, Spaces: 100, Depth: 32, TokenBytes: 64 << 10, Time: 10 * time.Second}
	f.Fuzz(func(t *testing.T, data []byte) {
		start := time.Now()
		m, err := Read(context.Background(), bytes.NewReader(data), int64(len(data)), Options{Limits: limits}, nil)
		if took := time.Since(start); took > 5*time.Second {
			t.Fatalf("took %s", took)
		}
		if err != nil {
			var told *building.Refusal
			if !errors.As(err, &told) || m != nil || !strings.HasSuffix(told.Message, ".") {
				t.Fatalf("an error that is no sentence: %v", err)
			}
			return
		}
		seen := map[string]bool{}
		for _, s := range m.Storeys {
			for _, r := range s.Spaces {
				if seen[r.Key] {
					t.Fatalf("key %q twice", r.Key)
				}
				seen[r.Key] = true
				if len([]rune(r.Name)) > building.LongestText {
					t.Fatalf("name of %d letters", len(r.Name))
				}
				if r.Outline.Empty() {
					continue
				}
				if faults := r.Outline.Validate(); len(faults) > 0 {
					t.Fatalf("outline %v: %s", r.Outline, faults[0].Message())
				}
				if !(r.Area > 0) {
					t.Fatalf("area %v", r.Area)
				}
			}
		}
	})
}
