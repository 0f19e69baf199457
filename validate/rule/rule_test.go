package rule_test

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

func facts(b *domaintest.Builder) *rule.Facts { return rule.NewFacts(b.P, b.R, time.Time{}) }

func TestFacts_joinWhatHangsTogether(t *testing.T) {
	f := facts(domaintest.Classroom())
	require.Len(t, f.Links, 30)
	for i := range f.Links {
		k := &f.Links[i]
		require.NotNil(t, k.From)
		require.NotNil(t, k.To)
		assert.Equal(t, k.Device, k.From.ID)
		assert.Equal(t, k.Load, k.To.ID)
		assert.Same(t, k.To, f.Load(k.Load))
		assert.Same(t, k.From, f.Device(k.Device))
		assert.True(t, k.Fits)
	}
	l := f.Load("l1")
	assert.Equal(t, domain.ID("lc"), l.Carrier.ID)
	assert.Equal(t, "A", l.Lum.Tag)
	assert.True(t, l.Known && l.Dims())
	// 6 x 38 W at power factor 0.95 and 277 V: I = P/(V pf) = 0.8664 A.
	assert.InDelta(t, 0.8664, float64(l.Amps), 5e-5)
	assert.False(t, f.Load("r1").Known, "a receptacle draws what is plugged in")
}

func TestFacts_doNotTrustWhatIsGone(t *testing.T) {
	f := facts(domaintest.Classroom().Spoil(func(d *domain.Design) {
		d.Load("l1").Controller, d.Load("l1").Luminaire = "lost", "lost"
		d.Device("gw").Type = "lost"
		d.Links = append(d.Links, domain.Link{ID: "lost:lost", Device: "lost", Load: "lost", Do: domain.Action{Verb: domain.Acts}},
			domain.Link{ID: "st.9.press:l1", Device: "st", Button: 9, On: domain.Press, Load: "l1", Do: domain.Action{Verb: domain.Toggle}})
	}))
	assert.Nil(t, f.Load("l1").Carrier)
	assert.Nil(t, f.Load("l1").Lum)
	assert.Nil(t, f.Device("gw").Type)
	assert.False(t, f.Device("gw").Routes() || f.Device("gw").Battery() || f.Device("gw").Station())
	assert.Nil(t, f.Device("lost"))
	for _, k := range f.Links[30:] {
		assert.False(t, k.Does(), k.ID)
	}
}

func TestFacts_aLargeRoomHasPathsToo(t *testing.T) {
	b := domaintest.Room().Device("st", "st-2-battery")
	for i := range 40 {
		id := domain.ID("l" + string(rune('a'+i%26)) + string(rune('a'+i/26)))
		b.Load(id, "a", 1).Link("st", 1, domain.Press, id, "TGL")
	}
	f := facts(b)
	for i := range f.Loads {
		assert.Equal(t, rule.Paths{On: 1, Off: 1}, f.Paths(i))
	}
}

func TestFreshID_isTheSameUntilItIsTaken(t *testing.T) {
	b := domaintest.Classroom()
	first := facts(b).FreshID("router 0")
	assert.True(t, first.Valid())
	assert.Equal(t, first, facts(b).FreshID("router 0"))
	assert.NotEqual(t, first, facts(b).FreshID("router 1"))
	b.Do(edit.AddDevice{ID: first, Type: "rt-plug"})
	second := facts(b).FreshID("router 0")
	assert.NotEqual(t, first, second)
	b.R.Room.ID = "another"
	assert.NotEqual(t, first, facts(b).FreshID("router 0"), "another room, another ID")
}

func TestWords(t *testing.T) {
	assert.Equal(t, "1 router", rule.Many(1, "router"))
	assert.Equal(t, "0 routers", rule.Many(0, "router"))
	assert.Equal(t, "2 gateways", rule.Many(2, "gateway"))
	assert.Equal(t, "2 batteries", rule.Many(2, "battery"))
	assert.Equal(t, "L1, (no tag) and L3", rule.Tags([]rule.Subject{{Tag: "L1"}, {Tag: " "}, {Tag: "L3"}}))
	assert.Equal(t, "6.33", rule.Number(19*38/(120*.95)))
	assert.Equal(t, "8", rule.Number(8))
}
