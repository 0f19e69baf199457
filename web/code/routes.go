// Package code is the screen of the energy code: which one a project is checked by,
// what its checks say of the building and of each room, of which kind of space each
// room is, and the worksheets in which the designer writes down what the adopted text
// has otherwise than a built-in code.
package code

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the energy code of a project.
type Screen struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
}

const (
	prefix     = "/projects/{project}/code"
	roomPath   = prefix + "/rooms/{room}"
	sheetsPath = prefix + "/worksheets"
	sheetPath  = sheetsPath + "/{worksheet}"
)

// Routes mounts the screen.
func (s Screen) Routes(r chi.Router) {
	desk := s.desk()
	r.Get(prefix, s.show)
	r.Get(prefix+"/fresh", desk.Fresh)
	r.Post(prefix+"/choose", s.choose)
	r.Post(prefix+"/set", s.set)
	r.Post(prefix+"/confirm", s.confirm)
	r.Post(prefix+"/undo", desk.Undo)
	r.Post(prefix+"/redo", desk.Redo)
	s.mount(r, roomPath, s.roomDesk)
	r.Post(roomPath+"/confirm", s.confirmRoom)
	r.Post(roomPath+"/set", s.setRoom)
	s.mount(r, sheetsPath, s.sheetsDesk)
	r.Post(sheetsPath+"/add", s.addSheet)
	r.Post(sheetsPath+"/remove", s.removeSheet)
	r.Post(sheetsPath+"/import", s.importSheet)
	s.mount(r, sheetPath, s.sheetDesk)
	r.Post(sheetPath+"/set", s.setRow)
	r.Post(sheetPath+"/row", s.writeRow)
	r.Post(sheetPath+"/revert", s.revertRow)
	r.Post(sheetPath+"/takeout", s.takeOutRow)
	r.Post(sheetPath+"/confirm", s.confirmSheet)
	r.Get(sheetPath+"/file", s.exportSheet)
}

// mount hangs in what every desk has, on a page whose desk depends on its address.
func (s Screen) mount(r chi.Router, path string, desk func(*http.Request) edits.Desk) {
	at := func(serve func(edits.Desk, http.ResponseWriter, *http.Request)) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) { serve(desk(r), w, r) }
	}
	r.Get(path, at(edits.Desk.Show))
	r.Get(path+"/fresh", at(edits.Desk.Fresh))
	r.Post(path+"/undo", at(edits.Desk.Undo))
	r.Post(path+"/redo", at(edits.Desk.Redo))
}

func (s Screen) deskAt(path string, load func(*http.Request) (edits.View, error)) edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: func(domain.ID) string { return path }, Load: load}
}

func (s Screen) desk() edits.Desk {
	return edits.Desk{Store: s.Store, Log: s.Log, Now: s.Now, Path: ui.Code, Load: s.load}
}

func (s Screen) roomDesk(r *http.Request) edits.Desk {
	return s.deskAt(ui.CodeRoom(edits.ProjectID(r), roomID(r)), s.loadRoom)
}

func (s Screen) sheetsDesk(r *http.Request) edits.Desk {
	return s.deskAt(ui.CodeSheets(edits.ProjectID(r)), s.loadSheets)
}

func (s Screen) sheetDesk(r *http.Request) edits.Desk {
	return s.deskAt(ui.CodeSheet(edits.ProjectID(r), sheetID(r)), s.loadSheet)
}

func roomID(r *http.Request) domain.ID  { return domain.ID(chi.URLParam(r, "room")) }
func sheetID(r *http.Request) domain.ID { return domain.ID(chi.URLParam(r, "worksheet")) }
