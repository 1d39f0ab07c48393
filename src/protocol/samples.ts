import type { Protocol } from "./schema.js";

/** The protocol of one sample alone: on the validation sample nothing is chosen. */
export function sampleProtocol(protocol: Protocol, sample: "development" | "validation"): Protocol {
  const { samples, ...own } = protocol;
  if (samples === undefined) return protocol;
  const conditions =
    sample === "development"
      ? own.conditions
      : own.conditions.map(({ choose: _, ...condition }) => condition);
  if (!("by" in samples)) {
    const { readings, findings } = samples.validation;
    const sources = sample === "development" ? own.sources : { readings, findings };
    return { ...own, conditions, sources };
  }
  const eligible = { ...own.eligibility.own, [samples.by]: samples[sample] };
  return { ...own, conditions, eligibility: { ...own.eligibility, own: eligible } };
}

/** Every file that a protocol names, each once: sources and mappings of both samples. */
export function protocolFiles({ sources, samples }: Protocol): string[] {
  const all = [
    sources,
    ...(samples !== undefined && !("by" in samples) ? [samples.validation] : []),
  ];
  const names = all.flatMap(({ readings, findings }) => [
    readings.file,
    findings.file,
    readings.columns,
    findings.columns,
  ]);
  return [...new Set(names.filter((name) => typeof name === "string"))];
}
