package luminaires

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain/units"
	"scopewright/store/intake/columns"
	"scopewright/store/intake/table"
)

// Bounds that tell a slip of the pen from a luminaire, those of
// domain.LuminaireFields.
const (
	maxWatts    = 100_000
	maxVolts    = 1000
	maxDrivers  = 100
	maxMA       = 100
	maxInrush   = 10_000
	maxInrushUs = 100_000
)

var (
	lamps  = regexp.MustCompile(`^\(?(\d{1,3})\)?\s*[x×X*@]?\s*(\d[\d.,]*)\s*(?:[wW](?:atts?)?)?\.?$`)
	lamped = regexp.MustCompile(`^\(\d{1,3}\)|[x×X*@]`)
)

func (p *parser) readPower(row table.Row, line *Line) {
	if text := strings.TrimSpace(p.Text(row, fWatts)); lamped.MatchString(text) && lamps.MatchString(text) {
		p.readLamps(row, line, text)
	} else if v, ok := p.number(row, fWatts, "w", "W", maxWatts); ok && v > 0 {
		line.Watts, line.Given = units.Watts(v), line.Given|GivenWatts
	}
	if v, ok := p.number(row, fPF, "", "", 100); ok && v > 0 {
		text := p.Text(row, fPF)
		if strings.Contains(text, "%") || v >= 20 { // 95 for 0.95
			v /= 100
		}
		if v > 1 || v < 0.05 {
			p.problem(row, fPF, true, "%s is no power factor: write it like 0.95 or 95 %%", columns.Short(text))
		} else {
			line.PowerFactor, line.Given = v, line.Given|GivenPowerFactor
		}
	}
	if va, ok := p.number(row, fVA, "va", "VA", maxWatts); ok && va > 0 {
		p.fitVA(row, line, va)
	}
}

// readLamps reads "4x8W" and "(2) 32W" as the sum.
func (p *parser) readLamps(row table.Row, line *Line, text string) {
	m := lamps.FindStringSubmatch(text)
	each, err := p.Read(m[2], fWatts, "w")
	count, _ := strconv.Atoi(m[1])
	total := each * float64(count)
	if err != nil || total <= 0 {
		p.problem(row, fWatts, false, "%q is not a number of watts; the value was left out", columns.Short(text))
		return
	}
	if !p.within(row, fWatts, total, "W", maxWatts) {
		return
	}
	line.Watts, line.Given = units.Watts(total), line.Given|GivenWatts
	line.Remarks = append(line.Remarks, fmt.Sprintf("%s was read as %s W together; state the input watts of the luminaire with its driver if they differ", text, units.Trim(total, 2)))
}

// fitVA turns volt-amperes into what the schedule keeps: watts and power
// factor, S = P/pf.
func (p *parser) fitVA(row table.Row, line *Line, va float64) {
	watts, pf := float64(line.Watts), line.PowerFactor
	switch {
	case watts > 0 && pf > 0:
		if math.Abs(watts/pf-va) > 0.03*va {
			p.problem(row, fVA, false, "%s VA do not fit %s W at power factor %s: look at the three; the volt-amperes were left out", units.Trim(va, 2), units.Trim(watts, 2), units.Trim(pf, 3))
		}
	case watts > va*1.001:
		p.problem(row, fVA, false, "%s VA are less than %s W, which cannot be: look at both; the volt-amperes were left out", units.Trim(va, 2), units.Trim(watts, 2))
	case watts > 0:
		line.PowerFactor, line.Given = math.Min(1, watts/va), line.Given|GivenPowerFactor
		line.Remarks = append(line.Remarks, fmt.Sprintf("power factor %s is %s W by %s VA", units.Trim(line.PowerFactor, 3), units.Trim(watts, 2), units.Trim(va, 2)))
	case pf > 0:
		line.Watts, line.Given = units.Watts(va*pf), line.Given|GivenWatts
		line.Remarks = append(line.Remarks, fmt.Sprintf("%s W are %s VA at power factor %s", units.Trim(va*pf, 2), units.Trim(va, 2), units.Trim(pf, 3)))
	default:
		line.Watts, line.Given = units.Watts(va), line.Given|GivenWatts
		line.Remarks = append(line.Remarks, fmt.Sprintf("the watts are taken to be the %s VA, which is the safe side", units.Trim(va, 2)))
	}
}

var (
	number = regexp.MustCompile(`\d+(?:[.,]\d+)?`)
	// supplyWords stand beside the volts: "277V, 1PH, 60Hz".
	supplyWords = regexp.MustCompile(`(?i)[,/\s]*\b(?:[13]\s*(?:ph(?:ase)?|ø|~)|(?:50\s*/\s*)?[56]0\s*hz)\b\.?`)
)

// readVolts leaves a luminaire for several voltages open: which one the
// building has is the designer's to say, and the current follows from it.
func (p *parser) readVolts(row table.Row, line *Line) {
	text := strings.TrimSpace(p.Text(row, fVolts))
	if columns.Blank(text) {
		return
	}
	bare := strings.TrimSpace(supplyWords.ReplaceAllString(text, ""))
	plain := columns.Plain(bare)
	several := strings.Contains(plain, "univ") || strings.Contains(plain, "unv") || plain == "multi" || plain == "multi volt"
	if found := number.FindAllString(bare, 4); len(found) > 1 || several {
		p.problem(row, fVolts, false, "%s fits several line voltages: say which one the building has; the volts were left open", columns.Short(text))
		return
	}
	v, err := p.Read(bare, fVolts, "v")
	if err != nil {
		p.problem(row, fVolts, false, "%s; the value was left out", err)
	} else if v != 0 && p.within(row, fVolts, v, "V", maxVolts) {
		line.Volts, line.Given = units.Volts(v), line.Given|GivenVolts
	}
}

