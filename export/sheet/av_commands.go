package sheet

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// AVCommands lists what presentation systems may ask of the rooms that have an interface
// for them, for those who program these systems.
func AVCommands(c *Content) []Sheet {
	s := Sheet{ID: "av", Number: numberCommands, Title: "AV command list", Head: c.head(), Landscape: true}
	t := Table{Caption: "Commands", Empty: "No room has an AV interface with commands, so there is nothing for presentation systems to ask for.", Columns: []Column{
		{Title: "Room", Width: 1}, {Title: "Interface", Width: 1}, {Title: "Command", Width: 1.8}, {Title: "What it does", Width: 3}, {Title: "By load", Width: 2.6}, {Title: "Only", Width: 1.4},
		{Title: "Answer expected", Width: 2.2}, {Title: "When repeated", Width: 2.2}, {Title: "Statement", Align: Center, Width: 0.9}}}
	var silent, lacking []*room
	for _, r := range c.rooms() {
		tags := r.tagsWhere(func(d *domain.Device) bool { return r.isA(d, equipment.AV) })
		steps := r.stepsOf(domain.ByAV)
		switch {
		case len(tags) == 0 && len(steps) > 0:
			lacking = append(lacking, r)
		case len(tags) > 0 && len(steps) == 0:
			silent = append(silent, r)
		case len(tags) > 0:
			t.Rows = append(t.Rows, r.commandLines(tags)...)
		}
	}
	s.Blocks = withoutNil([]Block{c.partialNote(), t})
	if len(lacking) > 0 {
		s.Blocks = append(s.Blocks, Paragraph{Text: "Commands are stated, but there is no AV interface to bring them in: " + roomNumbers(lacking) + ". Ask the designer."})
	}
	if len(silent) > 0 {
		s.Blocks = append(s.Blocks, Paragraph{Text: "There is an AV interface, but no command is stated: " + roomNumbers(silent) + ". Ask the designer."})
	}
	if len(t.Rows) > 0 {
		s.Blocks = append(s.Blocks, Heading{2, "Agreed between the trades"}, commandNotes())
	}
	return []Sheet{s}
}

func commandNotes() Block {
	return Statements{Items: []Statement{
		{Text: "Commands are read without regard to capital letters and to spaces at either end. A command that is not on this list changes nothing."},
		{Text: "A command counts as a person's press does: the newest of the two wins, and both yield to demand response and emergency as the order of priority says."},
		{Text: "Commands in an empty room act, and start the delay after which the room goes off. No command lights or darkens the way out without the statement named here."},
		{Text: "Speed of the line, framing and the exact form of the answer are settled in writing by the two trades before start-up, with the names of those who wire and who convert."},
	}}
}

// commandLines gives a line for each command and interface that brings it in.
func (r *room) commandLines(interfaces []string) []Row {
	var out []Row
	for i := range r.Design.Intents {
		in := &r.Design.Intents[i]
		if in.Kind != domain.ByAV {
			continue
		}
		tag := shortTags(interfaces, " or ")
		if d := r.Design.Device(in.Device); d != nil {
			tag = d.Tag
		}
		answer := `"` + in.Command + `" back, once it is carried out`
		if in.Command == "" {
			answer = undecided
		}
		cells := []string{r.Number, tag, or(in.Command, undecided), r.commandDoes(in), r.commandLevels(in), in.When(r.env()), answer, r.repeated(in), r.stepOfIntent(in.ID)}
		row := Row{}
		for _, text := range cells {
			row.Cells = append(row.Cells, TextCell(orDash(text)))
		}
		out = append(out, row)
	}
	return out
}

// commandDoes puts the command's effect in few words.
func (r *room) commandDoes(in *domain.Intent) string {
	hold := ""
	if in.Hold > 0 {
		hold = " for at most " + units.Duration(in.Hold)
	}
	switch in.Do {
	case domain.SetMode:
		return "sets mode " + or(string(in.Mode), string(domain.NormalMode)) + hold
	case domain.Lock:
		return "locks at " + units.Percent(in.Level) + " until released"
	case domain.Release:
		return "ends locks and holds"
	case domain.HoldAutomatic:
		return "keeps automatic events off" + or(hold, " until released")
	case domain.ToggleLoads:
		return "off where one is lit, else the last level" + in.FadeWords(r.env())
	case domain.GoBack:
		return "back to the levels before the last command" + in.FadeWords(r.env())
	case domain.PartitionJoins:
		return "joins the room"
	case domain.PartitionParts:
		return "divides the room"
	}
	if in.Scene > 0 {
		return "recalls " + r.sceneName(in.Scene) + in.FadeWords(r.env())
	}
	return "goes to " + units.Percent(in.Level) + in.FadeWords(r.env())
}

// commandLevels lists the level that each load gets.
func (r *room) commandLevels(in *domain.Intent) string {
	switch in.Do {
	case domain.SetMode, domain.PartitionJoins, domain.PartitionParts:
		return "the room as a whole"
	case domain.GoTo, domain.Lock:
	default:
		return r.targets(in)
	}
	if in.Scene == 0 || in.GoesToLevel() {
		return r.goal(in)
	}
	s := r.Design.SceneNumbered(in.Scene)
	if s == nil {
		return undecided
	}
	var parts []string
	for _, id := range in.Targets(&r.Design) {
		l := r.Design.Load(id)
		if l == nil {
			continue
		}
		switch v := s.LevelOf(id); {
		case v == nil:
			parts = append(parts, l.Tag+" "+undecided)
		case v.Leave:
			parts = append(parts, l.Tag+" as it is")
		default:
			parts = append(parts, l.Tag+" "+units.Percent(v.Level))
		}
	}
	return strings.Join(parts, ", ")
}

// repeated says what the same command does when it comes again.
func (r *room) repeated(in *domain.Intent) string {
	switch in.Do {
	case domain.ToggleLoads:
		return "the other way round each time"
	case domain.GoBack:
		return "nothing more: the levels stay those before the last other command"
	case domain.SetMode, domain.HoldAutomatic:
		if in.Hold > 0 {
			return "the time starts anew"
		}
		return "nothing more"
	case domain.Lock, domain.Release, domain.PartitionJoins, domain.PartitionParts:
		return "nothing more"
	}
	text := "the same levels again, also where a press changed them meanwhile"
	for i := range r.Design.Intents {
		if other := &r.Design.Intents[i]; other.Kind == domain.ByAV && other.Do == domain.GoBack {
			return text + "; a command that goes back then leads here"
		}
	}
	return text
}
