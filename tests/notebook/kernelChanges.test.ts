import { describe, expect, it } from "vitest";
import { longhand } from "../../src/notebook/longhand.js";
import { withoutStack } from "../../src/notebook/oneLineErrors.js";
import { InputError } from "../../src/results/index.js";

describe("longhand", () => {
  it("writes out every short property of an object, at any depth", () => {
    expect(longhand("f({ a, b: 1, ...c, d })")).toBe("f({ a: a, b: 1, ...c, d: d })");
    expect(longhand("f({ x: { a }, y: [{ b }] })\n// { c }")).toBe(
      "f({ x: { a: a }, y: [{ b: b }] })\n// { c }",
    );
    expect(longhand("({ a } = b)")).toBe("({ a: a } = b)");
  });

  it("leaves alone what declares or imports a name, and what is no code", () => {
    for (const source of [
      'import { a } from "b"; const { c } = a; const [{ d }] = c; ({ e = 1 } = d);',
      "const f = ({ a }: { a: number }) => a; const g = (a) => { a };",
      '"{ a }"; /* { b } */ x = { a() {}, get b() { return 1; } };',
      "not a { program",
    ]) {
      expect(longhand(source)).toBe(source);
    }
  });
});

describe("withoutStack", () => {
  it("keeps the name and the message of an error, and leaves the rest alone", () => {
    expect(withoutStack(new TypeError("a is not a function"))).toBe(
      "TypeError: a is not a function",
    );
    expect(withoutStack(new InputError("f requires a, got b"))).toBe(
      "InputError: f requires a, got b",
    );
    const caused = new Error("no file", { cause: new Error("no folder") });
    expect(withoutStack(caused)).toBe("Error: no file (no folder)");
    expect(withoutStack("at home")).toBe("at home");
  });
});
