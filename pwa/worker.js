// Runs the analysis program off the page's thread. The page starts it from a blob
// that imports this script: such a worker is held to the page's policy on every
// host, and so asks nobody but its own site. The page posts one message
// {module} to start it: a compiled module from an earlier worker, or null. From
// then on messages are bytes, both ways; see cmd/worker.
"use strict";
importScripts(self.location.origin + "/wasm_exec.js"); // a blob has no path to begin from

self.onmessage = async (event) => {
  self.onmessage = null; // the program sets its own
  try {
    let module = event.data.module;
    if (!module) {
      module = WebAssembly.compileStreaming
        ? await WebAssembly.compileStreaming(fetch(self.location.origin + "/worker.wasm"))
        : await WebAssembly.compile(await (await fetch(self.location.origin + "/worker.wasm")).arrayBuffer());
      self.postMessage({ module }); // kept by the page: a restart needs no fetch
    }
    const go = new Go();
    const instance = await WebAssembly.instantiate(module, go.importObject);
    await go.run(instance); // comes back only when the program has ended
    self.postMessage({ stopped: "the analysis program ended" });
  } catch (err) {
    self.postMessage({ stopped: String(err) });
  }
};
