package room

import (
	"github.com/go-chi/chi/v5"
)

// Routes mounts the workbench of rooms and of typicals.
func (s Screen) Routes(r chi.Router) {
	for _, prefix := range []string{"/projects/{project}/rooms/{room}", "/projects/{project}/typicals/{typical}"} {
		r.Get(prefix, s.show)
		r.Get(prefix+"/parts", s.parts)
		r.Post(prefix+"/set", s.set)
		r.Post(prefix+"/add", s.add)
		r.Post(prefix+"/start", s.start)
		r.Post(prefix+"/remove", s.remove)
		r.Post(prefix+"/duplicate", s.duplicate)
		r.Post(prefix+"/fix", s.fix)
		r.Post(prefix+"/waive", s.waive)
		r.Post(prefix+"/unwaive", s.unwaive)
		r.Post(prefix+"/give-back", s.giveBack)
		r.Post(prefix+"/follow", s.follow)
		r.Post(prefix+"/copy-from", s.copyFrom)
		r.Post(prefix+"/undo", s.undo)
		r.Post(prefix+"/redo", s.redo)
	}
	r.Get("/projects/{project}/rooms/{room}/elsewhere", s.showElsewhere)
	r.Get("/projects/{project}/rooms/{room}/first-design", s.proposal)
	r.Post("/projects/{project}/rooms/{room}/first-design", s.takeProposal)
}
