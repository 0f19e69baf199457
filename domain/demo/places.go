package demo

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// spot is where in a room something is, along u and v in meters.
type spot func(f frame) (u, v float64)

// part is a spot by fractions of the room's width and depth.
func part(u, v float64) spot {
	return func(f frame) (float64, float64) { return u * f.width, v * f.depth }
}

// longer is one spot in rooms about as long as deep, and another in longer ones.
func longer(usual, long spot) spot {
	return func(f frame) (float64, float64) {
		if f.width > 1.3*f.depth {
			return long(f)
		}
		return usual(f)
	}
}

// byDoor is a spot on the corridor's wall, so far beside the door.
func byDoor(beside float64) spot {
	return func(f frame) (float64, float64) { return f.door + beside, 0 }
}

// sixFeetIn is a spot 6 ft from the windows, where a daylight sensor looks out
// between luminaires: of three along the glass, or beside the two of a narrow room,
// which hang one behind the other.
func sixFeetIn(f frame) (float64, float64) {
	u := 0.5
	switch {
	case f.width > 5:
		u = 0.56
	case f.width < 3.2:
		u = 0.69
	}
	return u * f.width, max(f.depth-6*foot, f.depth/2)
}

// inFrom is a spot so many feet from the windows, at a share of their wall.
func inFrom(u, feet float64) spot {
	return func(f frame) (float64, float64) { return u * f.width, f.depth - feet*foot }
}

// insideScreen is deep enough in a restroom not to look out of its door; in a
// small one, far from the door on its wall.
func insideScreen(f frame) (float64, float64) {
	if f.width*f.depth < 10 {
		return f.width - 1*foot, 0
	}
	return f.width / 2, 0.6 * f.depth
}

// spots says where the words of the room designs are.
var spots = map[string]spot{
	"above the door": byDoor(0), "latch side of the door": byDoor(0.75), "at the opening to the corridor": byDoor(1.6),
	"corner facing the desk": part(1, 0), "corner of the door's wall": part(1, 0), "corner of the glass front": part(0, 1), "corner of the display wall": part(1, 1), "corner at the door": part(0, 0), "corner of the way out": part(1, 0), "ceiling, middle": part(0.5, 0.5), "ceiling, over the table": part(0.475, 0.525),
	"ceiling, 6 ft from the window": sixFeetIn, "ceiling, 6 ft from the west window": inFrom(0.5, 6), "ceiling, 5 ft from the glass front": inFrom(0.38, 5), "roof truss, 6 ft from the clerestory": sixFeetIn,
	"above the board": part(0, 0.5), "at the teacher's place": part(0, 0.8), "ceiling, front third": longer(part(0.4, 0.25), part(0.28, 0.26)), "ceiling, front third, at the windows": longer(part(0.33, 0.77), part(0.31, 0.67)), "ceiling, rear third": longer(part(0.71, 0.5), part(0.69, 0.33)),
	"ceiling, over the added row": part(0.69, 0.73), "in the AV rack": part(0, 0.9),
	"ceiling, inside the entrance screen": insideScreen, "ceiling, over the first tables": part(0.36, 0.5), "ceiling, over the last tables": part(0.71, 0.5),

	"above the ceiling, middle bay": part(0.52, 0.5), "beside the north stair": part(0.99, 0), "ceiling, north bay": part(0.83, 0.5), "ceiling, middle bay": part(0.5, 0.5), "ceiling, south bay": part(0.17, 0.5),
	"above the landing": part(0.5, 0), "beside the lower door": byDoor(0.75), "upper landing": part(1, 0), "lower landing": part(0, 0),

	"above the desk": part(0.8, 0.35), "in the desk, for the wall display": part(0.85, 0.45), "at the desk": part(0.78, 0.45),
	"on the mezzanine wall": part(1, 0.4), "at the main door": byDoor(0.75), "at the yard door": part(0.9, 1), "above the counter": part(0.6, 0),
	"above the folding wall": part(0.5, 0.3), "in the AV rack of half A": part(0, 0.9), "at the track of the folding wall": part(0.5, 1), "door of half A": byDoor(0.75),
	"door of half B": func(f frame) (float64, float64) { return f.width - f.door - 0.75, 0 }, "ceiling, half A, door side": part(0.28, 0.37), "ceiling, half A, far side": part(0.27, 0.76), "ceiling, half B, door side": part(0.72, 0.37), "ceiling, half B, far side": part(0.73, 0.76),
	"above the copy point": part(0.03, 0.1), "above the middle aisle": part(0.5, 0.75),
}

