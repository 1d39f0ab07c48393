import type { ParticipantFlow } from "../cohort/index.js";
import { type Audience, flowSteps, type LeftOut } from "../privacy/index.js";
import { type FigureSpec, InputError, shownTo } from "../results/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { colours, columnMm, page, pointsPerMm, sizes } from "./theme.js";
import { counted, grouped, within, wrapped } from "./words.js";

const column = { left: 2, width: 110, right: 122, rightWidth: 114, gap: 8, line: 9, pad: 3 };

/**
 * The participant flow as boxes after STARD 2015 (Bossuyt and others): what goes on downwards, what
 * is left out to the right, children and eyes in each.
 *
 * For the public (default) only boxes are drawn that hold at least 11 children and eyes, or none, and
 * differ by as many (`shownTogether`); the others hand their reasons to the box above, and reasons with
 * fewer than 11 children or eyes are pooled within a box. Every drawn box is exact. "journal" draws every step that leaves somebody out.
 *
 * With `results` the last boxes split whom one condition counts by what the reading said and what the
 * exam found.
 *
 * @param flow the `flow` of a cohort
 * @throws InputError when results are asked for the public
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: 4, cylinder: 0, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * flowFigure(cohort.flow).name // => "participant-flow"
 */
export function flowFigure(
  flow: ParticipantFlow,
  options: { readonly audience?: Audience; readonly results?: FlowResults | null } = {},
): FigureSpec {
  const { results = null } = options;
  const audience = shownTo(options.audience, flow);
  if (results !== null && audience !== "journal") {
    throw new InputError(
      'flowFigure requires the audience "journal" with results, whose counts are exact, got "public"',
    );
  }
  const steps = flowSteps(flow, audience);
  const last = steps.at(-1)!;
  const lines = steps.map(({ label, children, eyes, excluded }) => ({
    label,
    count: childrenAndEyes(children, eyes),
    said: counted(children, "child", "children"),
    excluded: excluded.map((part) => ({
      label: reasonWords(part),
      count: childrenAndEyes(part.children, part.eyes),
      said: grouped(part.children),
    })),
  }));
  return flowOfCounts({
    steps: lines,
    results,
    n: grouped(steps[0]!.children),
    caption: `Participant flow, children and eyes; a child stands where the eye that came furthest stands. ${counted(steps[0]!.children, "child", "children")} in all, ${counted(last.children, "child", "children")} at the end (${within(last.label)}).${audience === "public" ? " Small groups are pooled." : ""}`,
  });
}

/** A step of a flow, its counts as they are printed. */
export interface FlowLine {
  readonly label: string;
  readonly count: string;
  /** The count as the alternative text has it. */
  readonly said: string;
  readonly excluded: readonly Omit<FlowLine, "excluded">[];
}

/** A flow of counts in words: exact ones, or coarse ones for the public. */
export function flowOfCounts({
  steps,
  results,
  n,
  caption,
}: {
  readonly steps: readonly FlowLine[];
  readonly results: FlowResults | null;
  /** Everybody, as printed; null where that is not shown. */
  readonly n: string | null;
  readonly caption: string;
}): FigureSpec {
  const boxes = placed(steps, results);
  const bottom = Math.max(...boxes.map(({ y2 }) => y2));
  const said = steps
    .map(({ label, said: count, excluded }) => {
      const out = excluded.map((box) => `${within(box.label)} ${box.said}`).join(", ");
      return `${label} ${count}${out === "" ? "" : ` (left out: ${out})`}`;
    })
    .join("; ");
  const found = (results?.groups ?? [])
    .map((group) => `${within(group.label)} ${group.total} (${partWords(group).join(", ")})`)
    .join("; ");
  const split =
    results === null
      ? ""
      : ` ${results.title}, by reading and exam, whether or not the reading gave a number.`;
  return figureSpec({
    name: "participant-flow",
    title: "Participant flow",
    caption: `${caption}${split}`,
    alt: `Participant flow${n === null ? "" : `, n = ${n}`}${said === "" ? "" : `: ${said}`}.${results === null ? "" : ` ${results.title}: ${found}.`}`,
    widthMm: columnMm.single,
    heightMm: Math.ceil((bottom + 10) / pointsPerMm),
    spec: { layer: layers(boxes, bottom) },
  });
}

/** What was found of those whom one condition counts. */
export interface FlowResults {
  /** What was looked for, with the unit of the counts: "Myopia of 3.00 D or more, eyes". */
  readonly title: string;
  readonly groups: readonly {
    readonly label: string;
    readonly total: string;
    readonly parts: readonly { readonly label: string; readonly count: string }[];
  }[];
}

function partWords({ parts }: FlowResults["groups"][number]): string[] {
  return parts.map(({ label, count }) => `${label} ${count}`);
}

/** Reasons that are counted together: "Unreadable; not attempted". */
function reasonWords({ labels }: LeftOut): string {
  return labels.map((label, at) => (at === 0 ? label : within(label))).join("; ");
}

