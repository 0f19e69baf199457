package plan

import (
	"encoding/json"
	"net/http"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/store"
	"scopewright/web/edits"
)

// ghost is the storey below as lines, to be seen under the open one.
type ghost struct {
	Rings [][]geom.Point  `json:"rings"` // outlines of rooms
	Walls [][2]geom.Point `json:"walls"`
}

// below answers with the storey below the open one.
func (s Screen) below(w http.ResponseWriter, r *http.Request) {
	g, err := s.ghost(r)
	if err != nil {
		status, sentence := edits.Status(err)
		http.Error(w, sentence, status)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	if err := json.NewEncoder(w).Encode(g); err != nil {
		s.Log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}

func (s Screen) ghost(r *http.Request) (*ghost, error) {
	ctx, project := r.Context(), edits.ProjectID(r)
	p, _, err := s.Store.Project(ctx, project)
	if err != nil {
		return nil, err
	}
	under := storeyBelow(p, storeyID(r))
	if under == nil {
		return nil, store.ErrNotFound
	}
	rooms, err := s.Store.StoreyRooms(ctx, project, under.ID)
	if err != nil {
		return nil, err
	}
	plan, _, err := s.Store.Plan(ctx, project, under.ID)
	if err != nil {
		return nil, err
	}
	g := &ghost{Rings: [][]geom.Point{}, Walls: [][2]geom.Point{}}
	for _, room := range rooms {
		if !room.Resolved.Outline.Empty() {
			g.Rings = append(g.Rings, room.Resolved.Outline.Rings()...)
		}
	}
	for i := range plan.Walls {
		g.Walls = append(g.Walls, [2]geom.Point{plan.Walls[i].A, plan.Walls[i].B})
	}
	return g, nil
}

// storeyBelow gives the storey that a building lists before one, nil where that
// is its lowest: storeys are listed from the ground up.
func storeyBelow(p *domain.Project, id domain.ID) *domain.Storey {
	b, _ := p.FindStorey(id)
	if b == nil {
		return nil
	}
	for i := range b.Storeys {
		if b.Storeys[i].ID == id && i > 0 {
			return &b.Storeys[i-1]
		}
	}
	return nil
}
