package demo

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
)

// claim waives a finding of the energy code for a reason: an exception that the designer
// claims. A finding about numbers is accepted with the margin that it has.
func (d draft) claim(rule string, margin float64, reason string) {
	w := domain.Waiver{ID: domain.ID(fmt.Sprintf("claim-%d", len(d.Room.Waivers)+1)), Rule: rule, Reason: reason, Name: designer, Date: "2026-03-05"}
	if margin != 0 {
		w.Margin = &margin
	}
	d.do(edit.Waive{Waiver: w})
}

// wayOut is a corridor whose night row nobody can switch: it lights the way out.
func wayOut(d draft) {
	d.claim("energycode-local-control", 0, "The night row lights the interior exit passageway; nobody shall be able to switch it off. To be agreed with the authority.")
}

// copyRoom has receptacles for machines alone.
func copyRoom(d draft) {
	d.claim("energycode-receptacles", -3, "All receptacles feed copiers and printers that have to answer the network day and night: equipment in continuous operation (8.4.2, exception).")
}
