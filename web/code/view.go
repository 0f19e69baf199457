package code

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Project  domain.ID
	Path     string
	Codes    []domain.Choice
	Chosen   string // value of the code chosen
	State    stateView
	Problem  string // why nothing is checked; empty: something is
	Later    string // where the checks are fetched after the page; empty: they are here
	Sums     []sumView
	Building []checkView
	Claims   []energycode.ClaimRow
	Query    query
	Shows    []domain.Choice
	Storeys  []domain.Choice
	Found    string // "48 of 120 rooms"
	Rooms    []roomRow
	Pages    pagesView
	Kinds    []ui.ChoiceList
	Proposed int    // kinds of space among the rooms found that a click would confirm
	Stamp    string // of those
	Empty    string
}

// stateView says how far the code's figures can be relied on.
type stateView struct {
	Key, Words, Note string
	Confirmed        bool
	Sheet            string // address of the worksheet; empty: built in
}

// sumView is a number of answers with its word.
type sumView struct {
	N          int
	Word, Hint string
	Class      string
	Claimed    int // of them: with an exception claimed
}

// claims says how many of the answers have an exception claimed.
func (s sumView) claims() string {
	if s.Claimed == 0 {
		return ""
	}
	return fmt.Sprintf(", of these %d claimed", s.Claimed)
}

// badge gives the class of the number in a head, quiet where there are none.
func (s sumView) badge() string {
	if s.N == 0 {
		return "free"
	}
	return s.Class
}

type roomRow struct {
	ID                             domain.ID
	DOM, Number, Name, Path        string
	KindPath, Kind, KindClass, Why string
	Propose                        string // the kind that a click confirms; empty: confirmed, or none proposed
	Counts                         []sumView
	Worst, WorstClass              string
	Beside                         string // what somebody should know though the check is met
}

type pagesView struct{ Text, Prev, Next string }

func (s Screen) show(w http.ResponseWriter, r *http.Request) {
	if ui.IsFragment(r) {
		r.Header.Set("HX-Current-URL", r.URL.String()) // the page is about to have this address
		s.desk().Fresh(w, r)
		return
	}
	s.desk().Show(w, r)
}

// manyRooms is from where on the checks come after the page, which says meanwhile that
// they run: some 1,000 rooms a second are judged and shown.
const manyRooms = 1000

func (s Screen) load(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	if later, err := s.later(r); later != nil || err != nil {
		return *later, err
	}
	b, err := s.judge(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	q := readQuery(edits.Query(r))
	v, shown := newView(b, q)
	page, err := s.desk().Page(r, b.Project, "Energy code", "Energy code")
	return edits.View{Page: page, Base: b.base(shown), Main: content(v), Value: b.value}, err
}

// later gives the page of a large project without its checks, nil where they come with
// the page: an open page asks for them, and so does a browser without script by a link.
func (s Screen) later(r *http.Request) (*edits.View, error) {
	id, none := edits.ProjectID(r), &edits.View{}
	if ui.IsFragment(r) || r.URL.Query().Get("checked") != "" {
		return nil, nil
	}
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return none, err
	}
	totals, err := s.Store.Totals(r.Context(), id)
	if err != nil {
		return none, err
	}
	rooms := 0
	for _, t := range totals {
		rooms += t.Rooms
	}
	if rooms <= manyRooms {
		return nil, nil
	}
	page, err := s.desk().Page(r, p, "Energy code", "Energy code")
	v := headView(p, energycode.PackOf(p))
	v.Later, v.Found = ui.Code(id)+"/fresh", edits.Count(rooms, "room")
	return &edits.View{Page: page, Base: edits.FormatBase(edits.Subject("project", id), revision), Main: content(v)}, err
}

// headView is the part of the page that needs no room.
func headView(p *domain.Project, k *energycode.Pack) view {
	v := view{Project: p.ID, Path: ui.Code(p.ID), Chosen: string(p.CodePack)}
	f, _ := domain.FieldNamed(domain.ProjectFields, "code_pack")
	v.Codes = f.Choices(domain.Env{Project: p}, p)
	switch {
	case k != nil:
		v.State = newState(p, k)
	case p.CodePack == "":
		v.Problem = "No energy code is chosen, so nothing is checked: choose one above. Kinds of space can be confirmed before."
	default:
		v.Problem = fmt.Sprintf("The code that was chosen, %q, is not known here, so nothing is checked: choose another.", p.CodePack)
	}
	return v
}

func newState(p *domain.Project, k *energycode.Pack) stateView {
	s := stateView{Key: k.Key(), Words: edits.SentenceOf(sentence(k.State())), Note: k.Note, Confirmed: k.Confirmed != ""}
	if w := p.Worksheet(domain.ID(p.CodePack)); w != nil {
		s.Key, s.Sheet = k.Title+" ("+k.Key()+")", ui.CodeSheet(p.ID, w.ID)
	}
	return s
}

