package ui

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"scopewright/domain"
)

// Page is what the frame needs to know of a page.
type Page struct {
	Title     string
	Project   *domain.Project // nil outside a project
	Tab       string          // which entry of the project's navigation is on
	Crumbs    []Crumb
	Who       string
	Theme     string // "light", "dark" or "" for the system's
	Edits     bool   // shows the saved state with undo and redo
	Status    Status
	Undo      string // what undo would take back; empty: nothing
	Redo      string
	EditsPath string // where undo and redo are posted
	Demo      bool
	Here      string // this page's address, to come back to
}

// Crumb is one step of the way to a page.
type Crumb struct{ Name, Path string }

// Status is what the saved-state line says.
type Status struct {
	State string // "", "saved", "failed", "conflict"
	Text  string
}

// Name of the cookies that keep a person's choices in their browser.
const (
	whoCookie   = "sw_name"
	themeCookie = "sw_theme"
)

type demoKey struct{}

// WithDemo marks requests to a demo server.
func WithDemo(ctx context.Context, demo bool) context.Context {
	return context.WithValue(ctx, demoKey{}, demo)
}

// NewPage starts a page from what the request says of the person.
func NewPage(r *http.Request, title string) Page {
	demo, _ := r.Context().Value(demoKey{}).(bool)
	return Page{Title: title, Who: Who(r), Theme: theme(r), Demo: demo, Here: r.URL.RequestURI()}
}

// Who gives the name that the person chose in this browser.
func Who(r *http.Request) string {
	c, err := r.Cookie(whoCookie)
	if err != nil {
		return ""
	}
	name, err := url.QueryUnescape(c.Value)
	if err != nil {
		return ""
	}
	name, err = domain.CleanLine(name, domain.MaxName)
	if err != nil {
		return ""
	}
	return name
}

// Signed gives the name to write into the journal.
func Signed(r *http.Request) string {
	if who := Who(r); who != "" {
		return who
	}
	return "unnamed"
}

func theme(r *http.Request) string {
	if c, err := r.Cookie(themeCookie); err == nil && (c.Value == "light" || c.Value == "dark") {
		return c.Value
	}
	return ""
}

// SetPreferences handles the small form of name and theme in the frame.
func SetPreferences(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		http.Error(w, "The form could not be read: send it again.", http.StatusBadRequest)
		return
	}
	if name, err := domain.CleanLine(r.PostForm.Get("name"), domain.MaxName); err == nil && r.PostForm.Has("name") {
		keep(w, whoCookie, url.QueryEscape(name))
	}
	if v := r.PostForm.Get("theme"); r.PostForm.Has("theme") {
		if v != "light" && v != "dark" {
			v = ""
		}
		keep(w, themeCookie, v)
	}
	http.Redirect(w, r, ownPage(r.PostForm.Get("back")), http.StatusSeeOther)
}

// ownPage gives a page of this program to go back to, the start where the
// address would lead elsewhere. Browsers leave out tabs and line ends and take
// a backslash for a slash (url.spec.whatwg.org, from memory).
func ownPage(path string) string {
	u, err := url.Parse(path)
	if err != nil || u.Host != "" || u.Scheme != "" || !strings.HasPrefix(path, "/") || strings.ContainsRune(path, '\\') {
		return "/"
	}
	return path
}

func keep(w http.ResponseWriter, name, value string) {
	http.SetCookie(w, &http.Cookie{Name: name, Value: value, Path: "/", MaxAge: 400 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

// IsFragment tells that the answer goes into a page that is open already.
func IsFragment(r *http.Request) bool { return r.Header.Get("HX-Request") == "true" }
