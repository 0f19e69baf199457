package paperwork

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding { return foundOn(r, b, "2026-03-01") }

func foundOn(r *rule.Rule, b *domaintest.Builder, date string) []rule.Finding {
	today, err := time.Parse(time.DateOnly, date)
	if err != nil {
		panic(err)
	}
	return r.Check(rule.NewFacts(b.P, b.R, today.Add(15*time.Hour)))
}

// Life of a battery station 5 years, of a battery sensor 10 years: common
// practice, no published source. The calendar is the check: 5 years after
// 2021-03-01 is 2026-03-01, 6 months before that 2025-09-01.
func TestBattery_onTheDay(t *testing.T) {
	station := domaintest.Room().Device("st", "st-2-battery").Set("devices/st/fitted", "2021-03-01")
	sensor := domaintest.Room().Device("ps", "ps-ceiling").Set("devices/ps/fitted", "2016-03-01")
	for date, want := range map[string]rule.Severity{"2025-08-31": "", "2025-09-01": rule.Info, "2026-02-28": rule.Info, "2026-03-01": rule.Warning, "2026-03-02": rule.Warning} {
		for _, b := range []*domaintest.Builder{station, sensor} {
			got := foundOn(&Battery, b, date)
			if want == "" {
				assert.Empty(t, got, date)
				continue
			}
			require.Len(t, got, 1, date)
			assert.Equal(t, want, got[0].Severity, date)
			assert.Contains(t, got[0].Message, "2026-03-01")
		}
	}
	assert.Contains(t, foundOn(&Battery, sensor, "2026-03-01")[0].Message, "CR123A battery of PS-1, fitted 2016-03-01 with a life of 10 years, fell due on 2026-03-01")
}

func TestBattery_monthsEndWhereTheyEnd(t *testing.T) {
	for _, c := range []struct {
		from   string
		months float64
		want   string
	}{
		{"2024-02-29", 60, "2029-02-28"}, {"2026-08-31", -6, "2026-02-28"}, {"2026-01-31", 1, "2026-02-28"}, {"2026-12-31", 2, "2027-02-28"}, {"2023-07-15", 30, "2026-01-15"},
	} {
		from, err := time.Parse(time.DateOnly, c.from)
		require.NoError(t, err)
		assert.Equal(t, c.want, plusMonths(from, c.months).Format(time.DateOnly), c.from)
	}
}

func TestBattery_theTypeKnowsBest(t *testing.T) {
	b := domaintest.Room().Device("st", "st-2-battery").Set("devices/st/fitted", "2021-03-01")
	b.P.Book.Find("st-2-battery").LifeYears = 2.5
	assert.Contains(t, found(&Battery, b)[0].Message, "2023-09-01")
	b.P.Book.Find("st-2-battery").LifeYears = 0
	assert.Contains(t, found(&Battery, b)[0].Message, "2026-03-01", "the limit counts where the type states none")
	assert.Empty(t, found(&Battery, domaintest.Room().Device("st", "st-2-battery")), "no date, no finding")

	b.Spoil(func(d *domain.Design) { d.Devices[0].Fitted = "soon" })
	assert.Contains(t, found(&Battery, b)[0].Message, "is no date")
}

// A waiver of the notice must not cover the day itself, nor the next battery.
func TestBattery_keysTellTheStagesApart(t *testing.T) {
	b := domaintest.Room().Device("st", "st-2-battery").Set("devices/st/fitted", "2021-03-01")
	soon, due := foundOn(&Battery, b, "2026-02-01")[0].Key, foundOn(&Battery, b, "2026-04-01")[0].Key
	next := foundOn(&Battery, b.Set("devices/st/fitted", "2021-03-02"), "2026-04-01")[0].Key
	assert.NotEqual(t, soon, due)
	assert.NotEqual(t, due, next)
}

func TestTagTwice_fixFindsFreeTags(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Load("l2", "a", 1).Load("l3", "a", 1).Device("st", "st-2-battery").
		Set("loads/l2/tag", " l1", "loads/l3/tag", "L1", "devices/st/tag", "l1")
	got := found(&TagTwice, b)
	require.Len(t, got, 1)
	assert.Equal(t, []float64{4, 1}, []float64{got[0].Measured, got[0].Limit})
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&TagTwice, b))
	assert.Equal(t, []string{"L1", "L2", "L3", "ST-1"}, []string{b.R.Design.Loads[0].Tag, b.R.Design.Loads[1].Tag, b.R.Design.Loads[2].Tag, b.R.Design.Devices[0].Tag})
}