// newView gives the page, and the places of the rooms that it shows.
func newView(b *building, q query) (view, []int) {
	v := headView(b.Project, b.Pack)
	v.Query, v.Shows = q, shows()
	v.Storeys = ui.StoreyChoices(b.Project)
	v.Kinds = []ui.ChoiceList{{ID: "kinds", Choices: kindChoices(b.Project)}}
	if b.Pack != nil {
		v.Sums = sums(&b.Docs.Total)
		for i := range b.Docs.Building {
			v.Building = append(v.Building, newCheck(&b.Docs.Building[i]))
		}
		v.Claims = b.Docs.Claims
	}
	found := b.pick(q)
	v.Found = edits.Count(len(b.Lines), "room")
	if q.filtered() {
		v.Found = fmt.Sprintf("%d of %s", len(found), v.Found)
	}
	v.Proposed, v.Stamp = b.proposed(found)
	last := max(1, (len(found)+perPage-1)/perPage)
	at := min(q.Page, last)
	shown := found[(at-1)*perPage : min(at*perPage, len(found))]
	for _, i := range shown {
		v.Rooms = append(v.Rooms, b.row(i))
	}
	v.Pages = newPages(b, q, at, last, len(found), len(shown))
	switch {
	case len(b.Lines) == 0:
		v.Empty = "There are no rooms yet: add them on the Rooms page."
	case len(found) == 0:
		v.Empty = "No room matches. Change or clear the filters."
	}
	return v, shown
}

func newPages(b *building, q query, at, last, found, shown int) pagesView {
	if last == 1 {
		return pagesView{}
	}
	from := (at - 1) * perPage
	out := pagesView{Text: fmt.Sprintf("Rooms %d to %d of %d", from+1, from+shown, found)}
	if at > 1 {
		out.Prev = q.address(b.Project.ID, at-1)
	}
	if at < last {
		out.Next = q.address(b.Project.ID, at+1)
	}
	return out
}

func kindChoices(p *domain.Project) []domain.Choice {
	f, _ := domain.FieldNamed(domain.RoomFields, "space_type")
	return f.Choices(domain.Env{Project: p}, &domain.Room{})
}

func sums(s *energycode.SummaryRow) []sumView {
	return []sumView{
		{s.Meets, "meet this check", "", "ok", 0}, {s.DoesNotMeet, "do not meet this check", "claimed: a person claims an exception", "unmet", s.Claimed},
		{s.CannotTell, "cannot tell", "something of the room has to be known first", "untold", 0},
		{s.Open, "left open by the code's figures", "the data that was seen is blank or says nothing, which is no exemption", "open", 0},
		{s.NotAsked, "not asked", "the check does not apply there", "free", 0},
	}
}

// row prints the room at a place of the lists.
func (b *building) row(i int) roomRow {
	l, r, f := &b.Lines[i], b.Rooms[i], &b.Found[i]
	out := roomRow{ID: l.ID, DOM: "room-" + string(l.ID), Number: l.Number, Name: l.Name, Path: ui.CodeRoom(b.Project.ID, l.ID),
		KindPath: "rooms/" + string(l.ID) + "/space_type", Why: f.Kind.Why}
	out.Kind, out.KindClass, out.Propose = kindCell(b.Project, r, f)
	if b.Pack == nil {
		return out
	}
	for _, s := range sums(&b.Docs.Summary[i]) {
		if s.N == 0 || s.Class == "free" {
			s.Class = ""
		}
		out.Counts = append(out.Counts, s)
	}
	out.Worst, out.WorstClass = worst(b.Report.Rooms[i].Answers)
	out.Beside = beside(b.Report.Rooms[i].Answers)
	return out
}

// kindCell prints a room's kind of space: what is not its own word is set apart.
func kindCell(p *domain.Project, r *domain.Resolved, f *energycode.Found) (text, class, propose string) {
	kinds := energycode.KindsOf(p)
	switch {
	case !f.Confirmed && f.Kind.Space != "":
		return kinds.KindWords(f.Kind, false), "from-typical", f.Kind.Space
	case !f.Confirmed:
		return "not chosen", "from-typical", ""
	case r.Space == "":
		return kinds.KindWords(f.Kind, true), "from-typical", ""
	}
	return kinds.KindWords(f.Kind, true), "", ""
}

// worst gives the first check that is not met, else the first that cannot be told.
func worst(list []energycode.Answer) (text, class string) {
	for i := range list {
		if a := &list[i]; a.Verdict == energycode.DoesNotMeet {
			return a.Title + ": " + strings.Join(a.Faults, " "), "unmet"
		}
	}
	for i := range list {
		if a := &list[i]; a.Verdict == energycode.CannotTell && !a.Open {
			return a.Title + ", to be known first: " + a.MissingWords(), "untold"
		}
	}
	return "", ""
}

// beside gives what somebody should know of a room though it meets the check.
func beside(list []energycode.Answer) string {
	for i := range list {
		if a := &list[i]; a.Beside != "" {
			return a.Title + ": " + a.Beside
		}
	}
	return ""
}

// base holds the revisions of what the page shows.
func (b *building) base(shown []int) string {
	pairs := []any{edits.Subject("project", b.Project.ID), b.Revision}
	for _, i := range shown {
		pairs = append(pairs, edits.Subject("room", b.Lines[i].ID), b.Lines[i].Revision)
	}
	return edits.FormatBase(pairs...)
}

// value tells of a cell how it is called and what it holds.
func (b *building) value(path string) (title, now string) {
	id, name := splitPath(path)
	if i := b.place(id); i >= 0 {
		if f, ok := domain.FieldNamed(domain.RoomFields, name); ok {
			return "Room " + b.Lines[i].Number + ", " + f.Title, f.Show(domain.Env{Project: b.Project}, b.Rooms[i].Room)
		}
	}
	return path, "gone"
}

func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}
