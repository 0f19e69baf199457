package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// Burst plays the burst of messages that capacity-broadcasts reckons with.
var Burst = rule.Rule{
	ID: "sequence-burst", Title: "Messages refused when all report at once", Severity: rule.Warning, Scope: rule.OfRoom, Deep: true,
	Limits:  []domain.LimitID{domain.BroadcastsPerWindow, domain.BroadcastWindow, domain.GroupIsBroadcast},
	Why:     "A message that is refused is not sent: a press at that moment does nothing, and a vacant report is lost.",
	Source:  "common practice; the window agrees with the broadcast delivery time of the Zigbee network layer, 9 s",
	Example: "A station of 4 buttons that are stepped through one a second, and 4 sensors that report vacant as it starts, pass: 8 messages; a fifth sensor does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.Burst, func(one *prove.Found) rule.Finding {
			limit := f.Limit(domain.BroadcastsPerWindow)
			out := rule.AtMost(float64(one.Sent), limit, "messages")
			var pairs []string
			for _, d := range one.Devices {
				dev := &f.Design.Devices[d]
				out.Subjects = append(out.Subjects, rule.Subject{Part: "devices", ID: dev.ID, Tag: dev.Tag})
				pairs = append(pairs, "devices/"+string(dev.ID)+"/sending", string(domain.ToLoads))
			}
			out.Message = fmt.Sprintf("All sensors report vacant while someone steps through the buttons, one a second: %d messages to the whole room in the worst %s s, limit %s, %d of all are refused. Messages to linked loads one by one take no place.", one.Sent, rule.Number(f.Limit(domain.BroadcastWindow)), rule.Number(limit), one.Lost)
			out.Fix = rule.SetFields("Let "+rule.Tags(out.Subjects)+" send to linked loads", pairs...)
			return out
		})
	},
	Fires: func() *domaintest.Builder { return calling(5) },
	Quiet: func() *domaintest.Builder { return calling(4) },
}

// calling gives a room of a station of 4 buttons and sensors that send to the whole room.
func calling(sensors int) *domaintest.Builder {
	b := switched().Link("st", 3, domain.Press, "l1", "UP").Link("st", 4, domain.Press, "l1", "DN").Set("devices/st/sending", "room")
	for i := range sensors {
		id := domain.ID(fmt.Sprint("ps", i))
		b.Device(id, "ps-ceiling").Set("devices/"+string(id)+"/presence", "vacancy", "devices/"+string(id)+"/sending", "room").Link(id, 0, "", "l1", "ACT")
	}
	return b
}
