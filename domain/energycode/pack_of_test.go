package energycode_test

import (
	"bytes"
	"fmt"
	"reflect"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/energycode"
)

// The closed sets of the domain, which cannot see this package, are this package's.
func TestWorksheetSets_areThoseOfThePacks(t *testing.T) {
	same(t, domain.CodeControls(), energycode.Controls())
	same(t, domain.CodeSigns(), energycode.Signs())
	same(t, domain.CodeDuties(), energycode.Duties())
	same(t, domain.CodeMarks(), energycode.Marks())
	var zones []string
	for _, z := range daylight.ZoneCodes() {
		zones = append(zones, z.ID)
	}
	same(t, domain.ZoneCodes(), zones)
	assert.Equal(t, domain.AnyCodeSpace, energycode.AnySpace)
	also, _ := domain.FieldNamed(domain.DutyFields, "also")
	for _, c := range also.Choices(domain.Env{}, nil) {
		assert.NoError(t, energycode.SetRow(&domain.CodeWorksheet{}, domain.CodeChange{Kind: domain.DutyRow, Control: other(c.Value), Space: "corridor", Duty: "R", Also: c.Value, Mark: "read"}), c.Value)
	}
	each, _ := domain.FieldNamed(domain.DutyFields, "each")
	for _, c := range each.Choices(domain.Env{}, nil) {
		assert.NoError(t, energycode.SetRow(&domain.CodeWorksheet{}, domain.CodeChange{Kind: domain.DutyRow, Control: "full_off", Space: "corridor", Duty: "R", Each: c.Value, Mark: "read"}), c.Value)
	}
}

func other(control string) domain.CodeControl {
	if control == "full_off" {
		return "partial_off"
	}
	return "full_off"
}

func same[A, B ~string](t *testing.T, a []A, b []B) {
	var left, right []string
	for _, x := range a {
		left = append(left, string(x))
	}
	for _, x := range b {
		right = append(right, string(x))
	}
	assert.Equal(t, left, right)
}

func project(w ...domain.CodeWorksheet) *domain.Project {
	p := domaintest.Project("US")
	p.Worksheets = w
	if len(w) > 0 {
		p.CodePack = domain.CodePack(w[0].ID)
	}
	return p
}

func TestPackOf_whatTheProjectNames(t *testing.T) {
	p := project()
	assert.Nil(t, energycode.PackOf(p), "none chosen")
	p.CodePack = "iecc-1066"
	assert.Nil(t, energycode.PackOf(p))
	p.CodePack = "washington-2021"
	assert.Nil(t, energycode.PackOf(p), "single figures only")
	p.CodePack = "iecc-2021"
	assert.Same(t, energycode.Find("iecc-2021"), energycode.PackOf(p))
	w := domain.CodeWorksheet{ID: "ws", Title: "Ours", Base: "iecc-2021"}
	require.NoError(t, energycode.SetRow(&w, domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: "min", Mark: "read"}))
	p = project(w)
	k := energycode.PackOf(p)
	require.NotNil(t, k)
	assert.True(t, k.Worksheet())
	assert.Equal(t, 15.0, k.Parameter(energycode.FullOff, "delay").Value)
	assert.Equal(t, 20.0, energycode.Find("iecc-2021").Parameter(energycode.FullOff, "delay").Value, "20 min in the built-in one (IECC C405.2.1.1 as quoted in its notes)")
	assert.Equal(t, "Ours", k.Title)
	assert.Contains(t, k.State(), "unconfirmed")
}

// Each field of a worksheet counts: changed in place, the pack is another one.
func TestPackOf_seesEachChange(t *testing.T) {
	w := domain.CodeWorksheet{ID: "seen", Seq: 1, Title: "Ours", Base: "iecc-2021"}
	w.Put(domain.CodeChange{Kind: domain.DutyRow, Control: "full_off", Space: "corridor", Duty: "R", Mark: "read"})
	p := project(w)
	before := energycode.PackOf(p)
	assert.Same(t, before, energycode.PackOf(project(w)), "found again")
	p.Worksheets[0].Seq = 7
	assert.Same(t, before, energycode.PackOf(p), "its place does not matter")
	for _, v := range []reflect.Value{reflect.ValueOf(&p.Worksheets[0]).Elem(), reflect.ValueOf(&p.Worksheets[0].Changes[0]).Elem()} {
		for i := range v.NumField() {
			f, name := v.Field(i), v.Type().Field(i).Name
			kept := reflect.New(f.Type()).Elem()
			kept.Set(f)
			switch {
			case name == "Seq" || name == "Changes":
				continue
			case name == "ID" && v.Type() == reflect.TypeFor[domain.CodeWorksheet]():
				continue // another worksheet
			case f.Kind() == reflect.Float64:
				f.SetFloat(f.Float() + 1)
			default:
				f.SetString(f.String() + "x")
			}
			assert.NotSame(t, before, energycode.PackOf(p), name)
			f.Set(kept)
			assert.Same(t, before, energycode.PackOf(p), name)
		}
	}
}

