package sheet_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
	"scopewright/export/sheet"
)

// This file reads the printed sequence of operations back, as a technician would, and
// compares each number with the one that runs.

const (
	timeOnPaper  = `((?:\d+ h|[\d.]+ min(?: [\d.]+ s)?|[\d.]+ s))`
	shareOnPaper = `([\d.]+) %`
	clockOnPaper = `(\d\d:\d\d|midnight|sun(?:rise|set)(?:[+-]\d\d:\d\d)?)`
)

// readings are the phrases that carry numbers, with what each number is. A phrase that has
// been read is struck out, so that what is left over shows.
var readings = []struct {
	phrase *regexp.Regexp
	fields []string
}{
	{regexp.MustCompile(`counts for ` + timeOnPaper + `, or until`), []string{"counts"}},
	{regexp.MustCompile(`counts until ` + clockOnPaper), []string{"counts until"}},
	{regexp.MustCompile(`from ` + clockOnPaper + ` until ` + clockOnPaper), []string{"from", "until"}},
	{regexp.MustCompile(`daylight is below ([\d.]+) fc`), []string{"darker"}},
	{regexp.MustCompile(`daylight is above ([\d.]+) fc`), []string{"brighter"}},
	{regexp.MustCompile(`dips? to ` + shareOnPaper + ` of (?:its|their) level for ` + timeOnPaper + ` as a warning`), []string{"dip", "warning"}},
	{regexp.MustCompile(`vacant for ` + timeOnPaper), []string{"delay"}},
	{regexp.MustCompile(`silent for ` + timeOnPaper + ` counts`), []string{"watchdog"}},
	{regexp.MustCompile(`moving within ` + timeOnPaper), []string{"relight"}},
	{regexp.MustCompile(`relight (?:it|them) for ` + timeOnPaper), []string{"hold"}},
	{regexp.MustCompile(`for at most ` + timeOnPaper), []string{"hold"}},
	{regexp.MustCompile(`by itself after ` + timeOnPaper), []string{"hold"}},
	{regexp.MustCompile(`asks again after ` + timeOnPaper), []string{"again"}},
	{regexp.MustCompile(`A press after that, until ` + clockOnPaper), []string{"morning"}},
	{regexp.MustCompile(`brings (?:it|them) back for ` + timeOnPaper), []string{"override"}},
	{regexp.MustCompile(`by ` + shareOnPaper + ` of full output at a press`), []string{"step"}},
	{regexp.MustCompile(`by ` + shareOnPaper + ` a second`), []string{"rate"}},
	{regexp.MustCompile(`, between ` + shareOnPaper + ` and ` + shareOnPaper), []string{"lowest", "highest"}},
	{regexp.MustCompile(`, not below ` + shareOnPaper), []string{"lowest"}},
	{regexp.MustCompile(`, not above ` + shareOnPaper), []string{"highest"}},
	{regexp.MustCompile(`over ` + timeOnPaper + ` to hold`), []string{"fade"}},
	{regexp.MustCompile(`([\d.]+) fc together`), []string{"target"}},
	{regexp.MustCompile(`At ` + clockOnPaper + `(?: \(([^)]*)\))?, the room goes`), []string{"on", "days"}},
	{regexp.MustCompile(`At ` + clockOnPaper + `(?: \(([^)]*)\))?, [^.:]* (?:#|go(?:es)? off)`), []string{"off", "days"}},
	{regexp.MustCompile(`At ` + clockOnPaper + `(?: \(([^)]*)\))?, `), []string{"on", "days"}},
	{regexp.MustCompile(`enters, [^.]*? go(?:es)? to scene (\d+)`), []string{"scene"}},
	{regexp.MustCompile(`enters, [^.]*? go(?:es)? to ` + shareOnPaper), []string{"level"}},
	{regexp.MustCompile(`(?:vacan|then |report)[^.]*? go(?:es)? to ` + shareOnPaper), []string{"off level"}},
	{regexp.MustCompile(`go(?:es)? to scene (\d+)`), []string{"scene"}},
	{regexp.MustCompile(`(?:go(?:es)? to|locked at|capped at) ` + shareOnPaper), []string{"level"}},
	{regexp.MustCompile(`(?: reached)? in ` + timeOnPaper), []string{"fade"}},
}

var tagOnPaper = regexp.MustCompile(`\b(L|R|AV-|CN-)\d+\b`)

