import type { Preparation, PreparedColumn, PreparedFile } from "../../prepare/index.js";
import { changeColumn, choiceOf, keyOf, setOfColumn, setOfFile } from "./answers.js";
import { labelled, make, menu, openSigns, table } from "./elements.js";
import { fates } from "./fates.js";
import type { Page } from "./state.js";

/** The menus of a whole file: what it holds, its sheet; and how ids are compared. */
export function fileMenus(
  page: Page,
  { files }: Preparation,
  { file, holds }: PreparedFile,
  onChange: () => void,
): HTMLElement[] {
  const { answers, asked } = page.state;
  const menus: HTMLElement[] = [];
  const holding = holds === null ? "open" : JSON.stringify(holds);
  menus.push(
    labelled(
      `What ${file} holds`,
      menu(
        [
          ...(holds === null ? [["open", openSigns] as const] : []),
          ['["readings"]', "readings of a screening"],
          ['["findings"]', "findings of an exam"],
          ['["readings","findings"]', "both"],
          ["[]", "neither: it says who the children are"],
        ],
        holding,
        (value) => {
          setOfFile(answers, file, "holds", value === "open" ? null : JSON.parse(value));
          onChange();
        },
        { id: `holds-${file}` },
      ),
    ),
  );
  const sheets = asked.get(keyOf(file, null, "sheet"));
  if (sheets !== undefined) {
    const { sheet } = answers.files.find((one: { file: string }) => one.file === file);
    menus.push(
      labelled(
        `Sheet of ${file}`,
        openMenu(sheets, sheet ?? null, (value) => {
          setOfFile(answers, file, "sheet", value);
          // another sheet has other columns
          setOfFile(answers, file, "columns", {});
          onChange();
        }),
      ),
    );
  }
  const ways = asked.get(keyOf(null, null, "ids.ignore"));
  if (ways !== undefined && files[0].file === file) {
    const ignore = answers.ids?.ignore ?? null;
    menus.push(
      labelled(
        "Ids of the two files are the same child if they are the same",
        openMenu(
          ways,
          ignore === null ? null : JSON.stringify(ignore),
          (value) => {
            answers.ids = { ...answers.ids, ignore: value === null ? null : JSON.parse(value) };
            onChange();
          },
          (way) => {
            const parts: string[] = JSON.parse(way);
            const words = parts.map((part) => page.known.ignorable[part] ?? part);
            return words.length === 0 ? "as written" : words.join(" and ");
          },
        ),
        page.state.preparation?.questions.find(({ key }) => key === "ids.ignore")?.ask ?? "",
      ),
    );
  }
  return menus;
}

export function columnTable(
  page: Page,
  found: Preparation,
  { file, columns }: PreparedFile,
  onChange: () => void,
): HTMLElement {
  return table(
    `Columns of ${file}`,
    ["Column", "Such as", "Taken for", "Becomes", "Why"],
    columns.map((column) => [
      column.column,
      column.examples.join(", "),
      roleMenu(page, file, column, onChange),
      fateMenus(page, found, file, column, onChange),
      why(
        column,
        page.state.changed.has(keyOf(file, column.column)),
        page.state.reasons.get(keyOf(file, column.column)),
      ),
    ]),
  );
}

function roleMenu(page: Page, file: string, { column, is }: PreparedColumn, onChange: () => void) {
  const { answers, asked } = page.state;
  const { roles } = page.known;
  const allowed = asked.get(keyOf(file, column, "is"));
  const isOpen = choiceOf(answers, file, column).is === null;
  return menu(
    [
      ...(isOpen ? [["open", openSigns] as const] : []),
      // the likely ones first
      ...(allowed ?? []).map((role) => [role, words(role)] as const),
      ...roles
        .filter((role) => !(allowed ?? []).includes(role))
        .map((role) => [role, words(role)] as const),
    ],
    isOpen ? "open" : is,
    (value) => {
      if (value === "open") return;
      changeColumn(answers, file, column, value);
      say(page, file, column);
      onChange();
    },
    { "aria-label": `${column} is taken for`, id: `is-${file}-${column}` },
  );
}

function fateMenus(
  page: Page,
  found: Preparation,
  file: string,
  { column, fate }: PreparedColumn,
  onChange: () => void,
): HTMLElement {
  const { answers, asked } = page.state;
  const choice = choiceOf(answers, file, column);
  const set = (key: string, value: string | null) => {
    say(page, file, column);
    setOfColumn(answers, file, column, key, key === "century" ? Number(value) : value);
    // a drop of one's own agrees to its loss
    if (key === "fate" && value === "drop") page.state.agreed.set(keyOf(file, column), "all");
    onChange();
  };
  const menus: HTMLElement[] = [
    menu(
      [...(fate === null ? [["open", openSigns] as const] : []), ...Object.entries(fates)],
      fate ?? "open",
      (value) => set("fate", value),
      { "aria-label": `${column} becomes`, id: `fate-${file}-${column}` },
    ),
  ];
  for (const [key, allowed] of asked) {
    const [ofFile, ofColumn, name] = JSON.parse(key);
    if (ofFile !== file || ofColumn !== column || name === "is" || name === "fate") continue;
    const value = choice[name];
    if (value === undefined) continue;
    const ask = found.questions.find(
      (one) => one.file === file && one.column === column && one.key === name,
    )?.ask;
    menus.push(
      labelled(
        ask ?? answered[name] ?? name,
        openMenu(
          allowed,
          value === null ? null : String(value),
          (given) => set(name, given),
          words,
        ),
      ),
    );
  }
  return make("div", {}, ...menus);
}

function openMenu(
  allowed: readonly string[],
  value: string | null,
  onChange: (value: string | null) => void,
  inWords = (one: string) => one,
): HTMLSelectElement {
  return menu(
    [["", openSigns] as const, ...allowed.map((one) => [one, inWords(one)] as const)],
    value ?? "",
    (given) => onChange(given === "" ? null : given),
  );
}

/** Something was said of a column: what was agreed to lose of it is asked again. */
function say({ state }: Page, file: string, column: string): void {
  const key = keyOf(file, column);
  state.changed.add(key);
  state.agreed.delete(key);
}

/** The first reason, as long as nobody said otherwise. */
function why(
  { because: now, loses, filled, lost }: PreparedColumn,
  isChanged: boolean,
  first = now,
): string {
  const because = isChanged || now !== "said" ? now : first;
  return loses === 0 ? because : `${because}; loses ${loses} of ${filled} cells: ${lost}`;
}

const words = (value: string) => value.replaceAll("-", " ");

/** What an answer that was given is about, where its question is no longer asked. */
const answered: { readonly [key: string]: string } = {
  order: "the order of day, month and year",
  century: "the century of years of two digits",
  eye: "the eye",
  of: "a reading or a finding",
  unit: "the unit of ages",
  notation: "how acuity is written",
};
