// The third part: 22 layouts of another invented cohort, written without knowledge of the detector.
import type { FileTruth, WrittenLayout } from "../layout.js";
import { type Child, type Column, type Side, thirdCohort } from "./cohort.js";
import { layouts } from "./layouts.js";
import { moreLayouts } from "./moreLayouts.js";

export interface FileParts {
  readonly file: string;
  readonly columns: readonly Column[];
  readonly per?: "child" | "eye" | "repeat";
  readonly delimiter?: string;
  readonly holds?: FileTruth["holds"];
  readonly who?: (child: Child) => boolean;
  readonly more?: Partial<FileTruth>;
}
export interface ThirdLayout {
  readonly note: string;
  readonly ignore?: readonly string[];
  readonly files: readonly FileParts[];
}

const sides: Record<NonNullable<FileParts["per"]>, readonly Side[]> = {
  child: ["right"],
  eye: ["right", "left"],
  repeat: ["right", "right", "right", "left", "left", "left"],
};

export function thirdPart(): WrittenLayout[] {
  const cohort = thirdCohort();
  const all: Record<string, ThirdLayout> = { ...layouts, ...moreLayouts };
  return Object.entries(all).map(([name, { note, ignore = [], files }]) => {
    const childrenOf = ({ who, holds }: FileParts) =>
      cohort.filter(who ?? (holds?.includes("children") ? () => true : ({ screened }) => screened));
    const sets = files.map((file) => new Set(childrenOf(file).map(({ id }) => id)));
    return {
      name,
      layout: {
        ...{ kind: "layout", note: `Invented. ${note}`, ignore },
        files: files.map(({ file, holds = ["readings"], columns, more }) => ({
          ...{ file, holds, cylinder: "minus" },
          columns: Object.fromEntries(columns.map(([column, truth]) => [column, truth])),
          ...more,
        })),
        children: {
          ...Object.fromEntries(files.map(({ file }, at) => [file, sets[at]!.size])),
          ...(files.length > 1 && {
            both: [...sets[0]!].filter((id) => sets.every((set) => set.has(id))).length,
          }),
        },
      },
      texts: Object.fromEntries(
        files.map((parts) => [parts.file, written(parts, childrenOf(parts))]),
      ),
    };
  });
}

function written({ columns, per = "child", delimiter = "," }: FileParts, children: Child[]) {
  const quote = (cell: string) =>
    cell.includes(delimiter) || cell.includes('"') ? `"${cell.replaceAll('"', '""')}"` : cell;
  const rows = children
    .flatMap((child) => sides[per].map((eye) => [child, eye] as const))
    .map(([child, eye], row) => columns.map(([, , cell]) => cell(child, eye, row)));
  return `${[columns.map(([name]) => name), ...rows].map((row) => row.map(quote).join(delimiter)).join("\n")}\n`;
}