func TestPackOf_byManyAtOnce(t *testing.T) {
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			for k := range 60 {
				w := domain.CodeWorksheet{ID: "busy", Title: "Ours", Base: "iecc-2021"}
				v := float64(1 + (i+k)%40)
				w.Put(domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: v, Unit: "min", Mark: "read"})
				if got := energycode.PackOf(project(w)).Parameter(energycode.FullOff, "delay").Value; got != v {
					t.Errorf("%g for %g", got, v)
				}
			}
		})
	}
	all.Wait()
}

func TestSetRow_whatReadsAsTheBaseIsNoChange(t *testing.T) {
	w := domain.CodeWorksheet{ID: "ws", Base: "ashrae-90.1-2019"}
	base := energycode.Find("ashrae-90.1-2019")
	row, known := base.RowOf(domain.CodeChange{Kind: domain.DutyRow, Control: "full_off", Space: "classroom_lecture_training"})
	require.True(t, known)
	row.Duty = "none"
	require.NoError(t, energycode.SetRow(&w, row))
	require.Len(t, w.Changes, 1)
	row.Duty = "R"
	require.NoError(t, energycode.SetRow(&w, row))
	assert.Empty(t, w.Changes, "required in the base, 90.1-2019 Table 9.6.1 (lighting tables of a national laboratory's published data)")
	row.Duty = "perhaps"
	assert.ErrorContains(t, energycode.SetRow(&w, row), `duty "perhaps" is not known`)
	assert.ErrorContains(t, energycode.SetRow(&w, domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at least", Value: 5, Unit: "h", Mark: "read"}), `unit "h"`)
	assert.ErrorContains(t, energycode.SetRow(&w, domain.CodeChange{Kind: "verse"}), `kind "verse" is not known`)
	require.NoError(t, energycode.SetRow(&w, domain.CodeChange{Kind: domain.DensityRow, Space: "corridor"}))
	require.Len(t, w.Changes, 1, "taken out")
	p, bad := energycode.Compile(&w)
	assert.Empty(t, bad)
	assert.NotNil(t, base.Density("corridor"))
	assert.Nil(t, p.Density("corridor"))
	empty := domain.CodeWorksheet{ID: "ws"}
	require.NoError(t, energycode.SetRow(&empty, domain.CodeChange{Kind: domain.DensityRow, Space: "corridor"}))
	assert.Empty(t, empty.Changes, "the blank one has none to take out")
}

func TestSetRow_isBounded(t *testing.T) {
	w := domain.CodeWorksheet{ID: "ws"}
	for i := range domain.MaxCodeChanges {
		w.Changes = append(w.Changes, domain.CodeChange{ID: domain.ID(fmt.Sprint("x", i))})
	}
	one := domain.CodeChange{Kind: domain.DensityRow, Space: "corridor", Value: 1, Mark: "read"}
	assert.ErrorContains(t, energycode.SetRow(&w, one), "3000 changed rows; more do not fit")
	w.Changes = w.Changes[1:]
	assert.NoError(t, energycode.SetRow(&w, one))
}

func TestCompile_tellsRowsThatNoCheckCouldRead(t *testing.T) {
	w := domain.CodeWorksheet{ID: "a:b", Base: "iecc-2021"}
	w.Put(domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: "fortnights", Mark: "read"})
	p, bad := energycode.Compile(&w)
	require.Len(t, bad, 1)
	assert.ErrorContains(t, bad[0].Err, "fortnights")
	assert.Equal(t, 20.0, p.Parameter(energycode.FullOff, "delay").Value, "the base's holds")
	assert.Equal(t, "a-b", p.ID, "as a worksheet file may have it")
}

// A built-in code written as a file, read and taken as a worksheet is that code again.
func TestWorksheetFrom_builtInCodes(t *testing.T) {
	for _, built := range energycode.Packs() {
		read, err := energycode.Read(bytes.NewReader([]byte(written(t, built))))
		require.NoError(t, err)
		w, err := energycode.WorksheetFrom("ws", read)
		require.NoError(t, err)
		assert.Equal(t, built.ID, string(w.Base))
		assert.Empty(t, w.Changes)
		assert.Empty(t, w.Code+w.Edition+string(w.ZoneRules)+w.Note)
	}
}

// Whatever rows a worksheet has, its pack taken as a worksheet comes to the same pack.
func TestWorksheetFrom_anyRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := domain.CodeWorksheet{ID: "ws", Seq: 1, Title: "Ours", Amendments: "amended", Base: rapid.SampledFrom([]domain.CodePack{"", "iecc-2021", "california-2022"}).Draw(t, "base")}
		for range rapid.IntRange(0, 8).Draw(t, "rows") {
			if err := energycode.SetRow(&w, anyRow(t, energycode.BaseOf(&w))); err != nil {
				t.Fatal(err)
			}
		}
		p, bad := energycode.Compile(&w)
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		back, err := energycode.WorksheetFrom("ws", p)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := energycode.Compile(&back)
		if !reflect.DeepEqual(rows(p), rows(again)) || p.Key() != again.Key() || p.Title != again.Title || p.ZoneRules != again.ZoneRules {
			t.Fatalf("differs: %v and %v", w.Changes, back.Changes)
		}
	})
}