// numbered are the spots of "bay 3" and the like.
var numbered = map[string]func(n int) spot{
	"bay": func(n int) spot {
		return part([...]float64{1: 0.1, 2: 0.27, 3: 0.5, 4: 0.68, 5: 0.9}[n], 0.45-0.065*float64((n+1)%2))
	},
	"high in bay": func(n int) spot {
		return part([...]float64{2: 0.23, 3: 0.455, 4: 0.73}[n], [...]float64{2: 0.83, 3: 0.67, 4: 0.78}[n])
	},
	"above bay":    func(n int) spot { return openBay(n, 0.7, 0.5) },
	"ceiling, bay": func(n int) spot { return openBay(n, 0.5, 0.5) },
	"desk group":   func(n int) spot { return openBay(n, 0.3, 0.8) },
	"column":       func(n int) spot { return part(float64(n)/8, 0.42) },
	"above column": func(n int) spot { return part(float64(n)/8, 0.39) },
}

// openBay is a spot within a bay of the open office: eight in two rows, and
// two along the windows.
func openBay(n int, u, v float64) spot {
	b := openBays(n)
	return part(b.u0+u*(b.u1-b.u0), b.v0+v*(b.v1-b.v0))
}

func openBays(n int) region {
	if n > 8 {
		u := float64(n-9) / 2
		return region{u, 0.82, u + 0.5, 1}
	}
	u, v := float64((n-1)%4)/4, 0.06+0.36*float64((n-1)/4)
	return region{u, v, u + 0.25, v + 0.36}
}

func spotOf(place string) spot {
	if s := spots[place]; s != nil {
		return s
	}
	words, n := splitNumber(place)
	if s := numbered[words]; s != nil && n > 0 {
		return s(n)
	}
	panic(fmt.Sprintf("demo: nobody knows where %q is", place))
}

// splitNumber gives "bay", 3 of "bay 3".
func splitNumber(text string) (words string, n int) {
	at := strings.LastIndexByte(text, ' ')
	if at < 0 {
		return text, 0
	}
	_, _ = fmt.Sscanf(text[at+1:], "%d", &n)
	return text[:at], n
}

// furnish puts devices, luminaires and seats of a room to their places.
func furnish(r *domain.Resolved, f frame) {
	placeDevices(r, f)
	placeLuminaires(r, f)
	placeSeats(r, f)
}

// placeDevices puts what shares a place side by side.
func placeDevices(r *domain.Resolved, f frame) {
	const beside = 0.45
	taken := map[string]int{}
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		u, v := spotOf(d.Place)(f)
		step := beside * float64(taken[d.Place])
		if u > f.width/2 {
			step = -step
		}
		taken[d.Place]++
		at := f.within(u+step, v)
		d.At = &at
		if !strings.HasPrefix(d.Place, "ceiling") && !strings.HasPrefix(d.Place, "roof") && !strings.HasPrefix(d.Place, "above") {
			d.Turn = bearing(at, f.at(f.width/2, f.depth/2))
		}
		if d.Loop == domain.OpenLoop {
			if d.Turn = bearing(geom.Point{}, f.into); d.Turn == 0 { // to the windows, which are opposite the door
				d.Turn = 360
			}
		}
		if strings.HasPrefix(d.Place, "corner") || strings.HasSuffix(d.Place, "landing") {
			d.Turn = 45 + 90*math.Floor(d.Turn/90) // halfway between the walls
		}
	}
}

