package paperwork

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// TypeUnknown asks that each device is of a type in the equipment book.
var TypeUnknown = rule.Rule{
	ID: "paperwork-type-unknown", Title: "Device type not in the equipment book", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "What is not in the book has no ratings: it is not checked, not counted by kind and not in the bill of materials.",
	Source:  commonPractice,
	Example: "A device of a type in the book passes; one whose type was taken out of the book does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Type == nil {
				out = append(out, rule.Finding{Key: string(d.ID), Subjects: []rule.Subject{d.Subject()},
					Message: fmt.Sprintf("%s is of type %q, which the equipment book does not have: add the type, or choose another.", rule.Named(d.Tag), d.Device.Type)})
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Spoil(func(d *domain.Design) {
			for i := range d.Devices {
				if d.Devices[i].ID == "gw" {
					d.Devices[i].Type = "gw-lost"
				}
			}
		})
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
