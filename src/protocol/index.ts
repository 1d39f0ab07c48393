export { defineProtocol, protocolHash, protocolJsonSchema } from "./defineProtocol.js";
export { type Protocol, type ProtocolCondition, protocolSchema } from "./schema.js";
