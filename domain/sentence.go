package domain

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain/units"
)

// Sentence states the intent plainly, with every number in it and the condition
// under which it counts.
func (in *Intent) Sentence(e Env) string {
	return in.conditionWords(e) + in.statement(e)
}

// statement states the intent without its condition.
func (in *Intent) statement(e Env) string {
	loads, n, fade := in.loadNames(e), in.number(), in.ownFade()
	switch in.Kind {
	case ByPresence:
		return in.presenceSentence(e, loads, fade)
	case ByHand:
		s := fmt.Sprintf("A person's press acts on %s at once%s%s.", loads, fade, in.handSceneFades(e))
		if in.Hold > 0 {
			s += fmt.Sprintf(" After a manual off, people moving do not relight %s for %s, or until the room was vacant and is entered anew.", n.them, units.Duration(in.Hold))
		}
		return s + in.rampSentence(e)
	case ByDaylight:
		end := "and never " + n.goes + " off"
		if in.MayOff {
			end = "and " + n.goes + " off where daylight is enough"
		}
		if in.Yields {
			end += "; a press suspends this until the room was vacant"
		}
		return fmt.Sprintf("As daylight comes in, %s dim%s%s to hold %s together with it, not below %s, %s.", loads, n.s, fadeWord(in.Fade), units.Light(in.Target, e.system()), units.Percent(in.Lowest), end)
	case BySchedule:
		return in.scheduleSentence(e, loads, fade)
	case ForReceptacles:
		return fmt.Sprintf("When people enter, %s %s live; when the room has been vacant for %s %s %s dead. No wall station acts on %s.", loads, n.goes, in.delayWords(e), n.they, n.goes, n.them)
	case ByAV:
		return fmt.Sprintf("On the AV command %q, %s.", in.Command, in.response(e, loads, fade))
	case ByContact:
		return fmt.Sprintf("When the contact at %s is %s, %s.", e.deviceTag(in.Device), in.Command, in.response(e, loads, fade))
	case OnMode:
		return in.modeSentence(e, loads, fade)
	case OnEmergency:
		return fmt.Sprintf("While the emergency signal is on, %s %s locked at %s and nothing else acts on %s. When it ends, %s come%s back as after a power failure.", loads, n.are, units.Percent(in.Level), n.them, n.they, n.s)
	case OnNetworkLoss:
		return fmt.Sprintf("When the building network is lost, %s %s to %s; the room's own logic goes on.", loads, n.goes, units.Percent(in.Level))
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

func (in *Intent) presenceSentence(e Env, loads, fade string) string {
	var b strings.Builder
	n := in.number()
	if in.Enters {
		goal := units.Percent(in.Level)
		if in.Scene > 0 {
			goal = fmt.Sprintf("scene %d", in.Scene)
		}
		fmt.Fprintf(&b, "When someone enters, %s %s to %s%s. ", loads, n.goes, goal, in.goalFade(e))
	} else {
		fmt.Fprintf(&b, "Entering lights nothing: a person presses. ")
	}
	fmt.Fprintf(&b, "When all sensors have reported vacant for %s, %s ", in.delayWords(e), loads)
	if in.Warning > 0 {
		fmt.Fprintf(&b, "%s to %s of %s level for %s as a warning and then ", n.dip, units.Percent(in.WarnTo), n.their, units.Duration(in.Warning))
	}
	if in.OffLevel > 0 {
		fmt.Fprintf(&b, "%s to %s%s.", n.goes, units.Percent(in.OffLevel), fade)
	} else {
		fmt.Fprintf(&b, "%s off%s.", n.goes, fade)
	}
	if in.Relight > 0 {
		fmt.Fprintf(&b, " People moving within %s after that bring the last level back, once.", units.Duration(in.Relight))
	}
	if in.Watchdog > 0 {
		fmt.Fprintf(&b, " A sensor that has been silent for %s counts as occupied.", units.Duration(in.Watchdog))
	}
	return b.String()
}

func (in *Intent) scheduleSentence(e Env, loads, fade string) string {
	n, days := in.number(), ""
	if in.Days != "" {
		days = " (" + in.Days + ")"
	}
	if in.Do == SetMode {
		if in.OnAt == "" {
			return fmt.Sprintf("The change to mode %s has no time yet.", in.modeName())
		}
		return fmt.Sprintf("At %s%s, the room goes into mode %s.", in.OnAt, days, in.modeName())
	}
	var parts []string
	if in.OnAt != "" {
		goal := units.Percent(in.Level)
		if in.Scene > 0 {
			goal = fmt.Sprintf("scene %d", in.Scene)
		}
		parts = append(parts, fmt.Sprintf("At %s%s, %s %s to %s%s.", in.OnAt, days, loads, n.goes, goal, in.goalFade(e)))
	}
	if in.OffAt != "" {
		s := fmt.Sprintf("At %s%s, %s ", in.OffAt, days, loads)
		if in.Warning > 0 {
			s += fmt.Sprintf("%s to %s of %s level for %s as a warning and then ", n.dip, units.Percent(in.WarnTo), n.their, units.Duration(in.Warning))
		}
		s += n.goes + " off" + fade + "."
		if in.Spares {
			s += " While people are in the room it waits, and asks again after " + units.Duration(in.AgainAfter()) + "."
		}
		parts = append(parts, s+in.overrideSentence(n))
	}
	if len(parts) == 0 {
		return fmt.Sprintf("The schedule for %s has no times yet.", loads)
	}
	return strings.Join(parts, " ")
}

// MorningAfter ends the time in which a schedule without an on counts as having
// put loads off, in minutes after midnight (common practice, no published source).
const MorningAfter = 6 * 60

// overrideSentence says what a press does after the schedule's off.
func (in *Intent) overrideSentence(n grammar) string {
	if in.Override == 0 {
		return fmt.Sprintf(" A press after that brings %s back for good.", n.them)
	}
	until := "the next on"
	if in.OnAt == "" {
		until = TimeOfDay{Minutes: MorningAfter}.String()
	}
	s := fmt.Sprintf(" A press after that, until %s, brings %s back for %s; each press renews it", until, n.them, units.Duration(in.Override))
	if in.Warning > 0 {
		s += ", and the warning comes before the end"
	}
	return s + "."
}

func (in *Intent) powerBackSentence(loads string) string {
	n, goal := in.number(), string(in.Restore)
	switch in.Restore {
	case RestoreLast, "":
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
		if in.Kind == OnDemandResponse && e.Design != nil && slices.ContainsFunc(e.Design.Loads, func(l Load) bool { return l.Egress }) {
			return "all lighting loads but egress lighting"
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

// AgainAfter gives the time after which a schedule that spares people asks again.
func (in *Intent) AgainAfter() units.Seconds {
	if in.Again > 0 {
		return in.Again
	}
	return DefaultAgain
}

// RampRate gives the rate of raising and lowering in % of full output a second.
func (in *Intent) RampRate() float64 {
	if in.Rate > 0 {
		return in.Rate
	}
	return DefaultRate
}

// rampSentence says how fast and how far holding a button raises and lowers,
// where the loads have such a button.
func (in *Intent) rampSentence(e Env) string {
	if e.Design == nil || !in.ramps(e.Design) {
		return ""
	}
	s := fmt.Sprintf(" A raise or lower button changes the level by %s %% of full output at a press and by %s %% a second while it is held", units.Trim(RampStep, 1), units.Trim(in.RampRate(), 1))
	switch {
	case in.Lowest > 0 && in.Highest > 0:
		s += fmt.Sprintf(", between %s and %s", units.Percent(in.Lowest), units.Percent(in.Highest))
	case in.Lowest > 0:
		s += ", not below " + units.Percent(in.Lowest)
	case in.Highest > 0:
		s += ", not above " + units.Percent(in.Highest)
	}
	return s + "."
}

func (in *Intent) ramps(d *Design) bool {
	for i := range d.Links {
		if k := &d.Links[i]; k.Do.Verb == Raise || k.Do.Verb == Lower {
			if l := d.Load(k.Load); l != nil && in.ActsOn(l) {
				return true
			}
		}
	}
	return false
}

// response says what the loads or the room do, without a full stop.
func (in *Intent) response(e Env, loads, fade string) string {
	n := in.number()
	limit := ""
	if in.Do == HoldAutomatic {
		limit = " until released"
	}
	if in.Hold > 0 {
		limit = " for at most " + units.Duration(in.Hold)
	}
	switch in.Do {
	case SetMode:
		return "the room goes into mode " + in.modeName() + limit
	case Lock:
		return fmt.Sprintf("%s %s locked at %s%s until released", loads, n.are, units.Percent(in.Level), fade)
	case Release:
		return fmt.Sprintf("locks and holds on %s end", loads)
	case HoldAutomatic:
		return fmt.Sprintf("automatic events leave %s alone%s", loads, limit)
	case ToggleLoads:
		return fmt.Sprintf("%s toggle%s: to off where one is lit, else to the last level%s", loads, n.s, fade)
	case GoBack:
		return fmt.Sprintf("%s %s back to the level before the last AV command%s", loads, n.goes, fade)
	case PartitionJoins:
		return "the partition counts as open: the room is one"
	case PartitionParts:
		return "the partition counts as closed: the room is divided"
	}
	return fmt.Sprintf("%s %s to %s%s", loads, n.goes, in.goal(e), in.goalFade(e))
}

func (in *Intent) modeName() string {
	if in.Mode == "" {
		return string(NormalMode)
	}
	return string(in.Mode)
}

func (in *Intent) modeSentence(e Env, loads, fade string) string {
	s, n := fmt.Sprintf("When the mode becomes %s, ", in.modeName()), in.number()
	switch in.Do {
	case Lock:
		s += fmt.Sprintf("%s %s locked at %s%s until the mode ends.", loads, n.are, units.Percent(in.Level), fade)
	case HoldAutomatic:
		s += fmt.Sprintf("automatic events leave %s alone until the mode ends.", loads)
	default:
		s += fmt.Sprintf("%s %s to %s%s.", loads, n.goes, in.goal(e), in.goalFade(e))
	}
	if in.Hold > 0 {
		s += fmt.Sprintf(" The mode ends by itself after %s.", units.Duration(in.Hold))
	}
	return s
}

// conditionWords says when the intent counts, ahead of its sentence: "Only in
// mode after hours: ".
func (in *Intent) conditionWords(e Env) string {
	if !in.Conditional() {
		return ""
	}
	return UpperFirst(in.When(e)) + ": "
}

// When says under which condition the intent counts: "only in mode after hours";
// nothing where it always does.
func (in *Intent) When(e Env) string {
	if !in.Conditional() {
		return ""
	}
	var parts []string
	if len(in.Modes) > 0 {
		names := make([]string, len(in.Modes))
		for i, m := range in.Modes {
			names[i] = string(m)
		}
		parts = append(parts, "in mode "+strings.Join(names, " or "))
	}
	switch {
	case in.From != "" && in.Until != "":
		parts = append(parts, "from "+in.From+" until "+in.Until)
	case in.From != "":
		parts = append(parts, "from "+in.From+" until midnight")
	case in.Until != "":
		parts = append(parts, "from midnight until "+in.Until)
	}
	if in.DarkerThan > 0 {
		parts = append(parts, "while daylight is below "+units.Light(in.DarkerThan, e.system()))
	}
	if in.BrighterThan > 0 {
		parts = append(parts, "while daylight is above "+units.Light(in.BrighterThan, e.system()))
	}
	if in.People != "" {
		parts = append(parts, "while the room is "+string(in.People))
	}
	if in.Partition != "" {
		parts = append(parts, "while the partition is "+string(in.Partition))
	}
	word := "only "
	if in.Unless {
		word = "unless "
	}
	return word + JoinWords(parts)
}
