// Stands before everything else in the page: what the browser stops is kept, and said.
globalThis.blockedHere = [];
addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI }) => {
  blockedHere.push(`${violatedDirective} ${blockedURI}`);
  document.dispatchEvent(new Event("blocked"));
});
