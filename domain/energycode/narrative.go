package energycode

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Line is one line of the written account of the controls that codes want handed
// over: a setting with what makes it, and the code's figure beside it.
type Line struct {
	ID      domain.ID // of the room; empty: holds for all rooms
	Room    string
	Subject string
	Text    string
	Limit   string
	Clause  string
	Mark    string
}

// Narrative writes the account: what holds for all rooms, then each room's settings.
func (r *Report) Narrative() []Line {
	out := []Line{
		{Subject: "Code", Text: fmt.Sprintf("Judged by %s; the pack is %s.", r.Pack.Key(), r.Pack.State())},
		{Subject: "Papers", Text: "To be handed over: control drawings, these settings, schedule programs for weekday, weekend and holiday, the makers' instructions, and how to calibrate and maintain sensors."},
		{Subject: "Order of commands", Text: "Light that people ask for by hand counts over automatic commands for the time that the room's sequence states; emergency counts over all."},
	}
	out = append(out, r.testLines()...)
	for i := range r.Rooms {
		out = append(out, r.roomLines(&r.Rooms[i])...)
	}
	return out
}

// testLines says what the code wants of functional tests.
func (r *Report) testLines() []Line {
	q := r.Pack.Parameter(FunctionalTest, "all_up_to")
	if q == nil {
		return nil
	}
	text := fmt.Sprintf("Up to %s occupant sensors each one is tested", units.Trim(q.Value, 0))
	if share := r.Pack.Parameter(FunctionalTest, "sample"); share != nil {
		text += fmt.Sprintf("; beyond that at least %s %% of each pairing of sensor kind and room shape, and at least one", units.Trim(share.Value, 1))
	}
	if f := r.Pack.Parameter(FunctionalTest, "failures"); f != nil {
		text += fmt.Sprintf("; where %s %% or more of those fail, all of the pairing", units.Trim(f.Value, 1))
	}
	return []Line{{Subject: "Functional tests", Text: text + ".", Clause: q.Clause, Mark: q.Basis.Words()}}
}

// roomLines writes the settings of one room. Loads with the same setting share a line.
func (r *Report) roomLines(judged *RoomReport) []Line {
	room := judged.Room
	f := &room.Facts
	w := &writer{r: r, id: room.ID, room: f.Room, space: room.Space, answers: judged.Answers}
	for i := range f.Loads {
		l := &f.Loads[i]
		for k := range l.On {
			w.say(l.Tag, "Automatic on", "on at "+units.Percent(l.On[k].Level)+" by "+l.On[k].By, PartialAutoOn, "auto_on_power")
		}
		for k := range l.Vacant {
			w.vacant(l, &l.Vacant[k])
		}
		for k := range l.Off {
			w.clock(l.Tag, &l.Off[k])
		}
		if d := l.Daylight; d != nil {
			w.daylight(l.Tag, d)
		}
		if e := l.Event; e != nil {
			w.say(l.Tag, "Demand response", "capped at "+units.Percent(e.Cap)+" of its level by "+e.By, DemandResponse, "reduction")
		}
		if l.Egress {
			w.say(l.Tag, "Way out", "on the way out; life-safety rules come before energy rules", EgressShare, "may_stay_on")
		}
	}
	for i := range f.Receptacles.Off {
		v := &f.Receptacles.Off[i]
		w.say("Controlled receptacles", "Receptacles", v.words(), Receptacles, "delay")
	}
	for i := range f.Receptacles.Scheduled {
		w.say("Controlled receptacles", "Receptacles", "off at "+f.Receptacles.Scheduled[i].When+" by "+f.Receptacles.Scheduled[i].By, "", "")
	}
	w.levels(f.Levels)
	if names := handleNames(f); len(names) > 0 {
		w.say("People", "By hand", tagWords(names), LocalControl, "control_area")
	}
	return w.lines()
}

// writer gathers lines and puts subjects with the same setting together.
type writer struct {
	r     *Report
	id    domain.ID
	room  string
	space string
	said  []saying

	answers []Answer
}

type saying struct {
	line Line
	who  []string
}

