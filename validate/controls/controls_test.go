package controls

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// What a room must say of its controls is common practice, no published
// source, unless a test names one.

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

// pressed gives a room of one load and a station whose first button does one thing.
func pressed(cell string) *domaintest.Builder {
	return domaintest.Room().Load("l1", "a", 1).Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", cell)
}

func TestNoWayOnAndOff(t *testing.T) {
	for cell, want := range map[string][2]int{ // findings of no way on, no way off
		"100": {0, 1}, "0": {1, 0}, "TGL": {0, 0}, "UP": {0, 1}, "DN": {1, 1}, "LAST": {0, 1}, "-": {1, 1}, "": {1, 1},
	} {
		assert.Len(t, found(&NoWayOn, pressed(cell)), want[0], "cell %q", cell)
		assert.Len(t, found(&NoWayOff, pressed(cell)), want[1], "cell %q", cell)
	}
}

func TestNoWayOnAndOff_egress(t *testing.T) {
	b := pressed("-").Set("loads/l1/egress", "yes")
	assert.Empty(t, found(&NoWayOn, b), "it burns all the time")
	assert.Empty(t, found(&NoWayOff, b))
	assert.Len(t, found(&NoWayOn, pressed("0").Set("loads/l1/egress", "yes")), 1, "once off it stays dark")
}

func TestNoWayOnAndOff_receptaclesNeedASensor(t *testing.T) {
	b := domaintest.Room().Receptacle("r1").Device("ps", "ps-ceiling").Link("ps", 0, "", "r1", "ACT")
	assert.Contains(t, found(&NoWayOn, b)[0].Message, "receptacle intent")
	b.Do(edit.AddIntent{ID: "i", Kind: domain.ForReceptacles})
	assert.Empty(t, found(&NoWayOn, b))
	assert.Empty(t, found(&NoWayOff, b))
}

func TestButtonIdle_counts(t *testing.T) {
	got := found(&ButtonIdle, pressed("100"))
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "Button 2 of ST-1 does nothing")
	assert.Contains(t, found(&ButtonIdle, pressed("-"))[0].Message, "None of the 2 buttons of ST-1 does anything")
	b := domaintest.Room().Load("l1", "a", 1).Device("st", "st-4-mains").Link("st", 2, domain.Hold, "l1", "UP")
	got = found(&ButtonIdle, b)
	assert.Equal(t, 3.0, got[0].Measured, "holding is doing something")
	assert.Contains(t, got[0].Message, "3 buttons of ST-1 do nothing (1, 3 and 4)")
	assert.Empty(t, found(&ButtonIdle, domaintest.Room().Device("wb", "wb-dim")), "a wall box has its own load")
}

func TestInputIdle(t *testing.T) {
	for typ, want := range map[string]string{"ps-ceiling": "The presence sensor PS-1", "ds-open": "The daylight sensor DS-1", "cn-2": "The contact input CN-1", "av-serial": "The AV interface AV-1"} {
		got := found(&InputIdle, domaintest.Room().Device("x", typ))
		require.Len(t, got, 1, typ)
		assert.Contains(t, got[0].Message, want)
	}
	assert.Empty(t, found(&InputIdle, domaintest.Room().Device("gw", "gw-room").Device("rt", "rt-plug").Device("lc", "lc-1").Device("st", "st-2-battery")))
	b := domaintest.Room().Device("cn", "cn-2").Device("ps", "ps-wired").Set("devices/ps/fed_by", "CN-1")
	got := found(&InputIdle, b)
	require.Len(t, got, 1, "the contact input feeds the sensor")
	assert.Equal(t, "ps", got[0].Key)
}

