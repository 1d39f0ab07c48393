import { mergeConfig } from "vitest/config";
import { testsEnding } from "./vitest.config.js";

const firefox = "tests/page/firefox.outside.ts";

// Tests that other programs take part in; they fail where a program is not installed. Firefox has a command of its
// own: on a busy machine its test has waited without an end.
export default mergeConfig(testsEnding("outside"), {
  test: process.env.BROWSER === "firefox" ? {} : { exclude: [firefox] },
});
