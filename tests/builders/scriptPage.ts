import { runInNewContext } from "node:vm";
import { benchScript } from "../../src/study/publish/benchScript.js";

/** A part of the page, with what was written to it and who listens. */
export interface ScriptPart {
  value: string;
  textContent: string | null;
  hidden?: boolean;
  className?: string;
  readonly listeners: (() => void)[];
  readonly attributes: Record<string, string>;
}

/** A page of which the script knows nothing but `document`: whatever else it named would be missing. */
export function scriptPage(data: Parameters<typeof benchScript>[0], hash = "") {
  const parts = new Map<string, ScriptPart>();
  const made = (id: string) => {
    const part: ScriptPart & Record<string, unknown> = {
      value: "",
      textContent: null,
      listeners: [],
      attributes: {},
      setAttribute: (name: string, value: string) => {
        part.attributes[name] = value;
      },
      addEventListener: (_: string, listener: () => void) => void part.listeners.push(listener),
    };
    parts.set(id, part);
    return part;
  };
  const address = { hash };
  const document = {
    getElementById: (id: string) => parts.get(id) ?? made(id),
    defaultView: {
      location: address,
      history: {
        replaceState: (_: null, __: string, to: string) => {
          address.hash = to;
        },
      },
    },
  };
  runInNewContext(benchScript(data), { document });
  return {
    address,
    at: (id: string) => parts.get(id)!,
    /** Writes a value, as a reader does. */
    set: (id: string, value: string) => {
      parts.get(id)!.value = value;
      for (const listener of parts.get(id)!.listeners) listener();
    },
  };
}
