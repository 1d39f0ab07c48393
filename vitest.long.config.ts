import { testsEnding } from "./vitest.config.js";

// Tests that take longer than a change can wait for.
export default testsEnding("long");
