import { describe, expect, it } from "vitest";
import { longhand } from "../../src/notebook/longhand.js";

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
