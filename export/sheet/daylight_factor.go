package sheet

import (
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/units"
)

// brightDay is the illuminance outdoors, in lx, by which daylight factors are put into
// light: that of a bright overcast day, a round figure.
const brightDay = 10_000

// factorText prints a daylight factor with the light that it is on a bright overcast day.
func (r *room) factorText(percent float64) string {
	return fmt.Sprintf("%s %% (%s)", number(roundTo(percent, 1)), units.Light(units.Lux(percent/100*brightDay), r.c.project.Units))
}

func (r *daylitRoom) factorFacts() Block {
	s, faces := r.spread, r.light.Surfaces()
	f := Facts{Columns: 3, Items: []Fact{
		{"Mean of the grid", r.factorText(s.Mean)}, {"Median", r.factorText(s.Median)}, {"Least", r.factorText(s.Least)},
		{"Floor of 2 % and over", number(roundTo(100*r.grid.ShareOver(daylitFrom), 0)) + " %"}, {"Least over mean", number(roundTo(s.Uniformity, 2))}, {"Points", fmt.Sprintf("%d, every %s, at %s", s.Points, r.length(r.grid.Step), r.length(r.c.project.Limits.Value(domain.WorkPlane)))},
	}}
	if len(r.space.Windows) > 0 {
		f = withFact(f, "Mean by the formula, windows only", number(roundTo(r.light.Mean(), 1))+" %")
		f = withFact(f, "Formula", fmt.Sprintf("sum of T M Aw theta over A (1 - R2): A %s, R %s; T, M, Aw and theta by window", units.AreaTo(faces.All, 1, r.c.project.Units), number(roundTo(faces.Reflectance, 3))))
	}
	return withFact(f, "Reflected, mean for the room", number(roundTo(r.light.Reflected(), 2))+" %")
}

// windowTable lists what each window is reckoned with, alike neighbors together.
func (r *daylitRoom) windowTable() Block {
	_, unit := units.AreaIn(0, r.c.project.Units)
	assumed := daylight.AssumedOf(r.c.project).Glass
	t := Table{Caption: "Windows", Columns: []Column{{Title: "Window", Width: 1.1}, {Title: "Faces", Width: 1.2}, {Title: "Width", Align: Right, Width: 1.1}, {Title: "Sill", Align: Right, Width: 1}, {Title: "Head", Align: Right, Width: 1}, {Title: "Heights", Width: 0.9},
		{Title: "Opening, Aw", Unit: unit, Kind: Number, Width: 1.2}, {Title: "Transmittance", Align: Right, Width: 1.6}, {Title: "Outside reaches up to", Unit: "degrees", Kind: Number, Width: 1.2}, {Title: "Visible sky, theta", Unit: "degrees", Kind: Number, Width: 1.1}},
		Note: fmt.Sprintf("T of the formula is transmittance times glazed share %s, M is maintenance %s, both as assumed. What stands outside is taken as endless along the glass.", number(assumed.Net), number(assumed.Maintenance))}
	var alike [][]string // tags by row
	for i := range r.space.Windows {
		w := &r.space.Windows[i]
		heights, glass := "stated", "assumed"
		if w.Assumed {
			heights = "assumed"
		}
		if r.statesGlass(w.Wall, w.ID) {
			glass = "stated"
		}
		area, _ := units.AreaIn(w.Area(r.space.Ceiling), r.c.project.Units)
		cells := []Cell{TextCell(r.faces(r.space.Azimuth(w))), TextCell(r.length(float64(w.Width()))), TextCell(r.length(float64(w.Sill))), TextCell(r.length(float64(w.Head))), TextCell(heights),
			NumberCell(roundTo(area, 1), 1), TextCell(number(w.Glass.Transmittance) + " " + glass), NumberCell(roundTo(w.Outside.Altitude, 0), 0), NumberCell(90-max(0, w.Outside.Altitude), 0)}
		if last := len(t.Rows) - 1; last >= 0 && slices.EqualFunc(t.Rows[last].Cells[1:], cells, func(a, b Cell) bool { return a.String() == b.String() }) {
			alike[last] = append(alike[last], windowTag(i))
			t.Rows[last].Cells[0] = TextCell(shortTags(alike[last], ", "))
			continue
		}
		t.Rows, alike = append(t.Rows, Row{Cells: append([]Cell{TextCell(windowTag(i))}, cells...)}), append(alike, []string{windowTag(i)})
	}
	return t
}

