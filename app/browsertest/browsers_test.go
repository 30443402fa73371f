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

// TestOtherBrowsers goes the main way in Firefox and in WebKit: a tap before the
// program, the example's answer, a session with typed balls that a reload finds
// again, a start without a server, a backup that the other browser reads.
func TestOtherBrowsers(t *testing.T) {
	kept := map[string][]byte{}
	for _, b := range []struct {
		name  string
		start func(*testing.T) remote
	}{{"firefox", firefox}, {"webkit", webkit}} {
		t.Run(b.name, func(t *testing.T) {
			s := startServer(t, *site)
			o := &other{t: t, r: b.start(t), host: s.host}
			version := session(t, o.r)
			o.open("/")
			o.js(noted)
			o.tap("#first-try-example, body > .app #try-example")
			o.page("choose")
			o.until("an answer", `document.querySelector("#answer")?.innerText.trim()`)
			answer := fmt.Sprint(o.js(`document.querySelector("#answer").innerText.split("\n")[0]`))
			o.until("the save", `document.body.dataset.dirty === "0" && Number(document.body.dataset.saved) > 0`)

			o.tap("#home")
			o.page("home")
			o.tap("#new-session")
			o.page("club")
			o.tap("#step-shots")
			o.page("shots")
			for _, carry := range []string{"201", "212"} {
				o.keys("#entry-carry", carry)
				o.tap("#add-shot")
				o.until("the field empty again", `document.querySelector("#entry-carry").value === ""`)
			}
			o.until("both balls stored", balls+` === 2 && document.body.dataset.dirty === "0"`)
			o.open("/shots")
			o.page("shots")
			o.until("both balls after a reload", balls+` === 2`)
			o.js(noted)

			file := filepath.Join(t.TempDir(), "backup.bin")
			for from, data := range kept { // of the other browser
				if err := os.WriteFile(file, data, 0o600); err != nil {
					t.Fatal(err)
				}
				o.tap("#home")
				o.page("home")
				n := o.js(`document.querySelectorAll(".session-open").length`).(float64)
				o.keys("#restore-input", file)
				o.until("the other's sessions", fmt.Sprintf(`document.querySelector("#accept-backup, #restore-yes, #keep-backup") || document.querySelectorAll(".session-open").length > %g`, n))
				t.Logf("%s reads the backup of %s: %v", b.name, from, o.js(`document.querySelectorAll(".session-open").length`))
			}
			o.tap("#home")
			o.page("home")
			o.tap("#do-backup")
			o.until("the backup", `ferruleHanded.length > 0`)
			kept[b.name], _ = base64.StdEncoding.DecodeString(fmt.Sprint(o.js(`ferruleHanded.at(-1)`)))
			if wrong := o.js(`ferruleWrong.join("; ")`); wrong != "" {
				t.Errorf("errors: %v", wrong)
			}
			o.until("the files for a start without a server, or no service worker", `document.documentElement.dataset.offline`)
			offline := o.js(`document.documentElement.dataset.offline`)
			if offline == "1" {
				s.stop()
				o.open("/choose")
				o.page("choose")
			}
			lacks := o.js(`["showDirectoryPicker", "launchQueue", "trustedTypes", "indexedDB", "caches"].filter((n) => !(n in window)).join(" ")`)
			t.Logf("%s: passed; the example's answer %q, offline start %v, lacks: %v", version, answer, offline, lacks)
		})
	}
}
