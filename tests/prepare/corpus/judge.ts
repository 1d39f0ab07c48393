// What `prepare` made of a layout, held against what is true of it.
import type { Preparation } from "../../../src/prepare/index.js";
import type { ColumnTruth, WrittenLayout } from "./layout.js";

export interface Verdict {
  readonly columns: number;
  /** Columns that were right without a question. */
  readonly right: number;
  readonly asked: number;
  /** Columns that were asked although their file tells. */
  readonly needless: readonly string[];
  /** Columns, links and kinds that were wrong, and nothing was asked. */
  readonly wrong: readonly string[];
}

/** Roles whose exchange changes nothing: all go the same way and none is read. */
const gone = new Set([
  "name",
  "address",
  "postal-code",
  "phone",
  "e-mail",
  "record-number",
  "url",
  "device-serial",
  "row-number",
  "free-text",
  "other-date",
]);

export function judge({ layout }: WrittenLayout, made: Preparation): Verdict {
  const wrong: string[] = [];
  const needless: string[] = [];
  let [columns, right, asked] = [0, 0, 0];
  const questioned = (file: string, column: string | null) =>
    made.questions.some((one) => one.file === file && one.column === column);
  for (const truth of layout.files) {
    const found = made.files.find(({ file }) => file === truth.file)!;
    const choices = made.choices.files.find(({ file }) => file === truth.file)!;
    const holds = truth.holds.filter((one) => one !== "children");
    if (found.holds !== null && found.holds.join() !== holds.join()) {
      wrong.push(
        `${truth.file} holds ${found.holds.join() || "children"}, not ${holds.join() || "children"}`,
      );
    }
    for (const column of found.columns) {
      const true_ = truth.columns[column.column];
      if (true_ === undefined) continue;
      columns++;
      if (questioned(truth.file, column.column)) {
        asked++;
        if (true_.mayAsk === true || true_.mustAsk === true) right++;
        else needless.push(`${truth.file}, ${column.column}`);
        continue;
      }
      const choice = choices.columns[column.column]!;
      const fault =
        true_.mustAsk === true
          ? `${column.is} without a question`
          : faultOf(true_, column.is, choice, found.holds === null);
      if (fault === null) right++;
      else wrong.push(`${truth.file}, ${column.column}: ${fault}`);
    }
  }
  // a link waits for the sheet that is asked
  const unread = made.questions.some(({ key }) => key === "sheet");
  const both = unread ? undefined : layout.children.both;
  const asksLink = made.questions.some(({ key }) => key === "ids.ignore");
  const offered = made.link.matches.some(
    ({ matched, collisions }) => matched === both && collisions === 0,
  );
  if (both !== undefined && (asksLink ? !offered : made.link.matched !== both)) {
    if (layout.files.filter(({ holds }) => !holds.includes("children")).length > 1) {
      wrong.push(
        `link: ${made.link.matched} of ${both} children match${asksLink ? ", and no offer does" : ""}`,
      );
    }
  }
  return { columns, right, asked, needless, wrong };
}

function faultOf(
  truth: ColumnTruth,
  is: string,
  choice: {
    eye?: string | null;
    order?: string | null;
    unit?: string | null;
    notation?: string | null;
    of?: string | null;
  },
  holdsAsked: boolean,
): string | null {
  const names = [truth.is, ...(truth.or ?? [])];
  const same = names.includes(is) || (gone.has(is) && names.some((one) => gone.has(one)));
  if (!same) return `${is}, not ${truth.is}`;
  if (truth.eye !== undefined && choice.eye !== truth.eye)
    return `eye ${choice.eye}, not ${truth.eye}`;
  const dated = is === "date" || is === "birth-date";
  if (dated && truth.order !== undefined && choice.order !== truth.order)
    return `order ${choice.order}, not ${truth.order}`;
  if (is === "age" && truth.unit !== undefined && choice.unit !== truth.unit)
    return `unit ${choice.unit}, not ${truth.unit}`;
  if (is === "acuity" && truth.notation !== undefined && choice.notation !== truth.notation)
    return `notation ${choice.notation}, not ${truth.notation}`;
  if (!holdsAsked && truth.of !== undefined && choice.of !== truth.of)
    return `of ${choice.of}, not ${truth.of}`;
  return null;
}