// rows gives all rows of a pack by what they are of.
func rows(p *energycode.Pack) map[domain.ID]domain.CodeChange {
	out := map[domain.ID]domain.CodeChange{}
	put := func(c domain.CodeChange) { out[c.ID] = c }
	for i := range p.Parameters {
		put(p.Parameters[i].Change())
	}
	for i := range p.Requirements {
		put(p.Requirements[i].Change())
	}
	for i := range p.Densities {
		put(p.Densities[i].Change())
	}
	return out
}

// anyRow draws a row that a check can read, or one taken out.
func anyRow(t *rapid.T, base *energycode.Pack) domain.CodeChange {
	var row domain.CodeChange
	switch rapid.SampledFrom(domain.CodeRows()).Draw(t, "kind") {
	case domain.FigureRow:
		figures := energycode.Find("iecc-2021").Parameters
		row = figures[rapid.IntRange(0, len(figures)-1).Draw(t, "figure")].Change()
		if row.Sign != "" {
			row.Value = rapid.Float64Range(0, 1000).Draw(t, "value")
		}
	case domain.DutyRow:
		row = base.Requirements[rapid.IntRange(0, len(base.Requirements)-1).Draw(t, "duty")].Change()
		row.Duty = rapid.SampledFrom(append(domain.CodeDuties(), "")).Draw(t, "asked")
	default:
		row = domain.CodeChange{Kind: domain.DensityRow, Space: rapid.SampledFrom(base.Spaces).Draw(t, "space").ID, Value: rapid.SampledFrom([]float64{0, 0.41, 2}).Draw(t, "density"), Mark: "read"}
	}
	row.Note = rapid.SampledFrom([]string{row.Note, "read at the counter"}).Draw(t, "note")
	return row
}

func TestWorksheetFrom_refusesOtherKindsOfSpace(t *testing.T) {
	p, err := energycode.Find("iecc-2021").Copy("ours", "Ours", "")
	require.NoError(t, err)
	p.Spaces = append(p.Spaces, energycode.Space{ID: "dungeon", Name: "Dungeon"})
	_, err = energycode.WorksheetFrom("ws", p)
	assert.ErrorContains(t, err, "(dungeon): no room can be of this kind of space here")
	p.Spaces = p.Spaces[:len(p.Spaces)-1]
	p.Parameters = append(p.Parameters, energycode.Parameter{Control: energycode.FullOff, Name: "saying", Words: "so", Unit: "a\tb", Basis: energycode.Basis{Mark: energycode.Memory}})
	_, err = energycode.WorksheetFrom("ws", p)
	assert.ErrorContains(t, err, "/unit: the text holds a control character")
}

// BenchmarkPackOf finds a worksheet's pack again, as each edit does.
func BenchmarkPackOf(b *testing.B) {
	base := energycode.Find("ashrae-90.1-2019")
	for _, n := range []int{0, 10, 100, 1000} {
		w := domain.CodeWorksheet{ID: domain.ID(fmt.Sprint("bench", n)), Title: "Ours", Base: "ashrae-90.1-2019"}
		for i := range n {
			row := base.Requirements[i%len(base.Requirements)].Change()
			row.Note = "read"
			w.Put(row)
		}
		p := project(w)
		energycode.PackOf(p)
		b.Run(fmt.Sprint(len(w.Changes), " changes"), func(b *testing.B) {
			for b.Loop() {
				energycode.PackOf(p)
			}
		})
	}
}