// bearing gives the direction from a to b in whole degrees, counterclockwise
// from the right.
func bearing(a, b geom.Point) float64 {
	deg := math.Round(math.Atan2(b.Y-a.Y, b.X-a.X) * 180 / math.Pi)
	return math.Mod(deg+360, 360)
}

// region is a part of a room by fractions of its width and depth.
type region struct{ u0, v0, u1, v1 float64 }

// regions says where the loads of the room designs hang.
var regions = map[string]region{
	"Board wash": {0, 0.1, 0.1, 0.9}, "Inner rows": {0.12, 0.2, 0.8, 0.68}, "Window row": {0.12, 0.7, 0.8, 1}, "Rear row": {0.8, 0.05, 1, 0.5}, "Entrance": {0.05, 0, 0.6, 0.2},
	"Table": {0.15, 0.1, 0.9, 0.9}, "Screen wall": {0, 0.1, 0.12, 0.9}, "Day rows": {0, 0, 1, 0.55}, "Night and egress row": {0.03, 0.55, 1, 1},
	"Waiting area": {0.05, 0.2, 0.72, 0.75}, "Along the glass front": {0.02, 0.82, 0.98, 1}, "Over the desk": {0.76, 0.3, 0.96, 0.5}, "Way out": {0.05, 0, 0.7, 0.18}, "Display wall": {0.9, 0.52, 1, 0.82},
	"Bays 1 and 2": {0, 0, 0.4, 0.78}, "Bays 3 and 4": {0.4, 0, 0.8, 0.78}, "End bay": {0.8, 0, 1, 0.78}, "Along the clerestory": {0, 0.8, 1, 1}, "Tables": {0, 0, 1, 0.65},
	"Half A, tables": {0.1, 0.05, 0.48, 0.95}, "Half A, screen wall": {0, 0.05, 0.1, 0.95}, "Half B, tables": {0.52, 0.05, 0.9, 0.95}, "Half B, rear wall": {0.9, 0.05, 1, 0.95},
	"Window row 1": openBays(9), "Window row 2": openBays(10),
}

func regionOf(load string) region {
	if r, known := regions[load]; known {
		return r
	}
	if words, n := splitNumber(load); words == "Bay" {
		return openBays(n)
	}
	return region{0, 0, 1, 1}
}

func placeLuminaires(r *domain.Resolved, f frame) {
	r.Fixtures = nil
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Luminaire == "" {
			continue
		}
		hang := regionOf(l.Name)
		for n, at := range f.spread(hang, l.Count) {
			r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprintf("%s-%02d", l.ID, n+1)), Load: l.ID, At: at, Turn: f.turn(hang)})
		}
	}
}

// turn lays long luminaires along the corridor's wall, or along a side wall where
// they hang in a strip before it.
func (f frame) turn(hang region) float64 {
	turn := bearing(geom.Point{}, f.along)
	if 3*(hang.u1-hang.u0)*f.width < (hang.v1-hang.v0)*f.depth {
		turn += 90
	}
	return math.Mod(turn, 180)
}

func placeSeats(r *domain.Resolved, f frame) {
	r.Sitting = nil
	for n, at := range f.spread(region{0.15, 0.2, 0.8, 0.85}, r.Seats) {
		r.Sitting = append(r.Sitting, domain.Seat{ID: domain.ID(fmt.Sprintf("seat-%02d", n+1)), At: at})
	}
}

// spread gives n places in even rows over a region of the room.
func (f frame) spread(r region, n int) []geom.Point {
	if n <= 0 {
		return nil
	}
	width, depth := (r.u1-r.u0)*f.width, (r.v1-r.v0)*f.depth
	rows := max(1, int(math.Round(math.Sqrt(float64(n)*depth/width))))
	rows = min(rows, n)
	var out []geom.Point
	for row := range rows {
		from, to := n*row/rows, n*(row+1)/rows
		for i := from; i < to; i++ {
			u := r.u0*f.width + width*(float64(i-from)+0.5)/float64(to-from)
			v := r.v0*f.depth + depth*(float64(row)+0.5)/float64(rows)
			out = append(out, f.within(u, v))
		}
	}
	return out
}
