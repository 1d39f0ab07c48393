import { describeProgramme, type ProgrammeDescription } from "../../src/programme/index.js";

/** An invented year of a programme: schools of several sizes, one of which refers twice as often. */
export function inventedYear(referredIn20: number): ProgrammeDescription {
  const rows = Array.from({ length: 12 }, (_, school) =>
    Array.from({ length: 80 + 30 * school }, (_, child) => {
      const chance = school === 7 ? 2 * referredIn20 : referredIn20;
      const refer = (child * 7 + school) % 20 < chance;
      const examined = refer ? child % 5 < 3 : child % 9 === 0;
      const condition = examined ? (refer ? child % 2 === 0 : child % 81 === 0) : null;
      return { school, child, refer, examined, condition };
    }),
  ).flat();
  return describeProgramme(
    {
      decision: rows.map(({ refer }) => (refer ? "refer" : "pass")),
      condition: rows.map(({ condition }) => condition),
      reason: rows.map(({ refer, examined }) =>
        examined ? (refer ? "referred" : "sampled") : "not-examined",
      ),
      by: {
        site: rows.map(({ school }) => `School ${school + 1}`),
        age: rows.map(({ child }) => (child % 3 === 0 ? "below 5 years" : "5 years and older")),
      },
    },
    { replicates: 500 },
  );
}
