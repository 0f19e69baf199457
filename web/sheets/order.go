package sheets

import (
	"fmt"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/export"
	"scopewright/export/drawing"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
	"scopewright/store"
	"scopewright/web/edits"
)

// order is what a person asks to be printed.
type order struct {
	project  domain.ID
	kind     export.Kind
	format   export.Format
	styles   bool // only the page styles of the print page
	only     sheet.Only
	numbers  string // rooms as they were typed
	revision int    // 0: as it is now
	paper    pdf.Paper
	without  []drawing.Layer // of storey plans
	beneath  bool            // storey plans show the picture beneath them
	table    int             // of a CSV file, from 0; -1: not said
}

// pageStyles is the extension under which a print page asks for its styles.
const pageStyles = "css"

// optionalLayers are what a storey plan can do without: rooms stay.
var optionalLayers = []drawing.Layer{drawing.LayerNames, drawing.LayerWalls, drawing.LayerDevices, drawing.LayerLuminaires, drawing.LayerSeats}

// readOrder reads an address such as "loads.pdf?storey=s1&paper=a4".
func readOrder(r *http.Request) (order, error) {
	file := chi.URLParam(r, "file")
	q, err := url.ParseQuery(r.URL.RawQuery)
	if err != nil {
		return order{}, edits.Refusef("The address could not be read: choose the document on the Documents page.")
	}
	o := order{project: edits.ProjectID(r), table: -1, numbers: strings.TrimSpace(q.Get("rooms"))}
	ext := path.Ext(file)
	kind, err := export.KindByID(strings.TrimSuffix(file, ext))
	if err != nil {
		return o, notThere("There is no document of this name: choose one on the Documents page.")
	}
	o.kind, o.format = kind, export.Format(strings.TrimPrefix(ext, "."))
	if o.format == pageStyles {
		o.styles, o.format = true, export.HTML
	}
	if !kind.Has(o.format) {
		return o, notThere(fmt.Sprintf("%s does not come as %q: choose %s.", kind.Title, strings.TrimPrefix(ext, "."), formatNames(kind)))
	}
	return o, o.readQuery(q)
}

func (o *order) readQuery(q url.Values) error {
	for _, id := range q["room"] {
		if id != "" {
			o.only.Rooms = append(o.only.Rooms, domain.ID(id))
		}
	}
	for _, id := range q["storey"] {
		if id != "" {
			o.only.Storeys = append(o.only.Storeys, domain.ID(id))
		}
	}
	var err error
	if text := q.Get("revision"); text != "" && text != "0" {
		if o.revision, err = strconv.Atoi(text); err != nil || o.revision < 0 {
			return edits.Refusef("%q is no revision: use its number.", text)
		}
	}
	if text := q.Get("paper"); text != "" {
		if o.paper, err = pdf.ParsePaper(text); err != nil {
			return edits.Refusef("%s", err.Error())
		}
	}
	for _, text := range q["without"] {
		if !slices.Contains(optionalLayers, drawing.Layer(text)) {
			return edits.Refusef("%q is no layer of a plan that can be left out: choose on the Documents page.", text)
		}
		o.without = append(o.without, drawing.Layer(text))
	}
	for _, text := range q["with"] {
		if drawing.Layer(text) != drawing.LayerUnderlay {
			return edits.Refusef("%q is nothing that a plan can show besides: choose on the Documents page.", text)
		}
		o.beneath = true
	}
	if text := q.Get("table"); text != "" {
		if o.table, err = strconv.Atoi(text); err != nil || o.table < 0 {
			return edits.Refusef("%q is no table: use its number, from 0.", text)
		}
	}
	return nil
}

// pickNumbers turns typed room numbers into rooms: "101, 103, 201-210". A
// range takes the rooms of the list between its ends, in the building's order.
func (o *order) pickNumbers(rooms []domain.Room) error {
	if o.numbers == "" {
		return nil
	}
	at := map[string][]int{}
	for i := range rooms {
		key := strings.ToLower(rooms[i].Number)
		at[key] = append(at[key], i)
	}
	for _, word := range strings.FieldsFunc(o.numbers, func(r rune) bool { return r == ',' || r == ';' }) {
		if word = strings.ToLower(strings.TrimSpace(word)); word == "" {
			continue
		}
		picked, ok := at[word]
		if !ok {
			picked, ok = between(word, at)
		}
		if !ok {
			return edits.Refusef("There is no room %q here: type numbers as the Rooms page shows them, with commas between, or a range such as 201-210.", word)
		}
		for _, i := range picked {
			o.only.Rooms = append(o.only.Rooms, rooms[i].ID)
		}
	}
	return nil
}

// between gives the rooms of a range. Numbers may hold hyphens themselves, so
// each hyphen is tried as the one between.
func between(word string, at map[string][]int) ([]int, bool) {
	for i := range word {
		if word[i] != '-' {
			continue
		}
		from, to := at[strings.TrimSpace(word[:i])], at[strings.TrimSpace(word[i+1:])]
		if len(from) == 0 || len(to) == 0 || to[len(to)-1] < from[0] {
			continue
		}
		var out []int
		for n := from[0]; n <= to[len(to)-1]; n++ {
			out = append(out, n)
		}
		return out, true
	}
	return nil, false
}

// paperOf gives the paper that was asked for, else the usual one of the
// project's country.
func (o *order) paperOf(p *domain.Project) pdf.Paper {
	switch {
	case o.paper != "":
		return o.paper
	case p.Units == units.SI:
		return pdf.A4
	}
	return pdf.Letter
}

// address is where the same order lies in another format.
func (o *order) address(ext string, set ...string) string {
	q := url.Values{}
	for _, id := range o.only.Rooms {
		if o.numbers == "" {
			q.Add("room", string(id))
		}
	}
	for _, id := range o.only.Storeys {
		q.Add("storey", string(id))
	}
	if o.numbers != "" {
		q.Set("rooms", o.numbers)
	}
	if o.revision > 0 {
		q.Set("revision", strconv.Itoa(o.revision))
	}
	if o.paper != "" {
		q.Set("paper", string(o.paper))
	}
	for _, l := range o.without {
		q.Add("without", string(l))
	}
	if o.beneath {
		q.Set("with", string(drawing.LayerUnderlay))
	}
	for i := 0; i+1 < len(set); i += 2 {
		q.Set(set[i], set[i+1])
	}
	out := "/projects/" + string(o.project) + "/documents/" + o.kind.ID + "." + ext
	if len(q) > 0 {
		out += "?" + q.Encode()
	}
	return out
}

func formatNames(k export.Kind) string {
	names := make([]string, len(k.Formats))
	for i, f := range k.Formats {
		names[i] = string(f)
	}
	return strings.Join(names, ", ")
}

func notThere(sentence string) error {
	return &store.Failure{Kind: store.ErrNotFound, Sentence: sentence}
}
