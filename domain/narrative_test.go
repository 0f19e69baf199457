package domain_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
)

func TestNarrative_saysItInAnOwnersWords(t *testing.T) {
	b := domaintest.Classroom()
	e := domain.Env{Project: b.P, Design: &b.R.Design}
	for want, in := range map[string]domain.Intent{
		`The lights stay off until someone asks for them; when the last person has gone, they give a warning and then go off.`:                                 domain.NewIntent("x", domain.ByPresence),
		`When someone comes in, the lights go to "Teach"; when the last person has gone, they go down to a low level.`:                                         {Kind: domain.ByPresence, Enters: true, Scene: 1, OffLevel: 20, Delay: 600},
		`When the presentation system asks for "screen down", the lights of "Front" and "Board" go to "Present".`:                                              {Kind: domain.ByAV, Command: "screen down", Scene: 2, Loads: []domain.ID{"l1", "l4"}},
		`At 22:00 (Mon-Fri) the lights give a warning and then go off, but not while people are in; who needs light later asks for it and has it for a while.`: {Kind: domain.BySchedule, OffAt: "22:00", Days: "Mon-Fri", Warning: 300, WarnTo: 50, Spares: true, Override: 7200},
		`At 06:30 normal use begins.`:                                               {Kind: domain.BySchedule, OnAt: "06:30", Do: domain.SetMode},
		`When the partition is opened, the room works as one.`:                      {Kind: domain.ByContact, Command: "open", Do: domain.PartitionJoins},
		`In an emergency the lights are held fully on, whatever else is asked for.`: {Kind: domain.OnEmergency, Level: 100},
		`Not during an event: as daylight comes in, the lights of "Window row" dim so that it stays evenly light, and never go off by themselves. This was asked for: owner's brief, 400 lx.`: {
			Kind: domain.ByDaylight, Target: 400, Loads: []domain.ID{"l3"}, Unless: true, Modes: []domain.Mode{domain.EventMode}, Source: "owner's brief, 400 lx."},
	} {
		assert.Equal(t, want, in.Narrative(e))
	}
}

// The owner's prose holds no device words (reference: narrative of the trade, no
// numbers but what the owner decides: times of day).
func TestNarrative_holdsNoDeviceWordsAndNoNumbers(t *testing.T) {
	device := regexp.MustCompile(`(?i)sensor|station|button|controller|gateway|interface|device|luminaire|driver|\bload|relay|dimmer|\bL\d|%|\blx\b|\d+ (s|min|h)\b`)
	clock := regexp.MustCompile(`\d\d:\d\d`)
	number := regexp.MustCompile(`\d`)
	rapid.Check(t, func(t *rapid.T) {
		b := domaintest.Classroom()
		in := drawIntent(t, b)
		in.Source = ""
		said := in.Narrative(domain.Env{Project: b.P, Design: &b.R.Design})
		assert.NotRegexp(t, device, said)
		assert.NotRegexp(t, number, clock.ReplaceAllString(said, ""))
		assert.Equal(t, 1, strings.Count(said, "."), "one sentence that the owner can agree to: %s", said)
		assert.Regexp(t, `^[A-Z].*\.$`, said)
		assert.NotContains(t, said, "%!")
	})
}

// drawIntent makes an intent of any kind with all that it may say.
func drawIntent(t *rapid.T, b *domaintest.Builder) domain.Intent {
	in := domain.NewIntent("x", rapid.SampledFrom(domain.IntentKinds()).Draw(t, "kind"))
	e := domain.Env{Project: b.P, Design: &b.R.Design}
	pick := map[string][]string{"modes": {"", "cleaning", "event, normal"}, "people": {"", "occupied", "vacant"}, "partition": {"", "open", "closed"}, "command": {"closed", "open"},
		"on_at": {"", "06:30", "sunset+00:15"}, "off_at": {"", "22:00"}, "from": {"", "07:00"}, "until": {"", "18:30"}, "days": {"", "Mon-Fri not holidays"}, "restore": {"last level", "level", "off", "full"}}
	for _, f := range domain.IntentFields(in.Kind) {
		switch {
		case f.Name == "do":
			in.Do = domain.Response(rapid.SampledFrom(f.Choices(e, &in)).Draw(t, "do").Value)
		case f.Name == "mode":
			in.Mode = rapid.SampledFrom(domain.Modes()).Draw(t, "mode")
		case f.Name == "scene":
			in.Scene = rapid.IntRange(0, 2).Draw(t, "scene")
		case f.Name == "loads":
			if rapid.Bool().Draw(t, "some loads") {
				in.Loads = []domain.ID{"l1", "l3"}
			}
		case f.Name == "device" || f.Name == "source":
		case pick[f.Name] != nil:
			if err := f.Set(e, &in, rapid.SampledFrom(pick[f.Name]).Draw(t, f.Name)); err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
		case strings.HasSuffix(f.Name, "_s") && f.Name != "rate_pct_s":
			if err := f.Set(e, &in, fmt.Sprintf("%d s", rapid.IntRange(0, 600).Draw(t, f.Name))); err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
		default:
			if err := f.Set(e, &in, rapid.SampledFrom([]string{"", "5", "35"}).Draw(t, f.Name)); err != nil {
				_ = f.Set(e, &in, rapid.SampledFrom([]string{"", "yes"}).Draw(t, f.Name))
			}
		}
	}
	return in
}

