package validate_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// startingRooms are rooms as they may be before anybody wrote an intent.
func startingRooms() map[string]*domaintest.Builder {
	occupied := func() *domaintest.Builder { return domaintest.Classroom().Set("devices/ps/presence", "occupancy") }
	return map[string]*domaintest.Builder{
		"vacancy sensor":   domaintest.Classroom(),
		"occupancy sensor": occupied(),
		"AV and contact":   domaintest.Classroom().Working(1, "av-serial").Working(1, "cn-2"),
		"egress lighting": occupied().Set("loads/l4/egress", "yes", "loads/l4/bypass", "Bypass relay, listed", "scenes/s2/levels/l4", "20").
			Link("st", 4, domain.Press, "l4", "20"),
		"switched": domaintest.Room().Load("l1", "s", 4).Device("wb", "wb-switch").Device("ps", "ps-ceiling").Set("devices/ps/presence", "occupancy", "devices/ps/parent", "WB-1").
			Carry("l1", "wb", 1).Link("wb", 1, domain.Press, "l1", "100").Link("wb", 2, domain.Press, "l1", "0").Link("ps", 0, "", "l1", "ACT"),
		"egress switched": domaintest.Room().Load("l1", "s", 4).Device("lc", "lc-sw-2").Device("ps", "ps-ceiling").
			Set("devices/ps/presence", "occupancy", "devices/ps/parent", "LC-1", "loads/l1/egress", "yes", "loads/l1/bypass", "Bypass relay, listed").Carry("l1", "lc", 1).Link("ps", 0, "", "l1", "ACT"),
		"nothing but a station": domaintest.Room().Load("l1", "a", 4).Device("lc", "lc-1").Device("st", "st-2-battery").Set("devices/st/parent", "LC-1").
			Carry("l1", "lc", 1).Link("st", 1, domain.Press, "l1", "100").Link("st", 2, domain.Press, "l1", "0"),
		"empty": domaintest.Room(),
	}
}

// Whatever a room is for, the intents to start from bring no error that it did
// not have without them.
func TestStartingIntents_bringNoError(t *testing.T) {
	for name, b := range startingRooms() {
		for _, use := range domain.Uses() {
			b.Set("facts/use", string(use.Use))
			for len(b.R.Design.Intents) > 0 {
				b.Do(edit.Remove{Part: "intents", ID: b.R.Design.Intents[0].ID})
			}
			before := errorsOf(room(b))
			list := propose.StartingIntents(b.P, use.Use, &b.R.Design)
			if len(list) == 0 {
				continue
			}
			for i := range list {
				list[i].ID = domain.ID("start" + string(rune('a'+i)))
				assert.NotEmpty(t, list[i].Sentence(domain.Env{Project: b.P, Design: &b.R.Design}))
			}
			b.Do(edit.StartIntents{Intents: list})
			require.Len(t, b.R.Design.Intents, len(list))
			for key, message := range errorsOf(room(b)) {
				assert.Contains(t, before, key, "%s, %s: %s", name, use.Name, message)
			}
		}
	}
}

func errorsOf(found []rule.Finding) map[string]string {
	out := map[string]string{}
	for _, f := range found {
		if f.Severity == rule.Error {
			out[f.Rule+" "+f.Key] = f.Message
		}
	}
	return out
}
