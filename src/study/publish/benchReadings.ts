import { printSigns } from "../../rows/index.js";
import type { BenchData } from "./benchPage.js";

const steps = [0.25, 0.125, 0.05, 0.025, 0.01, 0.005, 0.001] as const;

/** The scale of a slider in dioptres: the coarsest step on which every limit lies. */
export function sliderScale(limits: readonly number[]): {
  readonly least: number;
  readonly most: number;
  readonly step: number;
} {
  const isOn = (step: number) =>
    limits.every((limit) => Math.abs(limit / step - Math.round(limit / step)) < 1e-6);
  const [least, most] = [Math.min(...limits), Math.max(...limits)];
  return { least, most: most > least ? most : least + 1, step: steps.find(isOn) ?? 0.001 };
}

const height = 124;
const middle = 55;

/** The readings of those with the condition upwards and of the others downwards, with a line at each limit. */
export function readingsSvg({ stops, axis }: BenchData, name: (part: string) => string): string {
  const { from, to, width } = axis;
  const before = [{ table: { truePositive: 0, falsePositive: 0 } }, ...stops];
  const counts = stops.map(({ limit, table }, at) => ({
    limit,
    cases: Math.max(0, table.truePositive - before[at]!.table.truePositive),
    others: Math.max(0, table.falsePositive - before[at]!.table.falsePositive),
  }));
  const most = Math.max(1, ...counts.flatMap(({ cases, others }) => [cases, others]));
  const wide = Math.max(1.5, (0.8 * 0.25 * width) / (to - from));
  const bar = (limit: number, count: number, side: 1 | -1) => {
    if (count === 0) return "";
    const x = ((limit - from) / (to - from)) * width - wide / 2;
    const high = (45 * count) / most;
    const look =
      side === 1 ? 'fill="currentColor"' : 'fill="none" stroke="currentColor" stroke-width="0.7"';
    return `<rect x="${x.toFixed(1)}" y="${(side === 1 ? middle - high : middle).toFixed(1)}" width="${wide.toFixed(1)}" height="${high.toFixed(1)}" ${look}/>`;
  };
  const line = (side: "" | "other-") =>
    `<line id="${name(`${side}line`)}" y1="0" y2="110" stroke="currentColor" stroke-width="${side === "" ? 2 : 1.2}"${side === "" ? "" : ' stroke-dasharray="4 3"'}/>`;
  const bars = counts.map(
    ({ limit, cases, others }) => bar(limit, cases, 1) + bar(limit, others, -1),
  );
  const every = [1, 2, 5, 10].find((one) => (to - from) / one <= 10) ?? 20;
  const ticks = Array.from(
    { length: Math.floor(to / every) - Math.ceil(from / every) + 1 },
    (_, at) => every * (Math.ceil(from / every) + at),
  ).map((tick) => {
    const x = (((tick - from) / (to - from)) * width).toFixed(1);
    return `<text x="${x}" y="121" font-size="9" text-anchor="middle" fill="currentColor">${printSigns(String(tick))}</text>`;
  });
  return `<svg class="bench-readings" viewBox="-8 0 ${width + 16} ${height}" role="img" aria-label="Readings: filled bars upwards with the condition, hollow bars downwards without it; the line is the limit, the dashed line the other one"><line x1="0" x2="${width}" y1="${middle}" y2="${middle}" stroke="currentColor" stroke-width="0.5"/>${bars.join("")}${ticks.join("")}${line("other-")}${line("")}</svg>
<p class="standing">Readings: filled, upwards, with the condition; hollow, downwards, without it; dioptres of the reading below. Dashed: the other limit.</p>`;
}