func (p *parser) readDriver(row table.Row, line *Line) {
	if text := p.text(row, fDriver, 400); text != "" {
		d := readDriver(text)
		switch {
		case len(d.kinds) == 1:
			line.Driver, line.Given = d.kinds[0], line.Given|GivenDriver
		case len(d.kinds) > 1:
			p.problem(row, fDriver, false, "%q names several ways of dimming: choose the one that is used; the driver was left open", columns.Short(text))
		default:
			p.problem(row, fDriver, false, "the driver %q is not known: use switched only, 0-10V, forward phase, reverse phase or digital; the driver was left open", columns.Short(text))
		}
		if d.dims {
			line.DimsTo, line.Given = d.to, line.Given|GivenDimsTo
		}
		if d.off {
			line.DimToOff, line.Given = true, line.Given|GivenDimToOff
		}
	}
	if v, ok := p.number(row, fDrivers, "", "", maxDrivers); ok && v > 0 {
		if v != math.Trunc(v) {
			p.problem(row, fDrivers, true, "the drivers of a luminaire are a whole number, not %s", columns.Short(p.Text(row, fDrivers)))
		} else {
			line.Drivers, line.Given = int(v), line.Given|GivenDrivers
		}
	}
	if v, ok := p.number(row, fControl, "ma", "mA", maxMA); ok && v > 0 {
		line.ControlMA, line.Given = units.Milliamps(v), line.Given|GivenControlMA
	}
}

func (p *parser) readDimming(row table.Row, line *Line) {
	text := strings.TrimSpace(p.Text(row, fDimsTo))
	if !columns.Blank(text) {
		found := number.FindAllString(text, 4)
		off := strings.Contains(strings.ToLower(text), "off")
		switch {
		case len(found) > 1: // a range: "100-10 %"
			if v, ok := lowest(found); ok {
				line.DimsTo, line.Given = v, line.Given|GivenDimsTo
				line.Remarks = append(line.Remarks, fmt.Sprintf("%s was read as dims to %s", columns.Short(text), units.Percent(v)))
			} else {
				p.problem(row, fDimsTo, false, "%q is no range of percent; the value was left out", columns.Short(text))
			}
		case len(found) == 0 && off:
		case off: // "1 % / off"
			if v, ok := lowest(found); ok {
				line.DimsTo, line.Given = v, line.Given|GivenDimsTo
			}
		default:
			if v, ok := p.number(row, fDimsTo, "", "%", 100); ok {
				line.DimsTo, line.Given = units.Level(v), line.Given|GivenDimsTo
			}
		}
		if off {
			line.DimToOff, line.Given = true, line.Given|GivenDimToOff
		}
	}
	raw := strings.ToLower(strings.TrimSpace(p.Text(row, fDimToOff)))
	switch {
	case slices.Contains([]string{"yes", "y", "true", "1", "x", "✓", "✔"}, raw):
		line.DimToOff, line.Given = true, line.Given|GivenDimToOff
	case slices.Contains([]string{"no", "n", "false", "0", "none"}, raw):
		line.DimToOff, line.Given = false, line.Given|GivenDimToOff
	case !columns.Blank(raw):
		p.problem(row, fDimToOff, false, "dims to off is yes or no, not %q; it was left out", columns.Short(raw))
	}
}

func lowest(found []string) (units.Level, bool) {
	least := 101.0
	for _, text := range found {
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		if err != nil || v > 100 {
			return 0, false
		}
		least = math.Min(least, v)
	}
	return units.Level(least), true
}

// peakAndWidth is "25A/200us", "25 A @ 200 µs", "25A for 0.2 ms"; a comma
// parts them only behind a unit, for "18,5" is one number.
var peakAndWidth = regexp.MustCompile(`(?i)^(\d[\d.,]*)\s*(?:(?:a|amps?|apk)?(?:\s*(?:pk|peak))?\s*(?:/|@|for|over|x)|(?:a|amps?|apk)(?:\s*(?:pk|peak))?\s*[,;])\s*(\d[\d.,]*)\s*(µs|μs|us|usec|ms)?(?:\W.*)?$`)

func (p *parser) readInrush(row table.Row, line *Line) {
	text := strings.TrimSpace(p.Text(row, fInrush))
	if m := peakAndWidth.FindStringSubmatch(text); m != nil {
		peak, err1 := p.Read(m[1], fInrush, "a")
		unit := strings.ToLower(m[3])
		width, err2 := strconv.ParseFloat(strings.Replace(m[2], ",", ".", 1), 64)
		if unit == "ms" {
			width *= 1000
		}
		if err1 != nil || err2 != nil {
			p.problem(row, fInrush, false, "%q is no inrush: write it like 25 A/200 us; the value was left out", columns.Short(text))
			return
		}
		if p.within(row, fInrush, peak, "A", maxInrush) && p.within(row, fInrush, width, "us", maxInrushUs) {
			line.InrushPeak, line.InrushUs, line.Given = units.Amps(peak), width, line.Given|GivenInrushPeak|GivenInrushUs
		}
		return
	}
	if v, ok := p.number(row, fInrush, "a", "A", maxInrush); ok && v > 0 {
		line.InrushPeak, line.Given = units.Amps(v), line.Given|GivenInrushPeak
	}
	if v, ok := p.number(row, fInrushUs, "us", "us", maxInrushUs); ok && v > 0 {
		line.InrushUs, line.Given = v, line.Given|GivenInrushUs
	}
}
