package luminaires

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/table"
)

func readFile(t testing.TB, name string) *List {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	l, err := Read(name, data, table.Options{})
	require.NoError(t, err)
	return l
}

func readText(t *testing.T, text string) *List {
	t.Helper()
	l, err := Read("x.csv", []byte(text), table.Options{})
	require.NoError(t, err)
	return l
}

func counter() func() domain.ID {
	n := 0
	return func() domain.ID { n++; return domain.ID(fmt.Sprintf("new-%d", n)) }
}

// The schedules are invented, in shapes that they are sent in: common practice,
// no published source.
func TestPlan_scheduleWithFeetAndVolts(t *testing.T) {
	p := readFile(t, "us_schedule.csv").Plan(&domain.Project{}, counter())
	assert.Equal(t, Counts{New: 6}, p.Counts)
	got := map[string]domain.Luminaire{}
	for i, s := range p.Steps {
		assert.Equal(t, i+1, s.Luminaire.Seq)
		lum := *s.Luminaire
		lum.ID, lum.Seq = "", 0
		got[s.Tag] = lum
	}
	assert.Equal(t, map[string]domain.Luminaire{
		"A1": {Tag: "A1", Description: "2x4 recessed", Watts: 32, Volts: 277, PowerFactor: 0.95, Drivers: 1, Driver: domain.DriverAnalog, InrushPeak: 25, InrushUs: 200, DimsTo: 1},
		"A2": {Tag: "A2", Description: "2x4 recessed", Watts: 28, PowerFactor: 0.95, Drivers: 2, Driver: domain.DriverAnalog, DimsTo: 10, DimToOff: true},
		"B1": {Tag: "B1", Description: "Downlight", Watts: 12.5, Volts: 120, Driver: domain.DriverReverse, DimsTo: 5},
		"B2": {Tag: "B2", Description: "Downlight", Watts: 32, Volts: 120, Driver: domain.DriverSwitched},
		"C1": {Tag: "C1", Description: "Pendant", Watts: 32, Driver: domain.DriverDigital, DimsTo: 0.1},
		"X1": {Tag: "X1", Description: "Exit sign", Watts: 3, Volts: 277, Driver: domain.DriverSwitched},
	}, got)
	assert.Contains(t, p.Steps[1].Problem, "120-277 fits several line voltages")
	assert.Contains(t, p.Steps[3].Problem, `"TRIAC/ELV" names several ways of dimming`)
	assert.Contains(t, p.Steps[3].Problem, "it is taken as switched only until it is")
	assert.Contains(t, strings.Join(p.Steps[4].Changes, "; "), "4x8W was read as 32 W together")
	assert.Empty(t, p.Steps[0].Problem)
}

func TestRead_saysWhatItDidNotTake(t *testing.T) {
	l := readFile(t, "us_schedule.csv")
	assert.Equal(t, "Qty", l.Columns[9].Header)
	assert.Contains(t, l.Columns[9].Note, "luminaires are counted from the loads")
	assert.Contains(t, l.Columns[10].Note, "says nothing that is needed")
	assert.Contains(t, strings.Join(l.Notes, "\n"), "Line 9 holds totals")
}

func TestPlan_scheduleWithDecimalCommas(t *testing.T) {
	p := readFile(t, "si_schedule.csv").Plan(&domain.Project{}, counter())
	require.Len(t, p.Steps, 3)
	l1, l2, l3 := p.Steps[0].Luminaire, p.Steps[1].Luminaire, p.Steps[2].Luminaire
	assert.Equal(t, units.Watts(38.5), l1.Watts)
	assert.Equal(t, 0.9625, l1.PowerFactor, "38.5 W by 40 VA")
	assert.Equal(t, units.Milliamps(1.5), l1.ControlMA)
	assert.Equal(t, units.Amps(18.5), l1.InrushPeak)
	assert.Equal(t, 250.0, l1.InrushUs)
	assert.Equal(t, domain.DriverDigital, l1.Driver)
	assert.Equal(t, units.Watts(10.8), l2.Watts, "12 VA at 0.9")
	assert.Equal(t, domain.DriverForward, l2.Driver)
	assert.Equal(t, domain.DriverSwitched, l3.Driver)
	assert.Contains(t, p.Steps[2].Problem, "8 VA are less than 10 W")
}

