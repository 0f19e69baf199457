package code

import (
	"net/http"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// roomView is what the code asks of one room and finds in it.
type roomView struct {
	Project, ID  domain.ID
	Label, Path  string
	State        stateView
	Problem      string
	Kind         string // as printed
	Why, Doubt   string
	Propose      string
	KindPath     string
	Kinds        []domain.Choice
	KindValue    string
	Facts        []roomFact
	Sums         []sumView
	Checks       []checkView
	Settings     []energycode.Line
	Only         bool // what is open alone
	Hidden       int
	All, OnlyURL string
}

// roomFact is a fact of the room that checks read, to be edited here too.
type roomFact struct{ ID, Path, Title, Hint, Text string }

func (s Screen) loadRoom(r *http.Request) (edits.View, error) {
	b, at, err := s.theRoom(r)
	if err != nil {
		return edits.View{}, err
	}
	page, err := s.roomDesk(r).Page(r, b.Project, "Energy code, "+b.Rooms[at].Label(), "Energy code")
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: "Energy code", Path: ui.Code(b.Project.ID)}, ui.Crumb{Name: b.Rooms[at].Label()})
	return edits.View{Page: page, Base: b.base([]int{at}), Main: roomContent(newRoomView(b, at, edits.Query(r).Get("only") != "")), Value: b.value}, err
}

func newRoomView(b *building, at int, only bool) roomView {
	r, f, id := b.Rooms[at], &b.Found[at], b.Project.ID
	head := headView(b.Project, b.Pack)
	v := roomView{Project: id, ID: r.ID, Label: r.Label(), Path: ui.CodeRoom(id, r.ID), State: head.State, Problem: head.Problem, Why: f.Kind.Why, Doubt: f.Doubt,
		KindPath: "rooms/" + string(r.ID) + "/space_type", Kinds: kindChoices(b.Project), KindValue: string(r.Space), Only: only}
	v.Kind, _, v.Propose = kindCell(b.Project, r, f)
	if r.Typical != nil && r.Typical.Space != "" {
		v.Kinds[0].Label = "as typical " + r.Typical.Name + " has it"
	}
	v.All, v.OnlyURL = v.Path, v.Path+"?only=open"
	for _, name := range []string{"area_m2", "receptacles"} {
		field, _ := domain.FieldNamed(domain.RoomFields, name)
		v.Facts = append(v.Facts, roomFact{"fact-" + name, "rooms/" + string(r.ID) + "/" + name, field.Title, field.Hint, field.Show(domain.Env{Project: b.Project}, r.Room)})
	}
	if b.Pack == nil {
		return v
	}
	v.Sums = sums(&b.Docs.Summary[at])
	for i := range b.Docs.Rooms[at].Rows {
		row := &b.Docs.Rooms[at].Rows[i]
		if only && row.Verdict != energycode.DoesNotMeet && row.Verdict != energycode.CannotTell {
			v.Hidden++
			continue
		}
		v.Checks = append(v.Checks, newCheck(row))
	}
	for _, l := range b.Docs.Narrative {
		if l.ID == r.ID {
			v.Settings = append(v.Settings, l)
		}
	}
	return v
}
