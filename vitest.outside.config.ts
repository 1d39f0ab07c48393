import { testsEnding } from "./vitest.config.js";

// Tests that other programs take part in; they fail where a program is not installed.
export default testsEnding("outside");
