//go:build !js

package bench

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"
)

// tokenHeader carries the token. No form and no picture of a foreign page can send it.
const tokenHeader = "Maskloft-Token"

// policy is what the page may load: itself, and nothing from anywhere else.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self' blob:; style-src 'self'; img-src 'self' blob: data:; " +
	"font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// Server is a bench on the loopback address.
type Server struct {
	bench  *Bench
	door   *door
	listen net.Listener
	host   string // of every request: 127.0.0.1:PORT or [::1]:PORT
	asks   chan struct{}
	tabs   chan struct{}
	end    context.CancelFunc
	ctx    context.Context
}

// loopback are the addresses of this machine that nobody else reaches, in the order they
// are tried. One of them is listened on: each would be an origin of its own to a browser.
var loopback = [][2]string{{"tcp4", "127.0.0.1:0"}, {"tcp6", "[::1]:0"}}

// Listen opens a port of the system's choice on the loopback address.
func Listen(b *Bench) (*Server, error) {
	var l net.Listener
	var err error
	for _, a := range loopback {
		if l, err = net.Listen(a[0], a[1]); err == nil {
			break
		}
	}
	if err != nil {
		return nil, err
	}
	ctx, end := context.WithCancel(context.Background())
	return &Server{bench: b, door: newDoor(), listen: l, host: l.Addr().String(), asks: make(chan struct{}, mostAsks), tabs: make(chan struct{}, mostTabs), ctx: ctx, end: end}, nil
}

// Address is where to open the page: once, and within a minute.
func (s *Server) Address() string { return "http://" + s.host + "/#" + s.door.ticket() }

// Serve answers until ctx is done.
func (s *Server) Serve(ctx context.Context) error {
	server := &http.Server{
		Handler: s, ReadHeaderTimeout: 10 * time.Second, MaxHeaderBytes: 16 << 10,
		BaseContext: func(net.Listener) context.Context { return s.ctx },
	}
	stop := context.AfterFunc(ctx, func() {
		s.end()
		_ = server.Close()
	})
	defer stop()
	if err := server.Serve(s.listen); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// ServeHTTP looks at who asks before it looks at what.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	if r.Host != s.host { // a foreign name that leads here: DNS rebinding
		refuse(w, http.StatusMisdirectedRequest, "this is not the address that was printed")
		return
	}
	origin := r.Header.Get("Origin")
	if origin != "" && origin != "http://"+s.host || len(r.Header.Values("Origin")) > 1 {
		refuse(w, http.StatusForbidden, "another page asked")
		return
	}
	site := r.Header.Get("Sec-Fetch-Site")
	page := r.Method == http.MethodGet && site != "cross-site" && site != "same-site" || r.Method == http.MethodGet && r.URL.Path == "/" && r.Header.Get("Sec-Fetch-Mode") == "navigate"
	switch {
	case r.Method == http.MethodGet && page:
		s.asset(w, r)
	case r.Method != http.MethodPost:
		refuse(w, http.StatusForbidden, "nothing is answered to "+r.Method)
	case origin == "" || site != "" && site != "same-origin" && site != "none":
		refuse(w, http.StatusForbidden, "another page asked")
	case r.Header.Get("Content-Type") != "application/json":
		refuse(w, http.StatusUnsupportedMediaType, "a request is application/json")
	case r.URL.Path == "/ticket":
		s.ticket(w, r)
	case !s.door.knows(r.Header.Get(tokenHeader)):
		refuse(w, http.StatusForbidden, "the token is not this program's: open the address that it prints")
	case r.URL.Path == "/another":
		reply(w, map[string]string{"address": s.Address()})
	case r.URL.Path == "/ask":
		s.ask(w, r)
	default:
		refuse(w, http.StatusNotFound, "there is nothing here")
	}
}

func refuse(w http.ResponseWriter, code int, why string) { http.Error(w, why, code) }

func reply(w http.ResponseWriter, v any) {
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(v)
}

// ticket changes a ticket for the token.
func (s *Server) ticket(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Ticket string `json:"ticket"`
	}
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, 1<<10)).Decode(&q); err != nil || !s.door.enter(q.Ticket) {
		refuse(w, http.StatusForbidden, "this address was opened already, or is older than a minute: press Enter where the program runs for another one")
		return
	}
	reply(w, map[string]string{"token": s.door.token})
}

// ask answers one request in lines of JSON; where the page lets go, it is cancelled.
func (s *Server) ask(w http.ResponseWriter, r *http.Request) {
	var q Request
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, largestBody))
	if err != nil {
		refuse(w, http.StatusRequestEntityTooLarge, "a request has at most 64 MB")
		return
	}
	if err := json.Unmarshal(data, &q); err != nil {
		refuse(w, http.StatusBadRequest, "the request is no JSON of this form")
		return
	}
	room := s.asks
	if q.Ask == "told" {
		room = s.tabs
	}
	select {
	case room <- struct{}{}:
		defer func() { <-room }()
	case <-r.Context().Done():
		return
	}
	w.Header().Set("Content-Type", "application/x-ndjson")
	control := http.NewResponseController(w)
	out := json.NewEncoder(w)
	var mu sync.Mutex
	s.bench.Ask(r.Context(), q, func(a Answer) {
		mu.Lock()
		defer mu.Unlock()
		if out.Encode(a) == nil {
			_ = control.Flush()
		}
	})
}

// asset serves the page and what belongs to it; none of it says anything of the layout.
func (s *Server) asset(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = "index.html"
	}
	data, kind, ok := asset(name)
	if !ok {
		refuse(w, http.StatusNotFound, "there is nothing here")
		return
	}
	w.Header().Set("Content-Type", kind)
	_, _ = w.Write(data)
}