func windowTag(i int) string { return fmt.Sprintf("W%d", i+1) }

// statesGlass tells that the plan says what a window's glass lets through.
func (r *daylitRoom) statesGlass(wall, opening domain.ID) bool {
	for i := range r.Plan.Walls {
		if r.Plan.Walls[i].ID != wall {
			continue
		}
		for j := range r.Plan.Walls[i].Openings {
			if o := &r.Plan.Walls[i].Openings[j]; o.ID == opening {
				return o.Glass > 0
			}
		}
	}
	return false
}

var winds = []string{"north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"}

// faces names a direction with its degrees clockwise from north.
func (r *room) faces(azimuth float64) string {
	return fmt.Sprintf("%s, %s", winds[int(math.Round(azimuth/45))%8], units.Trim(azimuth, 0))
}

func (r *daylitRoom) rooflightTable() Block {
	_, unit := units.AreaIn(0, r.c.project.Units)
	t := Table{Caption: "Rooflights", Columns: []Column{{Title: "Rooflight", Width: 1}, {Title: "Width", Align: Right, Width: 1}, {Title: "Length", Align: Right, Width: 1}, {Title: "Opening", Unit: unit, Kind: Number, Width: 1}, {Title: "Transmittance", Kind: Number, Width: 1}, {Title: "Glazed share", Kind: Number, Width: 1}, {Title: "Maintenance", Kind: Number, Width: 1}}}
	for i := range r.space.Rooflights {
		l := &r.space.Rooflights[i]
		area, _ := units.AreaIn(l.Area(), r.c.project.Units)
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(fmt.Sprintf("R%d", i+1)), TextCell(r.length(float64(l.Width))), TextCell(r.length(float64(l.Length))), NumberCell(roundTo(area, 1), 1), NumberCell(l.Glass.Transmittance, 2), NumberCell(l.Glass.Net, 2), NumberCell(l.Glass.Maintenance, 2)}})
	}
	return t
}

// daylightAssumptions lists the limits that daylight was reckoned with, with their
// sources.
func (c *Content) daylightAssumptions() Block {
	t := Table{Columns: []Column{{Title: "Assumed", Width: 4}, {Title: "Value", Align: Right, Width: 1.2}, {Title: "Source", Width: 5}},
		Note: "What a plan states of a window, a rooflight or a partition goes before what is assumed here. A luminaire's outline is taken as " + units.Nearly(daylight.UsualAssumed().Length, c.project.Units) + " by " + units.Nearly(daylight.UsualAssumed().Width, c.project.Units) + ", as the schedule states none (common practice, no published source)."}
	for _, id := range []domain.LimitID{domain.GlassTransmittance, domain.GlazedShare, domain.GlassMaintenance, domain.WindowSill, domain.WindowHead, domain.ReflectanceCeiling, domain.ReflectanceWalls, domain.ReflectanceFloor,
		domain.ReflectanceGlass, domain.ReflectanceGround, domain.OutsideLuminance, domain.WorkPlane, domain.DaylightGrid, domain.PartitionHeight, domain.CeilingHeight, domain.OvercastDays, domain.DimmedPower, domain.StandbyDriver} {
		l := c.project.Limits.Find(id)
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(l.Title), TextCell(l.Text(c.project.Units)), TextCell(l.Source)}})
	}
	return t
}
