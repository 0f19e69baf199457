package book

import (
	"errors"
	"io"
	"net/http"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
)

// download gives the book and the limits as a file.
func (s Screen) download(w http.ResponseWriter, r *http.Request) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="equipment-and-limits.json"`)
	w.Header().Set("Cache-Control", "no-store")
	if err := writeFile(w, p); err != nil {
		s.Log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}

// upload takes a file's types and limits into the book, as one step that can
// be undone.
func (s Screen) upload(w http.ResponseWriter, r *http.Request) {
	data, err := uploaded(w, r)
	if err != nil {
		s.desk().Done(w, r, store.Outcome{}, err, "")
		return
	}
	f, err := readFile(data)
	if err != nil {
		s.desk().Done(w, r, store.Outcome{}, err, "")
		return
	}
	var did counts
	outcome, news, err := s.desk().ApplyJudged(r, func(p *domain.Project) (string, error) {
		var err error
		did, err = f.takeIn(p)
		return "took in an equipment file: " + did.String(), err
	})
	s.desk().Done(w, r, outcome, err, "Taken in: "+did.String()+". "+news)
}

func uploaded(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	r.Body = http.MaxBytesReader(w, r.Body, mostFile)
	part, _, err := r.FormFile("file")
	if errors.Is(err, http.ErrMissingFile) {
		return nil, edits.Refusef("choose a file first")
	}
	if err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return nil, edits.Refusef("the file is larger than %d MB: an equipment file is much smaller", mostFile>>20)
		}
		return nil, edits.Refusef("the file did not arrive whole: send it again")
	}
	defer part.Close()
	return io.ReadAll(part)
}
