package match

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/roomlist"
)

// notable is the part by which an area may differ from the drawing's before it
// is told: 1 %, as between the faces and the center lines of thin walls in a
// large room (common practice, no published source).
const notable = 0.01

// most is the most points of one outline that a project takes.
const most = 20_000

// step says what a space does to its room.
func (f *fitter) step(s *Storey, space *building.Space, outline geom.Polygon, room *domain.Room, by string) Step {
	st := Step{Space: space, By: by, Was: room}
	switch {
	case space.Unassigned:
		st.Action, st.Problem = Skip, "a left-over void of the drawing program, no room"
		return st
	case leftOut(space):
		st.Action, st.Problem = Skip, "neither an outline nor an area"
		return st
	case points(outline) > most:
		st.Action, st.Problem = Skip, fmt.Sprintf("its outline has more than %d points: simplify it in the drawing", most)
		return st
	}
	var remarks []string
	if room == nil {
		remarks = f.create(&st, s, outline)
	} else {
		remarks = f.update(&st, outline)
	}
	if len(space.MoreParts) > 0 {
		remarks = append(remarks, fmt.Sprintf("its floor is in %d pieces: the largest is drawn, the area counts all", 1+len(space.MoreParts)))
	}
	if outline.Empty() {
		remarks = append(remarks, "the file has no outline of it, only its area: draw it by hand")
	}
	st.Problem = strings.Join(remarks, "; ")
	return st
}

func points(p geom.Polygon) (n int) {
	for _, ring := range p.Rings() {
		n += len(ring)
	}
	return n
}

// areaOf gives what the file says of a space's area: that of its outline, or the
// stated one where it has none.
func areaOf(s *building.Space) units.SquareMetres {
	if s.Outline.Empty() {
		return s.DeclaredArea
	}
	return s.Area
}

func height(s *building.Space) units.Metres {
	if h := units.Metres(tenth(float64(s.Ceiling - s.Floor))); h > 0 {
		return h
	}
	return 0
}

func hundredth(a units.SquareMetres) units.SquareMetres {
	return units.SquareMetres(math.Round(float64(a)*100) / 100)
}

func (f *fitter) create(st *Step, s *Storey, outline geom.Polygon) (remarks []string) {
	space, sys := st.Space, f.here.Project.Units
	room := &domain.Room{ID: f.newID(), StoreyID: s.Into, Outline: outline, Area: hundredth(areaOf(space)), Ceiling: height(space), Windows: len(space.Windows) > 0}
	room.Name = oneLine(space.Name)
	room.Number, remarks = f.number(s.Into, space)
	st.Action, st.Room = New, room
	st.Changes = append(st.Changes, units.Area(room.Area, sys))
	if room.Ceiling > 0 {
		st.Changes = append(st.Changes, "ceiling "+units.Length(room.Ceiling, sys))
	}
	if room.Windows {
		st.Changes = append(st.Changes, domain.Count(len(space.Windows), "window", "windows"))
	}
	if room.Use = f.useOf(space.Name); room.Use == "" {
		room.Use = f.useOf(space.Kind)
	}
	if room.Use != "" {
		st.Changes = append(st.Changes, room.Use.Name()+" (guessed)")
	}
	return remarks
}

// oneLine gives a text as a project takes it, cut where it is too long.
func oneLine(text string) string {
	if runes := []rune(text); len(runes) > domain.MaxName {
		text = string(runes[:domain.MaxName])
	}
	clean, err := domain.CleanLine(text, domain.MaxName)
	if err != nil {
		return ""
	}
	return clean
}

