import { quantities, relations } from "./choiceWords.js";
import {
  group,
  labelled,
  make,
  markOpen,
  menu,
  openSigns,
  textInput,
  waiting,
} from "./elements.js";
import type { Json } from "./json.js";
import { perCentOf, sharesOf } from "./prevalences.js";
import type { Page } from "./state.js";

export interface Fields {
  text(label: string, of: Json, key: string, help?: string): HTMLElement;
  number(label: string, of: Json, key: string, help?: string): HTMLElement;
  choice(
    label: string,
    of: Json,
    key: string,
    choices: readonly (readonly [string, string])[],
    help?: string,
  ): HTMLElement;
  changed(): void;
}

/** A group of fields for each condition: what it is at the exam, and what refers by the reading. */
export function conditionFields(page: Page, protocol: Json, fields: Fields): HTMLElement[] {
  const conditions: Json[] = protocol.conditions;
  return conditions.map((condition, at) => {
    const name = conditions.length === 1 ? "The condition and the limit" : `Condition ${at + 1}`;
    return group(
      name,
      fields.text("The condition in words", condition, "title"),
      fields.choice("It is", condition, "role", [
        ["confirmatory", "what the study is about"],
        ["exploratory", "looked at beside it"],
      ]),
      ...side(page, condition, "target", "At the exam, a child has it by", fields),
      ...side(page, condition, "referWhen", "By the reading, a child is referred by", fields),
      prevalenceField(condition, fields),
    );
  });
}

function side(
  page: Page,
  condition: Json,
  key: "target" | "referWhen",
  label: string,
  fields: Fields,
): HTMLElement[] {
  const value: Json = condition[key];
  const isLimit = "quantity" in value;
  const own = isLimit ? "limit" : "published" in value ? value.published : "rule";
  const published = key === "target" ? page.known.published : [];
  const kinds = menu(
    [
      ["limit", "a limit on one number"],
      ...published.map(({ id, title }) => [id, title] as const),
      ...(own === "rule" ? [["rule", "a rule of its own, in the text below"] as const] : []),
    ],
    own,
    (given) => {
      if (given === "limit") condition[key] = { quantity: "M" };
      else if (given !== "rule") {
        condition[key] = { published: given, choices: {} };
        condition.definition = "published";
        // a published definition is of a child
        Object.assign(page.state.protocol, { unit: "child", eye: "worse" });
      }
      if (key === "target" && given === "limit") condition.definition = "own";
      fields.changed();
      page.refresh();
    },
    { id: `${key}-${condition.id}` },
  );
  const parts = [labelled(label, kinds)];
  if (isLimit) {
    parts.push(limitFields(value, fields));
    return parts;
  }
  const open = page.known.published.find(({ id }) => id === own)?.open ?? [];
  for (const { name, question, options } of open) {
    value.choices ??= {};
    parts.push(
      labelled(
        question,
        menu(
          [
            ...(value.choices[name] === undefined ? [["", openSigns] as const] : []),
            ...options.map(({ id, words }) => [id, words] as const),
          ],
          value.choices[name] ?? "",
          (given) => {
            value.choices[name] = given;
            fields.changed();
          },
        ),
      ),
    );
  }
  return parts;
}

/** A limit on one number; what nobody has said of it is marked. */
export function limitFields(value: Json, fields: Fields): HTMLElement {
  const toSay = value.relation === undefined ? [["", openSigns] as const] : [];
  return make(
    "div",
    { class: "row" },
    fields.choice("Number", value, "quantity", quantities),
    fields.choice("Where it is", value, "relation", [...toSay, ...relations]),
    waiting(fields.number("Limit in dioptres", value, "limit")),
  );
}

/** Shares that are stated in advance, typed as per cent. */
function prevalenceField(condition: Json, fields: Fields): HTMLElement {
  const mark = () => {
    fault.hidden = sharesOf(control.value) !== null;
    markOpen(control, !fault.hidden);
  };
  const control = textInput(perCentOf(condition.prevalences), (text) => {
    const shares = sharesOf(text);
    // the check of the protocol refuses what is no list of shares
    if (shares?.length === 0) delete condition.prevalences;
    else condition.prevalences = shares ?? text;
    mark();
    fields.changed();
  });
  const field = labelled(
    "How common the condition is where the referral would be used, per cent (several with commas)",
    control,
    "such as 2, 10; parts of a per cent with a point: 0.5. Empty for none.",
  );
  const fault = make(
    "small",
    { class: "open", role: "alert" },
    "Wanted are at most six numbers above 0 and below 100, with commas between them.",
  );
  mark();
  field.append(fault);
  return field;
}
