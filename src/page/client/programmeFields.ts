import { deciders } from "./choiceWords.js";
import { type Fields, limitFields } from "./conditionFields.js";
import { group, labelled, menu, openSigns } from "./elements.js";
import type { Json } from "./json.js";
import { type Decider, decisionColumn, setDecider } from "./programme.js";
import type { Page } from "./state.js";

/** How the programme decided whom to refer: on it hangs who was examined, where not all were. */
export function programmeFields(page: Page, protocol: Json, fields: Fields): HTMLElement[] {
  const { state } = page;
  if (protocol.verification === "complete") return [];
  const column = decisionColumn(state.columns);
  const choices = [
    ...(state.decider === "" ? [["", openSigns] as const] : []),
    ...deciders.filter(([id]) => id !== "recorded" || column !== null),
    ...(state.decider === "rule"
      ? [["rule", "by a rule of its own, in the text below"] as const]
      : []),
  ];
  const question = labelled(
    "How did the programme decide whom to refer?",
    menu(
      choices,
      state.decider,
      (value) => {
        state.decider = value as Decider;
        setDecider(protocol, state.decider);
        fields.changed();
        page.refresh();
      },
      { id: "decider" },
    ),
    column === null
      ? "Who was examined followed from it, whatever is studied here."
      : `The column "${column}" says so in these files.`,
  );
  const limit =
    state.decider === "limit" ? [limitFields(protocol.programme.referWhen, fields)] : [];
  return [group("The programme", question, ...limit)];
}
