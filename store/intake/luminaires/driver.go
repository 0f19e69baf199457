package luminaires

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// driverText is what a cell says of a driver.
type driverText struct {
	kinds []domain.DriverKind // more than one where the text leaves it open
	dims  bool
	to    units.Level
	off   bool
}

// driverWords tell the kinds apart. DALI is the digital interface of IEC
// 62386, 0-10 V that of IEC 60929 Annex E; ELV and MLV, electronic and magnetic
// low voltage, are the trade's words for reverse and forward phase (from memory).
var driverWords = []struct {
	kind domain.DriverKind
	is   *regexp.Regexp
}{
	{domain.DriverAnalog, regexp.MustCompile(`\b[01]\s*(?:-|–|—|to|/|\.\.)\s*10\s*v?|\banalog(?:ue)?\b`)},
	{domain.DriverDigital, regexp.MustCompile(`\bdali\b|\bdali-?2\b|\bdigital\b|\baddressable\b`)},
	{domain.DriverReverse, regexp.MustCompile(`\belv\b|\breverse\b|\btrailing\b|\brpc\b`)},
	{domain.DriverForward, regexp.MustCompile(`\btriac\b|\bforward\b|\bleading\b|\bmlv\b|\bincandescent\b|\bfpc\b`)},
	{domain.DriverSwitched, regexp.MustCompile(`\bnon?[- ]*dim|\bnot dimm|\bswitch(?:ed|ing)?\b|\bon ?/ ?off\b|\bon-off\b|\bfixed output\b|^no$|^none$`)},
}

var (
	percents = regexp.MustCompile(`(\d+(?:[.,]\d+)?)\s*(?:%|percent|pct)`)
	toOff    = regexp.MustCompile(`\bdims?[- ]*(?:to[- ]*)?off\b|\bto[- ]off\b|\bdim[- ]*to[- ]*dark\b`)
)

// readDriver reads "0-10V 1%", "Reverse phase (ELV)", "non-dim".
func readDriver(text string) (d driverText) {
	t := strings.ToLower(strings.TrimSpace(text))
	for _, w := range driverWords {
		if w.is.MatchString(t) {
			d.kinds = append(d.kinds, w.kind)
		}
	}
	// "0-10V, switched off at 0 V" is still 0-10V: switching says little beside
	// a way of dimming, unless it denies dimming.
	if len(d.kinds) == 2 && d.kinds[1] == domain.DriverSwitched && !strings.Contains(t, "no") {
		d.kinds = d.kinds[:1]
	}
	var found []float64
	for _, m := range percents.FindAllStringSubmatch(t, 6) {
		if v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64); err == nil && v <= 100 {
			found = append(found, v)
		}
	}
	if len(found) > 0 {
		d.dims, d.to = true, units.Level(slices.Min(found))
	}
	d.off = toOff.MatchString(t)
	return d
}
