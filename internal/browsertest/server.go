package browsertest

import (
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"math/rand/v2"
	"net"
	"net/http"
	"path/filepath"
	"testing"
	"time"

	"plumbline/internal/desk"
	"plumbline/internal/store"
	"plumbline/internal/web"
	"plumbline/static"
	"plumbline/sw"
)

// Server is the real server at one address, which can be stopped and started.
type Server struct {
	URL     string
	t       testing.TB
	app     fs.FS
	addr    string
	handler http.Handler
	running *http.Server
	over    chan struct{} // closed when running has ended
	db      *store.Store
}

// NewServer starts a server with an empty database; the test's end stops it.
func NewServer(t testing.TB) *Server {
	t.Helper()
	return serverOf(t, layers{sw.Dist, static.Dist})
}

func serverOf(t testing.TB, app fs.FS) *Server {
	t.Helper()
	if _, err := fs.Stat(app, "index.html"); err != nil {
		t.Fatal("the front end is not built; run: make build")
	}
	s := &Server{t: t, app: app}
	s.open(t.TempDir())
	s.Start()
	t.Cleanup(s.Stop)
	return s
}

// open makes the server one of a data folder.
func (s *Server) open(folder string) {
	s.t.Helper()
	db, err := store.Open(s.t.Context(), folder)
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { _ = db.Close() })
	quiet := slog.New(slog.DiscardHandler)
	s.handler, s.db = web.New(desk.New(db, time.Now), s.app, quiet, web.DefaultLimits), db
}

// Copy makes a backup of the server's database.
func (s *Server) Copy() string {
	s.t.Helper()
	name := filepath.Join(s.t.TempDir(), "copy.sqlite")
	if err := s.db.Backup(s.t.Context(), name); err != nil {
		s.t.Fatal(err)
	}
	return name
}

// GoBack stops the server and starts one of a copy made before, as after the
// loss of a disk.
func (s *Server) GoBack(name string) {
	s.t.Helper()
	s.Stop()
	folder := s.t.TempDir()
	if err := store.Restore(name, folder); err != nil {
		s.t.Fatal(err)
	}
	s.open(folder)
	s.Start()
}

// Start listens, at the same address as before.
func (s *Server) Start() {
	s.t.Helper()
	l, err := s.listen()
	if err != nil {
		s.t.Fatal(err)
	}
	s.addr = l.Addr().String()
	s.URL = "http://" + s.addr
	s.running = &http.Server{Handler: s.handler, ReadHeaderTimeout: 10 * time.Second}
	over := make(chan struct{})
	s.over = over
	go func(running *http.Server) {
		defer close(over)
		_ = running.Serve(l) // ends with ErrServerClosed
	}(s.running)
}

// listen takes a free port the first time, below those that the machine gives to
// calls that go out: one of them could take the port while the server is away.
func (s *Server) listen() (net.Listener, error) {
	if s.addr != "" {
		return net.Listen("tcp", s.addr)
	}
	var l net.Listener
	var err error
	for range 50 {
		if l, err = net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", 20_000+rand.IntN(12_000))); err == nil {
			return l, nil
		}
	}
	return nil, err
}

// Stop ends the server and every connection: there is no signal any more.
// It returns when the address is free again.
func (s *Server) Stop() {
	_ = s.running.Close()
	<-s.over
}

// layers is several file systems as one; earlier ones win.
type layers []fs.FS

func (l layers) Open(name string) (fs.File, error) {
	for _, one := range l {
		f, err := one.Open(name)
		if !errors.Is(err, fs.ErrNotExist) {
			return f, err
		}
	}
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}