// readStatement gives the numbers of a statement by what they are; left is what holds a
// digit and was not understood.
func readStatement(text string) (read map[string][]string, left string) {
	read = map[string][]string{}
	left = tagOnPaper.ReplaceAllString(text, "$1")
	for _, r := range readings {
		for _, m := range r.phrase.FindAllStringSubmatch(left, -1) {
			for i, name := range r.fields {
				if m[i+1] != "" && !slices.Contains(read[name], m[i+1]) {
					read[name] = append(read[name], m[i+1])
				}
			}
		}
		left = r.phrase.ReplaceAllString(left, "#")
	}
	return read, left
}

// footcandles prints an illuminance as paper of a US project has it, without its unit.
func footcandles(e units.Lux) string { return units.Trim(float64(e)/10.763910, 1) }

// runs lists what an intent's numbers are as the room runs them, in the words of paper.
func runs(in *domain.Intent, d *domain.Design) map[string][]string {
	out := map[string][]string{}
	say := func(when bool, name, value string) {
		if when {
			out[name] = []string{value}
		}
	}
	duration := func(name string, s units.Seconds) { say(s > 0, name, units.Duration(s)) }
	share := func(when bool, name string, l units.Level) { say(when, name, units.Trim(float64(l), 1)) }
	if in.From != "" || in.Until != "" {
		say(true, "from", or(in.From, "midnight"))
		say(true, "until", or(in.Until, "midnight"))
	}
	say(in.DarkerThan > 0, "darker", footcandles(in.DarkerThan))
	say(in.BrighterThan > 0, "brighter", footcandles(in.BrighterThan))
	goes := func() {
		if in.GoesTo() {
			share(in.GoesToLevel(), "level", in.Level)
			say(!in.GoesToLevel(), "scene", strconv.Itoa(in.Scene))
		}
	}
	fades := func() {
		if in.Do == domain.GoTo || in.Do == domain.Lock || in.Do == domain.ToggleLoads && in.Kind != domain.OnMode || in.Do == domain.GoBack && in.Kind != domain.OnMode {
			duration("fade", in.Fade)
		}
	}
	switch in.Kind {
	case domain.ByHand:
		duration("fade", in.Fade)
		duration("hold", in.Hold)
		duration("counts", in.Hold)
		say(true, "step", "10")
		say(true, "rate", units.Trim(in.RampRate(), 1))
		share(in.Lowest > 0, "lowest", in.Lowest)
		share(in.Highest > 0, "highest", in.Highest)
	case domain.ByPresence:
		goes()
		duration("fade", in.Fade)
		say(true, "delay", units.Duration(in.DelayFor(domaintest.Project(units.US), d, "l1")))
		duration("warning", in.Warning)
		share(in.Warning > 0, "dip", in.WarnTo)
		share(in.OffLevel > 0, "off level", in.OffLevel)
		duration("relight", in.Relight)
		duration("watchdog", in.Watchdog)
	case domain.ByDaylight:
		duration("fade", in.Fade)
		say(true, "target", footcandles(in.Target))
		share(true, "lowest", in.Lowest)
	case domain.BySchedule:
		scheduleRuns(in, say, duration, share)
	case domain.ForReceptacles:
		say(true, "delay", units.Duration(in.Delay))
	case domain.ByAV, domain.ByContact:
		goes()
		fades()
		if in.Do == domain.SetMode || in.Do == domain.HoldAutomatic {
			duration("hold", in.Hold)
		}
		if in.Do == domain.HoldAutomatic {
			duration("counts", in.Hold)
		}
		if in.Do == domain.GoTo || in.Do == domain.ToggleLoads || in.Do == domain.GoBack {
			duration("counts", 1800) // hold of the room's "by hand"
		}
	case domain.OnMode:
		goes()
		fades()
		duration("hold", in.Hold)
	case domain.OnDemandResponse:
		share(true, "level", in.Level)
		duration("fade", in.Fade)
	case domain.OnEmergency, domain.OnNetworkLoss:
		share(true, "level", in.Level)
	case domain.OnPowerBack:
		share(in.Restore == domain.RestoreSet, "level", in.Level)
	}
	return out
}

