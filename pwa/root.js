// Says so when the site stands in a folder of an address: its files name each
// other from the root, so nothing else of it is found there. This script alone
// is asked for beside its page, and only on pages right below the root.
"use strict";
(() => {
  const here = new URL(document.currentScript.src);
  if (here.pathname === "/root.js") { return; }
  const p = document.createElement("p");
  p.id = "not-at-root";
  p.setAttribute("role", "alert");
  p.textContent = document.documentElement.dataset.root.replace("{0}", here.origin + here.pathname.replace(/root\.js$/, ""));
  document.querySelector("main").prepend(p);
})();