// Alike is what strings.EqualFold says, in any script; the quick sums that
// spare comparisons must never miss a pair.
func TestTagTwice_missesNoPair(t *testing.T) {
	assert.Len(t, found(&TagTwice, domaintest.Classroom().Set("loads/l1/tag", "ÄÖ-1", "loads/l2/tag", "äö-1")), 1)
	assert.Len(t, found(&TagTwice, domaintest.Classroom().Set("loads/l1/tag", "K1", "loads/l2/tag", "\u212a1")), 1, "the Kelvin sign folds to k")
	rapid.Check(t, func(t *rapid.T) {
		tags := rapid.StringMatching(`[aAbkKsS\x{017f}\x{212a} 1-]{0,3}`)
		a, b := tags.Draw(t, "a"), tags.Draw(t, "b")
		if x, y := tagSum(a), tagSum(b); alike(a, b) && x != y && x != 0 && y != 0 {
			t.Fatalf("%q and %q are alike, and their sums differ", a, b)
		}
	})
}

func TestTagMissing_oneForEach(t *testing.T) {
	b := domaintest.Classroom().Spoil(func(d *domain.Design) {
		d.Loads[0].Tag, d.Loads[1].Tag, d.Devices[0].Tag = "", "\t", " "
	})
	got := found(&TagMissing, b)
	require.Len(t, got, 3)
	for _, f := range got {
		b.Do(f.Fix.Edits...)
	}
	assert.Empty(t, found(&TagMissing, b))
	assert.Empty(t, found(&TagTwice, b), "each got a tag of its own")
}

func TestRoomNumbers(t *testing.T) {
	assert.Empty(t, RoomNumbers.CheckProject(numbered("101", "102")))
	got := RoomNumbers.CheckProject(numbered("a101", "A101", "102", "A101 ", "102"))
	require.Len(t, got, 2)
	assert.Equal(t, []float64{3, 1, -2}, []float64{got[0].Measured, got[0].Limit, got[0].Margin})
	assert.Equal(t, "b1/a101", got[0].Key)

	two := numbered("101", "101")
	two.Project.Buildings = append(two.Project.Buildings, domain.Building{ID: "b2", Seq: 2, Name: "Annex", Storeys: []domain.Storey{{ID: "s9", Seq: 1}}})
	two.Rooms[1].Storey = "s9"
	assert.Empty(t, RoomNumbers.CheckProject(two), "another building")
	assert.Empty(t, RoomNumbers.CheckProject(numbered("", "")), "no number at all is refused elsewhere")
}

func TestRoomFacts(t *testing.T) {
	assert.Empty(t, found(&RoomFacts, domaintest.Room().Set("facts/area_m2", "", "facts/use", "")), "not designed yet")
	for what, pairs := range map[string][]string{"area": {"facts/area_m2", ""}, "use": {"facts/use", ""}, "area and use": {"facts/area_m2", "", "facts/use", ""}} {
		got := found(&RoomFacts, domaintest.Classroom().Set(pairs...))
		require.Len(t, got, 1, what)
		assert.Contains(t, got[0].Message, "has no "+what+":")
	}
}

func TestButtonLabel_suggestsWhatTheButtonDoes(t *testing.T) {
	b := domaintest.Classroom().Spoil(func(d *domain.Design) {
		for i := range d.Devices {
			d.Devices[i].Buttons = nil
		}
	})
	got := found(&ButtonLabel, b)
	require.Len(t, got, 1)
	assert.Equal(t, 4.0, got[0].Measured)
	assert.Equal(t, "Label Teach, Present, Lower and Off", got[0].Fix.Title)
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&ButtonLabel, b))

	b = domaintest.Classroom().Set("devices/st/buttons/4", "").Link("st", 4, domain.Press, "l1", "UP")
	assert.Nil(t, found(&ButtonLabel, b)[0].Fix, "a button that does two things is the designer's to name")
	assert.Empty(t, found(&ButtonLabel, domaintest.Room().Device("st", "st-4-mains")), "idle buttons need none")
}

func TestTypeUnknown(t *testing.T) {
	b := domaintest.Classroom()
	b.P.Book = b.P.Book[:0]
	assert.Len(t, found(&TypeUnknown, b), len(b.R.Design.Devices))
}

func TestLostException_isGivenBack(t *testing.T) {
	b := following("gone")
	got := found(&LostException, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "no place in typical CR-1")
	s := edit.OfRoom(b.P, b.R)
	_, err := edit.All(s, got[0].Fix.Edits)
	require.NoError(t, err)
	assert.Empty(t, b.R.Room.Exceptions)
	assert.Equal(t, units.Seconds(900), following("ps").R.Design.Device("ps").Delay, "the other one holds")
}
