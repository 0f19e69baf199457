package energycode_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/energycode"
)

func sheet(t testing.TB) *energycode.Pack {
	p, err := pack(t, code21).Copy("town-2026", "Town of Exampleton 2026", "town ordinance 12 (invented)")
	require.NoError(t, err)
	return p
}

func TestCopy_isTheDesignersOwn(t *testing.T) {
	p, from := sheet(t), pack(t, code21)
	assert.True(t, p.Worksheet())
	assert.True(t, p.Whole())
	assert.Equal(t, "IECC 2021, town ordinance 12 (invented)", p.Key())
	delay := *p.Parameter(energycode.FullOff, "delay")
	delay.Value, delay.Mark, delay.Source = 15, energycode.FromText, "ordinance 12, clause 4"
	require.NoError(t, p.SetParameter(delay))
	assert.InDelta(t, 15, p.Parameter(energycode.FullOff, "delay").Value, 0)
	assert.InDelta(t, 20, from.Parameter(energycode.FullOff, "delay").Value, 0, "the built-in pack stays as it is")
	a := answerOf(t, energycode.Judge(p, class, classroom()), energycode.FullOff)
	assert.Equal(t, not, a.Verdict)
	assert.Contains(t, a.Sentence(), "limit 15 min, 5 min over")

	require.NoError(t, p.Confirm("A. Designer", "2026-05-01"))
	assert.Contains(t, p.State(), "confirmed by A. Designer, 2026-05-01; of ")
	memory, unknown, all := p.Unsure()
	assert.Equal(t, len(p.Parameters)+len(p.Requirements)+len(p.Densities), all)
	assert.Positive(t, memory)
	assert.Positive(t, unknown)
	require.NoError(t, p.Confirm("", ""))
	assert.Contains(t, p.State(), "unconfirmed")

	require.NoError(t, p.RemoveParameter(energycode.FullOff, "delay"))
	a = answerOf(t, energycode.Judge(p, class, classroom()), energycode.FullOff)
	assert.Equal(t, open, a.Verdict)
	assert.True(t, a.Open)
	assert.ErrorContains(t, p.RemoveParameter(energycode.FullOff, "delay"), "to take out")
}

func TestWorksheet_setsRows(t *testing.T) {
	p := sheet(t)
	row := *p.Requirement(hall, energycode.ScheduledShutoff)
	row.Duty = energycode.NotListed
	require.NoError(t, p.SetRequirement(row))
	assert.Equal(t, none, answerOf(t, energycode.Judge(p, hall, clocked(0)), energycode.ScheduledShutoff).Verdict)
	require.NoError(t, p.SetDensity(energycode.Density{Space: hall, WattsFt2: 0.3, Basis: energycode.Basis{Mark: energycode.FromText}}))
	assert.InDelta(t, 0.3, p.Density(hall).WattsFt2, 0)
	n := len(p.Requirements)
	require.NoError(t, p.SetRequirement(energycode.Requirement{Space: hall, Control: energycode.Bilevel, Duty: energycode.Required, Basis: energycode.Basis{Mark: energycode.FromText}}))
	assert.Len(t, p.Requirements, n+1)
}

