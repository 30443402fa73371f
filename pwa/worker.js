// Runs the analysis program off the page's thread. The page starts it from a blob
// that imports this script: such a worker is held to the page's policy on every
// host, and so asks nobody but its own site. The page posts one message
// {module, version} to start it: a compiled module from an earlier worker, or null,
// and its own version, beside which no other one works. From then on messages are
// bytes, both ways; see cmd/worker.
"use strict";
importScripts(self.location.origin + "/wasm_exec.js"); // a blob has no path to begin from

self.onmessage = async (event) => {
  self.onmessage = null; // the program sets its own
  if (event.data.version !== "{{.Version}}") { self.postMessage({ another: "{{.Version}}" }); return; }
  const starting = setInterval(() => self.postMessage({ life: true }), 1000); // fetched and compiled on a slow line too
  try {
    let module = event.data.module;
    if (!module) {
      const bytes = fetch(self.location.origin + "/worker.wasm", { cache: "no-cache" }); // of this version, not one that is stored
      module = WebAssembly.compileStreaming
        ? await WebAssembly.compileStreaming(bytes)
        : await WebAssembly.compile(await (await bytes).arrayBuffer());
      self.postMessage({ module }); // kept by the page: a restart needs no fetch
    }
    const go = new Go();
    // The program computes in one piece, so no timer of this worker runs meanwhile.
    // It asks for the time whenever memory is collected: that is its sign of life.
    const gojs = go.importObject.gojs, time = gojs["runtime.nanotime1"];
    let last = 0;
    gojs["runtime.nanotime1"] = (sp) => {
      const now = performance.now();
      if (now > last + 1000) { last = now; self.postMessage({ life: true }); }
      time(sp);
    };
    const instance = await WebAssembly.instantiate(module, go.importObject);
    clearInterval(starting);
    await go.run(instance); // comes back only when the program has ended
    self.postMessage({ stopped: "the analysis program ended" });
  } catch (err) {
    clearInterval(starting);
    self.postMessage({ stopped: String(err) });
  }
};
