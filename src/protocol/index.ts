// The pre-specified choices of a study.

export { type Criterion, criteriaOf } from "./criteria.js";
export { defineProtocol, protocolHash, protocolJsonSchema } from "./defineProtocol.js";
export { ruleOf } from "./ruleOf.js";
export { protocolFiles, sampleProtocol } from "./samples.js";
export { type Protocol, type ProtocolCondition, protocolSchema } from "./schema.js";
export { isLimit, type ProtocolLimit, type ProtocolSide } from "./sideSchema.js";
export { type JournalStyle, journalStyleOf } from "./journalStyle.js";
