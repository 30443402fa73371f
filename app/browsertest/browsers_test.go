//go:build browsers

package browsertest

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// remote is a browser that is driven from outside: W3C WebDriver, over HTTP as
// WebKit's driver has it or over a socket as Firefox does (Marionette).
type remote interface {
	call(method, path string, params map[string]any) (any, error)
}

// marionette speaks to Firefox: messages are "length:json", [0, id, name, params]
// there and [1, id, error, result] back.
type marionette struct {
	conn net.Conn
	in   *bufio.Reader
	id   int
}

// spoken are the names that Marionette has for WebDriver's paths.
var spoken = map[string]string{"POST ": "NewSession", "POST url": "Navigate", "POST refresh": "Refresh", "POST execute/sync": "ExecuteScript",
	"POST element": "FindElement", "POST click": "ElementClick", "POST value": "ElementSendKeys", "DELETE ": "DeleteSession"}

func (m *marionette) read() ([]json.RawMessage, error) {
	head, err := m.in.ReadString(':')
	if err != nil {
		return nil, err
	}
	n, err := strconv.Atoi(strings.TrimSuffix(head, ":"))
	if err != nil {
		return nil, err
	}
	body := make([]byte, n)
	if _, err := io.ReadFull(m.in, body); err != nil {
		return nil, err
	}
	var out []json.RawMessage
	_ = json.Unmarshal(body, &out) // the greeting is no list
	return out, nil
}

func (m *marionette) call(method, path string, params map[string]any) (any, error) {
	if parts := strings.Split(path, "/"); parts[0] == "element" && len(parts) == 3 {
		path, params = parts[2], map[string]any{"id": parts[1], "text": params["text"]}
	}
	name := spoken[method+" "+path]
	if params == nil {
		params = map[string]any{}
	}
	if name == "NewSession" {
		params = map[string]any{}
	}
	m.id++
	body, err := json.Marshal([]any{0, m.id, "WebDriver:" + name, params})
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(m.conn, "%d:%s", len(body), body)
	answer, err := m.read()
	if err != nil {
		return nil, err
	}
	if len(answer) != 4 {
		return nil, fmt.Errorf("an answer of %d parts", len(answer))
	}
	if string(answer[2]) != "null" {
		return nil, errors.New(string(answer[2]))
	}
	var v any
	err = json.Unmarshal(answer[3], &v)
	if r, ok := v.(map[string]any); ok {
		if inner, ok := r["value"]; ok && name != "NewSession" {
			return inner, err
		}
	}
	return v, err
}

// webdriver speaks to WebKit's driver.
type webdriver struct{ base string }

func (w *webdriver) call(method, path string, params map[string]any) (any, error) {
	if params == nil {
		params = map[string]any{}
	}
	body, err := json.Marshal(params)
	if err != nil {
		return nil, err
	}
	req, err := http.NewRequest(method, strings.TrimSuffix(w.base+"/"+path, "/"), bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	answer, err := http.DefaultClient.Do(req)
	if err != nil {
		return nil, err
	}
	defer answer.Body.Close()
	var out struct{ Value any }
	if err := json.NewDecoder(answer.Body).Decode(&out); err != nil {
		return nil, err
	}
	if answer.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("%s %s: %v", method, path, out.Value)
	}
	return out.Value, nil
}

// other is a tab of a browser that is not Chromium.
type other struct {
	t    *testing.T
	r    remote
	host string
}

