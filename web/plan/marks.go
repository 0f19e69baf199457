package plan

import (
	"context"
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/export/drawing"
	"scopewright/store"
	"scopewright/validate/rule"
	"scopewright/web/edits"
)

// mark is the place of a finding and the thing that it is about.
type mark struct {
	drawing.Finding
	Thing string // "device/<room>/<id>" or "room/<id>"
}

// marks gives the places of findings: at the device that a finding is about
// where that has one, in the middle of its room otherwise. Remarks are left to
// the room's own page.
func (s Screen) marks(ctx context.Context, st *state) ([]mark, error) {
	lines, _, err := s.Store.RoomLines(ctx, st.Project.ID, store.Filter{Storey: st.Storey.ID})
	if err != nil {
		return nil, err
	}
	counted := make(map[domain.ID]store.Summary, len(lines))
	for _, l := range lines {
		counted[l.ID] = l.Summary
	}
	var out []mark
	for _, r := range st.Rooms {
		if n := counted[r.Resolved.ID]; !r.Resolved.Outline.Empty() && n.Errors+n.Warnings > 0 {
			out = append(out, roomMarks(r.Resolved, s.Judge(r.Project, r.Resolved), n)...)
		}
	}
	return out, nil
}

// roomMarks marks each device that a finding is about once, with the worst that
// was found of it, and the room with what has no place of its own.
func roomMarks(r *domain.Resolved, found []rule.Finding, n store.Summary) []mark {
	var out []mark
	at := map[domain.ID]int{}
	placed := 0
	for i := range found {
		f := &found[i]
		if f.Waived() || f.Severity == rule.Info {
			continue
		}
		dev := deviceOf(r, f)
		if dev == nil {
			continue
		}
		placed++
		if j, some := at[dev.ID]; some {
			if f.Severity == rule.Error {
				out[j].Severity = drawing.Error
			}
			out[j].Text += " " + f.Message
			continue
		}
		at[dev.ID] = len(out)
		finding := drawing.Finding{ID: string(r.ID + "-" + dev.ID), At: *dev.At, Severity: drawing.Severity(f.Severity), Text: f.Message}
		out = append(out, mark{finding, "device/" + string(r.ID) + "/" + string(dev.ID)})
	}
	if rest := n.Errors + n.Warnings - placed; rest > 0 {
		severity := drawing.Warning
		if n.Errors > 0 {
			severity = drawing.Error
		}
		text := fmt.Sprintf("%s, %s in all: the room's workbench lists them", edits.Count(n.Errors, "error"), edits.Count(n.Warnings, "warning"))
		out = append(out, mark{drawing.Finding{ID: string(r.ID), At: corner(r.Outline), Severity: severity, Text: text}, "room/" + string(r.ID)})
	}
	return out
}

// deviceOf gives the first device with a place that a finding is about.
func deviceOf(r *domain.Resolved, f *rule.Finding) *domain.Device {
	for _, s := range f.Subjects {
		if s.Part != "devices" {
			continue
		}
		if dev := r.Design.Device(s.ID); dev != nil && dev.At != nil {
			return dev
		}
	}
	return nil
}

// corner is where a room's own mark stands: in its upper left corner, clear of
// its name.
func corner(outline geom.Polygon) geom.Point {
	const in = 0.6 // meters from the walls
	box := outline.Bounds()
	at := geom.Pt(box.Min.X+in, box.Max.Y-in)
	if outline.Contains(at) {
		return at
	}
	return outline.LabelPoint()
}