func TestInputsAndTheirIntents(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Device("cn", "cn-2").Link("cn", 1, "", "l1", "ACT")
	got := found(&InputNoIntent, b)
	require.Len(t, got, 1)
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&InputNoIntent, b))
	assert.Empty(t, found(&IntentNoInput, b), "the fix names the input")

	b = domaintest.Room().Load("l1", "a", 1).Do(edit.AddIntent{ID: "av", Kind: domain.ByAV}, edit.AddIntent{ID: "cn", Kind: domain.ByContact})
	got = found(&IntentNoInput, b)
	require.Len(t, got, 2)
	assert.Nil(t, got[0].Fix)
	b.Device("a1", "av-serial").Device("c1", "cn-2").Device("c2", "cn-2")
	got = found(&IntentNoInput, b)
	require.Len(t, got, 1, "any AV interface will do; a contact must be named")
	assert.Equal(t, "cn", got[0].Key)
	assert.Nil(t, got[0].Fix, "which of the two only the designer knows")
	b.Spoil(func(d *domain.Design) { d.Intent("cn").Device = "a1" })
	assert.Len(t, found(&IntentNoInput, b), 1, "an AV interface is no contact input")
	b.Spoil(func(d *domain.Design) { d.Intent("cn").Device = "lost" })
	assert.Empty(t, found(&IntentNoInput, b), "gone: another rule's")
}

func TestButtonTwins(t *testing.T) {
	two := func(first, second string) *domaintest.Builder {
		return domaintest.Room().Load("l1", "a", 1).Load("l2", "a", 1).Device("st", "st-4-mains").
			Link("st", 1, domain.Press, "l1", first).Link("st", 2, domain.Press, "l1", second)
	}
	assert.Len(t, found(&ButtonTwins, two("100", "100")), 1)
	assert.Empty(t, found(&ButtonTwins, two("100", "99")))
	assert.Empty(t, found(&ButtonTwins, two("UP", "DN")))
	assert.Empty(t, found(&ButtonTwins, two("-", "-")), "idle buttons are another rule's")
	assert.Len(t, found(&ButtonTwins, two("100", "100").Link("st", 1, domain.Press, "l2", "-")), 1, "- is like nothing")
	assert.Empty(t, found(&ButtonTwins, two("100", "100").Link("st", 1, domain.Press, "l2", "0")))
	assert.Empty(t, found(&ButtonTwins, two("100", "100").Link("st", 1, domain.Hold, "l1", "UP")), "one is also held")
	assert.Empty(t, found(&ButtonTwins, two("100", "").Link("st", 2, domain.Press, "l2", "100")), "another load")
	three := two("TGL", "TGL").Link("st", 3, domain.Press, "l1", "TGL")
	assert.Len(t, found(&ButtonTwins, three), 3, "each pair by itself")
}

func TestReceptacleByStation_oneForEachReceptacle(t *testing.T) {
	b := domaintest.Classroom().Receptacle("r2").Link("st", 1, domain.Press, "r1", "100").Link("st", 4, domain.Press, "r1", "0").Link("st", 4, domain.Press, "r2", "0")
	got := found(&ReceptacleByStation, b)
	require.Len(t, got, 2)
	assert.Equal(t, []float64{2, 1}, []float64{got[0].Measured, got[1].Measured})
	assert.Contains(t, got[0].Message, "R1 is switched by ST-1 button 1 Teach and ST-1 button 4 Off")
	b.Do(got[0].Fix.Edits...)
	assert.Len(t, found(&ReceptacleByStation, b), 1)
}

func TestWallboxAsStation(t *testing.T) {
	b := wallbox().Link("wb", 1, domain.Press, "l1", "100").Link("wb", 2, domain.Press, "l1", "0").Link("wb", 1, domain.Press, "l5", "100")
	got := found(&WallboxAsStation, b)
	require.Len(t, got, 1)
	assert.Equal(t, 2.0, got[0].Measured, "cells on loads of others")
	assert.Empty(t, found(&WallboxAsStation, wallbox().Link("wb", 1, domain.Press, "l1", "-")))
}

