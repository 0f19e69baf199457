package sheet

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// head is the title block of a sheet that is about the whole project.
func (c *Content) head() TitleBlock {
	p := c.project
	h := TitleBlock{
		Project: p.Name, ProjectNumber: p.Number, Client: p.Client, Address: p.Address,
		Revision: c.in.Issue.Revision, Date: c.in.Issue.Date, Purpose: c.in.Issue.purpose(),
		Designer: p.Designer, Checker: p.Checker, Reviewer: p.Reviewer,
		Units: unitsName(p.Units), Invented: p.Invented, Caution: domain.CautionFooter,
	}
	if len(p.Buildings) == 1 {
		h.Building = p.Buildings[0].Name
	}
	return h
}

// head is the title block of a room's sheet.
func (r *room) head() TitleBlock {
	h := r.c.head()
	h.Building, h.Room = r.on.buildingName(), r.Label()
	if r.on.storey != nil {
		h.Storey = r.on.storey.Name
	}
	h.Hash = shortHash(r.contentHash())
	return h
}

func unitsName(s units.System) string {
	if s == units.US {
		return "US (ft, in)"
	}
	return "SI (m)"
}

// shortHash is what a person can compare at a glance: 32 of the 256 bits.
func shortHash(hash string) string {
	if len(hash) < 8 {
		return hash
	}
	return hash[:4] + " " + hash[4:8]
}