func TestWorksheet_refusesWithAReason(t *testing.T) {
	p := sheet(t)
	memory := energycode.Basis{Mark: energycode.Memory}
	for says, err := range map[string]error{
		"is built in and stays as it is":           pack(t, old).SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "delay", Sign: energycode.AtMost, Value: 15, Unit: "min", Basis: memory}),
		"no check reads \"dealy\" of full_off":     p.SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "dealy", Sign: energycode.AtMost, Value: 15, Unit: "min", Basis: memory}),
		"use \"min\"":                              p.SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "delay", Sign: energycode.AtMost, Value: 15, Unit: "s", Basis: memory}),
		"sign \"at least\" does not fit":           p.SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "delay", Sign: energycode.AtLeast, Value: 15, Unit: "min", Basis: memory}),
		"value -1 is out of range":                 p.SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "delay", Sign: energycode.AtMost, Value: -1, Unit: "min", Basis: memory}),
		"needs a sign and a value, or words":       p.SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "delay", Basis: memory}),
		"control \"full\" is not known":            p.SetParameter(energycode.Parameter{Control: "full", Name: "delay", Words: "x", Basis: memory}),
		"mark \"sure\" is not known":               p.SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "delay", Words: "x", Basis: energycode.Basis{Mark: "sure"}}),
		"more than 600 letters":                    p.SetParameter(energycode.Parameter{Control: energycode.FullOff, Name: "exempt", Words: strings.Repeat("x", 601), Basis: memory}),
		"space \"attic\" is not one of the pack":   p.SetRequirement(energycode.Requirement{Space: "attic", Control: energycode.FullOff, Duty: energycode.Required, Basis: memory}),
		"duty \"maybe\" is not known":              p.SetRequirement(energycode.Requirement{Space: hall, Control: energycode.FullOff, Duty: "maybe", Basis: memory}),
		"none that a kind of space may ask for":    p.SetRequirement(energycode.Requirement{Space: hall, Control: energycode.PowerDensity, Duty: energycode.Required, Basis: memory}),
		"reduction 101 % is out of range":          p.SetRequirement(energycode.Requirement{Space: hall, Control: energycode.PartialOff, Duty: energycode.Required, Reduction: 101, Basis: memory}),
		"also \"full_off\" is no other control":    p.SetRequirement(energycode.Requirement{Space: hall, Control: energycode.FullOff, Duty: energycode.Required, Also: energycode.FullOff, Basis: memory}),
		"each \"desk\" is not known":               p.SetRequirement(energycode.Requirement{Space: hall, Control: energycode.PartialOff, Duty: energycode.Required, Each: "desk", Basis: memory}),
		"0 W/ft2 is out of range":                  p.SetDensity(energycode.Density{Space: hall, Basis: memory}),
		"density: its space is none of the pack's": p.SetDensity(energycode.Density{Space: "attic", WattsFt2: 1, Basis: memory}),
	} {
		require.Error(t, err, says)
		if !strings.HasPrefix(says, "density:") {
			assert.ErrorContains(t, err, says)
		}
	}
	_, err := pack(t, old).Copy("Not A Slug", "", "")
	assert.ErrorContains(t, err, "small letters")
	assert.ErrorContains(t, err, "title is missing")
}

func TestBlankWorksheet_answersNothing(t *testing.T) {
	p := energycode.BlankWorksheet("mine", "My code")
	for _, a := range energycode.Judge(p, class, classroom()) {
		assert.NotEqual(t, not, a.Verdict, a.Sentence())
		if a.Verdict == open {
			assert.True(t, a.Open, a.Sentence())
		}
	}
	assert.NotEmpty(t, written(t, p))
}

func written(t testing.TB, p *energycode.Pack) string {
	var b bytes.Buffer
	require.NoError(t, energycode.Write(&b, p))
	return b.String()
}

func TestRead_givesBackWhatWasWritten(t *testing.T) {
	for _, from := range energycode.Packs() {
		p, err := from.Copy("copy", from.Title, "")
		require.NoError(t, err)
		text := written(t, p)
		got, err := energycode.Read(strings.NewReader("\xef\xbb\xbf" + text))
		require.NoError(t, err)
		assert.Equal(t, text, written(t, got))
		assert.True(t, got.Worksheet())
		assert.Equal(t, energycode.Judge(p, class, night()), energycode.Judge(got, class, night()))
	}
}

func TestRead_anyEditComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := energycode.Find("washington-2015").Copy("copy", "Copy", "")
		require.NoError(t, err)
		for range rapid.IntRange(1, 8).Draw(t, "edits") {
			q := rapid.SampledFrom(p.Parameters).Draw(t, "parameter")
			if q.Sign != "" {
				q.Value = float64(rapid.IntRange(0, 1e6).Draw(t, "value")) / 100
			}
			q.Note = strings.TrimSpace(rapid.StringMatching(`[a-z<>&" ]{0,20}`).Draw(t, "note"))
			q.Note = strings.Join(strings.Fields(q.Note), " ")
			require.NoError(t, p.SetParameter(q))
			r := rapid.SampledFrom(p.Requirements).Draw(t, "requirement")
			r.Duty = rapid.SampledFrom(energycode.Duties()).Draw(t, "duty")
			require.NoError(t, p.SetRequirement(r))
		}
		var first, second bytes.Buffer
		require.NoError(t, energycode.Write(&first, p))
		got, err := energycode.Read(bytes.NewReader(first.Bytes()))
		require.NoError(t, err)
		require.NoError(t, energycode.Write(&second, got))
		require.Equal(t, first.String(), second.String())
	})
}

