import { button, labelled, make } from "./elements.js";
import { type Json, parsedText } from "./json.js";
import { deciderOf } from "./programme.js";
import type { Page } from "./state.js";

/** All of the protocol, to be read and changed by those who know its keys. */
export function protocolAsText(page: Page, protocol: Json): HTMLElement {
  const text = make("textarea", { rows: "20", spellcheck: "false", id: "protocol-text" });
  text.value = JSON.stringify(protocol, null, 2);
  const details = make(
    "details",
    {},
    make(
      "summary",
      {},
      "The whole protocol as text: groups, windows of days, ages, rules of several limits",
    ),
    labelled("protocol.json", text),
    make(
      "p",
      {},
      button("Take the text over", () => {
        void page.doing("checking the protocol", async () => {
          const given = parsedText("protocol.json", text.value);
          await page.toolkit.ask({ task: "check", protocol: given });
          page.state.protocol = given;
          page.state.decider = deciderOf(given, page.state.columns);
          page.state.outcome = null;
          page.refresh();
          page.say("The protocol is taken over.", "done");
        });
      }),
    ),
  );
  // what was typed above is in it
  details.addEventListener("toggle", () => {
    text.value = JSON.stringify(page.state.protocol, null, 2);
  });
  return details;
}
