import { mergeConfig } from "vitest/config";
import { testsEnding } from "./vitest.config.js";

// By hand so far (OUTSIDE=all): Firefox, whose test has waited without an end on a busy machine; and two that have to be
// brought up to date with numbered tables and with losses that need no word of agreement any more. They fail today.
const byHand = ["firefox", "journey"].map((name) => `tests/page/${name}.outside.ts`);

// Tests that other programs take part in; they fail where a program is not installed.
export default mergeConfig(testsEnding("outside"), {
  test:
    process.env.OUTSIDE === "all"
      ? {}
      : { exclude: [...byHand, "tests/study/documents.outside.ts"] },
});