func (o *other) js(expression string) any {
	o.t.Helper()
	v, err := o.r.call("POST", "execute/sync", map[string]any{"script": "return (" + expression + ")", "args": []any{}})
	if err != nil {
		o.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

func (o *other) until(what, expression string) {
	o.t.Helper()
	for end := time.Now().Add(2 * patience); ; time.Sleep(100 * time.Millisecond) {
		v, err := o.r.call("POST", "execute/sync", map[string]any{"script": "return Boolean(" + expression + ")", "args": []any{}})
		if v == true {
			return
		}
		if time.Now().After(end) {
			o.t.Fatalf("%s did not come (%s, %v)\n%v", what, expression, err, o.js(`JSON.stringify(document.body.dataset) + document.body.innerText.slice(0, 1500)`))
		}
	}
}

func (o *other) open(path string) {
	o.t.Helper()
	if _, err := o.r.call("POST", "url", map[string]any{"url": "http://" + o.host + path}); err != nil {
		o.t.Fatal(err)
	}
}

func (o *other) find(selector string) string {
	o.t.Helper()
	o.until(selector, fmt.Sprintf(`document.querySelector(%q)`, selector))
	v, err := o.r.call("POST", "element", map[string]any{"using": "css selector", "value": selector})
	if err != nil {
		o.t.Fatalf("%s: %v", selector, err)
	}
	for _, id := range v.(map[string]any) {
		return id.(string)
	}
	return ""
}

func (o *other) tap(selector string) {
	o.t.Helper()
	var err error
	for range 20 { // drawn anew meanwhile, or something lies on it for a moment
		o.js(fmt.Sprintf(`document.querySelector(%q)?.scrollIntoView({ block: "center" })`, selector))
		if _, err = o.r.call("POST", "element/"+o.find(selector)+"/click", nil); err == nil {
			return
		}
		time.Sleep(200 * time.Millisecond)
	}
	o.t.Fatalf("%s: %v", selector, err)
}

func (o *other) keys(selector, text string) {
	o.t.Helper()
	letters := strings.Split(text, "")
	if _, err := o.r.call("POST", "element/"+o.find(selector)+"/value", map[string]any{"text": text, "value": letters}); err != nil {
		o.t.Fatalf("%s: %v", selector, err)
	}
}

func (o *other) page(name string) {
	o.t.Helper()
	o.until("page "+name, fmt.Sprintf(`document.querySelector("body > .app main")?.dataset.page === %q && document.body.dataset.whole === "true" && document.body.dataset.busy === "0"`, name))
}

// started runs a program until the test ends.
func started(t *testing.T, name string, args ...string) {
	t.Helper()
	c := exec.Command(name, args...)
	if err := c.Start(); err != nil {
		t.Skipf("%s: %v (make browsers installs it where it may)", name, err)
	}
	t.Cleanup(func() { _ = c.Process.Kill(); _ = c.Wait() })
}

// free is an address that nobody listens at.
func free(t *testing.T) (port string) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, port, _ = net.SplitHostPort(l.Addr().String())
	return port
}

func soon(t *testing.T, do func() error) {
	t.Helper()
	var err error
	for range 150 {
		if err = do(); err == nil {
			return
		}
		time.Sleep(200 * time.Millisecond)
	}
	t.Fatal(err)
}

func firefox(t *testing.T) remote {
	home, port := t.TempDir(), free(t)
	prefs := `user_pref("marionette.port", ` + port + `); user_pref("browser.shell.checkDefaultBrowser", false); user_pref("app.update.enabled", false);`
	if err := os.WriteFile(filepath.Join(home, "user.js"), []byte(prefs), 0o600); err != nil {
		t.Fatal(err)
	}
	started(t, "firefox-esr", "--marionette", "--headless", "--no-remote", "--profile", home)
	m := &marionette{}
	soon(t, func() (err error) { m.conn, err = net.Dial("tcp", "127.0.0.1:"+port); return err })
	t.Cleanup(func() { m.conn.Close() })
	m.in = bufio.NewReader(m.conn)
	if _, err := m.read(); err != nil { // its greeting
		t.Fatal(err)
	}
	return m
}

func webkit(t *testing.T) remote {
	mini, _ := filepath.Glob("/usr/lib/*/webkit2gtk-4.*/MiniBrowser")
	if len(mini) == 0 {
		t.Skip("WebKitGTK's MiniBrowser is not installed (make browsers installs it where it may)")
	}
	port, display := free(t), ":"+strconv.Itoa(50+os.Getpid()%900)
	started(t, "Xvfb", display, "-screen", "0", "800x900x24")
	started(t, "env", "DISPLAY="+display, "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1", "WEBKIT_DISABLE_COMPOSITING_MODE=1", "HOME="+t.TempDir(), "WebKitWebDriver", "--port="+port)
	return &webdriver{base: "http://127.0.0.1:" + port + "/session|" + mini[0]}
}

// session begins a session and says whose it is.
func session(t *testing.T, r remote) string {
	t.Helper()
	params := map[string]any{"capabilities": map[string]any{}}
	w, http := r.(*webdriver)
	if http {
		base, mini, _ := strings.Cut(w.base, "|")
		w.base = base
		params = map[string]any{"capabilities": map[string]any{"alwaysMatch": map[string]any{"webkitgtk:browserOptions": map[string]any{"binary": mini, "args": []string{"--automation"}}}}}
	}
	var v any
	soon(t, func() (err error) { v, err = r.call("POST", "", params); return err })
	answer := v.(map[string]any)
	if http {
		w.base += "/" + answer["sessionId"].(string)
	}
	t.Cleanup(func() { _, _ = r.call("DELETE", "", nil) })
	c, _ := answer["capabilities"].(map[string]any)
	return fmt.Sprint(c["browserName"], " ", c["browserVersion"])
}

// noted keeps what a page hands out and what goes wrong in it.
const noted = `(() => { if (window.ferruleHanded) { return; } window.ferruleHanded = []; window.ferruleWrong = [];
	addEventListener("error", (e) => ferruleWrong.push(String(e.message))); addEventListener("unhandledrejection", (e) => ferruleWrong.push(String(e.reason)));
	const make = URL.createObjectURL.bind(URL); URL.createObjectURL = (b) => { b.arrayBuffer && b.arrayBuffer().then((a) => ferruleHanded.push(btoa(String.fromCharCode(...new Uint8Array(a))))); return make(b); }; })()`

// journey goes one way in the browser, by its name.
func (o *other) journey(name string, do func()) {
	o.t.Helper()
	o.t.Run(name, func(t *testing.T) {
		was := o.t
		o.t = t
		defer func() { o.t = was }()
		do()
		if wrong := o.js(`(window.ferruleWrong ?? []).join("; ")`); wrong != "" {
			t.Errorf("errors: %v", wrong)
		}
	})
}

// home goes to the first page by a tap and says how many sessions are listed.
func (o *other) home() int {
	o.t.Helper()
	o.tap("#home")
	o.page("home")
	return int(o.js(`document.querySelectorAll(".session-open").length`).(float64))
}

// answer goes to the answer by a tap, waits for it and returns its first line.
func (o *other) answer() string {
	o.t.Helper()
	o.tap("#step-choose")
	o.page("choose")
	o.until("an answer", `document.body.dataset.busy === "0" && document.querySelector("#answer")?.innerText.trim()`)
	return fmt.Sprint(o.js(`document.querySelector("#answer").innerText.split("\n")[0]`))
}

func (o *other) stored() {
	o.t.Helper()
	o.until("the save", `document.body.dataset.dirty === "0" && Number(document.body.dataset.saved) > 0`)
}

// upload hands a file to a field.
func (o *other) upload(field, name string, data []byte) {
	o.t.Helper()
	file := filepath.Join(o.t.TempDir(), name)
	if err := os.WriteFile(file, data, 0o600); err != nil {
		o.t.Fatal(err)
	}
	o.keys(field, file)
}

// restore reads a backup of another browser.
func (o *other) restore(data []byte, sessions int) {
	o.t.Helper()
	n := o.home()
	o.upload("#restore-input", "backup.bin", data)
	o.until("the other's sessions", fmt.Sprintf(`document.querySelectorAll(".session-open").length === %d`, n+sessions))
}

// TestOtherBrowsers goes six ways in Firefox and in WebKit, the last from one to
// the other and back.
func TestOtherBrowsers(t *testing.T) {
	type made struct {
		name, link string
		backup     []byte
		sessions   int
	}
	kept := map[string]*made{}
	csv := importHead + "\n"
	for i, setting := range []string{"flat", "up", "down"} {
		csv += importRows(uint64(50+i), 8, "Driver", setting, 150, 11+float64(i), 2500+100*float64(i))
	}
	for _, b := range []struct {
		name  string
		start func(*testing.T) remote
	}{{"firefox", firefox}, {"webkit", webkit}} {
		t.Run(b.name, func(t *testing.T) {
			s := startServer(t, *site)
			o := &other{t: t, r: b.start(t), host: s.host}
			version := session(t, o.r)
			mine := &made{name: version}
			o.journey("first visit to the answer", func() {
				o.open("/")
				o.js(noted)
				o.tap("#first-try-example, body > .app #try-example")
				o.page("choose")
				o.t.Logf("%s: %s", version, o.answer())
				o.stored()
			})
			o.journey("typed balls to the answer, after a reload too", func() {
				o.home()
				o.tap("#new-session")
				o.page("club")
				o.tap("#step-shots")
				o.page("shots")
				for _, carry := range []string{"201", "212", "208"} {
					o.keys("#entry-carry", carry)
					o.tap("#add-shot")
					o.until("the field empty again", `document.querySelector("#entry-carry").value === ""`)
				}
				o.until("the balls stored", balls+` === 3 && document.body.dataset.dirty === "0"`)
				o.open("/shots")
				o.page("shots")
				o.js(noted)
				o.until("the balls after a reload", balls+` === 3`)
				o.t.Logf("%s: %s", version, o.answer())
			})
			o.journey("a file to the answer", func() {
				o.home()
				o.upload("#file-input", "evening.csv", []byte(csv))
				o.page("shots")
				o.tap("#accept-file")
				o.until("its balls", balls+` === 24`)
				o.stored()
				o.t.Logf("%s: %s", version, o.answer())
			})
			o.journey("a link opened and kept", func() {
				o.tap("#step-sheet")
				o.page("sheet")
				o.tap("#send-link")
				o.until("the link", `document.querySelector("#link-text")?.value`)
				_, mine.link, _ = strings.Cut(fmt.Sprint(o.js(`document.querySelector("#link-text").value`)), "#")
				links := []string{mine.link}
				for _, k := range kept {
					links = append(links, k.link)
				}
				for _, link := range links {
					n := o.home()
					o.open("/shared#" + link)
					o.tap("#first-keep-copy, body > .app #keep-copy") // before the program, or after
					o.until("the tap to be played, and the copy", `document.body.dataset.ready === "1" && !document.querySelector("#first, #keep-copy") && document.querySelector("main")`)
					o.js(noted)
					o.stored()
					o.home()
					o.until("one session more", fmt.Sprintf(`document.querySelectorAll(".session-open").length === %d`, n+1))
				}
			})
			o.journey("a backup written, and the other's read", func() {
				o.home()
				mine.sessions = 4 + len(kept) // the example, the typed balls, the file, each link
				o.until("all sessions in the list", fmt.Sprintf(`document.querySelectorAll(".session-open").length === %d`, mine.sessions))
				o.tap("#do-backup")
				o.until("the backup", `ferruleHanded.length > 0`)
				mine.backup, _ = base64.StdEncoding.DecodeString(fmt.Sprint(o.js(`ferruleHanded.at(-1)`)))
				for _, k := range kept {
					o.restore(k.backup, k.sessions)
					o.t.Logf("%s reads %d sessions of %s", version, k.sessions, k.name)
				}
			})
			kept[b.name] = mine
			o.journey("a start without the server", func() {
				o.until("the files, or no service worker", `document.documentElement.dataset.offline`)
				if o.js(`document.documentElement.dataset.offline`) != "1" {
					o.t.Skipf("%s has no service worker here", version)
				}
				s.stop()
				for _, at := range []string{"choose", "shots"} {
					o.open("/" + at)
					o.page(at)
				}
			})
			lacks := o.js(`["showDirectoryPicker", "launchQueue", "trustedTypes", "indexedDB", "caches"].filter((n) => !(n in window)).join(" ")`)
			t.Logf("%s lacks: %v", version, lacks)
		})
	}
	t.Run("firefox reads webkit's", func(t *testing.T) {
		k := kept["webkit"]
		if k == nil || k.backup == nil {
			t.Skip("WebKit wrote no backup")
		}
		o := &other{t: t, r: firefox(t), host: startServer(t, *site).host}
		version := session(t, o.r)
		o.open("/")
		o.tap("#first-to-settings, body > .app #to-settings") // a touch, and the program begins
		o.page("settings")
		o.restore(k.backup, k.sessions)
		t.Logf("%s reads %d sessions of %s", version, k.sessions, k.name)
	})
}
