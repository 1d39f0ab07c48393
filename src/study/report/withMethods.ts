import { reportingChecklists } from "./checklists.js";
import { type MethodFacts, methodsText } from "./methodsText.js";
import type { ReportSection } from "./report.js";
import { shownIn } from "./shownIn.js";

/** The sections, then the methods of what they show, then appendices, then checklists of all of it. */
export function withMethods(
  main: readonly ReportSection[],
  appendices: readonly ReportSection[],
  facts: MethodFacts,
): ReportSection[] {
  const methods: ReportSection = {
    id: "methods",
    title: "Methods",
    blocks: methodsText(facts, shownIn([...main, ...appendices])).map((text) => ({
      kind: "paragraph",
      text,
    })),
  };
  const sections = [...main, methods, ...appendices];
  const { protocol, protocolHash } = facts;
  return [
    ...sections,
    {
      id: "reporting",
      title: "Appendix: reporting checklists",
      blocks: reportingChecklists(sections, protocol, protocolHash),
    },
  ];
}
