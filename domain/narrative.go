package domain

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// Narrative states the intent for the owner: in the present tense, without tags,
// device words, levels, fades or delays. Times of day stand in it, since the
// owner decides them, and so does what the owner asked for, in the owner's words.
func (in *Intent) Narrative(e Env) string {
	lights := in.lightsWords(e)
	s := in.narrativeCondition(in.told(e, lights))
	if in.Source != "" {
		s += " This was asked for: " + strings.TrimSuffix(in.Source, ".") + "."
	}
	return s
}

// told states the intent without its condition, starting with a capital letter.
func (in *Intent) told(e Env, lights string) string {
	switch in.Kind {
	case ByHand:
		return in.handTold(lights)
	case ByPresence:
		return in.presenceTold(e, lights)
	case ByDaylight:
		return in.daylightTold(lights)
	case BySchedule:
		return in.scheduleTold(e, lights)
	case ForReceptacles:
		return fmt.Sprintf("%s are live while people are in the room and go dead when it has been empty for a while.", UpperFirst(lights))
	case ByAV:
		return fmt.Sprintf("When the presentation system asks for %q, %s.", in.Command, in.responseTold(e, lights))
	case ByContact:
		return fmt.Sprintf("When %s, %s.", in.signalTold(), in.responseTold(e, lights))
	case OnMode:
		return in.modeTold(e, lights)
	case OnDemandResponse:
		return fmt.Sprintf("When the building is asked to save power, %s dim somewhat and come back afterward; what is dark stays dark.", lights)
	case OnEmergency:
		return fmt.Sprintf("In an emergency %s are held %s, whatever else is asked for.", lights, amount(float64(in.Level)))
	case OnNetworkLoss:
		return fmt.Sprintf("If the building network fails, %s go %s, and everything within the room works on.", lights, amount(float64(in.Level)))
	case OnPowerBack:
		return fmt.Sprintf("After a power failure %s %s.", lights, in.powerBackTold())
	}
	return ""
}

func (in *Intent) handTold(lights string) string {
	s := fmt.Sprintf("People set %s themselves, and what they ask for comes at once", lights)
	if in.Hold > 0 {
		return s + "; who has turned them off keeps them off while people stay."
	}
	return s + "."
}

func (in *Intent) presenceTold(e Env, lights string) string {
	s := UpperFirst(lights) + " stay off until someone asks for them"
	if in.Enters {
		s = "When someone comes in, " + lights + " go " + in.goalTold(e)
	}
	s += "; when the last person has gone, they "
	if in.Warning > 0 {
		s += "give a warning and then "
	}
	if in.OffLevel > 0 {
		s += "go down to a low level"
	} else {
		s += "go off"
	}
	if in.Relight > 0 {
		s += ", and who is still there brings them back by moving"
	}
	if in.Watchdog > 0 {
		s += "; where it cannot be told whether people are in, they count as in"
	}
	return s + "."
}

func (in *Intent) daylightTold(lights string) string {
	s := fmt.Sprintf("As daylight comes in, %s dim so that it stays evenly light, ", lights)
	if in.MayOff {
		s += "and go off where daylight is enough"
	} else {
		s += "and never go off by themselves"
	}
	if in.Yields {
		s += "; who sets them by hand keeps what was set until the room has been empty"
	}
	return s + "."
}

func (in *Intent) scheduleTold(e Env, lights string) string {
	days := ""
	if d, err := ParseDays(in.Days); in.Days != "" && (err != nil || d != EveryDay) {
		days = " (" + in.Days + ")"
	}
	if in.Do == SetMode {
		if in.OnAt == "" {
			return fmt.Sprintf("The owner still has to say when %s begins.", in.Mode.told())
		}
		return fmt.Sprintf("At %s%s %s begins.", in.OnAt, days, in.Mode.told())
	}
	var parts []string
	if in.OnAt != "" {
		parts = append(parts, fmt.Sprintf("at %s%s %s go %s", in.OnAt, days, lights, in.goalTold(e)))
	}
	if in.OffAt != "" {
		who := lights
		if len(parts) > 0 {
			who = "they"
		}
		s := fmt.Sprintf("at %s%s %s ", in.OffAt, days, who)
		if in.Warning > 0 {
			s += "give a warning and then "
		}
		s += "go off"
		if in.Spares {
			s += ", but not while people are in"
		}
		parts = append(parts, s, "who needs light later asks for it and has it "+forWhile(in.Override > 0))
	}
	if len(parts) == 0 {
		return fmt.Sprintf("The owner still has to say at what times %s go on and off.", lights)
	}
	return UpperFirst(strings.Join(parts, "; ")) + "."
}

// responseTold says what a command or a signal makes the lights or the room do.
func (in *Intent) responseTold(e Env, lights string) string {
	switch in.Do {
	case SetMode:
		return in.Mode.told() + " begins"
	case Lock:
		return fmt.Sprintf("%s are held %s until they are released", lights, amount(float64(in.Level)))
	case Release:
		return lights + " are released to work as usual"
	case HoldAutomatic:
		return lights + " stay as they are " + forWhile(in.Hold > 0) + ", and nothing changes them by itself"
	case ToggleLoads:
		return lights + " go off where some are lit, and otherwise come back"
	case GoBack:
		return lights + " go back to how they were before"
	case PartitionJoins:
		return "the room works as one"
	case PartitionParts:
		return "the parts of the room work each by itself"
	}
	return lights + " go " + in.goalTold(e)
}

