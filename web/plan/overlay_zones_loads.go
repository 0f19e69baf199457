package plan

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/web/edits"
)

// zoneWords are how the list speaks of where luminaires hang.
var zoneWords = []struct {
	zone domain.WindowZone
	word string
}{{domain.ZoneWindow, "in the primary zone"}, {domain.ZoneSecondary, "in the secondary zone"}, {domain.ZoneRoof, "in the toplit zone"}, {domain.ZoneNone, "in none"}}

func (z *zoneDrawing) hung() []daylight.Hung {
	return z.dayZones.code.Rules.Hang(&z.all, z.space.Luminaires)
}

// stated gives the window zone that a load states; one that states none has none.
func stated(l *domain.Load) domain.WindowZone {
	if l.Zone == "" {
		return domain.ZoneNone
	}
	return l.Zone
}

// differs tells that no luminaire of a load hangs where the load says that it does.
// Where the rules draw no such zone, the load may be right.
func (z *zoneDrawing) differs(h daylight.Hung) bool {
	l := z.room.Design.Load(h.Load)
	return l != nil && z.dayZones.code.Rules.Knows(stated(l)) && h.In(stated(l)) == 0
}

// loadRows tell of each load where its luminaires hang, and offer to say so in the
// load where it says otherwise.
func (z *zoneDrawing) loadRows() []overlayRow {
	var out []overlayRow
	for _, h := range z.hung() {
		l := z.room.Design.Load(h.Load)
		if l == nil {
			continue
		}
		row := z.row("load-"+string(l.ID), strings.TrimSpace(l.Tag+" "+l.Name), "", hangs(&h))
		if l.Layer != domain.General && l.Layer != "" {
			row.More += "; " + string(l.Layer) + " lighting, which codes do not count"
		}
		if z.differs(h) {
			row.Grade = grade{"warning", "differs"}
			row.More += fmt.Sprintf("; the load's window zone says %q", stated(l))
			row.Zone = &zoneButton{z.id(), string(l.ID), string(h.Most()), fmt.Sprintf("Set window zone of %s to %q", l.Tag, h.Most())}
		}
		out = append(out, row)
	}
	return out
}

// hangs says where a load's luminaires hang.
func hangs(h *daylight.Hung) string {
	text := ""
	for _, w := range zoneWords {
		if n := h.In(w.zone); n > 0 && text == "" {
			text = edits.Count(n, "luminaire") + " " + w.word
		} else if n > 0 {
			text += fmt.Sprintf(", %d %s", n, w.word)
		}
	}
	return text
}