func scheduleRuns(in *domain.Intent, say func(bool, string, string), duration func(string, units.Seconds), share func(bool, string, units.Level)) {
	say(in.OnAt != "", "on", in.OnAt)
	if in.Do == domain.SetMode {
		say(in.OnAt != "" && in.Days != "", "days", in.Days)
		return
	}
	say(in.Days != "" && in.OnAt+in.OffAt != "", "days", in.Days)
	if in.GoesTo() {
		share(in.GoesToLevel(), "level", in.Level)
		say(!in.GoesToLevel(), "scene", strconv.Itoa(in.Scene))
	}
	if in.OnAt+in.OffAt != "" {
		duration("fade", in.Fade)
	}
	say(in.OnAt != "" && in.OffAt != "", "counts until", in.OffAt)
	if in.OffAt == "" {
		return
	}
	say(true, "off", in.OffAt)
	duration("warning", in.Warning)
	share(in.Warning > 0, "dip", in.WarnTo)
	if in.Spares {
		duration("again", in.AgainAfter())
	}
	duration("override", in.Override)
	say(in.Override > 0 && in.OnAt == "", "morning", "06:00")
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// drawIntent makes an intent of any kind in which everything that counts may be said.
func drawIntent(t *rapid.T, id domain.ID, d *domain.Design) domain.Intent {
	in := domain.Intent{ID: id, Seq: 10, Kind: rapid.SampledFrom(domain.IntentKinds()).Draw(t, "kind"), Command: "screen down"}
	var e domain.Env
	e.Design = d
	has := map[string]bool{}
	for _, f := range domain.IntentFields(in.Kind) {
		has[f.Name] = true
		if f.Name == "do" {
			in.Do = domain.Response(rapid.SampledFrom(f.Choices(e, &in)).Draw(t, "do").Value)
		}
	}
	seconds := func(name string) units.Seconds {
		if !has[name] {
			return 0
		}
		return units.Seconds(rapid.SampledFrom([]int{0, 0, 1, 5, 59, 60, 90, 600, 725, 1200, 3600, 7200, 5400}).Draw(t, name))
	}
	level := func(name string) units.Level {
		if !has[name] {
			return 0
		}
		return units.Level(rapid.SampledFrom([]float64{0, 1, 12.5, 33, 50, 80, 100}).Draw(t, name))
	}
	text := func(name string, of ...string) string {
		if !has[name] {
			return ""
		}
		return rapid.SampledFrom(append(of, "")).Draw(t, name)
	}
	in.Level, in.OffLevel, in.WarnTo, in.Lowest, in.Highest = level("level"), level("off_level"), level("warn_to"), level("lowest"), level("highest")
	in.Fade, in.Delay, in.Warning, in.Hold, in.Override, in.Again, in.Watchdog, in.Relight = seconds("fade_s"), seconds("delay_s"), seconds("warning_s"), seconds("hold_s"), seconds("override_s"), seconds("again_s"), seconds("watchdog_s"), seconds("relight_s")
	if has["scene"] {
		in.Scene = rapid.IntRange(0, 2).Draw(t, "scene")
	}
	if has["rate_pct_s"] {
		in.Rate = rapid.SampledFrom([]float64{0, 5, 12.5}).Draw(t, "rate")
	}
	if has["target_lx"] {
		in.Target = units.Lux(rapid.IntRange(50, 900).Draw(t, "target"))
	}
	for name, at := range map[string]*bool{"enters": &in.Enters, "may_off": &in.MayOff, "spares_people": &in.Spares, "yields": &in.Yields, "unless": &in.Unless} {
		if has[name] {
			*at = rapid.Bool().Draw(t, name)
		}
	}
	in.OnAt, in.OffAt, in.Days = text("on_at", "06:30", "sunrise", "sunset+00:15"), text("off_at", "22:00", "sunset-01:00"), text("days", "Mon-Fri not holidays", "Sat")
	in.From, in.Until = text("from", "07:00"), text("until", "18:45", "sunset")
	in.DarkerThan, in.BrighterThan = units.Lux(rapid.SampledFrom([]int{0, 150}).Draw(t, "darker")), units.Lux(rapid.SampledFrom([]int{0, 80}).Draw(t, "brighter"))
	if has["mode"] {
		in.Mode = rapid.SampledFrom(domain.Modes()).Draw(t, "mode")
	}
	if has["restore"] {
		in.Restore = rapid.SampledFrom([]domain.Restore{domain.RestoreLast, domain.RestoreOff, domain.RestoreSet, domain.RestoreFull}).Draw(t, "restore")
	}
	if in.Kind != domain.ForReceptacles && rapid.Bool().Draw(t, "some loads") {
		in.Loads = []domain.ID{"l1", "l2", "l3"}[:rapid.IntRange(1, 3).Draw(t, "loads")]
	}
	return in
}

func TestSequence_everyNumberOnPaperIsTheOneThatRuns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := domaintest.Classroom()
		in := drawIntent(t, "x", &b.R.Design)
		for i := range b.R.Design.Scenes { // scenes without fades of their own, so that the intent's counts
			for j := range b.R.Design.Scenes[i].Levels {
				b.R.Design.Scenes[i].Levels[j].Fade = 0
			}
		}
		if rapid.Bool().Draw(t, "sensor has its own delay") {
			b.R.Design.Device("ps").Delay = 900
		}
		b.R.Design.Intents = append(b.R.Design.Intents, in)
		require.NoError(t, b.R.Settle())
		d := &b.R.Design
		if in.Kind == domain.ForReceptacles && d.Device("ps").Delay > 0 {
			in.Delay = 900
		}
		printed := statementsOf(sheet.SequenceOfOperations(open(t, input(b)))[0])
		sentence := statementOf(d.Intent("x"), domain.Env{Project: b.P, Design: d})
		twins := 0
		for i := range d.Intents {
			if statementOf(&d.Intents[i], domain.Env{Project: b.P, Design: d}) == sentence {
				twins++
			}
		}
		require.Equal(t, twins, countOf(printed, sentence), "the intent is printed once")
		read, left := readStatement(strings.TrimPrefix(sentence, in.Kind.Title()+": "))
		assert.Equal(t, runs(&in, d), read, sentence)
		assert.NotRegexp(t, `\d`, left, "a number that nobody can tell the meaning of, in %s", sentence)
	})
}