// say notes a setting of one load with the code's figure beside it, where there is one.
func (w *writer) say(who, subject, text string, c Control, figure string) {
	at := slices.IndexFunc(w.said, func(s saying) bool { return s.line.Subject == subject && s.line.Text == text })
	if at >= 0 {
		w.said[at].who = append(w.said[at].who, who)
		return
	}
	line := Line{ID: w.id, Room: w.room, Subject: subject, Text: text}
	if q := w.r.Pack.Parameter(c, figure); q != nil && w.asked(c) {
		line.Limit, line.Clause, line.Mark = w.limit(q), q.Clause, q.Basis.Words()
	}
	w.said = append(w.said, saying{line, []string{who}})
}

// asked tells that the pack asks for a control in the room's kind of space, so that
// its figure belongs beside the setting.
func (w *writer) asked(c Control) bool {
	r := w.r.Pack.Requirement(w.space, c)
	return c == EgressShare || r != nil && (r.Duty == Required || r.Duty == OneOfA || r.Duty == OneOfB)
}

func (w *writer) limit(q *Parameter) string {
	switch q.Unit {
	case "ft2":
		return string(q.Sign) + " " + areaWords(q.Value, w.r.Units)
	case "W/ft2":
		return string(q.Sign) + " " + densityWords(q.Value, w.r.Units)
	}
	return strings.TrimSpace(string(q.Sign) + " " + units.Trim(q.Value, 2) + " " + q.Unit)
}

func (w *writer) vacant(l *Load, v *Vacancy) {
	c := FullOff
	if v.Level > 0 {
		c = PartialOff
	}
	text := v.words()
	if q := w.r.Pack.Parameter(c, "delay"); q != nil && w.asked(c) && !q.Sign.Keeps(float64(v.After)/60, q.Value) {
		text += "; " + w.late(c)
	}
	w.say(l.Tag, "When empty", text, c, "delay")
}

// late says what a time beyond the code's figure comes to: another control of its group
// may be enough.
func (w *writer) late(c Control) string {
	duty := w.r.Pack.Requirement(w.space, c).Duty
	for i := range w.answers {
		a := &w.answers[i]
		if a.Verdict != Meets || a.Control != c && (duty == Required || a.Duty != duty) {
			continue
		}
		if others := w.others(c, duty); others != "" {
			return "longer than the code's figure, and the check is met by " + others + " instead"
		}
		return "longer than the code's figure, and the check is met another way"
	}
	return "longer than the code's figure: see the check"
}

// others names what else of a group would do.
func (w *writer) others(c Control, group Duty) string {
	var titles []string
	for _, o := range controlsOfRooms {
		if r := w.r.Pack.Requirement(w.space, o); group != Required && o != c && r != nil && r.Duty == group {
			titles = append(titles, "\""+lowerFirst(o.Title())+"\"")
		}
	}
	return strings.Join(titles, " or ")
}

func (w *writer) clock(tag string, o *Shutoff) {
	text := "off at " + o.When + " by " + o.By
	switch {
	case o.Override > 0:
		text += "; a press brings it back for " + units.Duration(o.Override)
	default:
		text += "; a press brings it back for good"
	}
	if o.Spares {
		text += "; it waits while people are in"
	}
	w.say(tag, "By the clock", text, ScheduledShutoff, "override")
}

func (w *writer) daylight(tag string, d *Response) {
	text := fmt.Sprintf("%s held together with daylight, down to %s", units.Light(d.Target, w.r.Units), units.Percent(d.Lowest))
	if d.MayOff {
		text += " and then off"
	}
	w.say(tag, "Daylight", text+", by "+d.By, DaylightSide, "dim_to")
}

// mostLevels is how many levels between off and full a line names.
const mostLevels = 6

// levels says what people can ask for between off and full.
func (w *writer) levels(list []Reached) {
	c, figure := Bilevel, "step_least"
	switch {
	case w.asked(LightReduction):
		c, figure = LightReduction, "reduction"
	case w.asked(Multilevel):
		c, figure = Multilevel, "dim_to"
	}
	for i := range list[:min(len(list), mostLevels)] {
		w.say(percentWords(list[i].Share)+" by "+list[i].By, "Levels by hand", "of full power of the general lighting", c, figure)
	}
}

// lines gives the gathered lines, each with who it is about.
func (w *writer) lines() []Line {
	out := make([]Line, len(w.said))
	for i, s := range w.said {
		out[i] = s.line
		out[i].Text = tagWords(s.who) + ": " + s.line.Text + "."
	}
	return out
}