// The means of egress is lit while the space is occupied: IFC and IBC 2021,
// section 1008.2, as reprinted.
func TestEgressOff_everyWay(t *testing.T) {
	add := func(id domain.ID, kind domain.IntentKind, pairs ...string) *domaintest.Builder {
		return egress().Do(edit.AddIntent{ID: id, Kind: kind}).Set(pairs...)
	}
	for name, c := range map[string]struct {
		b    *domaintest.Builder
		want int
	}{
		"sound":                     {egress(), 0},
		"a button to 0":             {egress().Link("st", 4, domain.Press, "l4", "0"), 1},
		"a toggle":                  {egress().Link("st", 4, domain.Press, "l4", "TGL"), 1},
		"lower":                     {egress().Link("st", 4, domain.Press, "l4", "DN"), 0},
		"a scene":                   {egress().Set("scenes/s2/levels/l4", "0"), 1},
		"a scene nobody recalls":    {egress().Do(edit.AddScene{ID: "s3"}).Set("scenes/s3/levels/l4", "off"), 1},
		"a scene that leaves it":    {egress().Set("scenes/s2/levels/l4", "leave"), 0},
		"vacant":                    {egress().Set("intents/i2/off_level", "0"), 1},
		"vacant, other loads":       {egress().Set("intents/i2/off_level", "0", "intents/i2/loads", "L1, L2, L3"), 0},
		"schedule off":              {add("x", domain.BySchedule), 1},
		"schedule for other loads":  {add("x", domain.BySchedule, "intents/x/loads", "L1"), 0},
		"daylight may switch off":   {egress().Set("intents/i3/loads", "L3, L4", "intents/i3/may_off", "yes"), 1},
		"daylight never off":        {egress().Set("intents/i3/loads", "L3, L4"), 0},
		"contact to 0":              {add("x", domain.ByContact, "intents/x/level", "0"), 1},
		"contact to 100":            {add("x", domain.ByContact), 0},
		"demand response to 80 %":   {add("x", domain.OnDemandResponse), 0},
		"demand response to 0":      {add("x", domain.OnDemandResponse, "intents/x/level", "0"), 0}, // leaves egress lighting out
		"demand response names it":  {add("x", domain.OnDemandResponse, "intents/x/level", "0", "intents/x/loads", "L4"), 1},
		"a mode to 0":               {add("x", domain.OnMode, "intents/x/level", "0"), 1},
		"a mode that holds off":     {add("x", domain.OnMode, "intents/x/level", "0", "intents/x/do", "hold"), 0},
		"a command that toggles":    {add("x", domain.ByAV, "intents/x/do", "toggle"), 1},
		"a command that goes back":  {add("x", domain.ByAV, "intents/x/do", "back", "intents/x/scene", ""), 0},
		"network loss to 0":         {add("x", domain.OnNetworkLoss, "intents/x/level", "0"), 1},
		"emergency to full":         {add("x", domain.OnEmergency), 0},
		"stays off after an outage": {egress().Set("intents/i5/restore", "off"), 1},
		"two ways":                  {egress().Set("scenes/s2/levels/l4", "0", "intents/i2/off_level", "0"), 2},
		"its own wall box":          {egress().Device("wb", "wb-dim").Carry("l4", "wb", 1), 1},
		"no egress":                 {egress().Set("loads/l4/egress", "no", "scenes/s2/levels/l4", "0"), 0},
	} {
		got := found(&EgressOff, c.b)
		if c.want == 0 {
			assert.Empty(t, got, name)
			continue
		}
		require.Len(t, got, 1, name)
		assert.Equal(t, float64(c.want), got[0].Measured, name)
		assert.Contains(t, got[0].Message, "not for the designer alone", name)
		assert.Contains(t, got[0].Message, "local codes", name)
	}
}

func TestEgressBypass(t *testing.T) {
	assert.Empty(t, found(&EgressBypass, domaintest.Room().Load("l1", "a", 1).Set("loads/l1/egress", "yes")), "nothing controls it")
	assert.Empty(t, found(&EgressBypass, domaintest.Classroom()))
}

func TestCellUndecided_oneForEachDevice(t *testing.T) {
	b := domaintest.Classroom().Load("l5", "a", 1)
	got := found(&CellUndecided, b)
	require.Len(t, got, 3, "the station, the presence and the daylight sensor")
	assert.Equal(t, "st", got[0].Key)
	assert.Equal(t, 4.0, got[0].Measured)
	assert.Contains(t, got[0].Message, "4 cells of ST-1 not decided (ST-1 button 1 Teach on L5, ")
	for _, f := range got {
		b.Do(f.Fix.Edits...)
	}
	assert.Empty(t, found(&CellUndecided, b))

	b = domaintest.Classroom().Load("l5", "a", 1).Load("l6", "a", 1)
	assert.Contains(t, found(&CellUndecided, b)[0].Message, "and 5 more", "a long list is cut")
}

