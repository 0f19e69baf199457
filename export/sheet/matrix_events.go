package sheet

import (
	"scopewright/domain"
	"scopewright/domain/equipment"
)

// intentCode is what an intent does to a load, as a code: its scene or level, or its
// response where it has one. A condition shows, since the code alone would promise too much.
func intentCode(in *domain.Intent) string { return conditional(in, responseCode(in)) }

func conditional(in *domain.Intent, code string) string {
	if in.Conditional() && code != none && code != undecided {
		return code + hardSpace + "IF"
	}
	return code
}

func responseCode(in *domain.Intent) string {
	switch in.Do {
	case domain.SetMode, domain.PartitionJoins, domain.PartitionParts:
		return none // the room changes; the name of the row says how
	case domain.Lock:
		return "LOCK" + hardSpace + number(float64(in.Level))
	case domain.Release:
		return "FREE"
	case domain.HoldAutomatic:
		return "HOLD"
	case domain.ToggleLoads:
		return "TGL"
	case domain.GoBack:
		return "BACK"
	}
	return goalCode(in)
}

// changesRoom says how an intent changes the room as a whole, for the name of its row.
func changesRoom(in *domain.Intent) string {
	switch in.Do {
	case domain.SetMode:
		return ", sets mode " + or(string(in.Mode), string(domain.NormalMode))
	case domain.PartitionJoins:
		return ", joins the room"
	case domain.PartitionParts:
		return ", divides the room"
	}
	return ""
}

// contactRows states each contact intent of the device at this input; without any, the
// input's own links, which then say only that it acts.
func (r *room) contactRows(d *domain.Device, row domain.MatrixRow) []matrixRow {
	intents := r.intentsOf(domain.ByContact, d.ID)
	name := d.Tag + "  " + row.Label
	linked := r.linkedAtAll(d.ID)
	if len(intents) == 0 {
		return []matrixRow{{name: name, step: none, cells: r.cellsOf(func(l *domain.Load) Cell {
			return r.linkCell(row.Input, l, r.bareCode(row.Input, l))
		})}}
	}
	var out []matrixRow
	for _, in := range intents {
		out = append(out, matrixRow{name: name + ", " + or(in.Command, "state not stated") + changesRoom(in), step: r.stepOfIntent(in.ID),
			cells: r.cellsOf(func(l *domain.Load) Cell {
				if code := r.bareCode(row.Input, l); linked && code != "ACT" {
					return r.linkCell(row.Input, l, code)
				}
				if !in.ActsOn(l) {
					return r.linkCell(row.Input, l, none)
				}
				return r.linkCell(row.Input, l, intentCode(in))
			})})
	}
	return out
}

// bareCode is a link's own text: ACT where the intents should say more.
func (r *room) bareCode(in domain.Input, l *domain.Load) string {
	k := r.link(in, l.ID)
	switch {
	case k == nil || k.Do.Verb == "":
		return undecided
	case k.Do.Verb == domain.Nothing:
		return none
	}
	return k.Do.String()
}

func (r *room) linkedAtAll(device domain.ID) bool {
	for i := range r.Design.Links {
		if k := &r.Design.Links[i]; k.Device == device && k.Do.Verb == domain.Acts {
			return true
		}
	}
	return false
}

// intentsOf lists the intents of a kind that name the device, or name none.
func (r *room) intentsOf(kind domain.IntentKind, device domain.ID) []*domain.Intent {
	var out []*domain.Intent
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Kind == kind && (in.Device == device || in.Device == "" && kind == domain.ByAV) {
			out = append(out, in)
		}
	}
	return out
}

func (r *room) commandRows(d *domain.Device, row domain.MatrixRow) []matrixRow {
	intents := r.intentsOf(domain.ByAV, d.ID)
	if len(intents) == 0 {
		return []matrixRow{{name: d.Tag + "  command", step: none, cells: r.cellsOf(func(l *domain.Load) Cell {
			return r.linkCell(row.Input, l, r.bareCode(row.Input, l))
		})}}
	}
	var out []matrixRow
	for _, in := range intents {
		out = append(out, r.intentRow(d.Tag+"  "+or(in.Command, "command not stated")+changesRoom(in), in, intentCode(in)))
	}
	return out
}

