package controls

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ButtonTwins looks for two buttons of one station that do the same.
var ButtonTwins = rule.Rule{
	ID: "controls-button-twins", Title: "Two buttons of a station do the same", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A second button for the same thing is a slip of the pen in the matrix, or a button that could do something useful.",
	Source:  commonPractice,
	Example: "Two buttons that both recall scene 1 on every load are twins; where one load differs they are not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Station() {
				out = append(out, twins(f, d)...)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		b := domaintest.Classroom()
		for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
			b.Link("st", 3, domain.Press, l, "SC1")
		}
		return b
	},
	Quiet: func() *domaintest.Builder {
		b := domaintest.Classroom()
		for _, l := range []domain.ID{"l1", "l2", "l3"} {
			b.Link("st", 3, domain.Press, l, "SC1")
		}
		return b
	},
}

func twins(f *rule.Facts, d *rule.Device) []rule.Finding {
	var sums [64]uint64 // by button: equal buttons have equal sums
	for i := range f.Links {
		if k := &f.Links[i]; k.From == d && k.Does() && k.Button > 0 && k.Button < len(sums) {
			sums[k.Button] += cellSum(k)
		}
	}
	var out []rule.Finding
	for a := 1; a < d.Type.Buttons && a < len(sums); a++ {
		for b := a + 1; b <= d.Type.Buttons && b < len(sums); b++ {
			if sums[a] == 0 || sums[a] != sums[b] || !same(f, d, a, b) {
				continue
			}
			out = append(out, rule.Finding{Key: fmt.Sprintf("%s.%d.%d", d.ID, a, b), Subjects: []rule.Subject{d.Subject()},
				Message: fmt.Sprintf("Buttons %s and %s of %s do the same on every load: let one of them do something else, or use a station with fewer buttons.", d.ButtonName(a), d.ButtonName(b), rule.Named(d.Tag))})
		}
	}
	return out
}

// cellSum mixes what a cell does into one number, so that most unequal buttons
// are told apart without comparing them cell by cell.
func cellSum(k *rule.Link) uint64 {
	h := uint64(k.To.At+1)*0x9e3779b97f4a7c15 ^ uint64(k.Do.Scene)<<32 ^ math.Float64bits(float64(k.Do.Level))
	for _, c := range []byte(k.Do.Verb) {
		h = h*31 + uint64(c)
	}
	if k.On == domain.Hold {
		h = ^h
	}
	return h * 0xff51afd7ed558ccd
}

func same(f *rule.Facts, d *rule.Device, a, b int) bool {
	return coveredBy(f, d, a, b) && coveredBy(f, d, b, a)
}

// coveredBy tells that button b does all that button a does.
func coveredBy(f *rule.Facts, d *rule.Device, a, b int) bool {
	for i := range f.Links {
		k := &f.Links[i]
		if k.From != d || k.Button != a || !k.Does() {
			continue
		}
		found := false
		for j := range f.Links {
			o := &f.Links[j]
			found = found || o.From == d && o.Button == b && o.On == k.On && o.To == k.To && o.Do == k.Do
		}
		if !found {
			return false
		}
	}
	return true
}
