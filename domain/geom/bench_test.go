package geom

import "testing"

// rooms is a storey of 300 rooms that touch.
func rooms() (all []Polygon) {
	for i := range 300 {
		all = append(all, Rectangle(float64(i%20)*5, float64(i/20)*4, 5, 4))
	}
	return all
}

func BenchmarkUnion_300Rooms(b *testing.B) {
	all := rooms()
	for b.Loop() {
		if parts, err := Union(all...); err != nil || len(parts) != 1 {
			b.Fatal(parts, err)
		}
	}
}

func BenchmarkValidate_300Rooms(b *testing.B) {
	all := rooms()
	for b.Loop() {
		for _, p := range all {
			if len(p.Validate()) > 0 {
				b.Fatal(p)
			}
		}
	}
}

func BenchmarkContains_3000DevicesIn300Rooms(b *testing.B) {
	all := rooms()
	for b.Loop() {
		found := 0
		for i := range 3000 {
			q := Pt(float64(i%200)*0.5+0.1, float64(i/200)*4+0.3)
			for _, p := range all {
				if p.Contains(q) {
					found++
					break
				}
			}
		}
		if found != 3000 {
			b.Fatal(found)
		}
	}
}
