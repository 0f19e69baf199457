package sheet

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/propose"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

// RadioAndSight builds for each room what the technician measures when devices join and
// walks under when sensors are aimed: the order of joining with the links that are
// predicted, what sensors see, what was assumed, and lines to write down what was found.
func RadioAndSight(c *Content) []Sheet {
	var out []Sheet
	for _, r := range c.rooms() {
		out = append(out, r.surveySheet())
	}
	return out
}

func (r *room) surveySheet() Sheet {
	s := Sheet{ID: "survey-" + r.slug, Number: r.surveyNumber(), Title: "Radio and sight of room " + r.Label(), Head: r.head(), Landscape: true}
	if len(r.Design.Devices) == 0 {
		s.Blocks = []Block{Paragraph{Text: "Nothing to measure: no devices have been designed for this room.", Strong: true}}
		return s
	}
	net, sight := radio.NewRoom(r.c.project, r.Resolved), coverage.NewRoom(r.c.project, r.Resolved)
	s.Blocks = append(s.Blocks, toCaution(domain.CautionPrediction), Heading{1, "Radio"}, r.radioFacts(net), r.joiningTable(net))
	s.Blocks = append(s.Blocks, r.sightBlocks(sight)...)
	s.Blocks = append(s.Blocks, Heading{1, "What was assumed"}, r.assumptions(), Signatures{Items: []Signature{{Role: "Measured by"}}})
	return s
}

func decibels(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return none
	}
	return units.Trim(v, 1) + " dB"
}

func (r *room) radioFacts(room *radio.Room) Block {
	s := radio.SettingsOf(r.c.project)
	needed, byProbability := s.Needed()
	why := "as the limits ask"
	if byProbability {
		why = fmt.Sprintf("to be up with %s %%", number(100*s.Probability))
	}
	f := Facts{Columns: 3, Items: []Fact{{"Margin that a link needs", decibels(needed) + ", " + why}, {"Warned of under", decibels(s.Advice)}, {"Spread of losses, sigma", decibels(s.Sigma)}}}
	if room == nil {
		f.Items = append(f.Items, Fact{"Predicted", "nothing: no device with a radio stands on the plan"})
		return f
	}
	placed := fmt.Sprintf("%d of %d", len(room.Nodes), len(room.Nodes)+len(room.Unplaced))
	f.Items = append(f.Items, Fact{"Devices with a radio on the plan", placed})
	net := room.Net()
	if net.Root >= 0 {
		root := room.Nodes[net.Root].Device.Tag
		if !net.Gateway {
			root += " (no gateway in this room)"
		}
		f.Items = append(f.Items, Fact{"Every path ends at", root})
	}
	var weak []string
	for _, cut := range net.Cuts {
		weak = append(weak, room.Nodes[cut.Node].Device.Tag)
	}
	f.Items = append(f.Items, Fact{"Routers whose loss cuts others off", or(joined(weak), "none")})
	return f
}

// joiningTable is the order of joining, each step with its link as predicted.
func (r *room) joiningTable(room *radio.Room) Block {
	t := Table{Caption: "Order of joining", Empty: "No devices with a radio.", Columns: []Column{{Title: "Step", Align: Center, Width: 0.6}, {Title: "Device", Width: 1}, {Title: "Joins through", Width: 1.1}, {Title: "Hops", Align: Center, Width: 0.6}, {Title: "Distance", Width: 1.2}, {Title: "Goes through", Width: 3.2},
		{Title: "Loss", Unit: "dB", Kind: Number, Width: 0.8}, {Title: "Margin", Unit: "dB", Kind: Number, Width: 0.9}, {Title: "Holds with", Unit: "%", Kind: Number, Width: 0.8}, {Title: "Heard, predicted", Unit: "dBm", Kind: Number, Width: 1}, {Title: "Heard, measured", Unit: "dBm", Width: 1.1}},
		Note: "Gateway first, then routers outward from it, each through one that has joined, then battery devices. Margin: over the weaker end's sensitivity, in the worse direction. Holds with: the chance that the link holds under shadowing. Heard: the signal from what it joins through, at the device."}
	for i, j := range propose.Joining(r.c.project, &r.Design, room) {
		through := r.deviceTag(j.Through)
		if parent := r.Design.Device(j.Device).Parent; j.Through == "" && r.deviceTag(parent) != "" {
			j.Through, through = parent, r.deviceTag(parent)
		}
		if j.Why != "" {
			through = strings.TrimSpace(through + " " + string(j.Why))
		}
		cells := []Cell{NumberCell(float64(i+1), 0), TextCell(r.deviceTag(j.Device)), TextCell(orDash(through)), TextCell(none)}
		if j.Hops >= 0 {
			cells[3] = NumberCell(float64(j.Hops), 0)
		}
		t.Rows = append(t.Rows, Row{Cells: append(append(cells, r.linkCells(room, j)...), TextCell(blankShort))})
	}
	return t
}

