package ifc

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDecode_allWaysOfWritingLetters(t *testing.T) {
	// The forms are those of ISO 10303-21, from memory.
	for in, want := range map[string]string{
		`B\X2\00FC\X0\ro`:               "Büro",
		`Caf\X\E9`:                      "Café",
		`Caf\S\i`:                       "Café",
		`\PE\\S\0`:                      "А", // Cyrillic A of ISO 8859-5
		`\X4\0001F600\X0\`:              "\U0001F600",
		`\X2\D83DDE00\X0\`:              "\U0001F600",
		`it''s`:                         "it's",
		`a\\b`:                          `a\b`,
		`\X2\00`:                        "",
		`\X\zz!`:                        "!",
		"Caf\xe9":                       "Café",
		"Büro":                          "Büro",
		"a\x00b\tc":                     "a b c",
		`<script>alert(1)</script>`:     `<script>alert(1)</script>`,
		strings.Repeat("long ", 10_000): strings.TrimSpace(strings.Repeat("long ", 40)),
	} {
		assert.Equal(t, want, decode([]byte(in)), "%.20s", in)
	}
}

func TestScan_commentsLinesAndLettersCase(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("L", 0)
	p.space(storey, at, p.box(4, 3, 2), "1", "a;b)c(/*d*/")
	text := strings.ReplaceAll(string(p.bytes()), "IFCSPACE(", "\n /* a ; comment ' */ IfcSpace \n (/*(*/")
	s := only(t, read(t, []byte(text)))
	assert.Equal(t, "a;b)c(/*d*/", s.Name)
	assert.InDelta(t, 12, float64(s.Area), 1e-9)
}

func TestRefuses_withAReason(t *testing.T) {
	whole := newPlot()
	storey, at := whole.storey("L", 0)
	whole.space(storey, at, whole.box(4, 3, 2), "1", "A")
	text := string(whole.bytes())
	for _, c := range []struct{ data, want string }{
		{"AC1027\x00", "This is a DWG drawing, not IFC"},
		{"PK\x03\x04", "This is a ZIP archive; unpack it first."},
		{"", "The file is empty."},
		{"<?xml version='1.0'?><gbXML/>", "gbXML, not IFC"},
		{strings.Replace(text, "IFC4", "AUTOMOTIVE_DESIGN", 1), "follows the schema 'AUTOMOTIVE_DESIGN'"},
		{strings.Replace(text, "FILE_SCHEMA(('IFC4'));", "", 1), "names no schema"},
		{text[:len(text)/2], "it is incomplete"},
		{strings.Replace(text, "ENDSEC;\nEND-ISO-10303-21;\n", "", 1), "the file ends inside the section DATA"},
		{strings.Replace(text, "#2=IFCUNIT", "#2=IFCUNIT('", 1), "it is incomplete"},
		{strings.Replace(text, "#2=", "2=", 1), "where an instance (#1=...) should stand"},
		{strings.Replace(text, "#2=IFC", "#2 IFC", 1), "is no instance"},
		{strings.Replace(text, "#2=IFCUNITASSIGNMENT((#3))", "#2=IFCUNITASSIGNMENT", 1), "has no attributes"},
		{strings.Replace(text, "(#3)", strings.Repeat("(", 70)+"#3"+strings.Repeat(")", 70), 1), "nested more than 64 deep"},
	} {
		_, err := Read(context.Background(), []byte(c.data), Options{}, nil)
		require.Error(t, err, c.want)
		assert.Contains(t, err.Error(), c.want)
	}
}

func TestReads_whatIsLeftOfADamagedModel(t *testing.T) {
	for name, spoil := range map[string]func(p *plot, storey, at string){
		"coordinate that is no number": func(p *plot, storey, at string) {
			p.space(storey, at, p.shape("Body", p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)",
				p.add("IFCPOLYLINE((%s,%s,%s))", p.add("IFCCARTESIANPOINT((NaN,0.))"), p.point(1, 1), p.point(0, 1))), 3)), "2", "Bad")
		},
		"coordinate out of reach": func(p *plot, storey, at string) {
			p.space(storey, p.placement(at, 1e9, 0, 0), p.box(4, 3, 3), "2", "Bad")
		},
		"infinite depth": func(p *plot, storey, at string) {
			p.space(storey, at, p.shape("Body", p.add("IFCEXTRUDEDAREASOLID(#9999,$,$,1e999)")), "2", "Bad")
		},
		"references to nothing": func(p *plot, storey, at string) { p.space(storey, "#9998", "#9999", "2", "Bad") },
		"kind that is not read": func(p *plot, storey, at string) {
			p.space(storey, at, p.shape("Body", p.add("IFCREVOLVEDAREASOLID($,$,$,1.)")), "2", "Bad")
		},
		"no area": func(p *plot, storey, at string) { p.space(storey, at, p.box(4, 0, 3), "2", "Bad") },
		"clipping that clips itself": func(p *plot, storey, at string) {
			p.put("#90=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#90,#90);")
			p.space(storey, at, p.shape("Body", "#90"), "2", "Bad")
		},
		"an outline of too many points": func(p *plot, storey, at string) {
			pt := p.point(1, 1)
			curve := p.add("IFCPOLYLINE((%s%s))", pt, strings.Repeat(","+pt, MaxOutlinePoints+5))
			p.space(storey, at, p.shape("Body", p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", curve), 3)), "2", "Bad")
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			storey, at := p.storey("L", 0)
			p.space(storey, at, p.box(4, 3, 2), "1", "Good")
			spoil(p, storey, at)
			m := read(t, p.bytes())
			require.Len(t, m.Storeys[0].Spaces, 2)
			assert.InDelta(t, 12, float64(m.Storeys[0].Spaces[0].Area), 1e-9)
			assert.True(t, m.Storeys[0].Spaces[1].Outline.Empty())
			assert.Contains(t, messages(m), "2 Bad")
		})
	}
}

func TestReads_chainsThatCloseOnThemselves(t *testing.T) {
	p := newPlot()
	storey, _ := p.storey("L", 0)
	p.put("#80=IFCLOCALPLACEMENT(#81,$);")
	p.put("#81=IFCLOCALPLACEMENT(#80,$);")
	p.space(storey, "#80", p.box(4, 3, 2), "1", "A")
	p.put("#82=IFCSPACE('q',$,'9',$,$,$,$,'Q',.ELEMENT.,.INTERNAL.,$);")
	p.put("#83=IFCZONE('z',$,'9',$,$);")
	p.add("IFCRELAGGREGATES('x',$,$,$,#82,(#83))")
	p.add("IFCRELAGGREGATES('x',$,$,$,#83,(#82))")
	said := messages(read(t, p.bytes()))
	assert.Contains(t, said, "leads back to itself")
	assert.Contains(t, said, "#82 is part of itself")
}

func TestReads_repeatedIds(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("L", 0)
	shape := p.box(4, 3, 2)
	p.space(storey, at, shape, "1", "A")
	p.space(storey, p.placement(at, 10, 0, 0), shape, "1", "B")
	p.put("#1=IFCWALL('w',$,$,$,$,$,$,$);")
	m := read(t, p.bytes())
	require.Len(t, m.Storeys[0].Spaces, 2)
	assert.Equal(t, "id-1-2", m.Storeys[0].Spaces[1].Key)
	assert.Contains(t, messages(m), "the second got the id id-1-2")
	assert.Contains(t, messages(m), "1 instance was given the id of another, first #1")
}

func TestReads_outlineThatCrossesItself(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("L", 0)
	// Lines y = x/2 and y = 4 - x/2 meet at (4, 2): the left part has 8 m2.
	p.space(storey, at, p.shape("Body", p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 6, 3, 6, 1, 0, 4)), 3)), "9", "Tie")
	m := read(t, p.bytes())
	assert.InDelta(t, 8, float64(only(t, m).Area), 0.01)
	assert.Contains(t, messages(m), "Outline of '9 Tie' crosses itself near (4.00, 2.00) m. Its largest part (8.00 m2) is taken.")
}

func TestMappingsThatMultiply_stayBounded(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("L", 0)
	solid := p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, 4, 0, 4, 3, 0, 3)), 3)
	op := p.add("IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,%s,1.,$)", p.point(0, 0, 0))
	item := p.add("IFCREVOLVEDAREASOLID($)")
	for range 60 {
		source := p.add("IFCREPRESENTATIONMAP($,%s)", p.add("IFCSHAPEREPRESENTATION($,'Body','X',(%s,%s))", item, item))
		item = p.add("IFCMAPPEDITEM(%s,%s)", source, op)
	}
	p.space(storey, at, p.shape("Body", solid, item), "1", "A")
	start := time.Now()
	m := read(t, p.bytes())
	assert.Less(t, time.Since(start), 5*time.Second)
	assert.InDelta(t, 12, float64(only(t, m).Area), 1e-9)
	assert.Contains(t, messages(m), "The shape of '1 A' has more than 10,000 pieces")
}

func TestCurvesThatMultiply_stayBounded(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("L", 0)
	for _, curve := range []string{p.add("IFCPOLYLINE(())"), p.polyline(0, 0, 1, 0, 1, 1)} {
		for range 60 {
			s := p.add("IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,%s)", curve)
			curve = p.add("IFCCOMPOSITECURVE((%s,%s),.F.)", s, s)
		}
		p.space(storey, at, p.shape("Body", p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", curve), 3)), "1", "A")
	}
	start := time.Now()
	m := read(t, p.bytes())
	assert.Less(t, time.Since(start), 5*time.Second)
	for _, s := range m.Storeys[0].Spaces {
		assert.True(t, s.Outline.Empty())
	}
}

func TestArgs_endAtTheBoundOfValues(t *testing.T) {
	f, err := scan(context.Background(), newPlot().bytes(), nil)
	require.NoError(t, err)
	assert.NotEmpty(t, f.args(1).list)
	f.values = maxValues + 1
	assert.Empty(t, f.args(1).list)
}

func TestRead_canBeCancelled(t *testing.T) {
	p := newPlot()
	for i := range 20_000 {
		p.put(fmt.Sprintf("#%d=IFCDIRECTION((1.,0.,0.));", 1000+i))
	}
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	_, err := Read(ctx, p.bytes(), Options{}, func(done, total int64) {
		assert.LessOrEqual(t, done, total)
		calls++
		cancel()
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Positive(t, calls)
}

func FuzzRead(f *testing.F) {
	p := newPlot()
	house(p, true)
	f.Add(p.bytes())
	q := newPlot()
	storey, at := q.storey("L", 0)
	circle := q.add("IFCCIRCLE(%s,2.)", q.add("IFCAXIS2PLACEMENT2D(%s,$)", q.point(4, 2)))
	arc := q.add("IFCTRIMMEDCURVE(%s,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(3.)),.T.,.PARAMETER.)", circle)
	curve := q.add("IFCCOMPOSITECURVE((%s),.F.)", q.add("IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.F.,%s)", arc))
	q.space(storey, at, q.shape("Body", q.extruded(q.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", curve), 3)), "1", `B\X2\00FC\X0\ro`)
	f.Add(q.bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		m, err := Read(ctx, data, Options{}, nil)
		if err != nil {
			return
		}
		for _, st := range m.Storeys {
			for _, s := range st.Spaces {
				if !s.Outline.Empty() && !(s.Area > 0) {
					t.Fatalf("outline of %g m2", s.Area)
				}
			}
		}
	})
}

func TestReads_roomsThatOverlapAreTold(t *testing.T) {
	p := newPlot()
	storey, at := p.storey("L", 0)
	p.space(storey, at, p.box(10, 3, 3), "1", "Corridor")
	p.space(storey, p.placement(at, 4, 1, 0), p.box(1.9, 1, 3), "2", "Closet") // 1.9 m2 within
	p.space(storey, p.placement(at, 8, 0, 0), p.box(4, 3, 3), "3", "Office")   // shares 2 x 3 m
	p.space(storey, p.placement(at, 0, 0, 5), p.box(10, 3, 3), "4", "Loft")    // above, shares nothing
	said := messages(read(t, p.bytes()))
	assert.Contains(t, said, "'2 Closet' lies inside '1 Corridor' (1.90 m2).")
	assert.Contains(t, said, "'3 Office' overlaps '1 Corridor' (6.00 m2).")
	assert.NotContains(t, said, "Loft")
}

// A file of 100 MB and a byte is refused before any of it is read.
func TestRefuses_tooLarge(t *testing.T) {
	whole := newPlot().bytes()
	data := append(whole, make([]byte, MaxBytes+1-len(whole))...)
	_, err := Read(context.Background(), data, Options{}, nil)
	assert.EqualError(t, err, "the file has 100 MB; at most 100 MB are read: export spaces, storeys, walls and windows only")
}

func TestRefuses_tooManyInstances(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a second")
	}
	text := string(newPlot().bytes())
	head, tail, _ := strings.Cut(text, "DATA;")
	var b strings.Builder
	b.WriteString(head + "DATA;\n")
	for i := range MaxInstances + 1 {
		fmt.Fprintf(&b, "#%d=A();\n", i+1)
	}
	b.WriteString(tail)
	start := time.Now()
	_, err := Read(context.Background(), []byte(b.String()), Options{}, nil)
	require.Error(t, err)
	assert.Regexp(t, `^the file has more than [0-9,]+ instances \(stopped at line [0-9,]+\): export spaces, storeys, walls and windows only$`, err.Error())
	assert.Less(t, time.Since(start), 20*time.Second)
}
