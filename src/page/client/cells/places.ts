/** A part of the page by its id. */
export function find(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`the page lacks its part ${id}`);
  return found;
}

/** Says what is being done, or what went wrong. */
export function say(text: string, kind = "done"): void {
  const said = find("said");
  said.textContent = text;
  said.className = kind;
}