// What is read from paper is played, and the room does it at that time: the delay, the
// warning, the dip and the level behind it.
func TestSequence_aRoomDoesWhatIsReadFromPaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := domaintest.Classroom()
		in := b.R.Design.Intent("i2")
		in.Delay = units.Seconds(rapid.IntRange(2, 40).Draw(t, "delay") * 60)
		in.Warning, in.WarnTo = units.Seconds(rapid.IntRange(10, 300).Draw(t, "warning")), units.Level(rapid.IntRange(20, 90).Draw(t, "dip"))
		in.OffLevel, in.Fade = units.Level(rapid.SampledFrom([]int{0, 15}).Draw(t, "off level")), units.Seconds(rapid.IntRange(0, 5).Draw(t, "fade"))
		in.Loads = []domain.ID{"l1"}
		require.NoError(t, b.R.Settle())
		var text string
		for _, s := range statementsOf(sheet.SequenceOfOperations(open(t, input(b)))[0]) {
			if strings.HasPrefix(s, "Presence: ") {
				text = s
			}
		}
		read, _ := readStatement(text)
		delay, warning, fade := paperTime(t, read["delay"]), paperTime(t, read["warning"]), paperTime(t, read["fade"])
		dip, off := paperShare(read["dip"]), paperShare(read["off level"])

		s := sequence.Compile(b.P, &b.R.Design).NewState()
		require.NoError(t, s.Begin(sequence.Start{}))
		play := func(at sequence.Time, h domain.Happening, device domain.ID, button int) {
			e, err := sequence.Compile(b.P, &b.R.Design).EventOf(&domain.ScenarioStep{Happen: h, Device: device, Button: button, At: units.Seconds(float64(at) / 1000)})
			require.NoError(t, err)
			s.Do(e)
		}
		play(0, domain.Occupied, "ps", 0)
		play(1*sequence.Second, domain.Pressed, "st", 1)
		left := 10 * sequence.Second
		play(left, domain.Vacant, "ps", 0)
		const moment = sequence.Time(500)
		level := func(at sequence.Time) float64 {
			s.AdvanceTo(at)
			return s.Output(0, at)
		}
		assert.InDelta(t, 100, level(left+delay-moment), 0.01, "until the delay is over it stays: %s", text)
		assert.InDelta(t, max(10, dip), level(left+delay+warning-moment), 0.01, "it dips: %s", text) // type A dims to 10 %
		assert.InDelta(t, off, level(left+delay+warning+fade+moment), 0.01, "then it goes off: %s", text)
	})
}

func paperTime(t *rapid.T, read []string) sequence.Time {
	if len(read) == 0 {
		return 0
	}
	s, err := units.ParseDuration(read[0], "s")
	require.NoError(t, err)
	return sequence.Time(float64(s) * 1000)
}

func paperShare(read []string) float64 {
	if len(read) == 0 {
		return 0
	}
	v, err := strconv.ParseFloat(read[0], 64)
	if err != nil {
		panic(fmt.Sprintf("share %q: %v", read[0], err))
	}
	return v
}
