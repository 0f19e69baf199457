package sheet

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// exercises lists the statements that a scenario calls on, in the order of the sequence:
// those of its buttons, and those of the intents whose event it brings.
func (r *room) exercises(sc *domain.Scenario) []string {
	hit := map[string]bool{}
	for i := range sc.Steps {
		for _, id := range r.calledBy(&sc.Steps[i]) {
			hit[id] = true
		}
	}
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Kind == domain.BySchedule && r.c.comesUp(in, sc) {
			hit[r.stepOfIntent(in.ID)] = true
		}
	}
	var out []string
	for _, s := range r.sequence() {
		if hit[s.id] {
			out = append(out, s.id)
		}
	}
	return out
}

// calledBy lists the statements that one step calls on.
func (r *room) calledBy(st *domain.ScenarioStep) []string {
	kinds := map[domain.Happening]domain.IntentKind{
		domain.DemandStarted: domain.OnDemandResponse, domain.DemandEnded: domain.OnDemandResponse, domain.PowerRestored: domain.OnPowerBack,
		domain.NetworkLost: domain.OnNetworkLoss, domain.EmergencyBegan: domain.OnEmergency, domain.EmergencyEnded: domain.OnEmergency,
	}
	if kind, ok := kinds[st.Happen]; ok {
		return r.stepsOf(kind)
	}
	switch st.Happen {
	case domain.Pressed:
		return r.pressCalls(domain.Input{Device: st.Device, Button: st.Button, On: domain.Press})
	case domain.HoldStarted, domain.HoldEnded:
		in := domain.Input{Device: st.Device, Button: st.Button, On: domain.Hold}
		if r.links == nil {
			r.sortLinks()
		}
		if r.links[in] == nil { // holding does what pressing does where nothing is said of it
			in.On = domain.Press
		}
		return r.pressCalls(in)
	case domain.Occupied, domain.Vacant, domain.SensorSilent:
		return r.linkedCalls(domain.Input{Device: st.Device}, domain.ByPresence, domain.ForReceptacles)
	case domain.DaylightRead:
		return r.linkedCalls(domain.Input{Device: st.Device}, domain.ByDaylight)
	}
	return r.commandCalls(st)
}

// pressCalls are the button's statement, and what the design says of people's presses on
// the loads that it moves.
func (r *room) pressCalls(in domain.Input) []string {
	return append([]string{r.stepOfInput(in)}, r.linkedCalls(in, domain.ByHand)...)
}

// linkedCalls are the statements of intents of some kinds on the loads that an input acts on.
func (r *room) linkedCalls(in domain.Input, kinds ...domain.IntentKind) []string {
	var out []string
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if k := r.link(in, l.ID); k == nil || k.Do.Verb == domain.Nothing || k.Do.Verb == "" {
			continue
		}
		for _, kind := range kinds {
			for _, x := range r.allSensed(l, kind) {
				out = append(out, r.stepOfIntent(x.ID))
			}
		}
	}
	return out
}

// commandCalls are the statements of commands, contacts and modes that a step brings.
func (r *room) commandCalls(st *domain.ScenarioStep) []string {
	var out []string
	for i := range r.Design.Intents {
		in := &r.Design.Intents[i]
		called := false
		switch st.Happen {
		case domain.AVCommand:
			called = in.Kind == domain.ByAV && sameCommand(in.Command, st.Text) && (in.Device == "" || st.Device == "" || in.Device == st.Device)
		case domain.ContactClosed:
			called = in.Kind == domain.ByContact && in.Device == st.Device && in.Command == "closed"
		case domain.ContactOpened:
			called = in.Kind == domain.ByContact && in.Device == st.Device && in.Command == "open"
		case domain.ModeChanged:
			called = in.Kind == domain.OnMode && sameCommand(or(string(in.Mode), string(domain.NormalMode)), st.Text)
		}
		if called {
			out = append(out, r.stepOfIntent(in.ID))
		}
	}
	return out
}

func sameCommand(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// comesUp tells whether a schedule's clock time comes, on one of its days, while a
// scenario plays. Times by the sun are not looked up, so that they count at the end of
// their day.
func (c *Content) comesUp(in *domain.Intent, sc *domain.Scenario) bool {
	last := units.Seconds(0)
	for i := range sc.Steps {
		last = max(last, sc.Steps[i].At)
	}
	start, err := domain.ParseTimeOfDay(startOf(sc))
	days, wrong := domain.ParseDays(in.Days)
	if err != nil || wrong != nil {
		return false
	}
	weekday, holiday := c.dayOf(sc)
	return slices.ContainsFunc([]string{in.OnAt, in.OffAt}, func(text string) bool {
		at, err := domain.ParseTimeOfDay(text)
		if text == "" || err != nil {
			return false
		}
		if at.Sun != "" {
			at.Minutes = minutesPerDay
		}
		for d := range 8 {
			wait := d*minutesPerDay + at.Minutes - start.Minutes
			if wait >= 0 && units.Seconds(60*wait) <= last && days.On((weekday+d)%7, d == 0 && holiday) {
				return true
			}
		}
		return false
	})
}

const minutesPerDay = 24 * 60

// dayOf gives the weekday, 0 being Monday, on which a scenario plays, and whether that is
// a holiday.
func (c *Content) dayOf(sc *domain.Scenario) (weekday int, holiday bool) {
	if day, _, err := domain.Holiday(sc.Day); err == nil {
		for _, line := range c.project.Holidays {
			if other, _, err := domain.Holiday(line); err == nil && other.Equal(day) {
				holiday = true
			}
		}
		return (int(day.Weekday()) + 6) % 7, holiday
	}
	if sc.Day == "holiday" {
		return 0, true
	}
	if days, err := domain.ParseDays(sc.Day); err == nil && sc.Day != "" {
		for d := range 7 {
			if days.On(d, false) {
				return d, false
			}
		}
	}
	return 0, false
}
