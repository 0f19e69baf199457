package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/units"
)

// Calibration builds for each room with daylight sensors the sheet on which a
// technician calibrates them: what to measure at night and by day, room to write it,
// the formulas, and the check afterward. A worked example follows the last room.
func Calibration(c *Content) []Sheet {
	var out []Sheet
	open, closed := false, false
	for _, r := range c.rooms() {
		sensors := r.calibrated()
		if len(sensors) == 0 {
			continue
		}
		out = append(out, r.calibrationSheet(sensors))
		for i := range sensors {
			open, closed = open || !sensors[i].closed, closed || sensors[i].closed
		}
	}
	if len(out) == 0 {
		return []Sheet{{ID: "calibration", Number: numberCalibrate, Title: "Calibration of daylight sensors", Head: c.head(), Landscape: true,
			Blocks: withoutNil([]Block{c.partialNote(), Paragraph{Text: "Nothing to calibrate: there are no daylight sensors.", Strong: true}})}}
	}
	return append(out, c.exampleSheet(open, closed))
}

// calibratedSensor is a daylight sensor with what it governs and what is predicted of it.
type calibratedSensor struct {
	device *domain.Device
	closed bool
	loads  []*domain.Load
	intent *domain.Intent // the first that trims one of them; nil: none
	target units.Lux      // 0: not stated
	others []string       // loads that another intent trims, with its target
	seen   *daylight.Sight
	faces  string  // the side that the nearest glass is on
	factor float64 // mean daylight factor under its loads, percent; 0: not known
}

// calibrated lists the room's daylight sensors.
func (r *room) calibrated() (out []calibratedSensor) {
	var tags []int
	for i := range r.Design.Devices {
		if t := r.c.project.Book.Find(r.Design.Devices[i].Type); t != nil && t.Kind.Traits().Daylight {
			tags = append(tags, i)
		}
	}
	if tags == nil {
		return nil
	}
	space := daylight.NewSpace(r.c.project, r.Resolved, daylight.AssumedOf(r.c.project))
	var light *daylight.Light
	if space != nil {
		light, _ = daylight.NewLight(space, daylight.InteriorOf(r.c.project)) // what it refuses stays without predictions
	}
	placed := daylight.Sensors(r.c.project, r.Resolved)
	for _, i := range tags {
		dev := &r.Design.Devices[i]
		s := calibratedSensor{device: dev, closed: dev.Loop == domain.ClosedLoop}
		for j := range r.Design.Loads {
			l := &r.Design.Loads[j]
			if k := r.link(domain.Input{Device: dev.ID}, l.ID); k != nil && k.Do.Verb == domain.Acts && l.Kind == domain.Lighting {
				s.loads = append(s.loads, l)
			}
		}
		r.aim(&s)
		if at := slices.IndexFunc(placed, func(x daylight.Sensor) bool { return x.ID == dev.ID }); at >= 0 && space != nil {
			if sights := space.Sights(&placed[at]); len(sights) > 0 {
				s.seen, s.faces = &sights[0], r.faces(space.Azimuth(&space.Windows[sights[0].Window]))
			}
		}
		if light != nil && len(space.Windows)+len(space.Rooflights) > 0 {
			s.factor = meanUnder(light, s.loads)
		}
		out = append(out, s)
	}
	return out
}

// aim finds the intents that trim the sensor's loads.
func (r *room) aim(s *calibratedSensor) {
	for _, l := range s.loads {
		in := daylight.IntentOf(&r.Design, l)
		switch {
		case in == nil:
			s.others = append(s.others, l.Tag+" by no statement")
		case s.intent == nil:
			s.intent, s.target = in, in.Target
		case in.Target != s.target:
			s.others = append(s.others, l.Tag+" to "+units.Light(in.Target, r.c.project.Units))
		}
	}
}

// meanUnder is the mean daylight factor under the luminaires of some loads.
func meanUnder(light *daylight.Light, loads []*domain.Load) float64 {
	sum, n := 0.0, 0
	for _, l := range loads {
		u := light.Under(l.ID)
		sum, n = sum+u.Mean*float64(u.Points), n+u.Points
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

func (r *room) calibrationSheet(sensors []calibratedSensor) Sheet {
	s := Sheet{ID: "calibration-" + r.slug, Number: r.calibrationNumber(), Title: "Calibration of the daylight sensors of room " + r.Label(), Head: r.head(), Landscape: true}
	s.Blocks = []Block{toCaution(domain.CautionEgress), sessionTable()}
	open, closed := false, false
	for i := range sensors {
		one := &sensors[i]
		open, closed = open || !one.closed, closed || one.closed
		if i > 0 {
			s.Blocks = append(s.Blocks, PageBreak{})
		}
		s.Blocks = append(s.Blocks, r.sensorBlocks(one)...)
	}
	s.Blocks = append(s.Blocks, PageBreak{}, Heading{1, "Do not take a calibration where"}, refusals(open, closed),
		Paragraph{Text: "A worked example of the formulas stands on sheet " + numberCalibrate + "."}, Signatures{Items: []Signature{{Role: "Calibrated by"}, {Role: "Witnessed by"}}})
	return s
}

// sessionTable is who measured when, with what.
func sessionTable() Block {
	t := Table{Caption: "Who, when and with what", Writing: true, Columns: []Column{{Title: "Session", Width: 1.4}, {Title: "Tester", Width: 1.8}, {Title: "Date and clock", Width: 1.6}, {Title: "Instrument, and when it was calibrated", Width: 2.4}, {Title: "Sky and sun", Width: 1.6}, {Title: "Blinds", Width: 1.4}, {Title: "Result", Width: 1.2}}}
	for _, name := range []string{"Night measurement", "Day measurement", "Acceptance"} {
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{TextCell(name)}, writeCells(6)...)})
	}
	return t
}

