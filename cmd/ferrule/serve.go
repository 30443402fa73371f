package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"log"
	"net"
	"net/http"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
)

func init() { commands["serve"] = runServe }

// runServe delivers the built site until it is told to stop.
func runServe(args []string, std streams) int {
	set := flag.NewFlagSet("serve", flag.ContinueOnError)
	set.SetOutput(std.err)
	addr := set.String("addr", "localhost:8080", "address to listen on; :8080 lets other devices in the network in")
	dir := set.String("dir", "", "folder of the built site (default: the one built in, else build/site)")
	cert := set.String("cert", "", "TLS certificate file; phones need HTTPS to work offline")
	key := set.String("key", "", "TLS key file")
	if err := set.Parse(args); err != nil {
		return exitUsage
	}
	if set.NArg() > 0 {
		fmt.Fprintf(std.err, "ferrule serve: unexpected %q; usage: ferrule serve [-addr HOST:PORT] [-dir SITE]\n", set.Arg(0))
		return exitUsage
	}
	if (*cert == "") != (*key == "") {
		fmt.Fprintln(std.err, "ferrule serve: -cert and -key go together")
		return exitUsage
	}
	files, err := siteFiles(*dir)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule serve:", err)
		return exitInput
	}
	if *cert != "" { // tried before anybody is told an address
		pair, err := tls.LoadX509KeyPair(*cert, *key)
		if err == nil && pair.Leaf != nil && time.Now().After(pair.Leaf.NotAfter) {
			err = fmt.Errorf("it ended on %s", pair.Leaf.NotAfter.Format(time.DateOnly))
		}
		if err != nil {
			fmt.Fprintf(std.err, "ferrule serve: the certificate %s with the key %s cannot be used: %v\n", *cert, *key, err)
			return exitInput
		}
	}
	ln, err := net.Listen("tcp", *addr)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule serve:", deaf(*addr, err))
		return exitInput
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	announce(std, ln.Addr(), *cert != "")
	if err := serve(ctx, ln, newServer(files, std), *cert, *key); err != nil {
		fmt.Fprintln(std.err, "ferrule serve:", err)
		return exitInput
	}
	return exitDone
}

// siteFiles opens the folder, or the site built into the program.
func siteFiles(dir string) (fs.FS, error) {
	if dir == "" {
		if embedded != nil {
			return embedded, nil
		}
		dir = "build/site"
	}
	files := folder(dir)
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return nil, fmt.Errorf("no site in %s: build it with `make site` or name its folder with -dir", dir)
	}
	if _, err := fs.Stat(files, "index.html"); err != nil {
		return nil, fmt.Errorf("%s holds no index.html: build the site with `make site`", dir)
	}
	return files, nil
}

// folder is a folder on disk, found by its name each time: a site that is built
// anew is another folder under the same name.
type folder string

// Open implements fs.FS. A Root refuses every way out of the folder, links
// included.
func (f folder) Open(name string) (fs.File, error) {
	root, err := os.OpenRoot(string(f))
	if err != nil {
		return nil, err
	}
	defer root.Close() // an open file outlives it
	return root.FS().Open(name)
}

// deaf says why an address cannot be listened on, and what to do.
func deaf(addr string, err error) string {
	why := err.Error()
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		why = "another program listens there"
	case errors.Is(err, syscall.EACCES):
		why = "this user may not (ports below 1024 are the system's)"
	}
	return fmt.Sprintf("cannot listen on %s: %s; choose another with -addr, such as -addr localhost:8081", addr, why)
}

func newServer(files fs.FS, std streams) *http.Server {
	return &http.Server{
		Handler:           &static{files: files, log: log.New(std.err, "ferrule serve: ", 0)},
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      5 * time.Minute, // a slow phone may take that long for the programs
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          log.New(std.err, "ferrule serve: ", 0),
	}
}

// serve runs until ctx ends, then lets running answers finish.
func serve(ctx context.Context, ln net.Listener, srv *http.Server, cert, key string) error {
	done := make(chan error, 1)
	go func() {
		if cert != "" {
			done <- srv.ServeTLS(ln, cert, key)
		} else {
			done <- srv.Serve(ln)
		}
	}()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	limit, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if err := srv.Shutdown(limit); err != nil {
		return srv.Close() // an answer that takes longer is cut off
	}
	if err := <-done; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// announce prints where the app is to be found: on this device, and for a
// phone in the same network when the address lets it in.
func announce(std streams, addr net.Addr, secure bool) {
	scheme := "http"
	if secure {
		scheme = "https"
	}
	tcp, ok := addr.(*net.TCPAddr)
	if !ok {
		fmt.Fprintf(std.out, "Ferrule listens on %s\n", addr)
		return
	}
	url := func(host string) string {
		return fmt.Sprintf("%s://%s/", scheme, net.JoinHostPort(host, fmt.Sprint(tcp.Port)))
	}
	switch {
	case tcp.IP.IsLoopback():
		fmt.Fprintf(std.out, "Ferrule: %s\n", url("localhost"))
		fmt.Fprintf(std.out, "For a phone in the same network: ferrule serve -addr :%d\n", tcp.Port)
	case tcp.IP.IsUnspecified():
		fmt.Fprintf(std.out, "Ferrule: %s\n", url("localhost"))
		for _, ip := range lanAddresses() {
			fmt.Fprintf(std.out, "In the same network: %s\n", url(ip))
		}
		if !secure {
			fmt.Fprintln(std.out, "Another device keeps the app for offline use only over HTTPS: see -cert and -key.")
		}
	default:
		fmt.Fprintf(std.out, "Ferrule: %s\n", url(tcp.IP.String()))
	}
}

// lanAddresses lists this machine's private addresses that a phone can reach.
func lanAddresses() []string {
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var out []string
	for _, a := range addrs {
		n, ok := a.(*net.IPNet)
		if ok && n.IP.To4() != nil && !n.IP.IsLoopback() && !strings.HasPrefix(n.IP.String(), "169.254.") {
			out = append(out, n.IP.String())
		}
	}
	return out
}