func TestRead_badValues(t *testing.T) {
	l := readFile(t, "bad.csv")
	for _, want := range []string{
		`line 2, column "Watts": -5 is outside 0 to 100,000 W`,
		`line 3, column "Volts": 99999 is outside 0 to 1,000 V`,
		`line 4, column "PF": 3 is no power factor`,
		`line 6, column "Type": type D stands on line 5 and on line 6`,
		`line 7, column "Type": the luminaire has no type tag`,
		`line 8, column "Watts": "varies" is not a number`,
		`line 8, column "Control mA": 500 is outside 0 to 100 mA`,
	} {
		found := false
		for _, p := range l.Problems {
			found = found || strings.HasPrefix(p.String(), want)
		}
		assert.True(t, found, want)
	}
	assert.Len(t, l.Problems, 7)
	require.Len(t, l.Types, 2)
	assert.Equal(t, "<b>bold</b>", l.Types[1].Description)
}

func TestReadDriver(t *testing.T) {
	for text, want := range map[string]struct {
		kind domain.DriverKind
		to   units.Level
		off  bool
	}{
		"0-10V": {domain.DriverAnalog, 0, false}, "0–10 V": {domain.DriverAnalog, 0, false}, "1-10V": {domain.DriverAnalog, 0, false}, "0-10V 1%": {domain.DriverAnalog, 1, false},
		"0-10V, 100%-10%": {domain.DriverAnalog, 10, false}, "0 to 10V dim to off": {domain.DriverAnalog, 0, true}, "Analog": {domain.DriverAnalog, 0, false},
		"DALI": {domain.DriverDigital, 0, false}, "DALI-2 DT8 0.1 %": {domain.DriverDigital, 0.1, false}, "Digital addressable": {domain.DriverDigital, 0, false},
		"ELV": {domain.DriverReverse, 0, false}, "Reverse phase (ELV)": {domain.DriverReverse, 0, false}, "trailing edge": {domain.DriverReverse, 0, false},
		"TRIAC": {domain.DriverForward, 0, false}, "Forward-phase": {domain.DriverForward, 0, false}, "Leading edge": {domain.DriverForward, 0, false}, "MLV": {domain.DriverForward, 0, false},
		"non-dim": {domain.DriverSwitched, 0, false}, "Non dimming": {domain.DriverSwitched, 0, false}, "switched": {domain.DriverSwitched, 0, false}, "On/Off": {domain.DriverSwitched, 0, false},
		"0-10V, switched off at 0 V": {domain.DriverAnalog, 0, false},
	} {
		got := readDriver(text)
		require.Len(t, got.kinds, 1, text)
		assert.Equal(t, want.kind, got.kinds[0], text)
		assert.Equal(t, want.to, got.to, text)
		assert.Equal(t, want.off, got.off, text)
	}
	for _, text := range []string{"TRIAC/ELV", "0-10V or DALI", "DALI / non-dim"} {
		assert.Greater(t, len(readDriver(text).kinds), 1, text)
	}
	for _, text := range []string{"wireless", "yes", "constant current", "10-100%"} {
		assert.Empty(t, readDriver(text).kinds, text)
	}
}