// writeCells are empty places to write in.
func writeCells(n int) (out []Cell) {
	for range n {
		out = append(out, TextCell(blankShort))
	}
	return out
}

func (r *room) sensorBlocks(s *calibratedSensor) []Block {
	kind := "open loop"
	if s.closed {
		kind = "closed loop, proportional"
	}
	out := []Block{Heading{1, s.device.Tag + ": " + kind}}
	if s.device.Loop == "" {
		out = append(out, Paragraph{Text: "The design does not say whether this sensor works as an open or a closed loop. Settle that first; the form for an open loop follows.", Strong: true})
	}
	out = append(out, r.sensorFacts(s), Heading{2, "Steps"}, steps(s), PageBreak{}, r.measured(s), r.acceptance(s))
	return out
}

func (r *room) sensorFacts(s *calibratedSensor) Block {
	var tags []string
	for _, l := range s.loads {
		tags = append(tags, l.Tag)
	}
	height, known := r.c.project.HeightOf(r.Room, s.device)
	at := r.length(float64(height))
	if !known {
		at += " assumed"
	}
	f := Facts{Columns: 3, Items: []Fact{{"Place", or(s.device.Place, "as on the plan") + ", " + at + " above the floor"}, {"Sees", r.sees(s)}, {"Governs", or(joined(tags), "no loads: nothing to calibrate")}}}
	target, follows, fade := notStated, notStated, notStated
	if s.intent != nil {
		follows, fade = r.stepOfIntent(s.intent.ID), units.Duration(s.intent.Fade)
		if s.target > 0 {
			target = units.Light(s.target, r.c.project.Units) + " at the task"
		}
		if len(s.others) > 0 {
			target += "; but " + strings.Join(s.others, ", ")
		}
	}
	f = withFact(withFact(withFact(f, "Target Eset", target), "Statement", follows), "Each change takes", fade)
	if s.intent != nil {
		down := units.Percent(s.intent.Lowest)
		if s.intent.MayOff {
			down += ", then off"
		}
		f = withFact(f, "Down to", down)
	}
	return withFact(withFact(f, "Predicted daylight factor at the task", r.predictedFactor(s)), "Good day for E1", r.goodDay(s))
}

// sees says which glass the sensor stands before.
func (r *room) sees(s *calibratedSensor) string {
	if s.seen == nil {
		return "not known: no place or no windows on the plan"
	}
	text := fmt.Sprintf("nearest glass %s away, facing %s", r.length(float64(s.seen.Distance)), s.faces)
	if s.seen.Hidden {
		text += ", behind a wall"
	}
	return text
}

func (r *room) predictedFactor(s *calibratedSensor) string {
	if s.factor <= 0 {
		return "not known: draw windows and luminaires"
	}
	return number(roundTo(s.factor, 1)) + " %"
}

// goodDay says with how much light outdoors daylight gives half of the target.
func (r *room) goodDay(s *calibratedSensor) string {
	if s.factor <= 0 || s.target <= 0 {
		return "daylight gives the task about half of the target"
	}
	return goodSky(units.Lux(float64(s.target)/2/s.factor*100), s.closed, r.c.project.Units)
}

// darkSky is the illuminance outdoors, in lx, under which a day is no ordinary one: dusk, or
// a sky of heavy cloud. Common practice, no published source.
const darkSky = 5000

// goodSky says under which sky daylight gives the task half of the target, and where that
// is none of an ordinary day, what goes wrong on one.
func goodSky(outdoors units.Lux, closed bool, sys units.System) string {
	about := "about " + roughLight(outdoors, sys) + " outdoors"
	if outdoors >= darkSky {
		return about + ", overcast: half of the target then comes from daylight"
	}
	least, most := "twice the target", 4*outdoors
	if closed {
		least, most = "the target", 2*outdoors
	}
	return "at dusk or under a dark overcast sky, " + about + ": half of the target then comes from daylight. From about " + roughLight(most, sys) + " outdoors on E1 reaches " + least + ", and no calibration may be taken"
}

// roughLight prints an illuminance to two figures, in fc or lx.
func roughLight(e units.Lux, sys units.System) string {
	v := float64(e)
	if sys == units.US {
		v /= units.LuxPerFootcandle
	}
	p := math.Pow10(max(0, int(math.Log10(max(1, v)))-1))
	return number(math.Round(v/p)*p) + " " + lightUnit(sys)
}
