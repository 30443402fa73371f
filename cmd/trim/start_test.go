package main

import (
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// harness has wasm_exec.js of the toolchain run a program; extra is what node does with it.
const harness = `
const fs = require("fs");
globalThis.fs = fs; globalThis.path = require("path"); globalThis.process = process;
require(process.argv[3] + "/lib/wasm/wasm_exec.js");
(async () => {
  const program = new WebAssembly.Module(fs.readFileSync(process.argv[2]));
  EXTRA
  process.exit(0); // what Go still waits for is nobody's
})();`

// node runs such a script on a program and returns what it printed.
func node(t *testing.T, program []byte, extra string) string {
	t.Helper()
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file, js := filepath.Join(dir, "probe.wasm"), filepath.Join(dir, "run.js")
	if err := os.WriteFile(file, program, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(js, []byte(strings.Replace(harness, "EXTRA", extra, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("node", js, file, strings.TrimSpace(string(root))).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return string(text)
}

// What a marked program notes is what it called; with it in the list, each function of
// the list, called without a stack, ends at once, and the program does what it did.
func TestAStartIsMarked(t *testing.T) {
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("node is not installed")
	}
	before := probe(t)
	noting, err := mark(before)
	if err != nil {
		t.Fatal(err)
	}
	said := node(t, noting, `
  const go = new Go(), instance = await WebAssembly.instantiate(program, go.importObject);
  await go.run(instance);
  console.log("bits " + Buffer.from(instance.exports.mem.buffer, 0, 4096).toString("hex"));`)
	want, bits, _ := strings.Cut(said, "bits ")
	raw, err := hex.DecodeString(strings.TrimSpace(bits))
	if err != nil {
		t.Fatal(err)
	}
	list, err := called(before, raw)
	if err != nil {
		t.Fatal(err)
	}
	for name, is := range map[string]bool{"main.main": true, "main.deep": true, "main.fall": true, "runtime.gcStart": true, "runtime.throw": false} {
		if strings.Contains("\n"+list, "\n"+name+"\n") != is {
			t.Errorf("the list has %s: %v, want %v", name, !is, is)
		}
	}
	after, err := warm(before, list)
	if err != nil {
		t.Fatal(err)
	}
	if after, _, err = trim(after, true); err != nil {
		t.Fatal(err)
	}
	got := node(t, after, `
  const imports = {}, bits = new Uint8Array(WebAssembly.Module.customSections(program, "start")[0]);
  for (const { module, name } of WebAssembly.Module.imports(program)) { (imports[module] ??= {})[name] = () => { throw name; }; }
  const { table, sp } = (await WebAssembly.instantiate(program, imports)).exports;
  let ended = 0, all = 0;
  for (let i = 0; i < 8 * bits.length; i++) {
    if (!(bits[i >> 3] >> (i & 7) & 1)) { continue; }
    all++;
    sp.value = -65536;
    try { table.get(4096 + i)(0); } catch (err) { if (err instanceof WebAssembly.RuntimeError) { ended++; } }
  }
  if (all < 300 || ended < all * 9 / 10) { console.log(ended + " of " + all + " functions ended for want of a stack"); }
  const go = new Go();
  await go.run(await WebAssembly.instantiate(program, go.importObject));`)
	if got != want || !strings.HasPrefix(got, "5001 ") {
		t.Errorf("it printed %q, want %q", got, want)
	}
}