// intentRow states one intent: its code at the loads it acts on, none at the others.
func (r *room) intentRow(name string, in *domain.Intent, code string) matrixRow {
	return matrixRow{name: name, step: r.stepOfIntent(in.ID), cells: r.cellsOf(func(l *domain.Load) Cell {
		if !in.ActsOn(l) {
			return TextCell(none)
		}
		return markIf(TextCell(code), r.departures().touched("intents", in.ID))
	})}
}

// eventRows states what no device of the room sends: schedule, commands and contacts
// whose input is not named, modes, demand response, emergency, network lost, power back.
func (r *room) eventRows() []matrixRow {
	var out []matrixRow
	for _, s := range r.sequence() {
		in := r.Design.Intent(s.intent)
		if s.intent == "" || in == nil {
			continue
		}
		switch in.Kind {
		case domain.BySchedule:
			out = append(out, r.scheduleRows(in)...)
		case domain.ByAV:
			if !r.hasSender(in, equipment.AV) {
				out = append(out, r.intentRow("AV  "+or(in.Command, "command not stated")+changesRoom(in)+" (no interface)", in, intentCode(in)))
			}
		case domain.ByContact:
			if d := r.Design.Device(in.Device); d == nil {
				out = append(out, r.intentRow("Contact  "+in.Command+changesRoom(in)+" (no input named)", in, intentCode(in)))
			}
		case domain.OnMode:
			out = append(out, r.intentRow("Mode becomes "+or(string(in.Mode), string(domain.NormalMode)), in, intentCode(in)))
		case domain.OnDemandResponse:
			out = append(out, r.intentRow("Demand response", in, conditional(in, "CAP"+hardSpace+number(float64(in.Level)))))
		case domain.OnEmergency:
			out = append(out, r.intentRow("Emergency signal", in, conditional(in, "LOCK"+hardSpace+number(float64(in.Level)))))
		case domain.OnNetworkLoss:
			out = append(out, r.intentRow("Network lost", in, conditional(in, number(float64(in.Level)))))
		case domain.OnPowerBack:
			out = append(out, r.intentRow("Power back", in, conditional(in, restoreCode(in))))
		}
	}
	return out
}

// hasSender tells whether a device of the kind is there to bring the intent's command.
func (r *room) hasSender(in *domain.Intent, kind equipment.Kind) bool {
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		if t := r.c.project.Book.Find(d.Type); t != nil && t.Kind == kind && (in.Device == "" || in.Device == d.ID) {
			return true
		}
	}
	return false
}

func (r *room) scheduleRows(in *domain.Intent) []matrixRow {
	days := ""
	if in.Days != "" {
		days = " " + in.Days
	}
	var out []matrixRow
	if in.OnAt != "" {
		out = append(out, r.intentRow("Schedule  "+in.OnAt+days+changesRoom(in), in, intentCode(in)))
	}
	if in.OffAt != "" && in.Do != domain.SetMode {
		code := "0"
		if in.Warning > 0 {
			code = "WARN" + hardSpace + "0"
		}
		out = append(out, r.intentRow("Schedule  "+in.OffAt+days, in, conditional(in, code)))
	}
	if len(out) == 0 {
		out = append(out, r.intentRow("Schedule  no times yet", in, undecided))
	}
	return out
}

func restoreCode(in *domain.Intent) string {
	switch in.Restore {
	case domain.RestoreLast, "":
		return "LAST"
	case domain.RestoreOff:
		return "0"
	case domain.RestoreFull:
		return "100"
	case domain.RestoreSet:
		return number(float64(in.Level))
	}
	return undecided
}
