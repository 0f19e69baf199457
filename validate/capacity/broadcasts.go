package capacity

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/radio"
	"scopewright/validate/rule"
)

// Broadcasts asks that a plausible burst of messages to the whole room fits
// the radio: every broadcasting presence sensor reports vacant at once while a
// presenter steps through the buttons of every broadcasting station, one a
// second.
var Broadcasts = rule.Rule{
	ID: "capacity-broadcasts", Title: "More broadcasts at once than the radio carries", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.BroadcastsPerWindow, domain.BroadcastWindow, domain.GroupIsBroadcast},
	Why:     "A broadcast that finds no place is not sent: a button pressed at that moment does nothing.",
	Source:  "common practice; the window agrees with the broadcast delivery time of the Zigbee network layer, 9 s",
	Example: "8 messages within 9 s pass; a ninth is refused. 2 stations of 4 buttons in use pass, with one sensor more 1 message is refused. Stations and sensors that send to linked loads take no place.",
	Check: func(f *rule.Facts) []rule.Finding {
		times, sources := burst(f)
		most, window := f.Limit(domain.BroadcastsPerWindow), int(f.Limit(domain.BroadcastWindow)*1000)
		if float64(len(times)) <= most {
			return nil
		}
		slices.Sort(times)
		refused := radio.Refused(times, int(most), window)
		if len(refused) == 0 {
			return nil
		}
		return []rule.Finding{refusal(times, refused, most, window, sources)}
	},
	Fires: func() *domaintest.Builder { return calling(domain.ToRoom) },
	Quiet: func() *domaintest.Builder { return calling(domain.ToLoads) },
}

// burst gives the times of its messages in milliseconds, and who sends them.
func burst(f *rule.Facts) (times []int, sources []rule.Subject) {
	groups := f.Limit(domain.GroupIsBroadcast) != 0
	for i := range f.Devices {
		d := &f.Devices[i]
		if d.Sending != domain.ToRoom && !(groups && d.Sending == domain.ToGroup) {
			continue
		}
		before := len(times)
		switch {
		case d.Traits.Presence:
			times = append(times, 0)
		case d.Station():
			for n := 1; n <= d.Type.Buttons; n++ {
				if sends(f, d, n) {
					times = append(times, 1000*(len(times)-before))
				}
			}
		}
		if len(times) > before {
			sources = append(sources, d.Subject())
		}
	}
	return times, sources
}

func sends(f *rule.Facts, d *rule.Device, button int) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.From == d && k.Button == button && k.Does() {
			return true
		}
	}
	return false
}

func refusal(times, refused []int, most float64, window int, sources []rule.Subject) rule.Finding {
	lost, at := 0, 0
	for _, last := range refused {
		n := 0
		for _, r := range refused {
			if times[r] <= times[last] && times[r] > times[last]-window {
				n++
			}
		}
		if n > lost {
			lost, at = n, times[last]
		}
	}
	sent := 0
	for _, t := range times {
		if t <= at && t > at-window {
			sent++
		}
	}
	out := rule.AtMost(float64(sent), most, "messages")
	out.Subjects = sources
	out.Message = fmt.Sprintf("Up to %d broadcasts within %s s from %s, limit %s: %s. Let them send to linked loads.",
		sent, rule.Number(float64(window)/1000), rule.Tags(sources), rule.Number(most), refusedWords(lost))
	var pairs []string
	for _, s := range sources {
		pairs = append(pairs, "devices/"+string(s.ID)+"/sending", string(domain.ToLoads))
	}
	out.Fix = rule.SetFields("Let "+rule.Tags(sources)+" send to linked loads", pairs...)
	return out
}

func refusedWords(n int) string {
	if n == 1 {
		return "1 message is refused in the worst window"
	}
	return fmt.Sprintf("%d messages are refused in the worst window", n)
}
