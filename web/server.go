// Package web is the app in the browser: it joins the store, the rules and the
// documents to pages.
package web

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"time"

	"scopewright/store"
	"scopewright/web/ui"
)

// Options say what to serve and where.
type Options struct {
	Store    *store.Store
	Listener net.Listener // from Listen
	Log      *slog.Logger
	Now      func() time.Time
	Judge    *Judge // the one that the store was opened with; nil: one of its own
	Demo     bool
	Ready    func(url string) // called once the server accepts connections
}

const (
	maxHeader     = 64 << 10
	headerTimeout = 5 * time.Second
	idleTimeout   = 2 * time.Minute
	drainTime     = 3 * time.Second
)

// Listen takes an address on this machine, before a database is opened or made
// for it.
func Listen(address string) (net.Listener, error) {
	if err := Loopback(address); err != nil {
		return nil, err
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return nil, cannotListen(address, err)
	}
	return listener, nil
}

// Serve answers requests until ctx ends, then lets running ones finish.
func Serve(ctx context.Context, o Options) error {
	listener := o.Listener
	done := make(chan struct{})
	server := &http.Server{
		Handler:           Handler(o, listener.Addr().String(), done),
		ReadHeaderTimeout: headerTimeout, IdleTimeout: idleTimeout, MaxHeaderBytes: maxHeader,
		ErrorLog: slog.NewLogLogger(o.Log.Handler(), slog.LevelWarn),
	}
	stopped := make(chan error, 1)
	go func() {
		<-ctx.Done()
		close(done) // ends the live streams, which would hold the shutdown
		limit, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTime)
		defer cancel()
		stopped <- server.Shutdown(limit)
	}()
	go refresh(ctx, o)
	if o.Ready != nil {
		o.Ready("http://" + listener.Addr().String() + "/")
	}
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-stopped
}

// refreshEvery is how often the day is looked at.
const refreshEvery = time.Hour

// refresh keeps the numbers that lists show of rooms up to date with the rules
// and the calendar; edits go on meanwhile.
func refresh(ctx context.Context, o Options) {
	for {
		rooms, err := o.Store.Refresh(ctx)
		switch {
		case err != nil && ctx.Err() == nil:
			o.Log.Error("rooms not judged again", "error", err)
		case rooms > 0:
			o.Log.Info("rooms judged again", "rooms", rooms)
		}
		select {
		case <-ctx.Done():
			return
		case <-time.After(refreshEvery):
		}
	}
}

func cannotListen(address string, err error) error {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return fmt.Errorf("another program listens on %s already, perhaps Scopewright itself: open it there, or choose another port with --listen", address)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("you may not listen on %s: choose a port from 1024 on with --listen", address)
	}
	return fmt.Errorf("cannot listen on %s: choose another address or port with --listen", address)
}

// Loopback refuses to listen where others could reach: that needs accounts,
// which this version does not have.
func Loopback(address string) error {
	host, port, err := net.SplitHostPort(address)
	if n, wrong := strconv.Atoi(port); err != nil || wrong != nil || n < 0 || n > 65535 {
		return fmt.Errorf("%q is no address to listen on: write it like 127.0.0.1:8080, with a port up to 65535", address)
	}
	if ip := net.ParseIP(host); host == "localhost" || ip != nil && ip.IsLoopback() {
		return nil
	}
	return fmt.Errorf("listening on %s would let others on the network in, and this version has no accounts: use 127.0.0.1", address)
}

// Handler is the whole app for a server at an address. done ends live streams.
func Handler(o Options, address string, done <-chan struct{}) http.Handler {
	if o.Judge == nil {
		o.Judge = NewJudge(o.Now)
	}
	h := bound(readable(o.Log, routes(o, done)))
	h = http.NewCrossOriginProtection().Handler(h)
	h = guardHost(address, h)
	h = secure(h)
	h = recovered(o.Log, h)
	inner := h
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		inner.ServeHTTP(w, r.WithContext(ui.WithDemo(r.Context(), o.Demo)))
	})
}

// guardHost lets only requests through that name this server as it is bound,
// so that no other site's name can be pointed at it (DNS rebinding).
func guardHost(address string, next http.Handler) http.Handler {
	_, port, _ := net.SplitHostPort(address)
	known := map[string]bool{address: true}
	for _, host := range []string{"localhost", "127.0.0.1", "::1"} {
		known[net.JoinHostPort(host, port)] = true
		if port == "80" {
			known[host] = true
		}
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !known[r.Host] {
			http.Error(w, "This address is not served here: open http://"+address+"/", http.StatusMisdirectedRequest)
			return
		}
		if origin := r.Header.Get("Origin"); origin != "" && !known[strings.TrimPrefix(origin, "http://")] && !plainForm(r) {
			http.Error(w, "Requests from other sites are refused.", http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// plainForm tells a form that one of our own pages sent without script: under
// the policy "no-referrer" browsers then write "null" for the origin (Fetch
// standard, "append a request Origin header", from memory). That it is ours
// they say in a header that no page can set.
func plainForm(r *http.Request) bool {
	return r.Header.Get("Origin") == "null" && r.Header.Get("Sec-Fetch-Site") == "same-origin"
}

const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; font-src 'self'; " +
	"form-action 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'"

func secure(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// recovered keeps one broken request from ending the program.
func recovered(log *slog.Logger, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil && p != http.ErrAbortHandler {
				log.Error("request panicked", "method", r.Method, "path", r.URL.Path, "panic", p, "stack", string(debug.Stack()))
				http.Error(w, "Something went wrong inside the program; nothing was stored. The log says more.", http.StatusInternalServerError)
			}
		}()
		next.ServeHTTP(w, r)
	})
}
