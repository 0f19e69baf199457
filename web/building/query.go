package building

import (
	"net/url"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/ui"
)

// perPage is how many rooms one page shows.
const perPage = 100

// mostSearch bounds what is typed to search for, in letters.
const mostSearch = 100

// noTypical stands in a filter for rooms with a design of their own.
const noTypical = "none"

// query is what the page shows of the rooms: filters, order and page. It
// stands in the page's address.
type query struct {
	Text                   string
	Storey, Typical        string
	Use, Rule              string
	Severity, Review, Sort string
	Page                   int // from 1
}

func readQuery(v url.Values) query {
	q := query{
		Text: strings.TrimSpace(v.Get("q")), Storey: v.Get("storey"), Typical: v.Get("typical"), Use: v.Get("use"),
		Rule: v.Get("rule"), Severity: v.Get("severity"), Review: v.Get("review"),
	}
	if letters := []rune(q.Text); len(letters) > mostSearch {
		q.Text = string(letters[:mostSearch])
	}
	if sorts := v["sort"]; len(sorts) > 0 && sortable(sorts[len(sorts)-1]) {
		q.Sort = sorts[len(sorts)-1] // a pressed column comes after the field that keeps the order
	}
	q.Page, _ = strconv.Atoi(v.Get("page")) // none or nonsense: the first
	q.Page = min(max(1, q.Page), 1+domain.MaxRooms/perPage)
	return q
}

const kindTitle = "Kind of space"

// columns are those that the table can be sorted by.
var columns = []struct {
	Sort  store.Sort
	Title string
	Hint  string
	Num   bool
}{
	{store.ByNumber, "Number", "opens the room", false},
	{store.ByName, "Name", "", false},
	{store.ByUse, "Use", "", false},
	{store.ByArea, "Area", "", true},
	{store.ByTypical, "Typical", "what the room follows, with the number of its exceptions", false},
	{store.ByDevices, "Devices", "", true},
	{store.ByWatts, "Loads W", "of all loads together", true},
	{store.ByFindings, "Findings", "", false},
	{"", "Review", "objections and sign-off", false},
	{"", kindTitle, "by which the energy code picks its row; in slanted letters where the room has no word of its own", false},
	{"", "Confirm", "takes the proposed kind of space as it is", false},
}

func sortable(text string) bool {
	column := store.Sort(strings.TrimPrefix(text, "-"))
	for _, c := range columns {
		if c.Sort == column && column != "" {
			return true
		}
	}
	return column == "" && text == ""
}

// filtered tells that not all rooms are shown.
func (q query) filtered() bool {
	q.Sort, q.Page = "", 0
	return q != query{}
}

// inOrder tells that rooms come storey by storey, so that each storey can have
// its own heading and its own line to add a room.
func (q query) inOrder() bool { return q.Sort == "" }

// filter gives what the store is asked for, without paging.
func (q query) filter() store.Filter {
	f := store.Filter{
		Storey: domain.ID(q.Storey), Use: domain.Use(q.Use), Text: q.Text, Rule: q.Rule,
		Severity: store.Severity(q.Severity), Review: store.ReviewState(q.Review), Sort: store.Sort(q.Sort),
	}
	if q.Typical == noTypical {
		f.NoTypical = true
	} else {
		f.Typical = domain.ID(q.Typical)
	}
	return f
}

// pageFilter gives the rooms of the page alone.
func (q query) pageFilter() store.Filter {
	f := q.filter()
	f.Limit, f.Offset = perPage, (q.Page-1)*perPage
	return f
}

// address gives the page's address for the query.
func (q query) address(project domain.ID) string {
	v := url.Values{}
	for name, text := range map[string]string{
		"q": q.Text, "storey": q.Storey, "typical": q.Typical, "use": q.Use, "rule": q.Rule, "severity": q.Severity, "review": q.Review, "sort": q.Sort,
	} {
		if text != "" {
			v.Set(name, text)
		}
	}
	if q.Page > 1 {
		v.Set("page", strconv.Itoa(q.Page))
	}
	if len(v) == 0 {
		return ui.Project(project)
	}
	return ui.Project(project) + "?" + v.Encode()
}

// at gives the query for another page of the same list.
func (q query) at(page int) query {
	q.Page = page
	return q
}

// nextSort is what pressing a column's head asks for: its order, then the
// other way round, then the order of the building again.
func (q query) nextSort(column store.Sort) string {
	switch q.Sort {
	case string(column):
		return "-" + string(column)
	case "-" + string(column):
		return ""
	}
	return string(column)
}

// ariaSort tells how a column is sorted now.
func (q query) ariaSort(column store.Sort) string {
	switch q.Sort {
	case string(column):
		return "ascending"
	case "-" + string(column):
		return "descending"
	}
	return "none"
}
