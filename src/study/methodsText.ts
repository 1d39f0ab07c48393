import type { StudyResult } from "./studyResult.js";

/** The methods in words, from the protocol, with their sources. */
export function methodsText(result: StudyResult): string[] {
  const { protocol, agreement, conditions } = result;
  const { eye, unit, level } = protocol;
  const percent = `${Number((level * 100).toPrecision(4))} %`;
  const eyes = {
    right: "right eyes, one eye a child",
    left: "left eyes, one eye a child",
    both: "both eyes; intervals account for two eyes of a child",
    worse:
      "the worse eye of each child who has both, taken of the reading and of the finding separately",
  };
  const limits = agreement[0].limits;
  const area = conditions.find((condition) => condition.area.kind === "estimate")?.area;
  return [
    `Index test: ${protocol.indexTest.description}. Reference standard: ${protocol.referenceStandard.description}. Unit of analysis: ${unit} (${eyes[eye]}).`,
    `Prescriptions were turned into power vectors (M, J0, J45; Thibos, Wheeler and Horner 1997). A difference is always test minus reference.`,
    `Limits of agreement: bias ± ${limits.multiplier.toFixed(2)} SD (Bland and Altman 1986, 1999), ${percent} intervals by the method "${limits.interval}"${limits.interval === "exact" ? " (noncentral t, each limit on its own; Carkeet 2015), which assumes independent, normal differences" : ""}.`,
    `Target conditions and referral limits were fixed in the protocol: ${conditions.map((item) => `${item.title} (${item.definition === "own" ? "an own definition" : item.citation}): ${item.target} at the exam, referred at ${item.referWhen}`).join("; ")}. Values are compared after rounding to 0.001 D.`,
    `Sensitivity, specificity and other proportions: ${conditions[0]?.accuracy.method} intervals${area?.kind === "estimate" ? `; area under the ROC curve: ${area.method} (DeLong, DeLong and Clarke-Pearson 1988)` : ""}. Verification: ${protocol.verification}; sampling: ${protocol.sampling}. Children without a usable reading: ${protocol.unreadable}.`,
    `Protocol hash (SHA-256 of the choices): ${result.protocolHash}. Seed ${protocol.seed}.`,
  ];
}
