package building

import (
	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/ui"
)

// filters are the choices of the filter bar.
type filters struct {
	Storeys, Typicals, Rules, Severities, Reviews []domain.Choice
	Any                                           bool // some filter is on
	Clear                                         string
}

func newFilters(st *state) filters {
	out := filters{
		Any: st.Query.filtered(), Clear: query{Sort: st.Query.Sort}.address(st.Project.ID),
		Severities: []domain.Choice{
			{Value: string(store.WithErrors), Label: "with errors"}, {Value: string(store.WithWarnings), Label: "with warnings"},
			{Value: string(store.WithInfos), Label: "with notes"}, {Value: string(store.WithWaivers), Label: "with waivers"}, {Value: string(store.Clean), Label: "clean"}},
		Reviews: []domain.Choice{
			{Value: string(store.WithObjects), Label: "with objections"}, {Value: string(store.Signed), Label: "signed"},
			{Value: string(store.StaleSigned), Label: "signed, changed since"}, {Value: string(store.NotSigned), Label: "not signed"}},
		Typicals: []domain.Choice{{Value: noTypical, Label: "design of their own"}},
	}
	out.Storeys = ui.StoreyChoices(st.Project)
	for _, t := range st.Typicals {
		out.Typicals = append(out.Typicals, domain.Choice{Value: string(t.Typical.ID), Label: t.Typical.Name})
	}
	for _, one := range validate.Rules() {
		if one.Scope == rule.OfRoom {
			out.Rules = append(out.Rules, domain.Choice{Value: one.ID, Label: one.Title})
		}
	}
	return out
}
