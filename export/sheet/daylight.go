package sheet

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energy"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

// Daylight builds the daylight sheet: the building in one table, then for each room
// with windows or rooflights its zones and daylight factors on the plan and in tables,
// what dimming by daylight is predicted to save, and what all of it assumes.
func Daylight(c *Content) []Sheet {
	d := c.daylight()
	s := Sheet{ID: "daylight", Number: numberDaylight, Title: "Daylight", Head: c.head(), Landscape: true}
	s.Blocks = withoutNil([]Block{c.partialNote(), toCaution(domain.CautionPrediction), d.facts(), d.building()})
	if text := d.left(); text != "" {
		s.Blocks = append(s.Blocks, Paragraph{Text: text})
	}
	s.Blocks = append(s.Blocks, Heading{1, "How to read it"}, daylightNotes(), Heading{1, "What was assumed"}, c.daylightAssumptions())
	out := []Sheet{s}
	for i := range d.rooms {
		out = append(out, d.rooms[i].sheet(d))
	}
	return out
}

// daylit is the rooms of a document with what daylight does in them.
type daylit struct {
	c     *Content
	code  daylight.ZoneCode
	pack  *energycode.Pack // nil: none is chosen
	rooms []daylitRoom
	years map[float64]*daylight.Year // by hours a year
	place error                      // why there are no years
	dark  []*room                    // whose plans show neither windows nor rooflights
	odd   []*room                    // of them those that are said to have windows
	wrong []string                   // rooms that cannot be reckoned, with why
}

// daylitRoom is a room ready to print.
type daylitRoom struct {
	*room
	space   *daylight.Space
	light   *daylight.Light
	zones   daylight.Zones
	tally   daylight.Tally
	grid    daylight.Grid
	spread  daylight.Spread
	profile energy.Profile
	loads   []daylight.Prediction
	asked   *energycode.DaylightAsked // nil: no code is chosen, or it draws no zones
}

func (c *Content) daylight() *daylit {
	d := &daylit{c: c, code: daylight.ZoneCodes()[0], pack: energycode.PackOf(c.project), years: map[float64]*daylight.Year{}}
	if d.pack != nil {
		if code, known := daylight.FindZoneCode(d.pack.ZoneRules); known {
			d.code = code
		}
	}
	_, d.place = daylight.YearOf(c.project, daylight.Hours{})
	assumed := daylight.AssumedOf(c.project)
	for _, r := range c.rooms() {
		space := daylight.NewSpace(c.project, r.Resolved, assumed)
		if space == nil || len(space.Windows)+len(space.Rooflights) == 0 {
			d.dark = append(d.dark, r)
			if r.Windows {
				d.odd = append(d.odd, r)
			}
			continue
		}
		if err := d.add(r, space, assumed); err != nil {
			d.wrong = append(d.wrong, r.Number+": "+err.Error())
		}
	}
	return d
}

func (d *daylit) add(r *room, space *daylight.Space, assumed daylight.Assumed) (err error) {
	p := d.c.project
	out := daylitRoom{room: r, space: space, profile: energy.ProfileOf(p, r.Use)}
	if out.light, err = daylight.NewLight(space, daylight.InteriorOf(p)); err != nil {
		return err
	}
	if out.zones, err = d.code.Rules.Zones(space); err != nil {
		return err
	}
	out.tally = d.code.Rules.Tally(&out.zones, space.Luminaires)
	out.grid = out.light.Grid(p.Limits.Value(domain.DaylightGrid))
	out.spread = out.grid.Spread()
	out.loads = daylight.Predict(p, r.Resolved, out.light, d.year(out.profile.Day+out.profile.Night), units.Lux(out.profile.Lx))
	if d.pack != nil {
		zones, err := energycode.ZonesOf(d.pack, p, r.Resolved, assumed)
		if err != nil {
			return err
		}
		if zones != nil {
			asked := d.pack.DaylightAsked(zones)
			out.asked = &asked
		}
	}
	d.rooms = append(d.rooms, out)
	return nil
}

// year gives the sun at hours of use, nil where the project states no place.
func (d *daylit) year(hours float64) *daylight.Year {
	if d.place != nil {
		return nil
	}
	if d.years[hours] == nil {
		if y, err := daylight.YearOf(d.c.project, daylight.UseHours(hours)); err == nil {
			d.years[hours] = &y
		}
	}
	return d.years[hours]
}

func (d *daylit) facts() Block {
	by := d.code.Name
	if d.pack == nil || d.pack.ZoneRules == "" {
		by += ", as no energy code is chosen that draws them"
	}
	f := Facts{Columns: 2, Items: []Fact{{"Zones drawn by", by}, {"These rules are", d.code.Basis}}}
	if d.place != nil {
		return withFact(f, "The year", sentence(d.place.Error()))
	}
	zone := or(d.c.project.Zone, "that of its longitude, without summer time")
	f = withFact(f, "The year", fmt.Sprintf("%d at latitude %s, longitude %s; clock: %s", daylight.PredictedYear, units.Trim(*d.c.project.Latitude, 3), units.Trim(*d.c.project.Longitude, 3), zone))
	return withFact(f, "The mixed sky", number(d.c.project.Limits.Value(domain.OvercastDays))+" % of the days overcast, the others clear, spread evenly")
}

func withFact(f Facts, name, value string) Facts {
	f.Items = append(f.Items, Fact{name, value})
	return f
}

// left says which rooms are not in the table, and why.
func (d *daylit) left() string {
	text := ""
	say := func(s string) {
		if text != "" {
			text += " "
		}
		text += s
	}
	if len(d.dark) > 0 {
		say("No windows or rooflights on the plan: " + roomNumbers(d.dark) + ".")
	}
	if len(d.odd) > 0 {
		say("Of these the design says that they have windows: " + roomNumbers(d.odd) + "; draw them in the walls of the storey's plan.")
	}
	for _, w := range d.wrong {
		say("Not reckoned: " + w + ".")
	}
	return text
}

func daylightNotes() Block {
	return Statements{Items: []Statement{
		{Text: "Zones are drawn as the code's edition draws them. A luminaire counts with all of its watts to one zone, by any part of it or by half of it as that code says; only general lighting counts."},
		{Text: "The daylight factor is the light at a point of the work plane in percent of that outdoors under the overcast sky: from the sky and from what stands outside at the point itself, reflected by the room's surfaces as one mean for the whole room.", Source: "CIE standard overcast sky; split flux method of Hopkinson, Petherbridge and Longmore 1954, from memory"},
		{Text: "Dimming: the lamps give what daylight leaves wanting of the target, down to the lowest level. At full they are taken to give the target. A year has one sample for each hour of use, which lie about 13:00 from Monday to Friday, or on all days where weekdays would have more than 16 each; light is the mean share of full light that the lamps still give, power the share of full power that they still take, enough the share of the hours in which daylight alone gives the target.", Source: "sky of the IES recommended practice for daylight availability 1984, from memory; power by the EnergyPlus Engineering Reference"},
		{Text: "Blinds, people's hands, other buildings' reflections and settings on site are not in it. Real savings are lower; simulations overstate them by a tenth or more.", Source: energy.PublishedSource},
	}}
}
