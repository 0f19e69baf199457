package domain

import (
	"fmt"
	"strings"

	"scopewright/domain/units"
)

// Sentence states the intent in one plain sentence with every number in it.
func (in *Intent) Sentence(e Env) string {
	loads, n := in.loadNames(e), in.number()
	fade := ""
	if in.Fade > 0 {
		fade = " in " + units.Duration(in.Fade)
	}
	switch in.Kind {
	case ByPresence:
		return in.presenceSentence(loads, fade)
	case ByHand:
		s := fmt.Sprintf("A person's press acts on %s at once%s.", loads, fade)
		if in.Hold > 0 {
			s += fmt.Sprintf(" After a manual off, people moving do not relight %s for %s, or until the room was vacant and is entered anew.", n.them, units.Duration(in.Hold))
		}
		return s
	case ByDaylight:
		end := "and never " + n.goes + " off"
		if in.MayOff {
			end = "and " + n.goes + " off where daylight is enough"
		}
		return fmt.Sprintf("As daylight comes in, %s dim%s%s to hold %s lx together with it, not below %s, %s.", loads, n.s, fadeWord(in.Fade), units.Trim(float64(in.Target), 0), units.Percent(in.Lowest), end)
	case BySchedule:
		return in.scheduleSentence(loads)
	case ForReceptacles:
		return fmt.Sprintf("When people enter, %s %s live; when the room has been vacant for %s %s %s dead. No wall station acts on %s.", loads, n.goes, units.Duration(in.Delay), n.they, n.goes, n.them)
	case ByAV:
		return fmt.Sprintf("On the AV command %q, %s %s to %s%s.", in.Command, loads, n.goes, in.goal(e), fade)
	case ByContact:
		return fmt.Sprintf("When the contact at %s is %s, %s %s to %s.", e.deviceTag(in.Device), in.Command, loads, n.goes, in.goal(e))
	case OnDemandResponse:
		if fade != "" {
			fade = ", reached" + fade
		}
		return fmt.Sprintf("During demand response, %s %s capped at %s of the level %s then %s%s; a dark load stays dark. When it ends, %s return%s.", loads, n.are, units.Percent(in.Level), n.they, n.have, fade, n.they, n.s)
	case OnPowerBack:
		return in.powerBackSentence(loads)
	}
	return ""
}

// grammar holds the words that agree with one load or with several.
type grammar struct{ s, goes, are, have, they, them, their, dip string }

var (
	oneLoad   = grammar{"s", "goes", "is", "has", "it", "it", "its", "dips"}
	manyLoads = grammar{"", "go", "are", "have", "they", "them", "their", "dip"}
)

func (in *Intent) number() grammar {
	if len(in.Loads) == 1 {
		return oneLoad
	}
	return manyLoads
}

func fadeWord(s units.Seconds) string {
	if s == 0 {
		return ""
	}
	return " over " + units.Duration(s)
}

func (in *Intent) presenceSentence(loads, fade string) string {
	var b strings.Builder
	n := in.number()
	if in.Enters {
		goal := units.Percent(in.Level)
		if in.Scene > 0 {
			goal = fmt.Sprintf("scene %d", in.Scene)
		}
		fmt.Fprintf(&b, "When someone enters, %s %s to %s%s. ", loads, n.goes, goal, fade)
	} else {
		fmt.Fprintf(&b, "Entering lights nothing: a person presses. ")
	}
	fmt.Fprintf(&b, "When all sensors have reported vacant for %s, %s ", units.Duration(in.Delay), loads)
	if in.Warning > 0 {
		fmt.Fprintf(&b, "%s to %s of %s level for %s as a warning and then ", n.dip, units.Percent(in.WarnTo), n.their, units.Duration(in.Warning))
	}
	if in.OffLevel > 0 {
		fmt.Fprintf(&b, "%s to %s%s.", n.goes, units.Percent(in.OffLevel), fade)
	} else {
		fmt.Fprintf(&b, "%s off%s.", n.goes, fade)
	}
	return b.String()
}

func (in *Intent) scheduleSentence(loads string) string {
	var parts []string
	n, days := in.number(), ""
	if in.Days != "" {
		days = " (" + in.Days + ")"
	}
	if in.OnAt != "" {
		goal := units.Percent(in.Level)
		if in.Scene > 0 {
			goal = fmt.Sprintf("scene %d", in.Scene)
		}
		parts = append(parts, fmt.Sprintf("At %s%s, %s %s to %s.", in.OnAt, days, loads, n.goes, goal))
	}
	if in.OffAt != "" {
		s := fmt.Sprintf("At %s%s, %s ", in.OffAt, days, loads)
		if in.Warning > 0 {
			s += fmt.Sprintf("%s to %s of %s level for %s as a warning and then ", n.dip, units.Percent(in.WarnTo), n.their, units.Duration(in.Warning))
		}
		s += n.goes + " off."
		if in.Override > 0 {
			s += fmt.Sprintf(" A press brings %s back for %s.", n.them, units.Duration(in.Override))
		}
		parts = append(parts, s)
	}
	if len(parts) == 0 {
		return fmt.Sprintf("The schedule for %s has no times yet.", loads)
	}
	return strings.Join(parts, " ")
}

func (in *Intent) powerBackSentence(loads string) string {
	n, goal := in.number(), string(in.Restore)
	switch in.Restore {
	case RestoreLast:
		goal = "the level " + n.they + " had"
	case RestoreSet:
		goal = units.Percent(in.Level)
	case RestoreOff:
		goal = "off"
	case RestoreFull:
		goal = "full"
	}
	return fmt.Sprintf("When power comes back, %s %s to %s; delays start anew as if the room were occupied.", loads, n.goes, goal)
}

func (in *Intent) goal(e Env) string {
	if in.Scene == 0 {
		return units.Percent(in.Level)
	}
	if e.Design != nil {
		if s := e.Design.SceneNumbered(in.Scene); s != nil {
			return fmt.Sprintf("scene %d %q", in.Scene, s.Name)
		}
	}
	return fmt.Sprintf("scene %d", in.Scene)
}

func (in *Intent) loadNames(e Env) string {
	if len(in.Loads) == 0 {
		if in.Kind == ForReceptacles {
			return "all controlled receptacles"
		}
		return "all lighting loads"
	}
	tags := make([]string, len(in.Loads))
	for i, id := range in.Loads {
		tags[i] = "a load that is gone"
		if e.Design != nil {
			if l := e.Design.Load(id); l != nil {
				tags[i] = l.Tag
			}
		}
	}
	return JoinWords(tags)
}

func (e Env) deviceTag(id ID) string {
	if e.Design != nil {
		if d := e.Design.Device(id); d != nil {
			return d.Tag
		}
	}
	if id == "" {
		return "an input not yet named"
	}
	return "an input that is gone"
}

// JoinWords gives "a", "a and b", "a, b and c".
func JoinWords(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