func TestRead_voltsAndPower(t *testing.T) {
	for text, want := range map[string]units.Volts{"277": 277, "277V": 277, "120 VAC": 120, "277V, 1PH, 60Hz": 277, "230 V 50Hz": 230, "24 VDC": 24, "120-277": 0, "120/277V": 0, "UNV": 0, "Universal": 0, "": 0, "n/a": 0} {
		l := readText(t, "Type\tVolts\nA\t"+text+"\nB\t120\n")
		assert.Equal(t, want, l.Types[0].Volts, text)
	}
	for text, want := range map[string]units.Watts{"32": 32, "32 W": 32, "32.5W": 32.5, "4x8W": 32, "4 x 8 W": 32, "(2) 17.5W": 35, "0.032 kW": 32, "32 W max": 32, "32-45": 0, "6 per foot": 0} {
		l := readText(t, "Type\tWatts\nA\t"+text+"\nB\t10\n")
		require.NotEmpty(t, l.Types, text)
		assert.InDelta(t, float64(want), float64(l.Types[0].Watts), 1e-9, text)
	}
	for text, want := range map[string]float64{"0.95": 0.95, "95 %": 0.95, "95%": 0.95, "95": 0.95, ">0.9": 0, "1": 1} {
		l := readText(t, "Type\tPower factor\nA\t"+text+"\nB\t0.9\n")
		require.NotEmpty(t, l.Types, text)
		assert.InDelta(t, want, l.Types[0].PowerFactor, 1e-9, text)
	}
	for text, want := range map[string][2]float64{"25A/200us": {25, 200}, "25 A @ 0.2 ms": {25, 200}, "25A, 200µs": {25, 200}, "25 A": {25, 0}, "18.5": {18.5, 0}, "25 Apk / 300 µs": {25, 300}, "25A for 200us": {25, 200}} {
		l := readText(t, "Type\tInrush\nA\t"+text+"\nB\t10\n")
		assert.Empty(t, l.Problems, text)
		assert.Equal(t, want, [2]float64{float64(l.Types[0].InrushPeak), l.Types[0].InrushUs}, text)
	}
	for text, want := range map[string]units.Level{"1%": 1, "10 %": 10, "0.1": 0.1, "100-10%": 10, "1% / off": 1} {
		l := readText(t, "Type\tDims to\nA\t"+text+"\nB\t10\n")
		assert.Empty(t, l.Problems, text)
		assert.Equal(t, want, l.Types[0].DimsTo, text)
		assert.Equal(t, strings.Contains(text, "off"), l.Types[0].DimToOff, text)
	}
}

func TestPlan_updateKeepsTheID(t *testing.T) {
	project := &domain.Project{Luminaires: []domain.Luminaire{
		{ID: "a", Seq: 4, Tag: "A1", Description: "old", Watts: 32, Volts: 277, Driver: domain.DriverDigital, DimsTo: 1, Source: "sheet"},
		{ID: "z", Seq: 9, Tag: "Z9", Watts: 1}}}
	l := readText(t, "Type,Description,Watts,Volts,Dimming,Drivers\na1,,28,120-277,,\nN1,new,10,277,0-10V,\nZ 9,,1,,,\n")
	p := l.Plan(project, counter())
	assert.Equal(t, Counts{New: 1, Update: 1, Same: 1}, p.Counts)
	s := p.Steps[0]
	assert.Equal(t, domain.ID("a"), s.LuminaireID)
	assert.Equal(t, []string{"watts 32 W -> 28 W"}, s.Changes)
	assert.Contains(t, s.Problem, "fits several line voltages")
	want := project.Luminaires[0]
	want.Watts = 28
	assert.Equal(t, want, *s.Luminaire, "what is blank or open stays")
	assert.Equal(t, units.Watts(32), project.Luminaires[0].Watts, "the project is not touched")
	assert.Equal(t, 10, p.Steps[1].Luminaire.Seq)
	assert.Empty(t, p.Missing)
	p = readText(t, "Type,Watts\nQ,1\n").Plan(project, counter())
	assert.Len(t, p.Missing, 2)
}

func TestPlan_sameScheduleTwiceIsTheSame(t *testing.T) {
	for _, name := range []string{"us_schedule.csv", "si_schedule.csv", "bad.csv"} {
		l, project := readFile(t, name), &domain.Project{}
		first := l.Plan(project, counter())
		for _, s := range first.Steps {
			if s.Luminaire != nil {
				project.Luminaires = append(project.Luminaires, *s.Luminaire)
			}
		}
		second := l.Plan(project, counter())
		assert.Equal(t, Counts{Same: len(project.Luminaires), Skip: first.Counts.Skip}, second.Counts, name)
	}
}

// The bounds here must be those of the forms.
func TestBounds_areThoseOfTheForms(t *testing.T) {
	for field, most := range map[string]float64{"watts": maxWatts, "volts": maxVolts, "drivers": maxDrivers, "control_ma": maxMA, "inrush_a": maxInrush, "inrush_us": maxInrushUs} {
		f, ok := domain.FieldNamed(domain.LuminaireFields, field)
		require.True(t, ok)
		env := domain.Env{Project: &domain.Project{}}
		assert.NoError(t, f.Set(env, &domain.Luminaire{}, fmt.Sprintf("%.0f", most)), field)
		assert.Error(t, f.Set(env, &domain.Luminaire{}, fmt.Sprintf("%.0f", most+1)), field)
	}
}

