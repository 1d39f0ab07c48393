import { testsEnding } from "./vitest.config.js";

// Tests that other programs take part in; they fail where a program is not installed. Firefox has a command of its own.
export default testsEnding(process.env.ENDING ?? "outside");
