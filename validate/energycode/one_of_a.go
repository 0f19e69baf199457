package energycode

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// OneOfA holds how lighting comes on: by hand, or by itself to a part of full.
var OneOfA = rule.Rule{
	ID: "energycode-one-of-a", Title: "Lighting comes on by itself", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Light that comes to full each time someone passes burns for people who did not ask for it, and by day for nobody.",
	Source:  source,
	Example: "ASHRAE 90.1-2019, classroom: entering brings 50 % of the general lighting power, which passes; at 51 % it does not.",
	Claims:  []code.Control{code.ManualOn, code.PartialAutoOn}, Excepts: excepted(code.ManualOn, code.PartialAutoOn),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, comingOn, askForLight) },
	Fires: func() *domaintest.Builder {
		return occupied("51")
	},
	Quiet: func() *domaintest.Builder {
		return occupied("50")
	},
}

// comingOn tells answers on how lighting comes on, in a group or by themselves.
func comingOn(a *code.Answer) bool {
	return anyOf(code.OneOfA)(a) || about(code.ManualOn, code.PartialAutoOn)(a)
}

// askForLight takes lighting on entry out of presence intents and on-times out of
// schedules where people can press for light; else light comes on entry to half.
func askForLight(m *mending) {
	pressed := m.allPressed()
	for i := range m.f.Design.Intents {
		in, path := &m.f.Design.Intents[i], "intents/"+string(m.f.Design.Intents[i].ID)
		switch {
		case in.Kind == domain.ByPresence && in.GoesTo() && pressed:
			m.spare(in)
			m.set(path+"/enters", "no")
			m.say("let people press for light")
		case in.Kind == domain.ByPresence && in.GoesTo() && in.GoesToLevel():
			m.half(in, path)
		case in.Kind == domain.BySchedule && in.OnAt != "" && in.Do != domain.SetMode && pressed:
			m.spare(in)
			m.set(path+"/on_at", "")
			m.say("let people press for light")
		}
	}
}

// allPressed tells that a button turns each lighting load on.
func (m *mending) allPressed() bool {
	for i := range m.c.Facts.Loads {
		some := false
		for h := range m.c.Facts.Handles {
			some = some || slices.Contains(m.c.Facts.Handles[h].On, i)
		}
		if !some {
			return false
		}
	}
	return true
}

// half lets an intent bring no more than the code's share on entry, of loads that dim.
func (m *mending) half(in *domain.Intent, path string) {
	m.spare(in)
	most := m.figure(code.PartialAutoOn, "auto_on_power")
	for i := range m.f.Loads {
		if l := &m.f.Loads[i]; in.ActsOn(l.Load) && (!l.Dims() || l.Lum == nil || float64(l.Lum.DimsTo) > most) {
			m.stuck = true
			return
		}
	}
	if float64(in.Level) > most {
		m.set(path+"/level", percent(most))
		m.say("enter at %s %%", percent(most))
	}
}