interface Box {
  readonly side: "left" | "right";
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
  readonly lines: readonly string[];
}

function placed(steps: readonly FlowLine[], results: FlowResults | null): readonly Box[] {
  const boxes: Box[] = [];
  let y = 2;
  for (const { label, count, excluded } of steps) {
    const main = box("left", y, [...wrapped(label, 24), count]);
    boxes.push(main);
    y = main.y2 + column.gap;
    if (excluded.length === 0) continue;
    // who is left out stands beside the box that they leave
    const out = excluded.flatMap((part) => [...wrapped(part.label, 28), part.count]);
    const side = box("right", main.y, out);
    boxes.push(side);
    y = Math.max(y, side.y2 + column.gap);
  }
  if (results === null) return boxes;
  const heading = box("left", y, wrapped(results.title, 24));
  boxes.push(heading);
  y = heading.y;
  for (const group of results.groups) {
    const lines = [`${group.label} ${group.total}`, ...partWords(group)];
    const side = box(
      "right",
      y,
      lines.flatMap((line) => wrapped(line, 28)),
    );
    boxes.push(side);
    y = side.y2 + column.gap;
  }
  return boxes;
}

function box(side: "left" | "right", y: number, lines: readonly string[]): Box {
  const x = side === "left" ? column.left : column.right;
  const width = side === "left" ? column.width : column.rightWidth;
  const y2 = y + lines.length * column.line + 2 * column.pad;
  return { side, x, x2: x + width, y, y2, lines };
}

function childrenAndEyes(children: number, eyes: number): string {
  return `${counted(children, "child", "children")}, ${counted(eyes, "eye")}`;
}

function layers(boxes: readonly Box[], bottom: number): readonly Part[] {
  const main = boxes.filter(({ side }) => side === "left");
  const spine = column.left + column.width / 2;
  const down = main
    .slice(1)
    .map((next, at) => ({ x: spine, y: main[at]!.y2, x2: spine, y2: next.y }));
  const [end, tail] = [main.at(-1)!, boxes.at(-1)!];
  const branch =
    tail.y > end.y2 ? [{ x: spine, y: end.y2, x2: spine, y2: (tail.y + tail.y2) / 2 }] : [];
  const across = boxes
    .filter(({ side }) => side === "right")
    .map(({ x, y, y2 }) => {
      const beside = main.find((one) => one.y <= (y + y2) / 2 && one.y2 > y);
      const at = Math.min((y + y2) / 2, beside === undefined ? y2 : (beside.y + beside.y2) / 2);
      const isBeside = beside !== undefined && at >= y;
      const level = isBeside ? at : (y + y2) / 2;
      return { x: isBeside ? beside.x2 : spine, y: level, x2: x, y2: level };
    });
  const heads = [
    ...down.map(({ x2, y2 }) => ({ x: x2, y: y2 - 2, turn: 180 })),
    ...across.map(({ x2, y2 }) => ({ x: x2 - 2, y: y2, turn: 90 })),
  ];
  const scale = { type: "quantitative", axis: null };
  const x = { ...scale, scale: { domain: [0, 238], nice: false, zero: false } };
  const y = { ...scale, scale: { domain: [bottom + 2, 0], nice: false, zero: false } };
  const ends = {
    x: { field: "x", ...x },
    y: { field: "y", ...y },
    x2: { field: "x2" },
    y2: { field: "y2" },
  };
  const texts = boxes.flatMap((one) =>
    one.lines.map((text, at) => ({
      text,
      x: one.x + column.pad,
      y: one.y + column.pad + (at + 0.5) * column.line,
      weight: /^(?:about )?[\d,]+(?: to [\d,]+)? child|^fewer than \d+ children/.test(text)
        ? "semibold"
        : "regular",
    })),
  );
  const text = (weight: string, fontWeight: number): Part => ({
    data: { values: texts.filter((line) => line.weight === weight) },
    mark: { type: "text", align: "left", baseline: "middle", fontWeight },
    encoding: {
      x: { field: "x", ...x },
      y: { field: "y", ...y },
      text: { field: "text" },
    },
  });
  return [
    {
      data: { values: [...down, ...branch, ...across] },
      mark: { type: "rule", strokeWidth: sizes.thin, color: colours.ink },
      encoding: ends,
    },
    {
      data: { values: heads },
      mark: { type: "point", shape: "triangle", size: 14, filled: true, color: colours.ink },
      encoding: {
        x: { field: "x", ...x },
        y: { field: "y", ...y },
        angle: { field: "turn", type: "quantitative", scale: null },
      },
    },
    {
      data: { values: boxes.map(({ x: left, x2, y: top, y2 }) => ({ x: left, x2, y: top, y2 })) },
      mark: { type: "rect", fill: page, stroke: colours.ink, strokeWidth: sizes.thin },
      encoding: ends,
    },
    text("regular", 400),
    text("semibold", 600),
  ];
}
