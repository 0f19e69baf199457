package rehearse

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
	"scopewright/web/ui"
)

// dayView is a day's daylight: what the room's daylight sensors read from hour to hour.
type dayView struct {
	Date, Sky string
	Skies     []string
	Presets   []dayLink
	Lacks     string // what has to be known first; empty: nothing
	Mend      *dayLink
	Sensors   []daySensorView
	Rows      []dayRow
	Unlit     bool // nothing lights the loads at the start
	Play      string
}

type dayLink struct{ Text, Path string }

type daySensorView struct{ Tag, Basis string }

type dayRow struct {
	Clock, Sun, Outdoors string
	Read                 []string
}

const isoDate = "2006-01-02"

// dayPresets are the turns of the year by their usual dates.
var dayPresets = []struct{ day, name string }{{"03-20", "Mar 20"}, {"06-21", "Jun 21"}, {"09-22", "Sep 22"}, {"12-21", "Dec 21"}}

// day reckons the daylight of the day and sky that a request names, an overcast equinox
// where it names none; nil in a room without daylight sensors.
func (b *bench) day(asked url.Values, now time.Time) *dayView {
	if !b.readsDaylight() {
		return nil
	}
	v := &dayView{Skies: []string{string(daylight.Overcast), string(daylight.Partly), string(daylight.Clear)}, Sky: asked.Get("sky")}
	if !slices.Contains(v.Skies, v.Sky) {
		v.Sky = v.Skies[0]
	}
	date, err := time.Parse(isoDate, asked.Get("day"))
	if err != nil || date.Year() < 1900 || date.Year() > 2200 {
		date = time.Date(now.Year(), 3, 20, 0, 0, 0, 0, time.UTC)
	}
	v.Date = date.Format(isoDate)
	for _, p := range dayPresets {
		day := fmt.Sprintf("%d-%s", date.Year(), p.day)
		v.Presets = append(v.Presets, dayLink{p.name, b.path() + "?" + url.Values{"day": {day}, "sky": {v.Sky}}.Encode() + "#sec-day"})
	}
	b.reckonDay(v, date)
	return v
}

func (b *bench) readsDaylight() bool {
	return slices.ContainsFunc(b.design.Devices, func(d domain.Device) bool {
		t := b.project.Book.Find(d.Type)
		return t != nil && t.Kind.Traits().Daylight
	})
}

func (b *bench) reckonDay(v *dayView, date time.Time) {
	if b.room == nil {
		v.Lacks = "A typical has no windows of its own: rehearse a room that follows it."
		return
	}
	light, lacks := b.daylit()
	if light == nil {
		v.Lacks = lacks
		v.Mend = &dayLink{"Plan", ui.Plan(b.project.ID, b.room.StoreyID)}
		return
	}
	day, err := daylight.NewDay(b.project, b.room, light, date, daylight.Sky(v.Sky))
	if err != nil {
		v.Lacks = upper(err.Error()) + "."
		if !b.project.Placed() {
			v.Mend = &dayLink{"Project", ui.Project(b.project.ID)}
		}
		return
	}
	if len(day.Sensors) == 0 {
		v.Lacks = "The plan shows neither the daylight sensors nor the luminaires that they act on: place them, and their readings can be reckoned."
		v.Mend = &dayLink{"Plan", ui.Plan(b.project.ID, b.room.StoreyID)}
		return
	}
	b.tellDay(v, day)
}

// daylit makes the room ready to ask for daylight, or says what is missing.
func (b *bench) daylit() (*daylight.Light, string) {
	space := daylight.NewSpace(b.project, b.room, daylight.AssumedOf(b.project))
	if space == nil || len(space.Windows)+len(space.Rooflights) == 0 {
		return nil, "The plan shows no windows of this room: draw its outline and the windows in its walls, and what its daylight sensors read can be reckoned."
	}
	light, err := daylight.NewLight(space, daylight.InteriorOf(b.project))
	if err != nil {
		return nil, upper(err.Error()) + "."
	}
	return light, ""
}

func (b *bench) light(e units.Lux) string { return units.Light(e, b.project.Units) }

// tellDay puts the readings into words and into a story to play.
func (b *bench) tellDay(v *dayView, day *daylight.Day) {
	var reads []sequence.Read
	for i := range day.Sensors {
		v.Sensors = append(v.Sensors, b.tellSensor(&day.Sensors[i]))
	}
	for i := range day.Hours {
		h := &day.Hours[i]
		row := dayRow{Clock: h.At.Format("15:04"), Sun: "down", Outdoors: b.light(h.Sky)}
		if h.Altitude > 0 {
			row.Sun = fmt.Sprintf("%.0f° high, %s", h.Altitude, compass(h.Azimuth))
		}
		for k := range day.Sensors {
			s := &day.Sensors[k]
			lx := units.Lux(math.Round(float64(s.Reading[i])))
			row.Read = append(row.Read, b.light(lx))
			reads = append(reads, sequence.Read{At: h.At, Device: s.ID, Lux: lx, Source: b.source(s, h, lx, day.Sky)})
		}
		v.Rows = append(v.Rows, row)
	}
	story := sequence.DaylightStory(b.project, b.design, "A day's daylight, "+v.Date+", "+v.Sky, reads)
	v.Unlit = !slices.ContainsFunc(story.Steps, func(st domain.ScenarioStep) bool { return st.Happen != domain.DaylightRead })
	v.Play = playJSON(story)
}

// source says where a reading comes from: "DF 3.1 % x 10,800 lx overcast".
func (b *bench) source(s *daylight.DaySensor, h *daylight.DayHour, lx units.Lux, sky daylight.Sky) string {
	if h.Altitude <= 0 {
		return "sun down"
	}
	text := fmt.Sprintf("DF %.1f %% x %s %s", s.Factor, b.light(h.Sky), sky)
	if even := s.Factor / 100 * float64(h.Sky); sky == daylight.Clear && even > 0 {
		text += fmt.Sprintf(" x %.2f by facade", float64(lx)/even)
	}
	return text
}

// tellSensor says what a sensor's readings rest on.
func (b *bench) tellSensor(s *daylight.DaySensor) daySensorView {
	d := b.design.Device(s.ID)
	var tags []string
	for _, id := range s.Loads {
		tags = append(tags, b.design.Load(id).Tag)
	}
	loop := string(d.Loop)
	if loop == "" {
		loop = "loop not stated"
	}
	v := daySensorView{Tag: d.Tag}
	switch {
	case len(tags) == 0:
		v.Basis = fmt.Sprintf("%s, acts on no luminaire on the plan: daylight factor %.1f %% at its own point", loop, s.Factor)
	case s.Own > 0:
		v.Basis = fmt.Sprintf("%s: reads at its own point (daylight factor %.1f %% there), carried to the task as calibration does, where it is %.1f %% under %s", loop, s.Own, s.Factor, domain.JoinWords(tags))
	default:
		v.Basis = fmt.Sprintf("%s: the mean daylight factor is %.1f %% under %s", loop, s.Factor, domain.JoinWords(tags))
	}
	return v
}

// compass names a direction, degrees clockwise from north.
func compass(azimuth float64) string {
	names := strings.Fields("north northeast east southeast south southwest west northwest")
	return names[int(math.Round(azimuth/45)+8)%8]
}
