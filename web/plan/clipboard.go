package plan

import (
	"encoding/json"
	"net/http"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/edits"
)

// copied answers with what things on the plan are, to be pasted here or on
// another plan. It changes nothing.
func (s Screen) copied(w http.ResponseWriter, r *http.Request) {
	clip, err := s.clip(r)
	if err != nil {
		status, sentence := edits.Status(err)
		http.Error(w, edits.SentenceOf(edits.Sentence(sentence)), status)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	if err := json.NewEncoder(w).Encode(clip); err != nil {
		s.Log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}

func (s Screen) clip(r *http.Request) (*edit.Clip, error) {
	var names []string
	if err := json.Unmarshal([]byte(r.PostFormValue("things")), &names); err != nil {
		return nil, edits.Refusef("what was copied could not be read: reload the page and try again")
	}
	things := make([]edit.Thing, len(names))
	named := map[domain.ID]bool{}
	for i, name := range names {
		var err error
		if things[i], err = edit.ParseThing(name); err != nil {
			return nil, &edit.Refused{Err: err}
		}
		named[things[i].Room] = true
	}
	ctx, project, storey := r.Context(), edits.ProjectID(r), storeyID(r)
	d := &edit.Drawing{Storey: storey}
	var err error
	if d.Project, _, err = s.Store.Project(ctx, project); err != nil {
		return nil, err
	}
	if _, found := d.Project.FindStorey(storey); found == nil {
		return nil, store.ErrNotFound
	}
	if d.Plan, _, err = s.Store.Plan(ctx, project, storey); err != nil {
		return nil, err
	}
	rooms, err := s.Store.StoreyRooms(ctx, project, storey)
	if err != nil {
		return nil, err
	}
	for _, room := range rooms {
		if named[room.Resolved.ID] {
			d.Rooms = append(d.Rooms, room.Resolved)
		}
	}
	clip, err := edit.Copied(d, things)
	if err != nil {
		return nil, &edit.Refused{Err: err}
	}
	return clip, nil
}