func (in *Intent) signalTold() string {
	open := in.Command == "open"
	switch {
	case in.MovesPartition() && in.Do == PartitionJoins:
		return "the partition is opened"
	case in.MovesPartition():
		return "the partition is closed"
	case open:
		return "the outside signal ends"
	}
	return "the outside signal comes"
}

func (in *Intent) modeTold(e Env, lights string) string {
	s := fmt.Sprintf("When %s begins, ", in.Mode.told())
	switch in.Do {
	case Lock:
		s += fmt.Sprintf("%s are held %s until it ends", lights, amount(float64(in.Level)))
	case HoldAutomatic:
		s += fmt.Sprintf("%s stay as they are and nothing changes them by itself until it ends", lights)
	default:
		s += fmt.Sprintf("%s go %s", lights, in.goalTold(e))
	}
	if in.Hold > 0 {
		s += "; it ends by itself"
	}
	return s + "."
}

func (in *Intent) powerBackTold() string {
	switch in.Restore {
	case RestoreOff:
		return "stay off until someone asks for them"
	case RestoreFull:
		return "come fully on"
	case RestoreSet:
		return "go " + amount(float64(in.Level))
	}
	return "come back as they were"
}

// goalTold is where the lights go: `to "Teach"`, or fully or partly on.
func (in *Intent) goalTold(e Env) string {
	if in.GoesToLevel() || in.Scene == 0 {
		return amount(float64(in.Level))
	}
	if e.Design != nil {
		if s := e.Design.SceneNumbered(in.Scene); s != nil {
			return fmt.Sprintf("to %q", s.Name)
		}
	}
	return "to a setting that is still to be named"
}

// amount puts a level in an owner's words.
func amount(level float64) string {
	switch {
	case level <= 0:
		return "off"
	case level >= 100:
		return "fully on"
	case level > 50:
		return "mostly on"
	case level > 20:
		return "partly on"
	}
	return "to a low level"
}

func forWhile(limited bool) string {
	if limited {
		return "for a while"
	}
	return "without end"
}

// told names a mode for an owner.
func (m Mode) told() string {
	switch m {
	case AfterHours:
		return "the time after hours"
	case CleaningMode:
		return "cleaning"
	case EventMode:
		return "an event"
	}
	return "normal use"
}

// lightsWords names what the intent acts on by the names that loads have, never
// by their tags.
func (in *Intent) lightsWords(e Env) string {
	if in.Kind == ForReceptacles {
		if len(in.Loads) == 0 {
			return "the controlled receptacles"
		}
		return in.named(e, "some of the controlled receptacles", func(names string) string { return "the receptacles of " + names })
	}
	if len(in.Loads) == 0 {
		if in.Kind == OnDemandResponse && in.loadNames(e) != "all lighting loads" {
			return "the lights, but not those of the way out,"
		}
		return "the lights"
	}
	if e.Design != nil && !slices.ContainsFunc(e.Design.Loads, func(l Load) bool { return l.Kind == Lighting && !slices.Contains(in.Loads, l.ID) }) {
		return "the lights"
	}
	return in.named(e, "some of the lights", func(names string) string { return "the lights of " + names })
}

// named puts the loads' names into words; others where one has no name.
func (in *Intent) named(e Env, others string, words func(string) string) string {
	names := make([]string, 0, len(in.Loads))
	for _, id := range in.Loads {
		if e.Design == nil || e.Design.Load(id) == nil || e.Design.Load(id).Name == "" {
			return others
		}
		names = append(names, `"`+e.Design.Load(id).Name+`"`)
	}
	return words(JoinWords(names))
}

// narrativeCondition puts the intent's condition before what is told.
func (in *Intent) narrativeCondition(told string) string {
	if !in.Conditional() {
		return told
	}
	var parts []string
	if len(in.Modes) > 0 {
		names := make([]string, len(in.Modes))
		for i, m := range in.Modes {
			names[i] = m.told()
		}
		parts = append(parts, "during "+strings.Join(names, " or "))
	}
	switch {
	case in.From != "" && in.Until != "":
		parts = append(parts, "between "+in.From+" and "+in.Until)
	case in.From != "":
		parts = append(parts, "after "+in.From)
	case in.Until != "":
		parts = append(parts, "before "+in.Until)
	}
	if in.DarkerThan > 0 {
		parts = append(parts, "while there is little daylight")
	}
	if in.BrighterThan > 0 {
		parts = append(parts, "while there is much daylight")
	}
	switch in.People {
	case PeopleIn:
		parts = append(parts, "while people are in")
	case PeopleGone:
		parts = append(parts, "while nobody is in")
	}
	if in.Partition != "" {
		parts = append(parts, "while the partition is "+string(in.Partition))
	}
	word := "Only "
	if in.Unless {
		word = "Not "
	}
	return word + JoinWords(parts) + ": " + strings.ToLower(told[:1]) + told[1:]
}

// UpperFirst makes the first letter a capital one.
func UpperFirst(text string) string {
	_, n := utf8.DecodeRuneInString(text)
	return strings.ToUpper(text[:n]) + text[n:]
}
