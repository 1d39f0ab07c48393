type Child = Node | string | null;

/** An element with attributes and listeners ("onclick"); texts are always texts, never markup. */
export function make<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: { readonly [name: string]: string | boolean | ((event: Event) => void) } = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[Tag] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false) element.setAttribute(name, value);
  }
  element.append(...children.filter((child) => child !== null));
  return element;
}

export const paragraph = (text: string, kind = "") =>
  make("p", kind === "" ? {} : { class: kind }, text);

export const button = (text: string, onclick: () => void, kind = "") =>
  make("button", { type: "button", onclick, ...(kind === "" ? {} : { class: kind }) }, text);

let ids = 0;

/** A control with its label above, and words that explain it below. */
export function labelled(
  label: string,
  control: HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement,
  help = "",
): HTMLElement {
  ids++;
  if (control.id === "") control.id = `control-${ids}`;
  const parts: Child[] = [make("label", { for: control.id }, label), control];
  if (help !== "") {
    const id = `${control.id}-help`;
    control.setAttribute("aria-describedby", id);
    parts.push(make("small", { id }, help));
  }
  return make("div", { class: "field" }, ...parts);
}

/** What stands in a menu that waits for an answer. */
export const openSigns = "please say";

/** Says at a text field that it waits for an answer, as long as it is empty. */
export function waiting(field: HTMLElement, words = "Still to be written."): HTMLElement {
  const control = field.querySelector("input");
  if (control === null) return field;
  const note = make("small", { class: "open", id: `${control.id}-open` }, words);
  const described = [note.id, control.getAttribute("aria-describedby")].filter((id) => id !== null);
  control.setAttribute("aria-describedby", described.join(" "));
  const mark = () => {
    note.hidden = control.value.trim() !== "";
    markOpen(control, !note.hidden);
  };
  control.addEventListener("input", mark);
  mark();
  field.append(note);
  return field;
}

export function markOpen(control: HTMLElement, isOpen: boolean): void {
  if (isOpen) control.setAttribute("aria-invalid", "true");
  else control.removeAttribute("aria-invalid");
}

/** A menu of values and words; the first may be "" for nothing chosen. */
export function menu(
  choices: readonly (readonly [value: string, words: string])[],
  value: string,
  onchange: (value: string) => void,
  attributes: { readonly [name: string]: string } = {},
): HTMLSelectElement {
  const control = make(
    "select",
    attributes,
    ...choices.map(([choice, words]) => make("option", { value: choice }, words)),
  );
  control.value = value;
  const mark = () => markOpen(control, control.selectedOptions[0]?.textContent === openSigns);
  control.addEventListener("change", () => {
    mark();
    onchange(control.value);
  });
  mark();
  return control;
}

export function textInput(
  value: string,
  onchange: (value: string) => void,
  attributes: { readonly [name: string]: string } = {},
): HTMLInputElement {
  const control = make("input", { type: "text", ...attributes });
  control.value = value;
  // at each key: what is taken when the field is left could move the button that is being pressed
  control.addEventListener("input", () => onchange(control.value));
  return control;
}

/** Controls that belong together. */
export function group(legend: string, ...controls: readonly HTMLElement[]): HTMLElement {
  return make("fieldset", {}, make("legend", {}, legend), ...controls);
}

export function list(items: readonly string[], kind = ""): HTMLElement {
  return make(
    "ul",
    kind === "" ? {} : { class: kind },
    ...items.map((item) => make("li", {}, item)),
  );
}

export function table(
  caption: string,
  header: readonly string[],
  rows: readonly (readonly (Node | string)[])[],
): HTMLElement {
  const head = make("tr", {}, ...header.map((name) => make("th", { scope: "col" }, name)));
  const body = rows.map(([first, ...cells]) =>
    make(
      "tr",
      {},
      make("th", { scope: "row" }, first),
      ...cells.map((cell) => make("td", {}, cell)),
    ),
  );
  const whole = make(
    "table",
    {},
    make("caption", {}, caption),
    make("thead", {}, head),
    make("tbody", {}, ...body),
  );
  return make(
    "div",
    { class: "scroll", tabindex: "0", role: "region", "aria-label": caption },
    whole,
  );
}