// number gives a new room its number: the file's where it has one that is free,
// else one that says that it was made up.
func (f *fitter) number(storey domain.ID, space *building.Space) (number string, remarks []string) {
	used := f.numbers[storey]
	stated := oneLine(space.Number)
	number = stated
	switch {
	case stated == "":
		for number == "" || used[roomlist.NumberKey(number)] {
			f.given++
			number = fmt.Sprintf("U%d", f.given)
		}
		remarks = append(remarks, "the file gives it no number: "+number+" stands until you give it one")
	case used[roomlist.NumberKey(stated)]:
		for i := 2; used[roomlist.NumberKey(number)]; i++ {
			number = fmt.Sprintf("%s (%d)", stated, i)
		}
		remarks = append(remarks, fmt.Sprintf("%s stands more than once on this storey: this one is %s until you give it another number", stated, number))
	}
	used[roomlist.NumberKey(number)] = true
	return number, remarks
}

// update gives a copy of the room with what the file says. The copy shares the
// design, which is not touched.
func (f *fitter) update(st *Step, outline geom.Polygon) (remarks []string) {
	copied := *st.Was
	room, space, sys := &copied, st.Space, f.here.Project.Units
	st.Room = room
	if st.By == "name" && space.Number != "" {
		remarks = append(remarks, "known by its name: the file numbers it "+space.Number)
	}
	if !outline.Empty() && shapeKey(outline) != shapeKey(stored(room.Outline)) {
		st.Changes = append(st.Changes, outlineWords(room.Outline, outline, sys))
		room.Outline = outline
	}
	remarks = append(remarks, f.setArea(st)...)
	remarks = append(remarks, f.setCeiling(st)...)
	if len(space.Windows) > 0 && !room.Windows {
		st.Changes = append(st.Changes, "windows no -> yes")
		room.Windows = true
	}
	st.Action = Same
	if len(st.Changes) > 0 {
		st.Action = Update
	}
	return remarks
}

func outlineWords(before, after geom.Polygon, sys units.System) string {
	is := units.Area(units.SquareMetres(after.Area()), sys)
	if before.Empty() {
		return "outline " + is
	}
	was := units.Area(units.SquareMetres(before.Area()), sys)
	if was == is {
		return "outline redrawn, " + is + " as before"
	}
	return "outline " + was + " -> " + is
}

// setArea takes the drawing's area where the room states none, or where the
// designer wants it.
func (f *fitter) setArea(st *Step) (remarks []string) {
	room, area, sys := st.Room, hundredth(areaOf(st.Space)), f.here.Project.Units
	if area <= 0 {
		return nil
	}
	differs := room.Area > 0 && !units.AtMost(math.Abs(float64(area-room.Area)), notable*float64(room.Area))
	switch {
	case room.Area == 0:
		st.Changes = append(st.Changes, "area "+units.Area(area, sys))
		room.Area = area
	case f.choices.TakeFacts && hundredth(room.Area) != area:
		st.Changes = append(st.Changes, fmt.Sprintf("area %s -> %s", exactArea(room.Area, sys), exactArea(area, sys)))
		room.Area = area
	case differs:
		st.Differs = true
		remarks = append(remarks, fmt.Sprintf("area %s here, %s in the drawing", units.Area(room.Area, sys), units.Area(area, sys)))
	}
	return remarks
}

// exactArea shows an area to a hundredth, so that a small change can be seen.
func exactArea(a units.SquareMetres, sys units.System) string {
	if sys == units.US {
		return units.AreaTo(a, 1, sys)
	}
	return units.AreaTo(a, 2, sys)
}

func (f *fitter) setCeiling(st *Step) (remarks []string) {
	room, ceiling, sys := st.Room, height(st.Space), f.here.Project.Units
	switch {
	case ceiling == 0 || math.Abs(float64(ceiling-room.Ceiling)) < 0.005: // shown to a centimeter
	case room.Ceiling == 0:
		st.Changes = append(st.Changes, "ceiling "+units.Length(ceiling, sys))
		room.Ceiling = ceiling
	case f.choices.TakeFacts:
		st.Changes = append(st.Changes, fmt.Sprintf("ceiling %s -> %s", units.Length(room.Ceiling, sys), units.Length(ceiling, sys)))
		room.Ceiling = ceiling
	default:
		remarks = append(remarks, fmt.Sprintf("ceiling %s here, %s in the file", units.Length(room.Ceiling, sys), units.Length(ceiling, sys)))
	}
	return remarks
}
