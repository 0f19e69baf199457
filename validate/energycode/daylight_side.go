package energycode

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// DaylightSide asks for a response to daylight along the windows.
var DaylightSide = rule.Rule{
	ID: "energycode-daylight-side", Title: "General lighting at windows does not answer daylight as the code asks", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Lights at the glass burn by day at full: the largest part of what daylight control can save.",
	Source:  source,
	Example: "ASHRAE 90.1-2019: 150 W of general lighting in the primary area must dim to 20 % and then go off; with 149.9 W nothing is asked.",
	Claims:  []code.Control{code.DaylightSide}, Excepts: excepted(code.DaylightSide),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.DaylightSide), answerDaylight) },
	Fires: func() *domaintest.Builder {
		return sidelit("no")
	},
	Quiet: func() *domaintest.Builder {
		return sidelit("yes")
	},
}

// answerDaylight lets a daylight sensor act on loads, and an intent dim them as far as
// the code asks.
func answerDaylight(m *mending) {
	var bare []*rule.Load
	for _, l := range m.short() {
		k := m.known(l)
		switch {
		case k == nil || !k.Dims || m.astride(l.ID):
			m.stuck = true
			return
		case k.Daylight == nil:
			bare = append(bare, l)
		default:
			m.deeper(m.changes(domain.ByDaylight, l), k)
		}
	}
	if len(bare) == 0 {
		return
	}
	settings := []string{"lowest", percent(10)}
	if q := m.c.Pack.Parameter(code.DaylightSide, "then_off"); q != nil {
		settings = append(settings, "may_off", "yes")
	}
	rows := m.rows(bare)
	for i := range rows {
		m.dims(&rows[i], settings)
	}
}

// astride tells that a load hangs in more than one daylight area: how to divide it is a
// person's to say.
func (m *mending) astride(load domain.ID) bool {
	z, n := m.c.Facts.Zones, 0
	for _, area := range []*code.Zone{&z.Primary, &z.Secondary, &z.Toplit} {
		if slices.Contains(area.Loads, load) {
			n++
		}
	}
	return n > 1
}

// deeper lets daylight intents take a load as low as the code asks.
func (m *mending) deeper(intents []*domain.Intent, k *code.Load) {
	for _, in := range intents {
		path := "intents/" + string(in.ID)
		if q := m.c.Pack.Parameter(code.DaylightSide, "dim_to"); q != nil && float64(in.Lowest) > q.Value {
			if float64(k.Lowest) > q.Value {
				m.stuck = true // the luminaires themselves go no lower
				return
			}
			m.set(path+"/lowest", percent(q.Value))
			m.say("dim to %s %% by daylight", percent(q.Value))
		}
		if m.c.Pack.Parameter(code.DaylightSide, "then_off") != nil && !in.MayOff {
			m.set(path+"/may_off", "yes")
			m.say("let daylight turn the light off")
		}
	}
}
