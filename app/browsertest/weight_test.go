package browsertest

import (
	"io"
	"net"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"
)

// counted is the server, reached by a way that counts the bytes that come from it.
func counted(t *testing.T, s *server) (*server, *atomic.Int64) {
	t.Helper()
	l, err := net.Listen("tcp", "localhost:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	came := new(atomic.Int64)
	go func() {
		for {
			near, err := l.Accept()
			if err != nil {
				return
			}
			far, err := net.Dial("tcp", s.host)
			if err != nil {
				near.Close()
				return
			}
			go func() { io.Copy(far, near); far.Close() }()
			go func() { io.Copy(io.MultiWriter(near, counter{came}), far); near.Close() }()
		}
	}()
	return &server{t: t, host: l.Addr().(*net.TCPAddr).String()}, came
}

type counter struct{ n *atomic.Int64 }

func (c counter) Write(b []byte) (int, error) { c.n.Add(int64(len(b))); return len(b), nil }

// TestTheAnalysisComesAsADifference: a browser that understands dictionaries (RFC 9842;
// Chromium does from 130 on) unpacks the analysis with the program of the screens, once,
// and the service worker finds that it is to the letter what the site has. A host that
// knows nothing of it sends plain files.
func TestTheAnalysisComesAsADifference(t *testing.T) {
	plain := t.TempDir()
	if err := os.CopyFS(plain, os.DirFS(*site)); err != nil {
		t.Fatal(err)
	}
	weight := func(pattern string) int64 {
		t.Helper()
		found, err := filepath.Glob(filepath.Join(plain, pattern))
		if err != nil || len(found) != 1 {
			t.Fatalf("%s: %q %v", pattern, found, err)
		}
		info, err := os.Stat(found[0])
		if err != nil {
			t.Fatal(err)
		}
		return info.Size()
	}
	less := weight("worker.wasm.br") - weight("worker.wasm.*.dcb")
	found, _ := filepath.Glob(filepath.Join(plain, "*.dcb"))
	for _, name := range found {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	visit := func(dir string) int64 {
		s, came := counted(t, startServer(t, dir))
		p := startBrowser(t, s).open("/")
		p.offlineReady()
		for was := int64(-1); was != came.Load(); time.Sleep(time.Second) {
			was = came.Load()
		}
		n := came.Load()
		p.example()
		p.goByLink("/compare", "compare")
		p.still()
		p.pick("#reference-is", "2")
		p.until("the analysis", `document.body.dataset.busy === "1"`)
		p.still()
		p.check()
		return n
	}
	without, with := visit(plain), visit(*site)
	t.Logf("%d bytes of a first visit with all that is kept, %d where dictionaries are understood", without, with)
	if saved := without - with; saved < less*9/10 || less < 100_000 {
		t.Errorf("%d bytes were saved, the difference is %d bytes lighter", saved, less)
	}
}
