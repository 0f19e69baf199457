package sequence

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// proven gives the findings of one kind that exploring the room has made. Each
// names what it concerns and the shortest steps that lead there.
func proven(f *rule.Facts, kind prove.Kind, say func(*prove.Found) rule.Finding) []rule.Finding {
	if f.Proof == nil {
		return nil
	}
	var out []rule.Finding
	for i := range f.Proof.Found {
		if one := &f.Proof.Found[i]; one.Kind == kind {
			finding := say(one)
			finding.Steps = one.Steps
			if len(finding.Subjects) == 0 {
				finding.Subjects = []rule.Subject{{Part: "facts", ID: "number", Tag: f.Room.Number}}
			}
			out = append(out, finding)
		}
	}
	return out
}

// about starts a finding about a load.
func about(f *rule.Facts, l int) rule.Finding {
	load := &f.Design.Loads[l]
	return rule.Finding{Key: string(load.ID), Subjects: []rule.Subject{rule.LoadSubject(load)}}
}

// ways tells steps in words: "ST-1 button On is pressed; after 20 min PS-1 reports
// vacant". What is expected in the end is left out, but not when.
func ways(f *rule.Facts, steps []domain.ScenarioStep) string {
	e := domain.Env{Project: f.Project, Design: f.Design}
	var parts []string
	now := units.Seconds(0)
	for i := range steps {
		st := &steps[i]
		after := ""
		if st.At > now {
			after = "after " + units.Duration(st.At-now)
		}
		now = max(now, st.At)
		switch {
		case st.Happen != domain.Expect:
			parts = append(parts, strings.TrimSpace(after+" "+st.Sentence(e)))
		case after != "":
			parts = append(parts, after)
		}
	}
	if len(parts) == 0 {
		return "nothing at all"
	}
	return strings.Join(parts, "; ")
}

// switched gives a room of one load with a station, 1 on and 2 off, and a contact.
func switched() *domaintest.Builder {
	return domaintest.Room().Load("l1", "a", 4).Device("lc", "lc-1").Device("st", "st-4-mains").Device("cn", "cn-2").Carry("l1", "lc", 1).Intent("hand", domain.ByHand).
		Link("st", 1, domain.Press, "l1", "100").Link("st", 2, domain.Press, "l1", "0")
}

// locked lets the contact lock the load when it closes.
func locked(level string) *domaintest.Builder {
	return switched().Intent("lock", domain.ByContact).Set("intents/lock/device", "CN-1", "intents/lock/command", "closed", "intents/lock/do", "locks at the level", "intents/lock/level", level)
}

// freed lets it go when the contact opens.
func freed(b *domaintest.Builder) *domaintest.Builder {
	return b.Intent("free", domain.ByContact).Set("intents/free/device", "CN-1", "intents/free/command", "open", "intents/free/do", "releases")
}

// pressed starts a finding about a button.
func pressed(f *rule.Facts, one *prove.Found) rule.Finding {
	d := &f.Design.Devices[one.Device]
	return rule.Finding{Key: string(d.ID) + "." + d.ButtonName(one.Button), Subjects: []rule.Subject{{Part: "devices", ID: d.ID, Tag: d.Tag}}}
}

// afterCleaning gives a vacancy room in which a mode ends by its time, with the
// level that the load then goes to.
func afterCleaning(level string) *domaintest.Builder {
	return switched().Device("ps", "ps-ceiling").Set("devices/ps/presence", "vacancy").Link("ps", 0, "", "l1", "ACT").Intent("people", domain.ByPresence).
		Intent("clean", domain.ByAV).Set("intents/clean/command", "clean", "intents/clean/do", "sets the mode", "intents/clean/mode", "cleaning", "intents/clean/hold_s", "1 h").
		Intent("normal", domain.OnMode).Set("intents/normal/mode", "normal", "intents/normal/level", level)
}

// answered gives a room with two intents for one AV command.
func answered(a, b string) *domaintest.Builder {
	return switched().Intent("one", domain.ByAV).Intent("two", domain.ByAV).
		Set("intents/one/level", a, "intents/two/level", b, "intents/one/command", "go", "intents/two/command", "go", "intents/one/scene", "", "intents/two/scene", "")
}

// asked adds an AV command that counts only while people are there.
func asked(b *domaintest.Builder) *domaintest.Builder {
	return b.Intent("av", domain.ByAV).Set("intents/av/scene", "", "intents/av/level", "50", "intents/av/people", "occupied")
}