func TestDelay_isTheLongestThatASensorStates(t *testing.T) {
	b := domaintest.Classroom().Device("ps2", "ps-ceiling").Link("ps2", 0, "", "l1", "ACT")
	in := b.R.Design.Intent("i2")
	e := domain.Env{Project: b.P, Design: &b.R.Design}
	assert.Contains(t, in.Sentence(e), "vacant for 20 min, all lighting loads")
	b.Set("devices/ps2/delay_s", "25 min")
	in, e.Design = b.R.Design.Intent("i2"), &b.R.Design
	assert.Equal(t, units.Seconds(1500), in.DelayFor(b.P, &b.R.Design, "l1"))
	assert.Equal(t, units.Seconds(1200), in.DelayFor(b.P, &b.R.Design, "l2"))
	assert.Contains(t, in.Sentence(e), "vacant for 25 min (L1) or 20 min (L2, L3 and L4), all lighting loads")
	b.Set("devices/ps/delay_s", "5 min")
	e.Design = &b.R.Design
	assert.Contains(t, b.R.Design.Intent("i2").Sentence(e), "vacant for 25 min (L1) or 5 min (L2, L3 and L4)")
}

func TestSentence_scenesComeInTheirOwnFades(t *testing.T) {
	b := domaintest.Classroom().Set("scenes/s1/levels/l1", "100", "scenes/s1/levels/l2", "100", "scenes/s1/levels/l3", "100", "scenes/s1/levels/l4", "100", "scenes/s2/levels/l3", "30")
	e := domain.Env{Project: b.P, Design: &b.R.Design}
	in := domain.Intent{Kind: domain.ByAV, Command: "x", Scene: 2, Fade: 4, Loads: []domain.ID{"l1", "l2"}}
	assert.Contains(t, in.Sentence(e), `scene 2 "Present" in the scene's own fades.`)
	in.Loads = nil // the window row has no fade in the scene
	assert.Contains(t, in.Sentence(e), `scene 2 "Present" in 4 s, but in the scene's own fades where it has them.`)
	in.Scene = 1
	assert.Contains(t, in.Sentence(e), `scene 1 "Teach" in 4 s.`)
}

func TestSentence_saysWhatAPressDoesAfterTheSchedule(t *testing.T) {
	in := domain.NewIntent("x", domain.BySchedule)
	assert.Contains(t, in.Sentence(domain.Env{}), "A press after that, until 06:00, brings them back for 2 h; each press renews it, and the warning comes before the end.")
	in.OnAt, in.Warning, in.Level = "07:00", 0, 100
	assert.Contains(t, in.Sentence(domain.Env{}), "A press after that, until the next on, brings them back for 2 h; each press renews it.")
	in.Override = 0
	assert.Contains(t, in.Sentence(domain.Env{}), "A press after that brings them back for good.")
}

func TestLasts_isTheHoldOfTheLoads(t *testing.T) {
	b := domaintest.Classroom()
	e := domain.Env{Project: b.P, Design: &b.R.Design}
	assert.Equal(t, "for 30 min, or until the room is vacant", b.R.Design.Intent("i1").Lasts(e))
	av := domain.NewIntent("x", domain.ByAV)
	assert.Equal(t, "for 30 min, or until the room is vacant", av.Lasts(e))
	assert.Equal(t, domain.ClassManual, av.Class())
	assert.Equal(t, "until the next command", b.R.Design.Intent("i2").Lasts(e))
}