func TestRead_refusesWithPlaceAndRemedy(t *testing.T) {
	good := written(t, sheet(t))
	swap := func(from, to string) string {
		require.Contains(t, good, from)
		return strings.Replace(good, from, to, 1)
	}
	for name, c := range map[string]struct{ text, says string }{
		"nothing":            {" ", "the file is empty"},
		"no JSON":            {"code,edition", "is not JSON"},
		"cut off":            {good[:len(good)/2], "it was cut off"},
		"bytes":              {"{\"format\":\"\xff\"}", "not UTF-8"},
		"another document":   {`{"format":"scopewright-project","version":1}`, "this is no energy-code worksheet"},
		"newer":              {swap(`"version": 1`, `"version": 2`), "this program reads 1"},
		"a text for version": {swap(`"version": 1`, `"version": "x"`), "version"},
		"no pack":            {`{"format":"scopewright-energy-code","version":1}`, `"pack" is missing`},
		"unknown field":      {swap(`"code": `, `"kode": "x", "code": `), "kode"},
		"twice":              {swap(`"code": `, `"code": "x", "code": `), `"code" is given twice`},
		"capitals":           {swap(`"code": `, `"Code": "x", "code": `), "names are in small letters"},
		"text for a number":  {swap(`"value": 50,`, `"value": "fifty",`), "must be a number"},
		"unknown control":    {swap(`"control": "partial_auto_on"`, `"control": "partial_on"`), "parameters, row"},
		"a row twice":        {swap(`"name": "delay"`, `"name": "delay", "sign": "at most", "value": 20, "unit": "min", "clause": "x", "mark": "memory"}, {"control": "partial_off", "name": "delay"`), "says the same thing"},
		"after the end":      {good + "{}", "something follows after the end"},
		"too deep":           {strings.Repeat("[", 100), "nests deeper"},
		"a list":             {"[]", "no worksheet"},
		"a word":             {"null", "no energy-code worksheet"},
		"no spaces":          {`{"format":"scopewright-energy-code","version":1,"pack":{"id":"x","code":"x","edition":"x","title":"x","spaces":[],"parameters":null,"requirements":null,"densities":null}}`, "spaces: there is none"},
		"a space twice":      {`{"format":"scopewright-energy-code","version":1,"pack":{"id":"x","code":"x","edition":"x","title":"x","spaces":[{"id":"a","name":"A"},{"id":"a","name":""}]}}`, "the id is given twice"},
	} {
		p, err := energycode.Read(strings.NewReader(c.text))
		require.Error(t, err, name)
		assert.Nil(t, p, name)
		var refused *energycode.Refused
		require.ErrorAs(t, err, &refused, name)
		assert.Contains(t, err.Error(), c.says, name)
		assert.LessOrEqual(t, len(refused.Faults), 12, name)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(written(f, energycode.BlankWorksheet("x", "X"))[:3000]))
	f.Add([]byte(`{"format":"scopewright-energy-code","version":1,"pack":{"id":"x","code":"x","edition":"x","title":"x","spaces":[{"id":"a","name":"A"}],"parameters":[{"control":"full_off","name":"delay","sign":"at most","value":20,"unit":"min","mark":"read"}],"requirements":[{"space":"*","control":"full_off","duty":"R","mark":"read"}],"densities":[{"space":"a","w_per_ft2":0.5,"mark":"read"}]}}`))
	f.Add([]byte(`[[{"a":1}]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := energycode.Read(bytes.NewReader(data))
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		var first, second bytes.Buffer
		require.NoError(t, energycode.Write(&first, p))
		again, err := energycode.Read(bytes.NewReader(first.Bytes()))
		require.NoError(t, err, "what was read can be written and read again")
		require.NoError(t, energycode.Write(&second, again))
		require.Equal(t, first.String(), second.String())
		for _, s := range p.Spaces {
			energycode.Judge(p, s.ID, night())
		}
	})
}
