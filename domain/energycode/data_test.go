package energycode_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

func TestPacks_listed(t *testing.T) {
	var whole, single []string
	for _, p := range energycode.Packs() {
		whole = append(whole, p.ID)
		assert.True(t, p.Whole())
		assert.False(t, p.Worksheet())
		assert.Contains(t, p.State(), "unconfirmed")
	}
	for _, p := range energycode.Extracts() {
		single = append(single, p.ID)
		assert.False(t, p.Whole())
	}
	assert.Equal(t, []string{old, fresh, code18, code21, calif}, whole)
	assert.Contains(t, single, "washington-2021")
	assert.Equal(t, "District of Columbia 12-I 2017, ASHRAE 90.1-2013 amended", pack(t, "district-of-columbia-2017").Key())
	assert.Nil(t, energycode.Find("nowhere-1900"))
}

func TestPacks_eachRowIsSound(t *testing.T) {
	for _, p := range slices.Concat(energycode.Packs(), energycode.Extracts()) {
		own, err := p.Copy("copy", "Copy", "")
		require.NoError(t, err)
		_, err = energycode.Read(strings.NewReader(written(t, own)))
		assert.NoError(t, err, "%s holds nothing that a worksheet may not", p.ID)
		for _, q := range p.Parameters {
			assert.Equal(t, q.Mark == energycode.Seen, q.Source != "", "%s %s %s: what was seen names its source", p.ID, q.Control, q.Name)
			assert.NotEmpty(t, q.Clause, "%s %s", p.ID, q.Name)
		}
		for _, r := range p.Requirements {
			assert.NotEmpty(t, r.Clause, "%s %s", p.ID, r.Space)
		}
		for _, s := range p.Spaces {
			asked := slices.ContainsFunc(p.Requirements, func(r energycode.Requirement) bool { return r.Space == s.ID && r.Duty != energycode.NotListed })
			assert.True(t, asked || !p.Whole(), "%s says nothing of %s", p.ID, s.ID)
		}
	}
}

func TestPacks_sourcesAreSaid(t *testing.T) {
	for _, p := range slices.Concat(energycode.Packs(), energycode.Extracts()) {
		for _, q := range p.Parameters {
			if q.Source != "" {
				assert.NotEqual(t, q.Source, energycode.SourceWords(q.Source), "the key %s has words", q.Source)
			}
		}
		for _, r := range p.Requirements {
			if r.Source != "" {
				assert.NotEqual(t, r.Source, energycode.SourceWords(r.Source), "the key %s has words", r.Source)
			}
		}
	}
}

func TestPropose_everyUse(t *testing.T) {
	for _, p := range energycode.Packs() {
		for _, u := range domain.Uses() {
			got := p.Propose(u.Use, 30)
			assert.NotEmpty(t, got.Why)
			if u.Use == "other" {
				assert.Empty(t, got.Space)
				continue
			}
			assert.NotNil(t, p.Space(got.Space), "%s %s", p.ID, u.Use)
		}
		assert.Empty(t, p.Propose("", 30).Space)
		got := p.Propose("office-private", 0)
		assert.Empty(t, got.Space)
		assert.Contains(t, got.Why, "state the room's area")
		assert.Contains(t, p.Propose("lab", 30).Why, "a laboratory used as a classroom has a row of its own")
	}
}

func TestPropose_bounds(t *testing.T) {
	p := pack(t, old)
	for area, want := range map[float64]string{150: "office_enclosed_le_150ft2", 150.1: "office_enclosed_151_250ft2", 250: "office_enclosed_151_250ft2", 250.1: "office_enclosed_251_300ft2",
		300: "office_enclosed_251_300ft2", 300.1: "office_enclosed_gt_300ft2"} {
		assert.Equal(t, want, p.Propose("office-private", ftArea(area)).Space, area)
	}
	assert.Equal(t, "office_open_gt_300ft2", p.Propose("office-open", ftArea(301)).Space)
	got := p.Propose("office-open", ftArea(299))
	assert.Equal(t, "office_enclosed_251_300ft2", got.Space)
	assert.Contains(t, got.Why, "takes the row of enclosed offices")
}

func ftArea(v float64) units.SquareMetres { return units.SquareMetres(v * ft2) }

// reference reads a table of the reference pages, and skips where they are not at hand.
func reference(t *testing.T, file string) []map[string]string {
	data, err := os.Open(filepath.Join("../../../shared/reference/energy-code", file))
	if err != nil {
		t.Skip("the reference pages are not at hand")
	}
	defer data.Close()
	rows, err := csv.NewReader(data).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, r := range rows[1:] {
		row := map[string]string{}
		for i, name := range rows[0] {
			row[name] = r[i]
		}
		out = append(out, row)
	}
	return out
}

var packsOfReference = map[string]string{"ASHRAE 90.1 2019": old, "ASHRAE 90.1 2022": fresh, "IECC 2018": code18, "IECC 2021": code21, "CA T24 Part 6 2022": calif}

func TestPacks_densitiesAsInTheReference(t *testing.T) {
	n := 0
	for _, r := range reference(t, "lpd.csv") {
		d := pack(t, packsOfReference[r["code"]+" "+r["edition"]]).Density(r["space_type"])
		require.NotNil(t, d, r["space_type"])
		want, err := strconv.ParseFloat(r["w_per_ft2"], 64)
		require.NoError(t, err)
		assert.InDelta(t, want, d.WattsFt2, 1e-12, r["space_type"])
		metric, err := strconv.ParseFloat(r["w_per_m2"], 64)
		require.NoError(t, err)
		assert.InDelta(t, metric, d.WattsFt2*10.7639, 0.006, "the same in W/m2")
		n++
	}
	assert.Equal(t, 233, n)
}

func TestPacks_requirementsAsInTheReference(t *testing.T) {
	renamed := map[string]energycode.Control{"light_reduction_50pct": energycode.LightReduction, "zone_600ft2": energycode.SmallZones, "receptacle_50pct": energycode.Receptacles,
		"receptacle_controlled": energycode.Receptacles, "guestroom_set": energycode.GuestRoom, "parking_garage_set": energycode.ParkingGarage}
	blanks := 0
	for _, r := range reference(t, "space_requirements.csv") {
		id := packsOfReference[r["code"]+" "+r["edition"]]
		if id == "" {
			continue
		}
		c := energycode.Control(r["control"])
		if renamed[r["control"]] != "" {
			c = renamed[r["control"]]
		}
		got := pack(t, id).Requirement(r["space_type"], c)
		require.NotNil(t, got, "%s %s %s", id, r["space_type"], c)
		want := energycode.Duty(r["requirement"])
		if strings.HasPrefix(r["note"], "blank in the data set") {
			want, blanks = energycode.Unknown, blanks+1
			if id == old && r["space_type"] == "retail_sales" && c == energycode.DaylightSide {
				want = energycode.NotListed // a second source says so
			}
		}
		assert.Equal(t, want, got.Duty, "%s %s %s", id, r["space_type"], c)
		assert.Equal(t, r["source_mark"] == "memory", got.Mark == energycode.Memory, "%s %s %s", id, r["space_type"], c)
	}
	assert.Positive(t, blanks)
}
