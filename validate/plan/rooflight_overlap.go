package plan

import (
	"cmp"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// RooflightOverlap looks for rooflights that share glass.
var RooflightOverlap = rule.Rule{
	ID: "plan-rooflight-overlap", Title: "Rooflights that overlap on the plan", Severity: rule.Warning, Scope: rule.OfStorey,
	Why:     "Daylight through glass that two rooflights share is counted twice: the room beneath looks brighter than it will be.",
	Source:  commonPractice,
	Example: "Two rooflights that touch pass, and so do two that overlap by a millimeter, which is no fault of a drawing; by two millimeters they do not. The same rooflight drawn twice does not pass.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		var out []rule.Finding
		lights := rooflights(f.Plan)
		for i := range lights {
			for j := i + 1; j < len(lights) && lights[j].box.Min.X < lights[i].box.Max.X; j++ {
				shared := lights[i].shared(&lights[j])
				if len(shared) == 0 {
					continue
				}
				if len(out) == mostFindings {
					return out
				}
				out = append(out, sharedGlass(f, &lights[i], &lights[j], shared))
			}
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return roofed(geom.Pt(2, 2), geom.Pt(2.998, 2)) },
	QuietStorey: func() *rule.StoreyFacts { return roofed(geom.Pt(2, 2), geom.Pt(2.999, 2)) },
}

// roofed gives a room of 6 by 4 m under rooflights of 1 by 1 m.
func roofed(at ...geom.Point) *rule.StoreyFacts {
	f := storey(nil, geom.Rectangle(0, 0, 6, 4))
	for i, p := range at {
		f.Plan.Rooflights = append(f.Plan.Rooflights, domain.Rooflight{ID: domain.ID(fmt.Sprint("l", i+1)), Seq: i + 1, At: p, Width: 1, Length: 1})
	}
	return f
}

// placedLight is a rooflight with its glass less half a millimeter on each side, so
// that what overlaps by no more than a millimeter does not.
type placedLight struct {
	*domain.Rooflight
	number int // in the plan's table
	glass  geom.Polygon
	box    geom.Box
}

// rooflights gives those with any glass, from left to right.
func rooflights(p *domain.Plan) (out []placedLight) {
	for i := range p.Rooflights {
		l := &p.Rooflights[i]
		if l.Width <= 2*geom.OnEdge || l.Length <= 2*geom.OnEdge || !l.At.Finite() {
			continue
		}
		less := *l
		less.Width, less.Length = l.Width-geom.OnEdge, l.Length-geom.OnEdge
		glass := less.Box()
		out = append(out, placedLight{l, i + 1, glass, glass.Bounds()})
	}
	slices.SortStableFunc(out, func(a, b placedLight) int { return cmp.Compare(a.box.Min.X, b.box.Min.X) })
	return out
}

// shared gives the glass of both. Shapes that are not sound share none.
func (l *placedLight) shared(o *placedLight) []geom.Polygon {
	if !l.box.Touches(o.box) {
		return nil
	}
	parts, err := geom.Intersection(l.glass, o.glass)
	if err != nil {
		return nil
	}
	return parts
}

func (l *placedLight) subject() rule.Subject {
	return rule.Subject{Part: "rooflights", ID: l.ID, Tag: fmt.Sprint("rooflight ", l.number)}
}

func sharedGlass(f *rule.StoreyFacts, a, b *placedLight, shared []geom.Polygon) rule.Finding {
	if a.number > b.number {
		a, b = b, a
	}
	return rule.Finding{
		Key: string(f.Storey.ID) + "/" + string(min(a.ID, b.ID)+"/"+max(a.ID, b.ID)), Subjects: []rule.Subject{a.subject(), b.subject()}, Places: []geom.Point{shared[0].LabelPoint()},
		Message: fmt.Sprintf("Rooflights %d and %d %s overlap, so that daylight through the same glass is counted twice: move one apart, or remove it.", a.number, b.number, onPlan(f)),
	}
}
