package daylight_test

import (
	"testing"

	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
)

func benchRoom(glass Glass) Space {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(0.5, 3.5, 2.7), southWindow(4.5, 7.5, 2.7), southWindow(8.5, 11.5, 2.7)}}
	for i := range s.Windows {
		s.Windows[i].Glass = glass
	}
	return s
}

func benchGrid(b *testing.B, s Space) {
	l := lit(b, &s)
	for b.Loop() {
		if g := l.Grid(0.5); len(g.Cells) != 24*18 {
			b.Fatal(len(g.Cells))
		}
	}
}

// DF grid of 0.5 m for a 12 x 9 m room with 3 windows: to stay under 20 ms.
func BenchmarkGrid_12x9With3Windows(b *testing.B) { benchGrid(b, benchRoom(pane068)) }

func BenchmarkGrid_12x9With3WindowsByAngle(b *testing.B) { benchGrid(b, benchRoom(rivero068)) }

func BenchmarkGrid_12x9With3WindowsAndPartitions(b *testing.B) {
	s := benchRoom(pane068)
	for i := range 6 {
		s.Obstructions = append(s.Obstructions, screen(2*float64(i), 3, 2*float64(i)+1.5, 3, 1.6))
	}
	benchGrid(b, s)
}

// 2,610 samples for 200 rooms, the year itself included: to stay under 1 s.
func BenchmarkYear_200Rooms(b *testing.B) {
	for b.Loop() {
		y := NewYear(plains, 2025, OfficeHours())
		for room := range 200 {
			n := Need{Factor: 1 + float64(room)/50, Set: 500, Lamps: Dimming{LeastLight: 0.1, LeastPower: 0.2}}
			for _, of := range []SkyOf{Always(Overcast), Mixed(0.5)} {
				if y.Facade(of, float64(room)).Saved(&n).Power <= 0 {
					b.Fatal("nothing")
				}
			}
		}
	}
}

func BenchmarkZones_3Windows60Luminaires(b *testing.B) {
	s, rules := benchRoom(pane068), rulesOf(b, ashrae2013)
	for i := range 60 {
		s.Luminaires = append(s.Luminaires, Luminaire{At: geom.Pt(1+float64(i%12), 1+float64(i/12)), Length: 1.2, Width: 0.6, Watts: 40, General: true})
	}
	for b.Loop() {
		z, err := rules.Zones(&s)
		if err != nil || rules.Tally(&z, s.Luminaires).Primary.Watts == 0 {
			b.Fatal(err)
		}
	}
}
