/** Whether `npm run test:long` runs: then the tests in `fullLength` (vitest.long.config.ts) do all of their work. */
const isLong = process.env.TEST_LENGTH === "long";

/** How much a test does: a part in `npm test`, the whole in `npm run test:long`. */
export const inFull = <Amount>(part: Amount, whole: Amount): Amount => (isLong ? whole : part);