func TestRead_workbook(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for i, row := range [][]any{{"Luminaire schedule (invented)"}, {"TYPE", "DESCRIPTION", "INPUT WATTS", "PF", "MIN. DIM LEVEL", "MOUNTING"}, {"DOWNLIGHTS"}, {"D1", "Round", 14.199999999999999, 0.9, 0.01, "recessed"}, {"D2", "Square", 20, 0.95, 0.1, "surface"}} {
		require.NoError(t, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row))
	}
	percent, err := f.NewStyle(&excelize.Style{NumFmt: 9})
	require.NoError(t, err)
	require.NoError(t, f.SetCellStyle("Sheet1", "D4", "E5", percent))
	require.NoError(t, f.MergeCell("Sheet1", "A1", "F1"))
	b, err := f.WriteToBuffer()
	require.NoError(t, err)
	l, err := Read("x.xlsx", b.Bytes(), table.Options{})
	require.NoError(t, err)
	require.Len(t, l.Types, 2)
	assert.Equal(t, Line{Line: 4, Tag: "D1", Description: "Round", Watts: 14.2, PowerFactor: 0.9, DimsTo: 1,
		Given: GivenDescription | GivenWatts | GivenPowerFactor | GivenDimsTo}, l.Types[0], "a cell that shows 1 % is 1 %, though 0.01 is stored")
	assert.Equal(t, units.Level(10), l.Types[1].DimsTo)
	assert.Contains(t, strings.Join(l.Notes, "\n"), `Line 3 holds only "DOWNLIGHTS"`)
}

func TestRead_noSchedule(t *testing.T) {
	_, err := Read("x", []byte("Description,Watts\nDownlight,10\n"), table.Options{})
	assert.ErrorContains(t, err, `no column of luminaire types was found among the headings on line 1: name it "Type"`)
	_, err = Read("x", []byte("Type,Watts\n"), table.Options{})
	assert.ErrorContains(t, err, "no luminaires below the headings")
}

func FuzzLuminaires(f *testing.F) {
	for _, name := range []string{"us_schedule.csv", "si_schedule.csv", "bad.csv"} {
		data, err := os.ReadFile(filepath.Join("testdata", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	project := &domain.Project{Luminaires: []domain.Luminaire{{ID: "a", Seq: 1, Tag: "A1", Watts: 32, Volts: 277, Driver: domain.DriverAnalog}}}
	f.Fuzz(func(t *testing.T, data []byte) {
		start := time.Now()
		l, err := Read("x", data, table.Options{Limits: table.Limits{Bytes: 1 << 20, Unpacked: 4 << 20, Rows: 2000, Columns: 64, Cells: 20_000, Letters: 5000}})
		if err != nil {
			return
		}
		p := l.Plan(project, domain.NewID)
		if took := time.Since(start); took > 5*time.Second {
			t.Fatalf("took %s", took)
		}
		if len(p.Steps) != len(l.Types)+len(l.Refused) {
			t.Fatalf("%d steps of %d types and %d refused lines", len(p.Steps), len(l.Types), len(l.Refused))
		}
		for _, s := range p.Steps {
			if (s.Luminaire == nil) != (s.Action == Skip) {
				t.Fatalf("%+v", s)
			}
			if lum := s.Luminaire; lum != nil {
				ok := lum.Tag != "" && lum.Watts >= 0 && lum.Watts <= maxWatts && lum.Volts >= 0 && lum.Volts <= maxVolts && lum.PowerFactor >= 0 && lum.PowerFactor <= 1 &&
					lum.Drivers >= 0 && lum.Drivers <= maxDrivers && lum.ControlMA >= 0 && lum.ControlMA <= maxMA && lum.InrushPeak >= 0 && lum.InrushPeak <= maxInrush &&
					lum.InrushUs >= 0 && lum.InrushUs <= maxInrushUs && lum.DimsTo >= 0 && lum.DimsTo <= 100
				if !ok {
					t.Fatalf("%+v", lum)
				}
			}
		}
	})
}
