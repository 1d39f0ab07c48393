import { embedded } from "./embedded.js";
import { openNotebook } from "./openNotebook.js";
import { find, say } from "./places.js";

const kept = (globalThis as unknown as { readonly blockedHere: string[] }).blockedHere;
const showBlocked = () => {
  const note = find("blocked");
  note.hidden = kept.length === 0;
  note.textContent = `This browser stopped something in the page (${kept.join("; ")}). Nothing left it.`;
};
document.addEventListener("blocked", showBlocked);
showBlocked();

embedded()
  .then((own) =>
    openNotebook(own, (what) => {
      kept.push(what);
      showBlocked();
    }),
  )
  .catch((error: Error) => say(error.message, "wrong"));