func TestCellUndecided_rows(t *testing.T) {
	two := func() *domaintest.Builder { return domaintest.Room().Load("l1", "a", 1).Load("l2", "a", 1) }
	assert.Empty(t, found(&CellUndecided, two().Device("st", "st-4-mains")), "an idle station is another rule's")
	b := two().Device("st", "st-4-mains").Link("st", 2, domain.Hold, "l1", "UP")
	got := found(&CellUndecided, b)
	require.Len(t, got, 1)
	assert.Equal(t, 1.0, got[0].Measured, "the held row alone")
	b.Do(got[0].Fix.Edits...)
	assert.NotNil(t, b.R.Design.Link(domain.Input{Device: "st", Button: 2, On: domain.Hold}, "l2"))
	assert.Len(t, found(&CellUndecided, two().Device("cn", "cn-2").Link("cn", 2, "", "l1", "ACT")), 1)
	assert.Empty(t, found(&CellUndecided, two().Device("wb", "wb-dim").Carry("l1", "wb", 1).Link("wb", 1, domain.Press, "l1", "100")))
}

func TestPowerBack_namesTheLoadsLeftOut(t *testing.T) {
	b := domaintest.Classroom().Set("intents/i5/loads", "L1, L2, L3")
	got := found(&PowerBack, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "Not said what L4 does")
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&PowerBack, b))
	assert.Empty(t, found(&PowerBack, domaintest.Room().Load("l1", "a", 1)), "not controlled")
}

// 2 h: usual in US energy codes, to be confirmed against the adopted text.
func TestOverride_oneBelowAtAndOneAbove(t *testing.T) {
	for text, want := range map[string]int{"": 0, "119 min": 0, "2 h": 0, "7201 s": 1, "121 min": 1, "24 h": 1} {
		assert.Len(t, found(&Override, evenings(text)), want, text)
	}
	got := found(&Override, evenings("3 h"))[0]
	assert.Equal(t, []float64{10800, 7200, -3600}, []float64{got.Measured, got.Limit, got.Margin})
	assert.Contains(t, got.Message, "for 3 h, limit 2 h: 1 h over")
	assert.Empty(t, found(&Override, evenings("3 h").Set("intents/clock/off_at", "", "intents/clock/on_at", "07:00")), "without an off there is nothing to override")
}

// Type A of the test schedule dims to 10 %.
func TestBelowLowest_oneBelowAtAndOneAbove(t *testing.T) {
	for level, want := range map[string]int{"0": 0, "1": 1, "9": 1, "10": 0, "11": 0, "leave": 0} {
		assert.Len(t, found(&BelowLowest, domaintest.Classroom().Set("scenes/s2/levels/l2", level)), want, level)
	}
	got := found(&BelowLowest, domaintest.Classroom().Set("scenes/s2/levels/l2", "9"))[0]
	assert.Equal(t, []float64{9, 10, -1}, []float64{got.Measured, got.Limit, got.Margin})
}

func TestBelowLowest_everywhere(t *testing.T) {
	b := domaintest.Classroom().Link("st", 4, domain.Press, "l1", "5").Set("intents/i2/off_level", "5", "intents/i5/restore", "level", "intents/i5/level", "5")
	var keys []string
	for _, f := range found(&BelowLowest, b) {
		keys = append(keys, f.Key)
		b.Do(f.Fix.Edits...)
	}
	assert.Equal(t, []string{"links/st.4.press:l1:l1", "intents/i2/off_level:l1", "intents/i2/off_level:l2", "intents/i2/off_level:l3", "intents/i2/off_level:l4",
		"intents/i5/level:l1", "intents/i5/level:l2", "intents/i5/level:l3", "intents/i5/level:l4"}, keys)
	assert.Empty(t, found(&BelowLowest, b))
	assert.Empty(t, found(&BelowLowest, domaintest.Classroom().Set("scenes/s2/levels/l2", "5", "loads/l2/dimming", "switched")), "a switched load is another rule's")
}

func TestLevelOnSwitched(t *testing.T) {
	for level, want := range map[string]int{"0": 0, "1": 1, "99": 1, "100": 0, "leave": 0} {
		assert.Len(t, found(&LevelOnSwitched, strip().Set("scenes/s2/levels/l5", level)), want, level)
	}
	b := strip().Link("st", 3, domain.Press, "l5", "DN")
	got := found(&LevelOnSwitched, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "ST-1 button 3 Dim raises or lowers L5")
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&LevelOnSwitched, b))
	got = found(&LevelOnSwitched, strip().Set("intents/i2/off_level", "20"))
	require.Len(t, got, 1)
	assert.Nil(t, got[0].Fix)
}

