package project

import (
	"bytes"
	"errors"
	"net/http"
	"strings"

	"scopewright/domain/units"
	"scopewright/export/exchange"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// mostUpload leaves room for the form around the largest file.
const mostUpload = exchange.MaxBytes + 1<<20

// take takes in an exchange file: as a new project, or in place of the one
// that it was saved from. What is refused is told with its place in the file.
func (s Screen) take(w http.ResponseWriter, r *http.Request) {
	v := listView{Draft: draft{Units: units.US}}
	r.Body = http.MaxBytesReader(w, r.Body, mostUpload)
	part, _, err := r.FormFile("file")
	if err != nil {
		v.Taken = arrived(err)
		s.showList(w, r, http.StatusUnprocessableEntity, v)
		return
	}
	defer part.Close()
	scope, err := exchange.Read(part)
	var refused *exchange.Refused
	if errors.As(err, &refused) {
		v.Taken = "Nothing was taken in. The file says what cannot be:"
		for _, p := range refused.Problems {
			v.Refused = append(v.Refused, strings.TrimPrefix(p.String(), ": "))
		}
		s.showList(w, r, http.StatusUnprocessableEntity, v)
		return
	}
	if err == nil {
		err = s.Store.ImportScope(r.Context(), ui.Signed(r), scope, r.PostFormValue("replace") == "yes", nil)
	}
	if errors.Is(err, store.ErrExists) {
		v.Exists = true
		v.Taken = "Project " + scope.Project.Name + " is in the database already. Choose the file again and say that it takes the place of what is there; what could be undone in it until now no longer can."
		s.showList(w, r, http.StatusConflict, v)
		return
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	http.Redirect(w, r, ui.Project(scope.Project.ID), http.StatusSeeOther)
}

func arrived(err error) string {
	var large *http.MaxBytesError
	switch {
	case errors.Is(err, http.ErrMissingFile):
		return "Choose a project file first."
	case errors.As(err, &large):
		return "The file is too large: a project file has at most 256 MB."
	}
	return "The file did not arrive whole: send it again."
}

// give saves the project as an exchange file.
func (s Screen) give(w http.ResponseWriter, r *http.Request) {
	scope, err := s.Store.Load(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	var out bytes.Buffer
	if err := exchange.Write(&out, scope); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="`+fileName(scope.Project.Name)+`"`)
	w.Header().Set("Cache-Control", "no-store")
	if _, err := w.Write(out.Bytes()); err != nil {
		s.Log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}

// fileName makes a plain file name out of a project's name.
func fileName(name string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return ' '
	}, name)
	plain = strings.Join(strings.Fields(plain), "-")
	if len(plain) > 60 {
		plain = strings.TrimRight(plain[:60], "-")
	}
	if plain == "" {
		plain = "project"
	}
	return plain + ".json"
}
