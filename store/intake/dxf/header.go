package dxf

import "strings"

// header holds the variables of the HEADER section that matter here.
type header struct {
	version  string // $ACADVER
	codePage string // $DWGCODEPAGE
	insUnits int    // $INSUNITS, -1 where absent
	lUnits   int    // $LUNITS: 3 engineering, 4 architectural: feet and inches
}

// releases name the values of $ACADVER (source: the format owner's reference
// page on header variables).
var releases = map[string]string{
	"AC1006": "R10", "AC1009": "R12", "AC1012": "R13", "AC1014": "R14", "AC1015": "2000",
	"AC1018": "2004", "AC1021": "2007", "AC1024": "2010", "AC1027": "2013", "AC1032": "2018",
}

func (h header) release() string {
	if r, ok := releases[h.version]; ok {
		return r
	}
	return cut(h.version, 12)
}

// take stores one group that follows a variable's name.
func (h *header) take(variable string, p pair) {
	switch {
	case variable == "$ACADVER" && p.code == 1:
		h.version = strings.ToUpper(strings.TrimSpace(string(p.text)))
	case variable == "$DWGCODEPAGE" && p.code == 3:
		h.codePage = strings.TrimSpace(string(p.text))
	case variable == "$INSUNITS" && p.code == 70:
		h.insUnits = p.whole()
	case variable == "$LUNITS" && p.code == 70:
		h.lUnits = p.whole()
	}
}