func TestGone_everyKindOfLink(t *testing.T) {
	for name, c := range map[string]struct {
		key   string
		fixed bool
		spoil func(*domain.Design)
	}{
		"load of a cell": {"links/st.1.press:lost", true, func(d *domain.Design) {
			d.Links = append(d.Links, domain.Link{ID: "st.1.press:lost", Device: "st", Button: 1, On: domain.Press, Load: "lost", Do: domain.Action{Verb: domain.Toggle}})
		}},
		"device of a cell": {"links/lost:l1", true, func(d *domain.Design) {
			d.Links = append(d.Links, domain.Link{ID: "lost:l1", Device: "lost", Load: "l1", Do: domain.Action{Verb: domain.Acts}})
		}},
		"button of a cell": {"links/st.9.press:l1", true, func(d *domain.Design) {
			d.Links = append(d.Links, domain.Link{ID: "st.9.press:l1", Device: "st", Button: 9, On: domain.Press, Load: "l1", Do: domain.Action{Verb: domain.Toggle}})
		}},
		"scene of a cell": {"links/st.1.hold:l1", true, func(d *domain.Design) {
			d.Links = append(d.Links, domain.Link{ID: "st.1.hold:l1", Device: "st", Button: 1, On: domain.Hold, Load: "l1", Do: domain.Action{Verb: domain.ToScene, Scene: 9}})
		}},
		"cell of a device that acts on nothing": {"links/gw:l1", true, func(d *domain.Design) {
			d.Links = append(d.Links, domain.Link{ID: "gw:l1", Device: "gw", Load: "l1", Do: domain.Action{Verb: domain.Acts}})
		}},
		"controller":      {"loads/l1/controller", true, func(d *domain.Design) { d.Load("l1").Controller = "lost" }},
		"luminaire type":  {"loads/l1/luminaire", false, func(d *domain.Design) { d.Load("l1").Luminaire = "lost" }},
		"parent":          {"devices/ps/parent", true, func(d *domain.Design) { d.Device("ps").Parent = "lost" }},
		"feed":            {"devices/ps/fed_by", true, func(d *domain.Design) { d.Device("ps").FedBy = "lost" }},
		"router in reach": {"devices/ps/hears", true, func(d *domain.Design) { d.Device("ps").Hears = []domain.ID{"lc", "lost"} }},
		"load of a scene": {"scenes/s1/levels/lost", true, func(d *domain.Design) {
			d.Scenes[0].Levels = append(d.Scenes[0].Levels, domain.SceneLevel{ID: "lost", Level: 50})
		}},
		"loads of an intent":         {"intents/i3/loads", true, func(d *domain.Design) { d.Intent("i3").Loads = []domain.ID{"l3", "lost"} }},
		"the only load of an intent": {"intents/i3/loads", true, func(d *domain.Design) { d.Intent("i3").Loads = []domain.ID{"lost"} }},
		"input of an intent":         {"intents/i3/device", true, func(d *domain.Design) { d.Intent("i3").Device = "lost" }},
		"scene of an intent":         {"intents/i2/scene", false, func(d *domain.Design) { d.Intent("i2").Scene = 9 }},
	} {
		t.Run(name, func(t *testing.T) {
			b := domaintest.Classroom().Spoil(c.spoil)
			got := found(&Gone, b)
			require.Len(t, got, 1)
			assert.Equal(t, c.key, got[0].Key)
			assert.NotEmpty(t, got[0].Message)
			if !c.fixed {
				assert.Nil(t, got[0].Fix)
				return
			}
			b.Do(got[0].Fix.Edits...)
			assert.Empty(t, found(&Gone, b))
		})
	}
}

// An intent whose only load is gone must not come to mean all loads.
func TestGone_theFixDoesNotWidenAnIntent(t *testing.T) {
	b := domaintest.Classroom().Spoil(func(d *domain.Design) { d.Intent("i3").Loads = []domain.ID{"lost"} })
	b.Do(found(&Gone, b)[0].Fix.Edits...)
	assert.Nil(t, b.R.Design.Intent("i3"))
}
