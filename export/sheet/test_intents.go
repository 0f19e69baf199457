package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// window gives a time with the span within which it passes.
func window(s units.Seconds) string {
	slack := max(s*timeWithin/100, timeAtLeast)
	return fmt.Sprintf("%s (%s to %s)", units.Duration(s), units.Duration(max(0, s-slack)), units.Duration(s+slack))
}

func (r *room) targets(in *domain.Intent) string {
	return or(r.loadList(in.Targets(&r.Design)), "the loads")
}

// goal is where an intent takes its loads, with the levels of its scene.
func (r *room) goal(in *domain.Intent) string {
	if in.Scene == 0 || in.GoesToLevel() {
		return r.targets(in) + " at " + units.Percent(in.Level)
	}
	s := r.Design.SceneNumbered(in.Scene)
	if s == nil {
		return r.sceneName(in.Scene)
	}
	var levels []units.Level
	at := map[units.Level][]domain.ID{}
	for _, id := range in.Targets(&r.Design) {
		if v := s.LevelOf(id); v != nil && !v.Leave {
			levels = addOnce(levels, v.Level)
			at[v.Level] = append(at[v.Level], id)
		}
	}
	parts := make([]string, len(levels))
	for i, level := range levels {
		parts[i] = r.loadList(at[level]) + " at " + units.Percent(level)
	}
	return r.sceneName(in.Scene) + ": " + or(strings.Join(parts, "; "), "no level for these loads")
}

func (r *room) testOfIntent(in *domain.Intent) testLine {
	loads := r.targets(in)
	switch in.Kind {
	case domain.ByHand:
		return r.testOfHand(in, loads)
	case domain.ByPresence:
		return r.testOfPresence(in, loads)
	case domain.ByDaylight:
		return r.testOfDaylight(in, loads)
	case domain.BySchedule:
		return r.testOfSchedule(in, loads)
	case domain.ForReceptacles:
		return testLine{loads + " dead, nobody in", "Enter; then leave, and wait", fmt.Sprintf("Live on entry; dead %s after the last vacant report.", r.delayWindows(in))}
	case domain.ByAV:
		return testLine{"People in; note the levels", fmt.Sprintf("Send the AV command %q", in.Command), r.response(in, loads)}
	case domain.ByContact:
		return testLine{"People in; note the levels", fmt.Sprintf("Bring the contact at %s to %s", r.tagOf(in.Device), or(in.Command, "its state")), r.response(in, loads)}
	case domain.OnMode:
		expect := r.response(in, loads)
		if in.Hold > 0 {
			expect += " The mode ends after " + window(in.Hold) + "."
		}
		return testLine{"Another mode", "Change the mode to " + or(string(in.Mode), string(domain.NormalMode)), expect}
	case domain.OnDemandResponse:
		return testLine{loads + " at 100 %; then once more dark", "Start demand response; then end it", fmt.Sprintf("From 100 %% to %s in %s; dark loads stay dark; at the end back as before.", units.Percent(in.Level), window(in.Fade))}
	case domain.OnEmergency:
		return testLine{loads + " at another level", "Start the emergency signal, with the people licensed for it; press buttons; end it", fmt.Sprintf("%s at %s whatever is pressed; at the end as after a power failure.", sentence(loads), units.Percent(in.Level))}
	case domain.OnNetworkLoss:
		return testLine{loads + " at another level", "Pull the link to the building network; press buttons; put it back", fmt.Sprintf("%s at %s; buttons and sensors go on working.", sentence(loads), units.Percent(in.Level))}
	case domain.OnPowerBack:
		return testLine{loads + " at a level that is none of their usual ones", "Cut the power for 10 s and bring it back", powerBackExpect(in, loads)}
	}
	return testLine{none, none, none}
}

func (r *room) tagOf(id domain.ID) string {
	if d := r.Design.Device(id); d != nil {
		return d.Tag
	}
	return "an input not yet named"
}

func (r *room) testOfHand(in *domain.Intent, loads string) testLine {
	expect := sentence(loads) + " follow at once"
	if in.Fade > 0 {
		expect += ", in " + window(in.Fade) + " or the scene's own fade"
	}
	expect += "."
	do := "Light them and turn them off by hand"
	if in.Hold > 0 {
		do += ", then move about"
		expect += " After the off they stay dark for " + window(in.Hold) + " while people move."
	}
	if in.Rate > 0 || in.Lowest > 0 || in.Highest > 0 {
		expect += fmt.Sprintf(" A held raise or lower button moves by %s %% a second", number(in.RampRate()))
		if in.Lowest > 0 {
			expect += ", not below " + units.Percent(in.Lowest)
		}
		if in.Highest > 0 {
			expect += ", not above " + units.Percent(in.Highest)
		}
		expect += "."
	}
	return testLine{"People in", do, expect}
}

// delayWindows gives the delays that run, each with its span.
func (r *room) delayWindows(in *domain.Intent) string {
	var delays []units.Seconds
	at := map[units.Seconds][]domain.ID{}
	for _, id := range in.Targets(&r.Design) {
		d := in.DelayFor(r.c.project, &r.Design, id)
		delays = addOnce(delays, d)
		at[d] = append(at[d], id)
	}
	switch len(delays) {
	case 0:
		return window(in.Delay)
	case 1:
		return window(delays[0])
	}
	parts := make([]string, len(delays))
	for i, d := range delays {
		parts[i] = window(d) + " for " + r.loadList(at[d])
	}
	return strings.Join(parts, ", ")
}