func (r *room) deviceTag(id domain.ID) string {
	if d := r.Design.Device(id); d != nil {
		return d.Tag
	}
	return ""
}

// linkCells are distance, obstacles, loss, margin and probability of a step's link.
func (r *room) linkCells(room *radio.Room, j propose.Join) []Cell {
	blank := []Cell{TextCell(none), TextCell(none), TextCell(none), TextCell(none), TextCell(none), TextCell(none)}
	if room == nil || j.Through == "" {
		return blank
	}
	a, b := room.Find(j.Device), room.Find(j.Through)
	if a < 0 || b < 0 {
		blank[1] = TextCell(string(propose.PlaceUnknown))
		return blank
	}
	l := room.Why(a, b)
	margin := NumberCell(roundTo(l.Margin, 1), 1)
	switch {
	case !l.Good():
		margin = margin.Marked(Error)
	case !units.AtMost(room.Settings.Advice, l.Margin):
		margin = margin.Marked(Warning)
	}
	return []Cell{TextCell(units.Nearly(l.Distance, r.c.project.Units)), TextCell(passages(&l)), NumberCell(roundTo(l.Loss, 1), 1), margin, chance(l.Up), NumberCell(roundTo(l.B.Radio.Power+l.B.Radio.Gain+l.A.Radio.Gain-l.Loss, 0), 0)}
}

// chance prints a probability in percent; none is ever certain.
func chance(p float64) Cell {
	if p > 0.999 {
		return TextCell("over 99.9")
	}
	return NumberCell(roundTo(100*p, 1), 1)
}

// passages names what a link goes through, alike things together: "2 stud walls 6 dB".
func passages(l *radio.Link) string {
	var order []string
	n, loss := map[string]int{}, map[string]float64{}
	for _, p := range l.Crossed {
		if n[p.What] == 0 {
			order = append(order, p.What)
		}
		n[p.What]++
		loss[p.What] += p.Loss
	}
	var out []string
	for _, what := range order {
		text := what
		if n[what] > 1 {
			text = fmt.Sprintf("%d x %s", n[what], what)
		}
		out = append(out, text+" "+decibels(loss[what]))
	}
	if l.Ceilings > 0 {
		out = append(out, "ceiling "+decibels(l.Ceiling))
	}
	return or(strings.Join(out, ", "), "nothing")
}

// assumptions lists the limits that the predictions read, with their sources.
func (r *room) assumptions() Block {
	t := Table{Columns: []Column{{Title: "Assumed", Width: 4}, {Title: "Value", Align: Right, Width: 1.2}, {Title: "Source", Width: 5}},
		Note: "Walls take what the list of materials says of theirs, partitions too; a type that states no radio or no pattern is reckoned with what is assumed here."}
	for _, id := range []domain.LimitID{domain.LinkMargin, domain.LinkMarginAdvice, domain.LinkProbability, domain.Shadowing, domain.AssumedPower, domain.AssumedSensitivity, domain.AssumedWallLoss, domain.AssumedDoorLoss,
		domain.AssumedPaneLoss, domain.CeilingLoss, domain.CeilingHeight, domain.AboveCeiling, domain.StationHeight, domain.WallHeight, domain.SeatedHeight, domain.StandingHeight, domain.PartitionHeight, domain.CoveredShare, domain.LeakArea, domain.SightCell} {
		l := r.c.project.Limits.Find(id)
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(l.Title), TextCell(l.Text(r.c.project.Units)), TextCell(l.Source)}})
	}
	return t
}
