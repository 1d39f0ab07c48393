import { expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { cautionsOf } from "../../src/study/report/cautions.js";
import { readFileSync } from "node:fs";

const of = (name: string) =>
  cautionsOf(defineProtocol(JSON.parse(readFileSync(`data/${name}/protocol.json`, "utf8")))).join(
    "\n",
  );

it("has the cautions that go for the study, and no other", () => {
  // a clinic sample, everybody examined; a programme of which the referred were examined
  expect(of("children")).toContain("A clinic sample overstates");
  expect(of("children")).not.toMatch(/lost to follow-up|Two eyes of a child/);
  expect(of("demo")).toContain("Children lost to follow-up");
  expect(of("demo")).not.toContain("A clinic sample");
  for (const text of [of("children"), of("demo")]) {
    expect(text).toContain("not a referral decision for a child");
    expect(text).toContain("Local law");
  }
});