func (r *room) testOfPresence(in *domain.Intent, loads string) testLine {
	expect := "Entering lights nothing."
	if in.Enters {
		expect = "On entry " + r.goal(in) + "."
	}
	off := "off"
	if in.OffLevel > 0 {
		off = "at " + units.Percent(in.OffLevel)
	}
	expect += fmt.Sprintf(" %s after the last vacant report", sentence(r.delayWindows(in)))
	if in.Warning > 0 {
		expect += fmt.Sprintf(" a dip to %s of the level, and %s later %s.", units.Percent(in.WarnTo), window(in.Warning), off)
	} else {
		expect += " " + off + "."
	}
	do := "Enter; light " + loads + " where entering does not; leave, and wait"
	if in.Warning > 0 {
		do += "; once more, and move during the warning"
		expect += " Moving brings the level back."
	}
	if in.Relight > 0 {
		do += "; once more, and move right after the off"
		expect += fmt.Sprintf(" Moving within %s after the off brings the last level back, once.", units.Duration(in.Relight))
	}
	if in.Watchdog > 0 {
		expect += fmt.Sprintf(" A sensor that is silent counts as occupied after %s: read the setting.", units.Duration(in.Watchdog))
	}
	return testLine{loads + " dark, nobody in", do, expect}
}

func (r *room) testOfDaylight(in *domain.Intent, loads string) testLine {
	expect := fmt.Sprintf("At the task %s together with daylight, within 10 %%; not below %s", units.Light(in.Target, r.c.project.Units), units.Percent(in.Lowest))
	if in.MayOff {
		expect += "; off where daylight is enough"
	} else {
		expect += "; never off"
	}
	if in.Yields {
		expect += "; a press suspends it until the room was vacant"
	}
	return testLine{loads + " at 100 %, blinds shut; then by day at the calibration hour", "Note the reading at the task with blinds shut and open; cover and light the sensor", expect + ", reached in " + window(in.Fade) + "."}
}

func (r *room) testOfSchedule(in *domain.Intent, loads string) testLine {
	if in.Do == domain.SetMode {
		return testLine{"Another mode", "Set the clock to just before " + or(in.OnAt, "the time still to be stated"), "The mode becomes " + or(string(in.Mode), string(domain.NormalMode)) + "."}
	}
	var do, expect []string
	if in.OnAt != "" {
		do, expect = append(do, "set the clock to just before "+in.OnAt), append(expect, "At "+in.OnAt+": "+r.goal(in)+".")
	}
	if in.OffAt != "" {
		do = append(do, "set the clock to just before "+in.OffAt)
		off := "At " + in.OffAt + " " + loads
		if in.Warning > 0 {
			off += fmt.Sprintf(" dip to %s of the level; %s later they are", units.Percent(in.WarnTo), window(in.Warning))
		}
		expect = append(expect, off+" off.")
		if in.Spares {
			expect = append(expect, "With people in it waits and asks again after "+window(in.AgainAfter())+".")
		}
		if in.Override > 0 {
			do, expect = append(do, "then light them by hand"), append(expect, "A press after that has light for "+window(in.Override)+".")
		}
	}
	if in.Days != "" {
		do = append(do, "once more on a day that is not "+in.Days)
		expect = append(expect, "On other days nothing happens.")
	}
	return testLine{"At another level; clock of the room readable", sentence(or(strings.Join(do, "; "), "no time is stated yet")), or(strings.Join(expect, " "), "no time is stated yet")}
}

// response says what to see after a command, a contact or a mode.
func (r *room) response(in *domain.Intent, loads string) string {
	loads = sentence(loads)
	switch in.Do {
	case domain.SetMode:
		text := "The mode becomes " + or(string(in.Mode), string(domain.NormalMode))
		if in.Hold > 0 {
			text += ", for at most " + window(in.Hold)
		}
		return text + "."
	case domain.Lock:
		return loads + " at " + units.Percent(in.Level) + " whatever is pressed, until released."
	case domain.Release:
		return loads + " answer to buttons and sensors again."
	case domain.HoldAutomatic:
		if in.Hold > 0 {
			return loads + " stay as they are though the room empties, for at most " + window(in.Hold) + "."
		}
		return loads + " stay as they are though the room empties, until released."
	case domain.ToggleLoads:
		return loads + " off where one was lit; once more, and they are back at their last level."
	case domain.GoBack:
		return loads + " at the levels that they had before the last AV command."
	case domain.PartitionJoins:
		return "The room counts as one: press and move in each part."
	case domain.PartitionParts:
		return "Each part works by itself: press and move in each part."
	}
	text := sentence(r.goal(in))
	if in.Fade > 0 {
		text += ", in " + window(in.Fade) + " or the scene's own fade"
	}
	return text + "."
}

func powerBackExpect(in *domain.Intent, loads string) string {
	goal := map[domain.Restore]string{domain.RestoreOff: "off", domain.RestoreFull: "at 100 %", domain.RestoreSet: "at " + units.Percent(in.Level)}[in.Restore]
	return sentence(loads) + " " + or(goal, "at the level that they had") + "; delays start anew."
}
