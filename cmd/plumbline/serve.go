package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"plumbline/internal/desk"
	"plumbline/internal/store"
	"plumbline/internal/web"
	"plumbline/static"
	"plumbline/sw"

	"golang.org/x/crypto/acme/autocert"
)

// serveOptions are what serve was called with.
type serveOptions struct {
	addr, data, domain string
	proxy              bool
}

func serve(args []string, std streams) int {
	var o serveOptions
	f := flags("serve", std)
	f.StringVar(&o.addr, "addr", "localhost:8085", "where to listen; 0.0.0.0:8085 for other machines too")
	f.StringVar(&o.data, "data", "data", "the folder that the database is kept in")
	f.StringVar(&o.domain, "tls-domain", "", "get a certificate for this name by itself, and listen on :443 and :80")
	f.BoolVar(&o.proxy, "behind-proxy", false, "calls come through a reverse proxy: tell clients apart by X-Forwarded-For")
	if err := f.Parse(args); err != nil {
		return exitUsage
	}
	if f.NArg() > 0 {
		fmt.Fprintf(std.err, "plumbline serve: %q is no option; a folder is given with --data.\n", f.Arg(0))
		return exitUsage
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := runServer(ctx, o, std); err != nil {
		fmt.Fprintf(std.err, "plumbline serve: %v\n", err)
		return exitUsage
	}
	return exitDone
}

// runServer serves until the context ends, then lets running calls finish.
func runServer(ctx context.Context, o serveOptions, std streams) (err error) {
	if whole, err := filepath.Abs(o.data); err == nil {
		o.data = whole
	}
	release, err := store.Claim(o.data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, release()) }()
	db, err := store.Open(ctx, o.data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()

	log := slog.New(slog.NewTextHandler(std.err, nil))
	limits := web.DefaultLimits
	limits.Proxy = o.proxy
	handler := web.New(desk.New(db, time.Now), both{sw.Dist, static.Dist}, log, limits)
	if o.domain != "" {
		return serveTLS(ctx, o, handler, std)
	}
	l, err := listen(o.addr)
	if err != nil {
		return err
	}
	tellWhere(std, o, l.Addr())
	return untilDone(ctx, newServer(handler), func(s *http.Server) error { return s.Serve(l) })
}

// newServer returns a server that does not wait for ever on a slow phone.
func newServer(h http.Handler) *http.Server {
	return &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 2 * time.Minute, IdleTimeout: 2 * time.Minute}
}

// serveTLS gets and renews a certificate by itself; port 80 answers the
// authority's challenge and sends everybody else to HTTPS.
func serveTLS(ctx context.Context, o serveOptions, h http.Handler, std streams) error {
	m := &autocert.Manager{
		Prompt: autocert.AcceptTOS, HostPolicy: autocert.HostWhitelist(o.domain), Cache: autocert.DirCache(filepath.Join(o.data, "certificates")),
	}
	challenges, err := listen(":80")
	if err != nil {
		return err
	}
	calls, err := listen(":443")
	if err != nil {
		return errors.Join(err, challenges.Close())
	}
	plain, secure := newServer(m.HTTPHandler(nil)), newServer(h)
	secure.TLSConfig = m.TLSConfig()
	fmt.Fprintf(std.out, "Data: %s (one SQLite database)\nOpen on any device: https://%s\n", o.data, o.domain)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	challenge := make(chan error, 1)
	go func() {
		challenge <- untilDone(ctx, plain, func(s *http.Server) error { return s.Serve(challenges) })
		cancel()
	}()
	err = untilDone(ctx, secure, func(s *http.Server) error { return s.ServeTLS(calls, "", "") })
	cancel()
	return errors.Join(err, <-challenge)
}

// untilDone runs a server until the context ends or it fails.
func untilDone(ctx context.Context, s *http.Server, accept func(*http.Server) error) error {
	failed := make(chan error, 1)
	go func() { failed <- accept(s) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	err := s.Shutdown(grace)
	if served := <-failed; !errors.Is(served, http.ErrServerClosed) {
		err = errors.Join(err, served)
	}
	return err
}

// listen listens at an address, or says why it cannot and what to do.
func listen(addr string) (net.Listener, error) {
	l, err := net.Listen("tcp", addr)
	switch {
	case err == nil:
		return l, nil
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("another program listens at %s already: stop it, or choose another port with --addr (make run: ADDR=localhost:8086)", addr)
	case errors.Is(err, syscall.EACCES):
		return nil, fmt.Errorf("this user may not listen at %s: give it CAP_NET_BIND_SERVICE, or choose a port above 1023 with --addr", addr)
	case errors.Is(err, syscall.EADDRNOTAVAIL):
		return nil, fmt.Errorf("this machine has no address %s: choose one that it has with --addr", addr)
	}
	return nil, fmt.Errorf("cannot listen at %s: %w", addr, err)
}

// tellWhere says, a line each, where the data is and how to open the app.
func tellWhere(std streams, o serveOptions, at net.Addr) {
	fmt.Fprintf(std.out, "Data: %s (one SQLite database)\n", o.data)
	asked, _, _ := net.SplitHostPort(o.addr)
	host, port, _ := net.SplitHostPort(at.String())
	ip := net.ParseIP(host)
	everywhere := asked == "" || ip.IsUnspecified()
	if everywhere || ip.IsLoopback() && asked == "localhost" {
		host = "localhost"
	}
	fmt.Fprintf(std.out, "Open here: http://%s\n", net.JoinHostPort(host, port))
	lan := cmp.Or(lanAddress(), "<this machine's address>")
	switch {
	case everywhere:
		fmt.Fprintf(std.out, "On the phone, in the same network: http://%s\n", net.JoinHostPort(lan, port))
	case ip.IsLoopback():
		fmt.Fprintf(std.out, "On the phone: not yet, this address is for this machine only. Start with --addr 0.0.0.0:%s (make run: ADDR=0.0.0.0:%s) and open http://%s\n", port, port, net.JoinHostPort(lan, port))
	default:
		fmt.Fprintf(std.out, "On the phone, in the same network: http://%s\n", net.JoinHostPort(host, port))
	}
	if o.proxy {
		fmt.Fprintln(std.out, "Behind a proxy: phones open the proxy's HTTPS address, and install the app from there.")
		return
	}
	fmt.Fprintln(std.out, "A phone installs the app and keeps it offline only over HTTPS: use --tls-domain NAME, or a reverse proxy with a certificate.")
}

// lanAddress returns this machine's first address that other machines can
// reach, "" when there is none.
func lanAddress() string {
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return ""
	}
	for _, a := range addrs {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsPrivate() && n.IP.To4() != nil {
			return n.IP.String()
		}
	}
	return ""
}

// both looks a file up in one file system, then in the other.
type both [2]fs.FS

// Open implements fs.FS.
func (b both) Open(name string) (fs.File, error) {
	f, err := b[0].Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return b[1].Open(name)
	}
	return f, err
}
