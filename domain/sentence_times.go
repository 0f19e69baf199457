package domain

import (
	"strings"

	"scopewright/domain/units"
)

// ownFade gives " in 2 s", nothing where the intent has no fade.
func (in *Intent) ownFade() string {
	if in.Fade == 0 {
		return ""
	}
	return " in " + units.Duration(in.Fade)
}

// FadeWords says in what time what the intent does is reached: " in 4 s", or in
// the own fades of the scene that it recalls.
func (in *Intent) FadeWords(e Env) string { return in.goalFade(e) }

// goalFade says in what time the loads reach the intent's scene or level. A
// scene's own fades come before the intent's.
func (in *Intent) goalFade(e Env) string {
	if !in.GoesTo() || in.GoesToLevel() || e.Design == nil {
		return in.ownFade()
	}
	s := e.Design.SceneNumbered(in.Scene)
	if s == nil {
		return in.ownFade()
	}
	switch own, plain := s.fades(in.Targets(e.Design)); {
	case own == 0:
		return in.ownFade()
	case plain == 0:
		return " in the scene's own fades"
	case in.Fade == 0:
		return ", in the scene's own fades where it has them"
	}
	return in.ownFade() + ", but in the scene's own fades where it has them"
}

// fades counts the loads that the scene moves in a fade of its own, and those
// that it moves without one.
func (s *Scene) fades(loads []ID) (own, plain int) {
	for _, id := range loads {
		switch l := s.LevelOf(id); {
		case l == nil || l.Leave:
		case l.Fade > 0:
			own++
		default:
			plain++
		}
	}
	return own, plain
}

// handSceneFades says that scenes come in their own fades, where a button
// recalls one that has some.
func (in *Intent) handSceneFades(e Env) string {
	if e.Design == nil {
		return ""
	}
	for i := range e.Design.Links {
		k := &e.Design.Links[i]
		if k.Do.Verb != ToScene {
			continue
		}
		l, s := e.Design.Load(k.Load), e.Design.SceneNumbered(k.Do.Scene)
		if l == nil || s == nil || !in.ActsOn(l) {
			continue
		}
		if own, _ := s.fades([]ID{k.Load}); own > 0 {
			return ", a scene in its own fades"
		}
	}
	return ""
}

// delayWords gives the delay after the last vacant report; where sensors state
// delays of their own, the ones that run, with their loads: "20 min (L1 and
// L2) or 15 min (L3)".
func (in *Intent) delayWords(e Env) string {
	if e.Design == nil || e.Project == nil {
		return units.Duration(in.Delay)
	}
	var delays []units.Seconds
	loads := map[units.Seconds][]string{}
	for _, id := range in.Targets(e.Design) {
		l := e.Design.Load(id)
		if l == nil {
			continue
		}
		at := in.DelayFor(e.Project, e.Design, id)
		if loads[at] == nil {
			delays = append(delays, at)
		}
		loads[at] = append(loads[at], l.Tag)
	}
	switch len(delays) {
	case 0:
		return units.Duration(in.Delay)
	case 1:
		return units.Duration(delays[0])
	}
	parts := make([]string, len(delays))
	for i, at := range delays {
		parts[i] = units.Duration(at) + " (" + JoinWords(loads[at]) + ")"
	}
	return strings.Join(parts, " or ")
}
