package room

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/web/edits"
)

// most cells that one request may set: a pasted block of 500 rows by 20.
const maxCells = 10000

// cell is one field with the text that a person typed.
type cell struct{ Path, Text string }

// readCells reads the cells of a request: "edits" as JSON [[path, text], ...],
// or one "path" with its "text"; ticked boxes send one "text" each.
func readCells(r *http.Request) ([]cell, error) {
	if err := r.ParseForm(); err != nil {
		return nil, err
	}
	if path := r.PostForm.Get("path"); path != "" {
		return []cell{{path, strings.Join(r.PostForm["text"], ", ")}}, nil
	}
	var pairs [][2]string
	if err := json.Unmarshal([]byte(r.PostForm.Get("edits")), &pairs); err != nil {
		return nil, &edit.Refused{Err: fmt.Errorf("the cells could not be read: reload the page and try again")}
	}
	if len(pairs) == 0 || len(pairs) > maxCells {
		return nil, &edit.Refused{Err: fmt.Errorf("%d cells at once: send 1 to %d", len(pairs), maxCells)}
	}
	cells := make([]cell, len(pairs))
	for i, p := range pairs {
		cells[i] = cell{p[0], p[1]}
	}
	return cells, nil
}

// set stores one cell, or a pasted block of them, as one step.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := readCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	list := make([]edit.Edit, len(cells))
	var shown scopeOfAnswer
	for i, c := range cells {
		list[i] = edit.SetField{Path: c.Path, Text: c.Text}
		shown.add(c.Path)
	}
	outcome, err := s.apply(r, list...)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	s.answer(w, r, outcome, shown, "")
}

// fewRows is up to how many changed rows are answered row by row; beyond it
// their whole table comes anew.
const fewRows = 6

// scopeOfAnswer is what of the page an answer brings: whole parts, or single
// rows of them ("devices/d7").
type scopeOfAnswer struct {
	parts section
	rows  []string
}

func (a *scopeOfAnswer) add(path string) {
	part, row := touches(path)
	switch {
	case row == "" || part != rowPart(row) || len(a.rows) >= fewRows:
		a.parts |= part
	case !slices.Contains(a.rows, row):
		a.rows = append(a.rows, row)
	}
}

// rowPart gives the part that a row stands in.
func rowPart(row string) section {
	part, _, _ := strings.Cut(row, "/")
	return map[string]section{"loads": inLoads, "devices": inDevices, "scenes": inScenes, "links": inMatrix, "intents": inIntents}[part]
}

// touches tells in which parts of the page a field shows, and in which row
// where it shows in that row alone.
func touches(path string) (parts section, row string) {
	part, rest, _ := strings.Cut(path, "/")
	name := rest[strings.LastIndexByte(rest, '/')+1:]
	id, _, _ := strings.Cut(rest, "/")
	switch {
	case part == "facts":
		return inFacts, ""
	case part == "loads" && (name == "tag" || name == "kind" || name == "controller"),
		part == "devices" && (name == "tag" || name == "type"),
		part == "scenes" && name == "number":
		return everything, ""
	case part == "loads" && name == "egress":
		return inLoads | inMatrix, ""
	case part == "loads":
		return inLoads, "loads/" + id
	case part == "devices" && strings.Contains(rest, "/buttons/"):
		return inDevices | inMatrix, ""
	case part == "devices" && name == "presence":
		return inDevices | inMatrix, ""
	case part == "devices":
		return inDevices, "devices/" + id
	case part == "links" && strings.Contains(rest, "."+string(domain.Hold)):
		return inMatrix, "" // its row may come or go
	case part == "links":
		return inMatrix, path
	case part == "scenes" && strings.Contains(rest, "/levels/"):
		return inScenes | inMatrix, ""
	case part == "scenes":
		return inScenes | inIntents, ""
	case part == "intents" && (name == "do" || name == "partition"):
		return inIntents | inMatrix, "" // the matrix speaks of a partition where there is one
	case part == "intents":
		return inIntents, "intents/" + id
	}
	return everything, ""
}
